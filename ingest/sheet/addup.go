package sheet

import (
	"bytes"
	"fmt"
	"slices"

	"pourback/ingest/record"
)

// addUp gathers rows of one key into one: a time card has a row for each person,
// a ledger one for each bill, and a record one for each task and day, or item. It
// hands everything on when it is called with nothing.
func (t *Table) addUp(yield func([]*Row, error) bool) func([]*Row, error) bool {
	var rows []*Row
	at := map[string]*Row{}
	added, over := 0, false
	return func(block []*Row, err error) bool {
		if err != nil {
			over = true
			return yield(nil, err)
		}
		if over {
			return false
		}
		if block == nil {
			if added > 0 {
				t.say(record.Problem{Severity: record.Warning, Code: codeAddedUp, Wrong: fmt.Sprintf("%d rows with the key of an earlier one", added), Right: "added to it"})
			}
			return len(rows) == 0 || yield(rows, nil)
		}
		for _, r := range block {
			key := record.Key(r.Record)
			if first := at[key]; first != nil && !r.Bad() {
				addRow(first, r)
				added++
				continue
			}
			kept := r.clone()
			if rows = append(rows, kept); !kept.Bad() {
				at[key] = kept
			}
		}
		return true
	}
}

// clone is a copy of a row that stays valid.
func (r *Row) clone() *Row {
	c := *r
	c.Record = r.table.Records.New()
	c.Fields = c.Record.Fields()
	for i, f := range r.Fields {
		record.CopyField(c.Fields[i], f)
	}
	c.Problems, c.raw, c.texts = slices.Clone(r.Problems), bytes.Clone(r.raw), slices.Clone(r.texts)
	return &c
}

// addRow adds a row of the same key to an earlier one.
func addRow(sum, row *Row) {
	sum.Problems = append(sum.Problems, row.Problems...)
	sum.left = sum.left || row.left
	sum.parts = append(sum.parts, row.Cells())
	switch a := sum.Record.(type) {
	case *record.Labor:
		b := row.Record.(*record.Labor)
		a.Hours = plus(a.Hours, b.Hours)
		if a.Crew != b.Crew {
			a.Crew = ""
		}
		if a.Rate != b.Rate {
			a.Rate = record.Money{}
		}
	case *record.Cost:
		b := row.Record.(*record.Cost)
		a.PlannedAmount, a.ActualAmount = plus(a.Planned(), b.Planned()), plus(a.Actual(), b.Actual())
		if a.ActualRate != b.ActualRate || a.Unit != b.Unit {
			a.ActualRate, a.ActualQty, a.Unit = record.Money{}, record.Number{}, ""
		}
		a.ActualQty = both(a.ActualQty, b.ActualQty)
		a.PlannedQty, a.PlannedRate = record.Number{}, record.Money{}
	}
}

// plus adds two values; what is missing adds nothing.
func plus[T float64 | int64 | record.Cents](a, b record.Opt[T]) record.Opt[T] {
	return record.Opt[T]{V: a.Or(0) + b.Or(0), OK: a.OK || b.OK}
}

// both adds two quantities that are both known.
func both(a, b record.Number) record.Number {
	return record.Number{V: a.V + b.V, OK: a.OK && b.OK}
}
