package sheet

import (
	"slices"

	"pourback/ingest/record"
)

// recogniseSheets finds the tables among the sheets.
func (f *File) recogniseSheets(sheets []*sheetPart) error {
	all := newCatalogue(f.opt.Dictionary)
	var nearest *Refusal
	found := 0
	for _, s := range sheets {
		t, best, why, err := f.openSheet(s, all)
		switch {
		case err != nil:
			return broken(f.Name, err)
		case t != nil:
			f.Tables = append(f.Tables, t)
		default:
			f.Ignored = append(f.Ignored, s.name+": "+why.Text())
			if nearest == nil || best > found {
				nearest, found = refuse(f.Name, codeNoTable, why.Wrong, why.Right).at(s.name, 0), best
			}
		}
	}
	if len(f.Tables) == 0 && nearest != nil {
		return nearest
	}
	if len(f.Tables) == 0 {
		return refuse(f.Name, codeNoTable, "has no sheets", "a sheet for each table")
	}
	slices.SortStableFunc(f.Tables, func(a, b *Table) int {
		return slices.Index(record.Tables, a.Records) - slices.Index(record.Tables, b.Records)
	})
	return nil
}

// openSheet recognises the table of a sheet, or says why there is none, and how
// many columns it knew.
func (f *File) openSheet(s *sheetPart, all catalogue) (t *Table, known int, why record.Problem, err error) {
	if s.part == nil {
		return nil, 0, record.Problem{Wrong: "a chart, not a sheet of cells"}, nil
	}
	rows, err := s.sample()
	if err != nil {
		return nil, 0, why, err
	}
	if len(rows) == 0 {
		return nil, 0, record.Problem{Wrong: "empty"}, nil
	}
	named := tableNamed(s.name)
	h := all.findHeader(rows, named)
	if !h.usable(named) {
		why.Wrong, why.Right = h.explain()
		return nil, h.found, why, nil
	}
	l, refusal := newLayout(h, &f.opt)
	if refusal != nil {
		return nil, 0, why, refusal.at(s.name, rows[h.last].number)
	}
	l.habit = findHabit(l, rows[h.last+1:], ',', f.opt.DecimalComma)
	for i := range l.columns {
		l.columns[i].cal.epoch = s.book.epoch
	}
	s.skip = rows[h.last].number
	t = f.newTable(s.name, l)
	t.sheet = s
	t.sayTitles(h, rows)
	if s.hidden {
		t.say(record.Problem{Severity: record.Warning, Code: codeHiddenSheet, Wrong: "a hidden sheet", Right: "read all the same; take it out if it is not meant"})
	}
	return t, h.found, why, nil
}
