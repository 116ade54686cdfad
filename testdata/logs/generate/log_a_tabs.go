package main

import (
	"fmt"
	"strings"
)

// officeBook writes log a.
func officeBook(jobs []*job) *book {
	b := newBook(2024, oddOfA)
	s := &sheet{name: "2024"}
	b.explain("", columnsOfA)
	s.add("POURS 2024")
	s.merge(1, 1, len(columnsOfA), 1)
	s.add("ask Jo before changing a number in here. yellow = not billed yet")
	s.add()
	s.head(columnsOfA)
	for _, month := range byMonth(jobs) {
		name := month[0].slabs[0].day.Format("January")
		band := s.add(strings.ToUpper(name))
		s.merge(1, band, len(columnsOfA), band)
		if name == "July" { // starts a new page when printed
			s.head(columnsOfA)
		}
		for _, j := range month {
			b.keep(s, columnsOfA, j)
			if j.no == "1059" {
				b.keep(s, columnsOfA, twiceTyped(j, "Travertine", "58 Scarp Ct"))
			}
		}
		totalOfA(s, name+" total", month)
		s.add()
	}
	totalOfA(s, "YEAR", jobs)
	s.add()
	s.add("* man-hrs = everybody on the job added up, drive time not counted")
	s.add("** wire is always in the bottom half unless Lefty was looking")
	b.sheets = []*sheet{s, priceList()}
	return b
}

func totalOfA(s *sheet, label string, jobs []*job) {
	n, area, yards, price := sums(jobs)
	cells := make([]any, len(columnsOfA))
	cells[2], cells[4], cells[5], cells[11], cells[18] = label, fmt.Sprintf("%d jobs", n), area, yards, price
	s.add(cells...)
}

// twiceTyped is another site's row under a number that is taken.
func twiceTyped(j *job, customer, site string) *job {
	s := *j.slabs[0]
	s.use, s.length, s.width, s.length2, s.thick, s.loads = "patio", 18, 14, 0, 4, nil
	s.day, s.planned, s.delivered, s.left, s.people, s.each = s.day.AddDate(0, 0, 1), 3.25, 3.25, 0, 3, 5.5
	return &job{no: j.no, customer: customer, site: site, slabs: []*slab{&s}, quoted: j.quoted, price: 2350, bid: 1480,
		parts: []part{{"all", 1530}}, fate: "repeat"}
}

func priceList() *sheet {
	s := &sheet{name: "prices"}
	s.add("what we charge (spring)")
	s.add("4\" broom", "per ft", 7.25)
	s.add("5\" broom", "per ft", 7.75)
	s.add("saw cut", "per ft", 1.5)
	s.add("tear out + haul", "per ft", 2.25)
	s.add("min. job", "", 900)
	return s
}
