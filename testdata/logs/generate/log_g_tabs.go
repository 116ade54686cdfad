package main

import "slices"

// metricYears writes log g.
func metricYears() *book {
	b := newBook(2425, oddOfG)
	jobs := jobsOfG()
	for _, year := range []string{"23-24", "24-25"} {
		b.sheets = append(b.sheets, b.financialYear(year, jobs))
	}
	b.truth.Heads = append(b.truth.Heads, "callback_kind")
	return b
}

// columnsOfG are those of a year. In the second the owner moved the money before the weather.
func columnsOfG(year string) []column {
	var columns []column
	for _, h := range headsOfG {
		head := h.before
		if year == "24-25" {
			head = h.after
		}
		if head != "" {
			columns = append(columns, column{"", head, h.is, h.write})
		}
	}
	if year == "23-24" {
		return columns
	}
	at := func(is string) int { return slices.IndexFunc(columns, func(c column) bool { return c.is == is }) }
	sky, money, end := at("air_temp_f"), at("contract_price"), at("callback_on")
	return slices.Concat(columns[:sky], columns[money:end], columns[sky:money], columns[end:])
}

func (b *book) financialYear(year string, jobs []*job) *sheet {
	columns := columnsOfG(year)
	b.explain("", columns)
	s := &sheet{name: year, day: "d/mm/yyyy"}
	if year == "24-25" {
		s.day = "dd/mm/yy"
		s.add("Concrete register, year ended 30 June 2025 (all $ ex GST unless it says)")
		s.add()
	}
	s.add(headings(columns)...)
	var mine []*job
	for _, j := range jobs {
		if yearOfG(j.slabs[0].day) != year {
			continue
		}
		mine = append(mine, j)
		b.keep(s, columns, j)
		if j.no == "24/18" { // last year's number
			b.keep(s, columns, twinOfG("23/18", j))
		}
	}
	s.add()
	totalOfG(s, columns, mine)
	s.add()
	s.add("labour = men x hours each, travel not in. mesh on chairs unless noted")
	return s
}

// totalOfG is the year's line.
func totalOfG(s *sheet, columns []column, jobs []*job) {
	_, area, cubic, price := sums(jobs)
	cells := make([]any, len(columns))
	for i, c := range columns {
		switch c.is {
		case "customer":
			cells[i] = "Total for year"
		case "area_sqft":
			cells[i] = cents(area)
		case "delivered_yd":
			cells[i] = cents(cubic)
		case "contract_price":
			cells[i] = price
		}
	}
	s.add(cells...)
}

// twinOfG is another site's row under a number of the year before, poured two days after a job.
func twinOfG(no string, after *job) *job {
	s := *after.slabs[0]
	s.use, s.length, s.width, s.thick = "patio", 6, 4.5, 100
	s.day, s.planned, s.delivered, s.left, s.people, s.each = s.day.AddDate(0, 0, 2), 3, 2.8, 0, 3, 6
	return &job{no: no, customer: "Potoroo", site: "9 Melaleuca Mews", quoted: s.day.AddDate(0, 0, -12), slabs: []*slab{&s}, price: 2950, bid: 1860,
		parts: []part{{"all", 1905}}, fate: "repeat"}
}
