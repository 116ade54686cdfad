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
	var logs []*grid
	left := map[string]leftOut{}
	for _, s := range sheets {
		t, g, best, why, err := f.openSheet(s, all)
		switch {
		case err != nil:
			return broken(f.Name, err)
		case t != nil && g == nil:
			f.Tables = append(f.Tables, t)
			continue
		}
		left[s.name] = leftOut{t, why, best}
		if g != nil {
			logs = append(logs, g)
		}
	}
	taken := map[string]bool{}
	for _, f.lenient = range []bool{false, true} {
		for _, like := range likeGrids(logs) {
			for _, t := range f.logTables(like, 0, all, true) {
				if l := left[t.Sheet]; l.table != nil && t.addsNothing(all) {
					continue
				}
				f.Tables = append(f.Tables, t)
				taken[t.Sheet] = true
			}
		}
		if len(f.Tables) > 0 || slices.ContainsFunc(sheets, func(s *sheetPart) bool { return left[s.name].table != nil }) {
			break
		}
	}
	for _, s := range sheets {
		switch l, doubted := left[s.name]; {
		case !doubted || taken[s.name]:
		case l.table != nil:
			f.Tables = append(f.Tables, l.table)
		default:
			f.Ignored = append(f.Ignored, s.name+": "+l.why.Text())
			if nearest == nil || l.known > found {
				nearest, found = refuse(f.Name, codeNoTable, l.why.Wrong, l.why.Right).at(s.name, 0), l.known
			}
		}
	}
	if len(f.Tables) == 0 && nearest != nil {
		return nearest
	}
	if len(f.Tables) == 0 {
		return refuse(f.Name, codeNoTable, "has no sheets", "a sheet for each table")
	}
	f.settleDoubts()
	f.shareJobs()
	slices.SortStableFunc(f.Tables, func(a, b *Table) int {
		return slices.Index(record.Tables, a.Records) - slices.Index(record.Tables, b.Records)
	})
	return nil
}

// leftOut is a sheet that is not in the record form: the table it could be all
// the same, or why it is none.
type leftOut struct {
	table *Table
	why   record.Problem
	known int
}

// openSheet recognises the table of a sheet in the record form, or says why there
// is none, and how many columns it knew; a sheet that could be a job log comes
// back as a grid.
func (f *File) openSheet(s *sheetPart, all catalogue) (t *Table, g *grid, known int, why record.Problem, err error) {
	if s.part == nil {
		return nil, nil, 0, record.Problem{Wrong: "a chart, not a sheet of cells"}, nil
	}
	rows, err := s.sample()
	if err != nil {
		return nil, nil, 0, why, err
	}
	if len(rows) == 0 {
		if s.book.onlyPictures() {
			return nil, nil, 0, record.Problem{Wrong: "no cells, only a picture", Right: "type what the picture shows into cells"}, nil
		}
		return nil, nil, 0, record.Problem{Wrong: "empty"}, nil
	}
	f.legend.learn(s.name, rows)
	if turned(rows) {
		return nil, nil, 0, record.Problem{Wrong: turnedWrong, Right: turnedRight}, nil
	}
	facts := s.facts()
	named := tableNamed(s.name)
	h := all.findHeader(rows, named)
	if !h.usable(named) || !f.inRecordForm(&h) && !f.plainEnough(&h, rows[h.last+1:]) {
		if g, _ = newGrid(s.name, s, rows, facts.spans); g != nil {
			g.facts = facts
		}
	}
	if !h.usable(named) {
		why.Wrong, why.Right = h.explain()
		return nil, g, h.found, why, nil
	}
	l, refusal := newLayout(h, &f.opt)
	if refusal != nil {
		if g != nil {
			return nil, g, h.found, refusal.Problem, nil
		}
		return nil, nil, 0, why, refusal.at(s.name, rows[h.last].number)
	}
	l.habit = findHabit(l, rows[h.last+1:], ',', f.opt.DecimalComma)
	for i := range l.columns {
		l.columns[i].cal.epoch = s.book.epoch
	}
	t = f.newTable(s.name, l)
	t.sheet, t.skip = s, rows[h.last].number
	t.sayTitles(h.titles, rows)
	t.sayHidden(facts)
	return t, g, h.found, why, nil
}
