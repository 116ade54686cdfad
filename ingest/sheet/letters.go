package sheet

import (
	"fmt"
	"strings"

	"pourback/ingest/record"
)

// place is what was read of the job that a number names first.
type place struct {
	site, customer string
	on             record.Date
	sheet          string
	row            int
	slabs          []slabSeen
}

// slabSeen is one placement of it.
type slabSeen struct {
	use             string
	area, thickness record.Number
	on              record.Date
	letter          string
}

// mostPlaces bounds what is remembered of a file's jobs; a number that comes
// again beyond it is a second row with one key.
const mostPlaces = 100_000

// letter names the placement of a row whose file names none: a job's walk in the
// row below its driveway is placement B of it. The same number at another site,
// or on a day and at a place that cannot be told to be the same, is set aside.
func (d *delivery) letter(row *Row, p *record.Placement) {
	p.Placement = "A" // the record has been used before
	f := d.table.file
	if f.places == nil {
		f.places = map[string]*place{}
	}
	first := f.places[p.JobNo]
	if first == nil {
		if p.JobNo != "" && len(f.places) < mostPlaces {
			first = &place{site: p.Log.Site, customer: p.Log.Customer, on: p.PlacedOn, sheet: d.table.Sheet, row: row.Number}
			first.add(p, "A")
			f.places[p.JobNo] = first
		}
		return
	}
	same, known := first.same(p)
	switch {
	case known && !same:
		d.another(row, p, first, "at another site")
	case !known && first.on != p.PlacedOn:
		d.another(row, p, first, "on another day")
	default:
		p.Placement = first.letterOf(p)
	}
}

// same says whether a row is of the same site, and whether that can be told.
func (f *place) same(p *record.Placement) (same, known bool) {
	for _, x := range [][2]string{{f.site, p.Log.Site}, {f.customer, p.Log.Customer}} {
		if x[0] != "" && x[1] != "" {
			return record.Fold(x[0]) == record.Fold(x[1]), true
		}
	}
	return false, false
}

// letterOf is the letter of a placement: its own where it was seen before.
func (f *place) letterOf(p *record.Placement) string {
	for _, s := range f.slabs {
		if s.use == p.Use && s.area == p.AreaSqft && s.thickness == p.ThicknessIn && s.on == p.PlacedOn {
			return s.letter
		}
	}
	n := len(f.slabs)
	letter := string(rune('A' + n%26))
	if n >= 26 {
		letter += fmt.Sprint(n/26 + 1)
	}
	f.add(p, letter)
	return letter
}

func (f *place) add(p *record.Placement, letter string) {
	f.slabs = append(f.slabs, slabSeen{p.Use, p.AreaSqft, p.ThicknessIn, p.PlacedOn, letter})
}

// another sets a row aside whose number another job bears.
func (d *delivery) another(row *Row, p *record.Placement, first *place, how string) {
	where := fmt.Sprintf("row %d", first.row)
	if first.sheet != "" && first.sheet != d.table.Sheet {
		where = first.sheet + ", " + where
	}
	row.Problems = append(row.Problems, record.Problem{Severity: record.Error, Code: CodeSameNumber, Column: "job_no", Value: p.JobNo,
		Wrong: "the number of " + where + " " + how, Right: "give it a number of its own, or, if it is the same job, a column placement with A and B"})
	if strings.TrimSpace(p.JobNo) == "" {
		row.Problems = row.Problems[:len(row.Problems)-1]
	}
}
