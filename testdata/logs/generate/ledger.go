package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"time"
)

// A costTruth is what comes of the ledger.
type costTruth struct {
	Costs    []costRow `json:"costs"`    // summed by job and item
	Overhead []askRow  `json:"overhead"` // lines of the firm, of no job
	Ask      []askRow  `json:"ask"`      // a job number that the log does not have
	None     []string  `json:"none"`     // first words of the lines that are no cost
}

// A posting is one line of the ledger.
type posting struct {
	day                        time.Time
	vendor, job, account, memo string
	item                       string // "" of no job
	amount                     float64
}

var accounts = map[string]struct{ account, vendor string }{
	"concrete": {"5010 Concrete", "Valley Plant 2 Ready Mix"}, "pump": {"5020 Pumping", "Two County Pumping"},
	"labor": {"5100 Field labor", "PAYROLL"}, "reinforcement": {"5030 Rebar & wire", "Builders Steel Counter"},
	"base": {"5040 Base & fill", "Gravel Pit Co-op"}, "disposal": {"5300 Dump fees", "County Landfill"},
	"equipment": {"5200 Equipment rental", "Corner Rental Yard"}, "callback": {"5900 Warranty work", "PAYROLL"}}

// costLedger is the bookkeeper's costs of the same jobs, in the order of their days.
func costLedger(jobs []*job) (costTruth, [][]any) {
	mine := ofMonth(jobs)
	truth := costTruth{None: []string{"Cost detail by job", "Printed", "June total"}}
	lines := append(postingsOf(mine), overhead()...)
	slices.SortStableFunc(lines, func(a, b posting) int { return a.day.Compare(b.day) })
	s := &sheet{}
	s.add("Cost detail by job - June 2024 (invented books)")
	s.add("Printed 7/19/24")
	s.add("Date", "Vendor", "Job", "Account", "Amount", "Memo")
	sum, written := 0.0, false
	for i, p := range lines {
		if !written && p.day.Month() == 7 {
			s.add("June total", "", "", "", money(sum), "")
			written = true
		}
		job := p.job
		if job != "" && i%4 == 1 {
			job += ":" + p.memo
		}
		row := s.add(p.day.Format("1/2/2006"), p.vendor, job, p.account, money(p.amount), p.memo)
		sum += p.amount
		truth.take(p, row)
	}
	return truth, s.rows
}

func (t *costTruth) take(p posting, row int) {
	line := askRow{row, p.vendor + " " + p.memo, p.amount, p.account}
	switch {
	case p.job == "1608":
		line.Why = "no such job in the log; 1068 is likely meant"
		t.Ask = append(t.Ask, line)
	case p.item == "":
		t.Overhead = append(t.Overhead, line)
	default:
		t.Costs = added(t.Costs, costRow{Job: p.job, Item: p.item, Amount: p.amount})
	}
}

// money writes credits in brackets, as books do.
func money(x float64) string {
	if x < 0 {
		return "(" + fixed(-x) + ")"
	}
	if x >= 1000 {
		return fmt.Sprintf("%d,%06.2f", int(x)/1000, x-float64(int(x)/1000*1000))
	}
	return fixed(x)
}

func postingsOf(mine []*job) []posting {
	r := rand.New(rand.NewPCG(624, 3))
	var lines []posting
	post := func(day time.Time, j *job, item string, amount float64) {
		a := accounts[item]
		lines = append(lines, posting{day, a.vendor, j.no, a.account, j.customer + " " + j.slabs[0].use, item, cents(amount)})
	}
	for i, j := range mine {
		day := j.slabs[0].day
		for _, p := range j.parts {
			switch {
			case p.amount == 0:
			case p.item == "labor": // on two paydays
				friday := day.AddDate(0, 0, 5-int(day.Weekday()))
				half := cents(p.amount * .4)
				post(friday, j, p.item, half)
				post(friday.AddDate(0, 0, 7), j, p.item, p.amount-half)
			default:
				post(day.AddDate(0, 0, r.IntN(6)), j, p.item, p.amount)
			}
		}
		if i == 1 {
			post(date(2024, 6, 28), j, "concrete", creditOf)
		}
		if j.back != nil && j.back.on.Before(date(2024, 7, 15)) {
			post(j.back.on, j, "callback", j.back.cost)
		}
	}
	return lines
}

// overhead is what the firm spent on no job, and one line on a number that does not exist.
func overhead() []posting {
	return []posting{
		{date(2024, 6, 3), "Main Street Fuel", "", "6100 Truck fuel", "fleet cards", "", 412.66},
		{date(2024, 6, 10), "Mutual Insurance Desk", "", "6400 Insurance", "June installment", "", 685},
		{date(2024, 6, 14), "Corner Rental Yard", "SHOP", "5200 Equipment rental", "saw blade, stock", "", 148.20},
		{date(2024, 6, 17), "Main Street Fuel", "", "6100 Truck fuel", "fleet cards", "", 388.04},
		{date(2024, 6, 21), "County Landfill", "1608", "5300 Dump fees", "tear out, 2 loads", "disposal", 96},
		{date(2024, 7, 8), "Phone Company", "", "6500 Telephone", "office", "", 119.90},
	}
}
