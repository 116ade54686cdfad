package record

import (
	"fmt"
	"slices"
)

// Nameless takes sites and people out of records: sites, customers and notes,
// which may name anybody, are emptied, and crews, which may be called by their
// foreman, are called Crew 1, Crew 2 … in the order in which they are met. Job numbers
// stay: they tell records apart.
type Nameless struct{ crews map[string]string }

// UnusedColumn is what the change log calls the columns of no use that are kept
// with a row.
const UnusedColumn = "unused"

// MayName says whether a column may name a site or a person; what is of no use
// may say anything.
func MayName(column string) bool {
	return slices.Contains([]string{"site", "customer", "note", "crew", "caption", "kept_by", "latitude", "longitude", UnusedColumn}, column)
}

// Crew is what a crew is called instead; "" stays.
func (n *Nameless) Crew(name string) string {
	if name == "" {
		return ""
	}
	if n.crews == nil {
		n.crews = map[string]string{}
	}
	if n.crews[name] == "" {
		n.crews[name] = fmt.Sprintf("Crew %d", len(n.crews)+1)
	}
	return n.crews[name]
}

// Record takes the names out of one record.
func (n *Nameless) Record(r Record) {
	for i, c := range r.Table().Columns {
		text, ok := r.Fields()[i].(*string)
		switch {
		case !ok:
		case c.Name == "crew":
			*text = n.Crew(*text)
		case MayName(c.Name):
			*text = ""
		}
	}
}

// History takes the names out of a history.
func (n *Nameless) History(h *History) {
	n.columns(Placements, h.Placements.Columns())
	n.columns(Jobs, h.Jobs.Columns())
	each(h.Loads, n.Record)
	each(h.Delays, n.Record)
	each(h.Labor, n.Record)
	each(h.Costs, n.Record)
	each(h.Visits, n.Record)
}

// columns takes the names out of columns. Nothing of them stays: a column made
// anew knows no value that stood in it.
func (n *Nameless) columns(t *Table, c Columns) {
	for k := range c {
		text, ok := c[k].(*Values[string])
		name := t.Columns[k].Name
		if !ok || !MayName(name) {
			continue
		}
		var nameless Values[string]
		for i := range text.Len() {
			if name == "crew" {
				nameless.Add(n.Crew(text.At(i)))
			} else {
				nameless.Add("")
			}
		}
		*text = nameless
	}
}

func each[T any, P interface {
	*T
	Record
}](rows []T, do func(Record)) {
	for i := range rows {
		do(P(&rows[i]))
	}
}
