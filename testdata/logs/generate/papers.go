package main

import (
	"fmt"
	"slices"
	"strings"
	"time"
)

// The papers of one month of log a: the plant's statement, and the bookkeeper's costs by job.

var month = struct{ from, till time.Time }{date(2024, 6, 1), date(2024, 7, 1)}

func ofMonth(jobs []*job) []*job {
	var mine []*job
	for _, j := range jobs {
		if day := j.slabs[0].day; j.fate == "" && !day.Before(month.from) && day.Before(month.till) {
			mine = append(mine, j)
		}
	}
	return mine
}

// A loadTruth is what comes of the plant's statement.
type loadTruth struct {
	Loads []loadRow `json:"loads"`
	Costs []costRow `json:"costs"` // per job: yards, and what the plant charged in all, fuel, waiting and credit included
	Ask   []askRow  `json:"ask"`   // lines with money that no job number stands on
	None  []string  `json:"none"`  // first words of the lines that are neither load nor cost
}

type loadRow struct {
	Job     string  `json:"job_no"`
	Ticket  string  `json:"ticket_no"`
	Yards   float64 `json:"yards"`
	Batched string  `json:"batched_at"`
}

type costRow struct {
	Job    string  `json:"job_no"`
	Item   string  `json:"item"`
	Qty    float64 `json:"actual_qty,omitempty"`
	Amount float64 `json:"actual_amount"`
}

type askRow struct {
	Row    int     `json:"row"`
	Text   string  `json:"text"`
	Amount float64 `json:"amount"`
	Why    string  `json:"why"`
}

// A ticket is a load with its job and mix.
type ticket struct {
	load
	job string
	psi int
}

func ticketsOf(jobs []*job) []ticket {
	var all []ticket
	for _, j := range jobs {
		for _, s := range j.slabs {
			for _, l := range s.loads {
				all = append(all, ticket{l, j.no, s.psi})
			}
		}
	}
	slices.SortFunc(all, func(a, b ticket) int { return a.batched.Compare(b.batched) })
	return all
}

// creditOf is what the plant gave back for one job: a ticket priced wrong.
const creditOf = -36.50

// plantStatement is the month's statement of the invented plant: a subtotal a day, a credit, a ticket without a job.
func plantStatement(jobs []*job) (loadTruth, [][]any) {
	mine := ofMonth(jobs)
	truth := loadTruth{None: []string{"Day total", "PAYMENT RECEIVED", "TOTAL THIS PERIOD", "PREVIOUS BALANCE", "BALANCE DUE"}}
	s := &sheet{}
	s.add("VALLEY PLANT 2 READY MIX (invented) - CUSTOMER STATEMENT")
	s.add("Acct 0417", "", "Period 6/1/2024 - 6/30/2024", "", "Terms NET 10")
	s.add()
	s.add("Tkt No", "Date", "Batch Time", "Job / PO", "Mix", "CY", "$/CY", "Concrete $", "Fuel $", "Wait min", "Wait $", "Line Total")
	s.add("PREVIOUS BALANCE", "", "", "", "", "", "", "", "", "", "", "2,114.75")
	var yards, sum, dayYards, daySum float64
	all := ticketsOf(mine)
	for i, t := range all {
		amount := t.total(t.psi)
		s.add(fmt.Sprint(t.ticket), t.batched.Format("01/02/06"), t.batched.Format("3:04 PM"), po(i, t.job), fmt.Sprintf("%d-3/4", t.psi), fixed(t.yards),
			fixed(perYard(t.psi)), fixed(t.yards*perYard(t.psi)), fixed(t.fuel()), strings.TrimSuffix(fixedOrBlank(float64(t.waited)), ".00"), fixedOrBlank(t.waitCharge()), fixed(amount))
		truth.Loads = append(truth.Loads, loadRow{t.job, fmt.Sprint(t.ticket), t.yards, t.batched.Format("2006-01-02T15:04")})
		truth.add(t.job, t.yards, amount)
		yards, sum, dayYards, daySum = yards+t.yards, sum+amount, dayYards+t.yards, daySum+amount
		if i == len(all)/2 {
			number := fmt.Sprint(t.ticket + 2)
			row := s.add(number, t.batched.Format("01/02/06"), "4:50 PM", "WILL CALL", "3000-3/4", "1.00", "158.00", "158.00", "22.50", "", "", "180.50")
			truth.Ask = append(truth.Ask, askRow{row, number + " WILL CALL", 180.50, "picked up; no job on the ticket"})
			yards, sum, dayYards, daySum = yards+1, sum+180.50, dayYards+1, daySum+180.50
		}
		if i == len(all)-1 || iso(all[i+1].batched) != iso(t.batched) {
			s.add("Day total", t.batched.Format("01/02/06"), "", "", "", fixed(dayYards), "", "", "", "", "", fixed(daySum))
			dayYards, daySum = 0, 0
		}
	}
	s.add("CR 118", "06/28/24", "", mine[1].no, "price adj", "", "", fixed(creditOf), "", "", "", fixed(creditOf))
	truth.add(mine[1].no, 0, creditOf)
	sum += creditOf
	s.add("PAYMENT RECEIVED - THANK YOU", "06/12/24", "", "", "", "", "", "", "", "", "", "-2,114.75")
	s.add("TOTAL THIS PERIOD", "", "", "", "", fixed(yards), "", "", "", "", "", fixed(sum))
	s.add("BALANCE DUE", "", "", "", "", "", "", "", "", "", "", fixed(sum))
	return truth, s.rows
}

// po is the job as the dispatcher typed it.
func po(i int, job string) string {
	return []string{job, "JOB " + job, job, "#" + job, job + " "}[i%5]
}

func (t *loadTruth) add(job string, yards, amount float64) {
	t.Costs = added(t.Costs, costRow{job, "concrete", yards, amount})
}

// added sums a cost into those of its job and item.
func added(costs []costRow, c costRow) []costRow {
	for i, have := range costs {
		if have.Job == c.Job && have.Item == c.Item {
			costs[i].Qty, costs[i].Amount = have.Qty+c.Qty, cents(have.Amount+c.Amount)
			return costs
		}
	}
	return append(costs, c)
}

func fixed(x float64) string { return fmt.Sprintf("%.2f", x) }

func fixedOrBlank(x float64) string {
	if x == 0 {
		return ""
	}
	return fixed(x)
}
