package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// begin makes the reader ready for a row: what cells of the last one left behind
// is taken away.
func (r *cellReader) begin(fields []any) {
	r.problems, r.fields, r.left = r.problems[:0], fields, false
	if r.loose {
		r.scratch = scratch{}
	}
	for _, i := range r.spills {
		record.ClearField(fields[i])
	}
}

// derive completes a row from what several of its cells say together.
func (r *cellReader) derive(rec record.Record) {
	switch x := rec.(type) {
	case *record.Placement:
		r.derivePlacement(x)
	case *record.Load:
		r.deriveLoad(x)
	case *record.Labor:
		if x.Task == "" && !r.own[r.table.Index("task")] {
			x.Task = "other"
		}
	case *record.Cost:
		if x.Item == "" {
			x.Item = r.itemOf()
		}
	case *record.Visit:
		if x.Why == "" && !r.own[r.table.Index("why")] {
			x.Why = r.why
		}
	}
}

func (r *cellReader) derivePlacement(p *record.Placement) {
	if l, w := r.scratch.length, r.scratch.width; l.OK && w.OK && !p.AreaSqft.OK {
		p.AreaSqft = r.area(size{area: record.Some(twelveDigits(l.V * w.V))})
	}
	if each := r.scratch.each; each.OK && !p.LaborHours.OK && p.CrewSize.OK && (r.scratch.eachOwn || !r.own[r.table.Index("labor_hours")]) {
		p.LaborHours = record.Some(each.V * float64(p.CrewSize.V))
	}
	if r.scratch.eachOwn && !p.LaborHours.OK {
		r.problems = append(r.problems, r.leaveEmpty(record.Problem{Code: codeNotNumber, Column: "labor_hours", Value: trimFloat(r.scratch.each.V) + " each", Wrong: "hours of each, and nobody says of how many", Right: "write the hours of all, or the number of people"}))
	}
	if r.scratch.parts > 1 && !r.scratch.unread && r.scratch.spent > 0 && !p.Log.ActualCost.OK {
		p.Log.ActualCost = record.Some(r.scratch.spent)
	}
	if p.Crew == "" && p.JobNo != "" {
		p.Crew = r.crewOfTab
	}
	r.deriveCall(p)
	r.deriveTold(p)
	r.doubtPrice(p)
	if p.Method == "" && p.PumpOutfit != "" && !r.own[r.table.Index("method")] {
		p.Method = "pump"
	}
}

// deriveLoad puts times of day together with the day of the row.
func (r *cellReader) deriveLoad(l *record.Load) {
	for name, at := range r.scratch.clocks {
		i := r.table.Index(name)
		if r.scratch.day == 0 {
			r.problems = append(r.problems, r.leaveEmpty(record.Problem{Code: codeNoDay, Column: name, Wrong: "a time without its day", Right: "name the column of the day"}))
			continue
		}
		*r.fields[i].(*record.Moment) = record.MomentOf(r.scratch.day, at.seconds)
	}
}

// itemOf is the item of cost that the words of a vendor or memo speak of.
func (r *cellReader) itemOf() string {
	folded := record.Fold(r.scratch.words)
	if term := termIn(itemWords, folded); term != "" {
		return term
	}
	for _, word := range strings.Fields(folded) {
		if term, ok := itemWords.terms[word]; ok {
			return term
		}
	}
	return "other"
}

// vital says whether a row is worth nothing without the column: its keys, its
// day, what an event is about. How much work a placement is, its rules say.
func (l *layout) vital(c *record.Column) bool {
	if l.table == record.Placements {
		return c.Required && c.Name != "use" && c.Name != "area_sqft" && c.Name != "thickness_in"
	}
	return c.Required || c.Key
}

// leftEmpty stands behind what is wrong with a cell that the row can do without.
const leftEmpty = ", left empty"

// LeavesEmpty says whether a problem is that of a cell that could not be read and
// was left empty, in a row that is kept.
func LeavesEmpty(p record.Problem) bool {
	return p.Severity == record.Warning && strings.HasSuffix(p.Wrong, leftEmpty)
}

// Refused is such a problem where its cell must not be left empty.
func Refused(p record.Problem) record.Problem {
	p.Severity, p.Wrong = record.Error, strings.TrimSuffix(p.Wrong, leftEmpty)
	return p
}

// leaveEmpty turns the error of a cell that the row can do without into a
// warning: the cell is left empty.
func (r *cellReader) leaveEmpty(p record.Problem) record.Problem {
	p.Severity = record.Warning
	p.Wrong += leftEmpty
	r.left = true
	return p
}

// doubtPrice leaves a price empty that is nowhere near what the job cost: 8.2 where
// 8.2k is meant.
func (r *cellReader) doubtPrice(p *record.Placement) {
	const far = 20
	cost := p.Log.ActualCost
	if !cost.OK {
		cost = p.Log.BidCost
	}
	i := r.table.Index("contract_price")
	if price := p.Log.ContractPrice; i >= 0 && price.OK && cost.OK && price.V > 0 && price.V*far < cost.V {
		r.problems = append(r.problems, r.leaveEmpty(record.Problem{Code: codeNotMoney, Column: "contract_price", Value: price.V.String(),
			Wrong: "far below the cost of the job, " + cost.V.String(), Right: "write the whole price"}))
		p.Log.ContractPrice = record.Money{}
	}
}
