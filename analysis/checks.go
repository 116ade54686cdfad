package analysis

import (
	"slices"

	"pourback/analysis/figure"
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
	found = append(found, checkRows(h, h.Jobs, func(j *record.Job) string { return "job " + j.JobNo })...)
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
	return checkRows(h, h.Placements, func(p *record.Placement) string { return p.JobNo + " " + p.Placement })
}

// checkRows applies to each row its own rules and its columns' ranges. Rows are
// shared out to the processors; what is found keeps their order.
func checkRows[T any, R interface {
	*T
	record.Record
}](h *record.History, rows []T, name func(*T) string) []record.Problem {
	const part = 1 << 14
	parts := make([][]record.Problem, (len(rows)+part-1)/part)
	figure.InParallel(len(parts), func(k int) {
		var row T // one for all rows, so that its fields are found once
		r := R(&row)
		bounded := boundedFields(r)
		for i := k * part; i < min(len(rows), (k+1)*part); i++ {
			row = rows[i]
			from := len(parts[k])
			parts[k] = append(parts[k], r.Check(h.AsOf)...)
			for _, f := range bounded {
				if p, bad := f.problem(); bad {
					parts[k] = append(parts[k], p)
				}
			}
			for j := from; j < len(parts[k]); j++ {
				parts[k][j].Record = name(&row)
			}
		}
	})
	return slices.Concat(parts...)
}

// boundedField is a field whose column calls some values unusual.
type boundedField struct {
	column *record.Column
	field  any
}

func boundedFields(row record.Record) []boundedField {
	var out []boundedField
	columns := row.Table().Columns
	for i, field := range row.Fields() {
		if c := &columns[i]; c.Hard != (record.Range{}) || c.Soft != (record.Range{}) {
			out = append(out, boundedField{c, field})
		}
	}
	return out
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
	for i := range h.Placements {
		p := &h.Placements[i]
		for _, v := range h.VisitsOf(i) {
			if v.SeenOn < p.PlacedOn {
				found = append(found, record.Problem{Code: "visit-before-pour", Record: p.JobNo + " " + p.Placement,
					Column: "seen_on", Value: v.SeenOn.String(), Wrong: "a visit before the pour on " + p.PlacedOn.String(), Right: "mend one of the two dates"})
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
