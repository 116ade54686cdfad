package main

import "fmt"

// accountsBook writes log f.
func accountsBook() *book {
	b := newBook(4010, oddOfF)
	jobs := jobsOfF()
	s := &sheet{name: "Jobs"}
	b.explainF()
	summaryOfF(s, jobs)
	s.head(columnsOfF)
	units := make([]any, len(columnsOfF))
	for i, c := range columnsOfF {
		if u := unitsOfF[c.name()]; u != "" {
			units[i] = u
		}
	}
	s.add(units...)
	for _, month := range byMonth(jobs) {
		for _, j := range month {
			b.keep(s, columnsOfF, j)
			if j.no == "40142" { // the number of two jobs before
				b.keep(s, columnsOfF, typedAgainF("40140", j))
			}
		}
		sumOfF(s, month)
		s.add()
	}
	b.sheets = []*sheet{s}
	return b
}

// explainF says what the headings are, with the unit below them and without.
func (b *book) explainF() {
	b.explain("", columnsOfF)
	for _, c := range columnsOfF {
		if u := unitsOfF[c.name()]; u != "" {
			b.truth.Map[""][c.name()+" / "+u] = c.is
		}
	}
	b.truth.Heads = append(b.truth.Heads, "callback_kind", "callback_cost")
}

// summaryOfF is the block on top: the years side by side.
func summaryOfF(s *sheet, jobs []*job) {
	var years [2][]*job
	for _, j := range jobs {
		y := j.slabs[0].day.Year() - 2023
		years[y] = append(years[y], j)
	}
	s.add("Concrete jobs, acct 40", nil, nil, "DO NOT SORT")
	s.add(nil, "pours", "yards", "billed $", "spent $", "left %")
	for i, mine := range years {
		n, _, _, price := sums(mine)
		yards := cameIn(mine)
		spent := spentOn(mine)
		s.add(2023+i, n, yards, price, spent, fmt.Sprintf("%.1f%%", (price-spent)/price*100))
	}
	s.add()
	s.add("rod goes both ways. extras = asked for after we shook on it. carried = the cost I had in the bid, not what it came to")
	s.add()
}

func spentOn(jobs []*job) float64 {
	sum := 0.0
	for _, j := range jobs {
		if j.fate == "" {
			sum += spentOfF(j) - j.part("labor") + addedUp(j, "COST / labor", j.part("labor"))
		}
	}
	return cents(sum)
}

func cameIn(jobs []*job) float64 {
	sum := 0.0
	for _, j := range jobs {
		for _, one := range j.slabs {
			if j.fate == "" {
				sum += addedUp(j, "YARDS / came", one.delivered)
			}
		}
	}
	return sum
}

// addedUp is what the sheet's sum takes of a cell: a word counts nothing.
func addedUp(j *job, head string, x float64) float64 {
	for _, o := range oddOfF {
		if o.job == j.no && o.head == head {
			return 0
		}
	}
	return x
}

// sumOfF is the month's line: the month stands where the days do.
func sumOfF(s *sheet, month []*job) {
	var paper, order float64
	var money [6]float64
	for _, j := range month {
		if j.fate != "" {
			continue
		}
		labor := addedUp(j, "COST / labor", j.part("labor"))
		for i, x := range []float64{j.price, j.change, j.part("concrete"), labor, j.part("pump"), j.part("reinforcement", "base")} {
			money[i] = cents(money[i] + x)
		}
		for _, one := range j.slabs {
			paper, order = paper+cents(one.neat()), order+one.planned
		}
	}
	cells := make([]any, len(columnsOfF))
	cells[0], cells[2] = "sum", month[0].slabs[0].day.Format("Jan 06")
	cells[12], cells[13], cells[14] = cents(paper), order, cameIn(month)
	for i, at := range []int{20, 21, 23, 24, 25, 26} {
		cells[at] = money[i]
	}
	s.add(cells...)
}

// typedAgainF is another site's row under a number that is taken, poured the day after a job.
func typedAgainF(no string, after *job) *job {
	s := *after.slabs[0]
	s.use, s.length, s.width, s.thick, s.loads = "walkway", 33, 4, 4, nil
	s.day, s.planned, s.delivered, s.left, s.people, s.each = s.day.AddDate(0, 0, 1), 1.75, 1.75, 0, 3, 4.5
	return &job{no: no, customer: "Walnut", site: "77 Column Ct", quoted: s.day.AddDate(0, 0, -15), slabs: []*slab{&s}, price: 1350, bid: 820,
		parts: []part{{"concrete", 309.50}, {"labor", 486}, {"base", 50.15}}, fate: "repeat"}
}

// commas writes money as the books do: 8,250.00.
func commas(x float64) string {
	if x < 1000 {
		return fixed(x)
	}
	return fmt.Sprintf("%d,%s", int(x)/1000, fmt.Sprintf("%06.2f", x-float64(int(x)/1000*1000)))
}
