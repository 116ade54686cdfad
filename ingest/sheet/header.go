package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// gridRow is a row as it stands in the file.
type gridRow struct {
	number int
	cells  []string
	end    int64 // of a CSV record, in decoded bytes
	mended []Mended
}

func (r gridRow) blank() bool {
	return !slices.ContainsFunc(r.cells, func(s string) bool { return strings.TrimFunc(s, isBlank) != "" })
}

// header is the row, or pair of rows, that names a table's columns.
type header struct {
	fit
	names  []string
	last   int   // the last row that belongs to it, as an index of the rows searched
	titles []int // rows above it that say something else
	units  []string
}

// deepestHeader is how many rows are searched for the headings.
const deepestHeader = 60

// findHeader finds the headings among the first rows of a table: below titles,
// and in two rows where the first groups the second.
func (all catalogue) findHeader(rows []gridRow, named *record.Table) header {
	var best header
	at := -1
	rows = rows[:min(len(rows), deepestHeader)]
	for i, row := range rows {
		if row.blank() {
			continue
		}
		if f := all.best(row.cells, named); f.beats(&best.fit, named) {
			best, at = header{fit: f, names: row.cells, last: i}, i
		}
		if i+1 < len(rows) && !rows[i+1].blank() {
			names := all.joinHeadings(row.cells, rows[i+1].cells)
			alone := all.best(rows[i+1].cells, named)
			if f := all.best(names, named); f.beats(&best.fit, named) && f.beats(&alone, named) {
				best, at = header{fit: f, names: names, last: i + 1}, i
			}
		}
		if best.usable(named) && best.found > 2 {
			break
		}
	}
	for i := range max(at, 0) {
		if !rows[i].blank() {
			best.titles = append(best.titles, i)
		}
	}
	if best.headings != nil && best.last+1 < len(rows) {
		best.readUnits(rows[best.last+1].cells)
	}
	return best
}

// joinHeadings reads two rows as one: a heading of the upper row stands over the
// cells to its right that are empty (as merged cells are), and goes before the
// lower row's own where that makes a heading.
func (all catalogue) joinHeadings(upper, lower []string) []string {
	names := make([]string, max(len(upper), len(lower)))
	group := ""
	for i := range names {
		above, below := at(upper, i), at(lower, i)
		if strings.TrimSpace(above) != "" {
			group = above
		}
		switch joined := strings.TrimSpace(group + " " + below); {
		case strings.TrimSpace(below) == "":
			names[i] = above
		case all.knows(joined):
			names[i] = joined
		default:
			names[i] = below
		}
	}
	return names
}

func (all catalogue) knows(heading string) bool {
	words := headingWords(heading)
	return slices.ContainsFunc(all, func(h *headings) bool { _, ok := h.find(words); return ok })
}

func at(cells []string, i int) string {
	if i < len(cells) {
		return cells[i]
	}
	return ""
}

// readUnits takes the row below the headings for a row of units where every
// cell in it is one.
func (h *header) readUnits(cells []string) {
	units := make([]string, len(h.names))
	found := 0
	for i, cell := range cells {
		cell = strings.Trim(plainSigns(cell), "()[] ")
		if cell == "" || cell == "-" {
			continue
		}
		if i >= len(h.names) || h.known[i] && !h.isUnit(h.meanings[i].column, cell) {
			return
		}
		units[i] = cell
		found++
	}
	if found < 2 {
		return
	}
	h.last++
	h.units = units
	for i, unit := range units {
		if h.known[i] && unit != "" {
			h.applyUnit(i, unit)
		}
	}
}

// applyUnit gives a column the unit below its heading, and writes it into the
// heading, so that rows keep their meaning when they are set aside.
func (h *header) applyUnit(i int, unit string) {
	m := &h.meanings[i]
	if c := &h.table.Columns[m.column]; c.Unit.Knows(unit) && m.unit == "" {
		m.unit, m.unitless = unit, false
		h.names = slices.Clone(h.names)
		h.names[i] += " (" + unit + ")"
	}
}

// isUnit says whether a cell below a heading tells how the column is written.
func (h *header) isUnit(column int, cell string) bool {
	c := &h.table.Columns[column]
	if c.Unit.Knows(cell) {
		return true
	}
	word := strings.ToLower(cell)
	switch c.Kind {
	case record.KindMoney:
		rest, found := cutCurrency(cell)
		return found && rest == ""
	case record.KindDate, record.KindMoment:
		return word == "date" || writtenOrder(headingWords(cell)) != nil || word == "date and time" || word == "yyyy-mm-dd"
	case record.KindFlag:
		return word == "y/n" || word == "yes/no"
	case record.KindCount, record.KindNumber:
		return c.Unit == nil && (word == "count" || word == "no." || word == "number" || word == "#")
	}
	return word == "text" || word == "name" || word == "word"
}
