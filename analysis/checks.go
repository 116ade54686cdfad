package analysis

import (
	"cmp"
	"slices"

	"pourback/ingest/record"
)

// Checks lists what in the records deserves a look: possible but unusual
// values, rules that span columns, summaries that differ from their events and
// events that name nothing. Each names the record it is about.
func Checks(h *record.History) []record.Problem {
	found := append(slices.Clone(h.Checks), placementChecks(h)...)
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
	found = append(found, earlyVisits(h)...)
	slices.SortStableFunc(found, func(a, b record.Problem) int { return cmp.Compare(a.Record, b.Record) })
	return found
}

// placementChecks are those of placements alone: the same whether a history was
// handed in as a job log or in full.
func placementChecks(h *record.History) []record.Problem {
	return checkRows(h, h.Placements, func(p *record.Placement) string { return p.JobNo + " " + p.Placement })
}

// checkRows applies to each row its own rules and its columns' ranges.
func checkRows[T any, R interface {
	*T
	record.Record
}](h *record.History, rows []T, name func(*T) string) []record.Problem {
	var found []record.Problem
	for i := range rows {
		row := R(&rows[i])
		from := len(found)
		found = append(found, row.Check(h.AsOf)...)
		found = append(found, unusual(row)...)
		for k := from; k < len(found); k++ {
			found[k].Record = name(&rows[i])
		}
	}
	return found
}

// unusual finds values outside the range that their column calls usual.
func unusual(row record.Record) []record.Problem {
	var found []record.Problem
	columns := row.Table().Columns
	for i, field := range row.Fields() {
		var v float64
		switch f := field.(type) {
		case *record.Number:
			if !f.OK {
				continue
			}
			v = f.V
		case *record.Count:
			if !f.OK {
				continue
			}
			v = float64(f.V)
		default:
			continue
		}
		if p, bad := columns[i].RangeProblem(v); bad {
			found = append(found, p)
		}
	}
	return found
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
