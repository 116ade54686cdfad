package visits

import "pourback/ingest/record"

// VisitChecks finds visits that contradict each other: two of one day with
// different findings, and a slab found sound after a crack that no record says
// was repaired.
func VisitChecks(h *record.History) []record.Problem {
	var found []record.Problem
	for i := range h.Placements.Len() {
		visits := h.VisitsOf(i)
		var crack, repaired record.Date
		for k := range visits {
			v := &visits[k]
			if k > 0 && v.SeenOn == visits[k-1].SeenOn && v.Finding != visits[k-1].Finding {
				found = append(found, visitProblem(h.Placements.At(i), v, "visits-disagree",
					"another visit on the same day found "+visits[k-1].Finding, "keep the right one"))
			}
			if v.Finding == "sound" && crack != 0 && v.SeenOn > crack && repaired == 0 {
				found = append(found, visitProblem(h.Placements.At(i), v, "crack-gone",
					"a crack was seen on "+crack.String()+", and no repair is on record", "write the repair down"))
				crack = 0
			}
			if v.Finding == "crack" {
				crack = v.SeenOn
			}
			repaired = max(repaired, v.ResolvedOn)
		}
	}
	return found
}

func visitProblem(p record.PlacementRow, v *record.Visit, code, wrong, right string) record.Problem {
	return record.Problem{Severity: record.Warning, Code: code, Job: p.JobNo(), Record: p.JobNo() + " " + p.Placement() + " visit " + v.SeenOn.String(),
		Column: "finding", Value: v.Finding, Wrong: wrong, Right: right}
}
