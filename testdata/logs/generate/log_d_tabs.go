package main

import (
	"fmt"
	"slices"
	"time"

	"github.com/xuri/excelize/v2"
)

// Her colours: paid, not paid, the gap between two months, what is added up.
const blueOfD, pinkOfD, greenOfD, yellowOfD = "DDEBF7", "F8CBAD", "C6E0B4", "FFF2CC"

var ticketsOfD = []column{{head: "Their number", is: "loads.ticket_no"}, {head: "Day"}, {head: "Our folder", is: "loads.job_no"},
	{head: "Yds on it", is: "loads.yards"}, {head: "Truck"}, {head: "Left plant", is: "loads.batched_at"}, {head: "They billed"}}

// tabsByCrew writes log d.
func tabsByCrew() *book {
	b := newBook(2323, oddOfD)
	jobs := jobsOfD()
	b.explain("", columnsOfD)
	b.explain("Tickets", ticketsOfD)
	b.has("crew", "callback_cost")
	phones := &sheet{name: "Phone numbers"}
	phones.add("PHONE NUMBERS")
	phones.add("Who", "Number", "What for")
	phones.add("the plant", "555-0133", "order by 3, ask for Opal")
	phones.add("pump", "555-0190", "two days ahead")
	phones.add("Boyd", "555-0107", "")
	phones.add("Ray", "555-0108", "not after 8")
	b.sheets = []*sheet{b.crewOfD("Boyd", jobs), b.crewOfD("Ray", jobs), b.ticketTab(jobs), phones}
	return b
}

func (b *book) crewOfD(crew string, jobs []*job) *sheet {
	s := &sheet{name: crew, day: "d-mmm", paint: map[int]string{}}
	columns := slices.Clone(columnsOfD)
	s.add("What " + crew + "'s crew poured in 2023")
	s.merge(1, 1, 8, 1)
	if crew == "Ray" {
		columns[1], columns[2] = columns[2], columns[1]
	} else {
		s.add("blue = paid, pink = still owes us, the rest is on the calendar in the kitchen")
	}
	sum := s.add(make([]any, len(columns))...)
	s.paint[sum] = yellowOfD
	s.heads = s.add(headings(columns)...)
	at := func(head string) int { return slices.IndexFunc(columns, func(c column) bool { return c.head == head }) }
	s.hidden = []int{at("sf") + 1}
	for i, month := range byMonth(jobs) {
		if i > 0 {
			s.paint[s.add(make([]any, len(columns))...)] = greenOfD
		}
		for _, j := range month {
			if j.slabs[0].crew == crew {
				b.folderOfD(s, columns, j, at)
			}
			if j.no == "23-046" && crew == "Ray" {
				b.folderOfD(s, columns, missingFolder(j), at)
			}
		}
	}
	s.rows[sum-1][0] = "Added up"
	for _, head := range []string{"sf", "All their hours", "What we charge", "What it took us", "Left for us"} {
		s.rows[sum-1][at(head)] = s.added(at(head), s.heads+1, len(s.rows))
	}
	s.add()
	s.add("steel is what went in, not what the drawing said")
	return s
}

// folderOfD writes a job's rows, works out what is left of its money and colours them; the tab says whose crew it was.
func (b *book) folderOfD(s *sheet, columns []column, j *job, at func(string) int) {
	from := len(s.rows) + 1
	b.keep(s, columns, j)
	charge, took, colour := at("What we charge"), at("What it took us"), oneOf(b.r, blueOfD, blueOfD, blueOfD, pinkOfD)
	for row := from; row <= len(s.rows); row++ {
		s.paint[row] = colour
		cells := s.rows[row-1]
		if price, ok := worth(cells[charge]); ok {
			cost, _ := worth(cells[took])
			cells[at("Left for us")] = formula{cellName(charge, row) + "-" + cellName(took, row), price - cost}
		}
	}
	for _, key := range []string{j.no, j.no + "#2"} {
		if reads := b.truth.Rows[key]; reads != nil && j.fate == "" {
			reads["crew"] = s.name
		}
	}
}

// worth is the number in a cell, where a spreadsheet would add it up.
func worth(cell any) (float64, bool) {
	switch v := cell.(type) {
	case int:
		return float64(v), true
	case float64:
		return v, true
	case formula:
		return v.value, true
	}
	return 0, false
}

// added is the spreadsheet's sum of a column (from 0) between two rows.
func (s *sheet) added(column, from, till int) formula {
	sum := 0.0
	for _, row := range s.rows[from-1 : till] {
		if column < len(row) {
			x, _ := worth(row[column])
			sum += x
		}
	}
	return formula{"SUM(" + cellName(column, from) + ":" + cellName(column, till) + ")", cents(sum)}
}

func cellName(column, row int) string {
	name, err := excelize.CoordinatesToCellName(column+1, row)
	if err != nil {
		panic(err) // a column or row below one
	}
	return name
}

// missingFolder is another site's row under a number that is taken; its tickets have the right one.
func missingFolder(j *job) *job {
	s := *j.slabs[0]
	s.use, s.length, s.width, s.thick, s.crew = "shed slab", 12.5, 10, 4, "Ray"
	s.planned, s.left, s.people, s.each, s.steel, s.bar, s.barAt = 1.75, 0, 3, 5, "fiber", "", 0
	return &job{no: twiceOfD, customer: "Seersucker", site: "77 Bodkin Ave", slabs: []*slab{&s}, price: 1350, bid: 900,
		parts: []part{{"all", 945}}, fate: "repeat"}
}

// ticketTab is the tab of the plant's tickets, added up after each month; a charge for a short load is no load, and
// what they poured for themselves has no folder.
func (b *book) ticketTab(jobs []*job) *sheet {
	s := &sheet{name: "Tickets", day: "m/d/yyyy", paint: map[int]string{}}
	s.add("Tickets from the plant - the white copies are in the shoebox")
	s.heads = s.add(headings(ticketsOfD)...)
	for i, month := range byMonth(jobs) {
		from := len(s.rows) + 1
		for _, j := range month {
			b.tickets(s, j)
		}
		if i == 4 {
			s.add("61999", month[0].slabs[0].day, "us", 2.5, b.r.IntN(40)+1, nil, 418.0)
		}
		row := s.add(nil, "in "+month[0].slabs[0].day.Format("January"), nil, s.added(3, from, len(s.rows)), nil, nil, s.added(6, from, len(s.rows)))
		s.paint[row] = yellowOfD
	}
	return s
}

func (b *book) tickets(s *sheet, j *job) {
	sum := 0.0
	for _, slab := range j.slabs {
		for _, l := range slab.loads {
			left := time.Duration(l.batched.Hour()*60+l.batched.Minute()) * time.Minute
			s.add(fmt.Sprint(l.ticket), slab.day, j.no, oneOf[any](b.r, l.yards, l.yards, l.yards, vulgar(l.yards, false)), b.r.IntN(40)+1,
				oneOf[any](b.r, left, left, left, l.batched.Format("3:04 pm")), l.total(slab.psi))
			sum += l.yards
		}
		if slab.delivered < 2 {
			s.add(nil, slab.day, j.no, nil, "short load", nil, 95)
		}
	}
	if j.no == fmt.Sprintf("23-%03d", missingOfD-1) { // the folder that was typed under another number
		s.add("60040", j.slabs[0].day, fmt.Sprintf("23-%03d", missingOfD), 1.75, 8, nil, 309.5)
	}
	if reads := b.truth.Rows[j.no]; reads != nil && len(j.slabs) == 1 {
		reads["delivered_yd"] = sum
	}
}
