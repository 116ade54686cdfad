package main

import "slices"

// tabsByMonth writes log l.
func tabsByMonth() *book {
	b := newBook(5101, oddOfL)
	b.explain("", columnsOfL)
	b.has("bar", "bar_spacing_in")
	summary := &sheet{name: "Summary"}
	summary.add("2024 by month")
	summary.add("Month", "Pours", "Yards", "Billed", "Cost", "Profit")
	var year [4]float64
	for _, month := range byMonth(jobsOfL()) {
		s, sum := b.monthOfL(month)
		b.sheets = append(b.sheets, s)
		summary.add(s.name, sum[0], sum[1], sum[2], sum[3], cents(sum[2]-sum[3]))
		for i := range year {
			year[i] += sum[i]
		}
	}
	summary.add("Year", year[0], year[1], year[2], year[3], cents(year[2]-year[3]))
	b.sheets = append(b.sheets, summary)
	return b
}

// monthOfL is a month's tab, and its pours, yards, prices and costs as the spreadsheet adds them up.
func (b *book) monthOfL(month []*job) (*sheet, [4]float64) {
	first := month[0].slabs[0].day
	s := &sheet{name: first.Format("Jan"), day: "m/d"}
	s.add(first.Format("January 2006"))
	s.head(columnsOfL)
	s.heads = len(s.rows)
	var sum [4]float64
	from := len(s.rows) + 1
	for i, j := range month {
		b.keep(s, columnsOfL, j)
		if j.no == afterOfL {
			b.keep(s, columnsOfL, numberBefore(j))
		}
		_, week := j.slabs[0].day.ISOWeek()
		if i+1 < len(month) {
			if _, next := month[i+1].slabs[0].day.ISOWeek(); next == week {
				continue
			}
		}
		s.asTyped(oddOfL)
		sum[0] += float64(len(s.rows) - from + 1)
		for k, x := range s.weekOfL(from) {
			sum[k+1] += x
		}
		s.add()
		from = len(s.rows) + 1
	}
	return s, sum
}

// weekOfL adds up the rows from the one numbered from; it returns yards, prices and costs.
func (s *sheet) weekOfL(from int) [3]float64 {
	cells, till := make([]any, len(columnsOfL)), len(s.rows)
	cells[1] = "week total"
	at := func(name string) int {
		return slices.IndexFunc(columnsOfL, func(c column) bool { return c.name() == name })
	}
	for _, name := range []string{"CU YDS / Order", "CREW / Total Hrs", "JOB COST / Concrete", "JOB COST / Labor"} {
		cells[at(name)] = s.added(at(name), from, till)
	}
	var sum [3]float64
	for i, name := range []string{"CU YDS / Rec'd", "BILL / Price", "JOB COST / Total"} {
		f := s.added(at(name), from, till)
		cells[at(name)], sum[i] = f, f.value
	}
	s.add(cells...)
	return sum
}

// numberBefore is another site's row under a number of the month before.
func numberBefore(j *job) *job {
	again := twiceTyped(j, "Polaris", "8 Parallax Pl")
	again.no, again.parts = twiceOfL, []part{{"concrete", 566.25}, {"labor", 594}, {"base", 95.75}}
	return again
}
