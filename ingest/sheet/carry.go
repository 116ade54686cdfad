package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// carry takes over what a row leaves to the one above: ditto marks, merged
// cells, and the day and place of a job's second slab.
type carry struct {
	*layout
	merged map[int][]merge // by row: the cells that are merged with one above
	last   []string        // the row above, with what it took over
	job    int             // columns of the file, -1 where there is none
	same   []int           // of day, site and customer
	amount []int           // of what a row must say itself to be a slab
}

// merge says that the cell of a column belongs to the row given.
type merge struct{ column, row int }

func newCarry(l *layout, merged map[int][]merge) *carry {
	c := &carry{layout: l, merged: merged, job: -1}
	for i := range l.columns {
		spec := l.columns[i].spec
		if spec == nil {
			continue
		}
		switch spec.Name {
		case "job_no":
			c.job = i
		case "placed_on", "site", "customer":
			c.same = append(c.same, i)
		case "area_sqft", ColumnSize, ColumnLength:
			c.amount = append(c.amount, i)
		}
	}
	return c
}

// over fills the cells of a row from the row above it, and says which were.
func (c *carry) over(number int, cells []string) []string {
	for _, m := range c.merged[number] {
		if m.column < len(c.last) && !c.isMoney(m.column) && strings.TrimSpace(at(cells, m.column)) == "" {
			cells = put(cells, m.column, c.last[m.column])
		}
	}
	for i := range cells {
		if isDitto(cells[i]) && i < len(c.columns) && c.columns[i].spec != nil {
			cells[i] = at(c.last, i)
		}
	}
	if c.table == record.Placements && c.continues(cells) {
		cells = put(cells, c.job, c.last[c.job])
		for _, i := range c.same {
			if strings.TrimSpace(at(cells, i)) == "" {
				cells = put(cells, i, at(c.last, i))
			}
		}
	}
	if !(gridRow{cells: cells}).blank() {
		c.last = append(c.last[:0], cells...)
	}
	return cells
}

// continues says whether a row is a further slab of the job above: the same
// number or none, no other day, and an amount of its own.
func (c *carry) continues(cells []string) bool {
	if c.job < 0 || len(c.last) == 0 || strings.TrimSpace(at(c.last, c.job)) == "" {
		return false
	}
	job := strings.TrimSpace(at(cells, c.job))
	if job != "" && job != strings.TrimSpace(c.last[c.job]) {
		return false
	}
	has := func(columns []int) bool {
		return slices.ContainsFunc(columns, func(i int) bool { return strings.TrimSpace(at(cells, i)) != "" })
	}
	if job == "" && (has(c.same) || !c.named(cells)) {
		return false
	}
	return has(c.amount)
}

// named says whether a row says what kind of slab it is: a row of totals does
// not.
func (c *carry) named(cells []string) bool {
	for i := range c.columns {
		if spec := c.columns[i].spec; spec != nil && spec.Name == "use" {
			return isUse(foldWords(at(cells, i)))
		}
	}
	return false
}

// isMoney says whether a column holds money, which counts once however many
// rows it is merged over.
func (c *carry) isMoney(i int) bool {
	return i < len(c.columns) && c.columns[i].spec != nil && c.columns[i].spec.Kind == record.KindMoney
}

func put(cells []string, i int, text string) []string {
	for len(cells) <= i {
		cells = append(cells, "")
	}
	cells[i] = text
	return cells
}

// isDitto knows the marks by which a cell repeats the one above.
func isDitto(s string) bool {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case `"`, `''`, "“", "”", `""`, `"  "`, "ditto", "do.", "same", "idem", "id.", "〃", "lo mismo", "igual", "-\"-", "as above", "same as above", "see above", "as per above", "a/a", "igual arriba", "same again", "↑", "^", "'' ''", ",,":
		return true
	}
	return false
}
