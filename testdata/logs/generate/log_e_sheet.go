package main

import (
	"fmt"
	"os"
)

// fewLetters writes log e.
func fewLetters() *book {
	b := newBook(2424, oddOfE)
	jobs := jobsOfE()
	b.explain("", columnsOfE)
	b.has("pump_outfit", "crew_size", "callback_cost")
	s := &sheet{name: "e"}
	wide := func(cells ...any) { s.add(append(cells, make([]any, len(columnsOfE)-len(cells))...)...) }
	wide("Pours 24")
	s.add(headings(columnsOfE)...)
	for i, j := range jobs {
		b.keep(s, columnsOfE, j)
		switch j.no {
		case "315":
			wide(nil, nil, nil, "call plant b4 2!")
			b.above = nil
		case "346":
			b.keep(s, columnsOfE, numberAgain(j))
		case "334":
			totalOfE(s, "1/2 yr", jobs[:i+1])
			wide()
			b.above = nil
		}
	}
	// The kind of a callback that cannot have been on its day is neither sure nor empty.
	delete(b.truth.Rows["361"], "callback_kind")
	totalOfE(s, "ttl", jobs)
	wide()
	wide("guys = guys x hrs. k = 1000")
	b.sheets = []*sheet{s}
	return b
}

func totalOfE(s *sheet, label string, jobs []*job) {
	n, _, yards, price := sums(jobs)
	cells := make([]any, len(columnsOfE))
	cells[0], cells[3], cells[11], cells[16] = label, fmt.Sprint(n, " jobs"), yards, num(price/1000)+"k"
	s.add(cells...)
}

// numberAgain is another site's row under a number that is taken.
func numberAgain(j *job) *job {
	s := *j.slabs[0]
	s.use, s.length, s.width, s.length2, s.width2, s.thick, s.loads = "walkway", 33, 4, 0, 0, 4, nil
	s.day, s.planned, s.delivered, s.left, s.people, s.each = s.day.AddDate(0, 0, 1), 1.75, 1.75, 0, 3, 4.5
	return &job{no: twiceOfE, customer: "Avocet", site: "19 Brood", slabs: []*slab{&s}, price: 1300, bid: 850,
		parts: []part{{"all", 910}}, fate: "repeat"}
}

// writeSemicolons writes rows between semicolons in Windows-1252, whose letters and signs up to ÿ are Latin-1's.
func writeSemicolons(path string, sheets []*sheet) error {
	text, err := csvText(sheets[0].rows, ';')
	if err != nil {
		return err
	}
	var out []byte
	for _, sign := range text {
		if sign > 0xff || sign >= 0x80 && sign < 0xa0 {
			return fmt.Errorf("%s: %q is no sign of Windows-1252", path, sign)
		}
		out = append(out, byte(sign))
	}
	return os.WriteFile(path, out, 0o644)
}
