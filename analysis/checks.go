package analysis

import (
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/visits"
	"pourback/ingest/record"
)

// Checks lists what in the records deserves a look: possible but unusual
// values, rules that span columns, summaries that differ from their events and
// events that name nothing. Each names the record it is about.
func Checks(h *record.History) []record.Problem { return checksBeside(h, placementChecks(h)) }

// checksBeside are all checks, those of placements being at hand.
func checksBeside(h *record.History, placements []record.Problem) []record.Problem {
	found := append(slices.Clone(h.Checks), placements...)
	found = append(found, checkColumns(h, record.Jobs, h.Jobs.Columns(), nil, func(r record.Record) string { return "job " + r.(*record.Job).JobNo })...)
	found = append(found, checkRows(h, h.Loads, func(l *record.Load) string { return l.JobNo + " " + l.Placement + " load " + l.TicketNo })...)
	found = append(found, checkRows(h, h.Delays, func(d *record.Delay) string {
		return d.JobNo + " " + d.Placement + " delay " + record.FieldText(&d.Seq)
	})...)
	found = append(found, checkRows(h, h.Labor, func(l *record.Labor) string {
		return l.JobNo + " " + l.Placement + " " + l.Task + " on " + l.WorkedOn.String()
	})...)
	found = append(found, checkRows(h, h.Costs, func(c *record.Cost) string { return "job " + c.JobNo + " " + c.Item })...)
	found = append(found, checkRows(h, h.Visits, func(v *record.Visit) string {
		return v.JobNo + " " + v.Placement + " visit " + v.SeenOn.String()
	})...)
	found = append(append(found, earlyVisits(h)...), visits.VisitChecks(h)...)
	return figure.InRecordOrder(found)
}

// placementChecks are those of placements alone: the same whether a history was
// handed in as a job log or in full.
func placementChecks(h *record.History) []record.Problem {
	return checkColumns(h, record.Placements, h.Placements.Columns(), record.PlacementRules, func(r record.Record) string {
		p := r.(*record.Placement)
		return p.JobNo + " " + p.Placement
	})
}

// checkColumns applies to each row of a table that is kept by columns its own
// rules and its columns' ranges. Only the columns that rules are about are read,
// and those in which some value is out of its range.
func checkColumns(h *record.History, t *record.Table, rows record.Columns, rules []string, name func(record.Record) string) []record.Problem {
	return check(h, rows.Len(), name, func() (record.Record, func(int), []boundedField) {
		row := t.New()
		bounded := outOfBounds(boundedFields(row), rows)
		read := slices.Clone(rules)
		for _, f := range bounded {
			if read != nil {
				read = append(read, f.column.Name)
			}
		}
		return row, rows.Reader(row, read...), bounded
	})
}

// checkRows does it for a table that is kept by rows.
func checkRows[T any, R interface {
	*T
	record.Record
}](h *record.History, rows []T, name func(*T) string) []record.Problem {
	named := func(r record.Record) string { return name((*T)(r.(R))) }
	return check(h, len(rows), named, func() (record.Record, func(int), []boundedField) {
		row := new(T)
		return R(row), func(i int) { *row = rows[i] }, boundedFields(R(row))
	})
}

// check holds n rows against their rules. Rows are shared out to the
// processors, each with a row of its own, which is read over and over; what is
// found keeps the rows' order.
func check(h *record.History, n int, name func(record.Record) string, reader func() (row record.Record, read func(i int), bounded []boundedField)) []record.Problem {
	const part = 1 << 14
	parts := make([][]record.Problem, (n+part-1)/part)
	stat.InParallel(len(parts), func(k int) {
		row, read, bounded := reader()
		for i := k * part; i < min(n, (k+1)*part); i++ {
			read(i)
			from := len(parts[k])
			parts[k] = append(parts[k], row.Check(h.AsOf)...)
			for _, f := range bounded {
				if f.unusual != nil && !f.unusual(i) {
					continue
				}
				if p, bad := f.problem(); bad {
					parts[k] = append(parts[k], p)
				}
			}
			for j := from; j < len(parts[k]); j++ {
				parts[k][j].Record = name(row)
			}
		}
	})
	return slices.Concat(parts...)
}

// boundedField is a field whose column calls some values unusual.
type boundedField struct {
	column  *record.Column
	at      int // among the table's columns
	field   any
	unusual func(i int) bool // in which rows it may be; nil for all
}

func boundedFields(row record.Record) []boundedField {
	var out []boundedField
	columns := row.Table().Columns
	for i, field := range row.Fields() {
		if c := &columns[i]; c.Hard != (record.Range{}) || c.Soft != (record.Range{}) {
			out = append(out, boundedField{column: c, at: i, field: field})
		}
	}
	return out
}

// outOfBounds are the fields of columns in which some value is unusual, which
// is told from the values that differ, and the rows in which one stands.
func outOfBounds(fields []boundedField, rows record.Columns) []boundedField {
	var out []boundedField
	for _, f := range fields {
		some := true
		switch v := rows[f.at].(type) {
		case *record.Values[record.Number]:
			f.unusual, some = unusual(f, v)
		case *record.Values[record.Count]:
			f.unusual, some = unusual(f, v)
		}
		if some {
			out = append(out, f)
		}
	}
	return out
}

// unusual tells the rows in which a value of the column is out of its range, and
// whether there are any; nil where it is not known.
func unusual[T record.Number | record.Count](f boundedField, v *record.Values[T]) (row func(i int) bool, some bool) {
	values, ok := v.Distinct()
	if !ok {
		return nil, true
	}
	bad := make([]bool, len(values))
	for code := range values {
		_, bad[code] = boundedField{column: f.column, field: &values[code]}.problem()
	}
	return func(i int) bool { return bad[v.Code(i)] }, slices.Contains(bad, true)
}

func (f boundedField) problem() (record.Problem, bool) {
	switch v := f.field.(type) {
	case *record.Number:
		if v.OK {
			return f.column.RangeProblem(v.V)
		}
	case *record.Count:
		if v.OK {
			return f.column.RangeProblem(float64(v.V))
		}
	}
	return record.Problem{}, false
}

// earlyVisits finds visits dated before their pour: they count nowhere.
func earlyVisits(h *record.History) []record.Problem {
	var found []record.Problem
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		for _, v := range h.VisitsOf(i) {
			if v.SeenOn < p.PlacedOn() {
				found = append(found, record.Problem{Code: "visit-before-pour", Record: p.JobNo() + " " + p.Placement(),
					Column: "seen_on", Value: v.SeenOn.String(), Wrong: "a visit before the pour on " + p.PlacedOn().String(), Right: "mend one of the two dates"})
			}
		}
	}
	return found
}

// countRecords counts the records that problems, record by record, are about.
func countRecords(grouped []record.Problem) int {
	n := 0
	for i := range grouped {
		if i == 0 || grouped[i].Record != grouped[i-1].Record {
			n++
		}
	}
	return n
}
