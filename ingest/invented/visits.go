package invented

import (
	"slices"

	"pourback/ingest/record"
)

// planned is when somebody goes to look, in days after the pour, by how many
// days it may slip either way, and how often nobody goes.
var planned = []struct {
	day, slip int
	missed    float64
}{{1, 0, 0.03}, {7, 1, 0.05}, {28, 3, 0.06}, {180, 8, 0.08}, {365, 12, 0.10}}

// follow tells what became of the slab: its cracks, the customer's calls, and
// what was seen on each visit by the last day.
func (c *company) follow(p *pour) {
	d := c.dice.cast(forCracks, p)
	cracks := c.crackUp(d, p)
	p.slab.FirstCrackDays = firstCrack(cracks)
	d = c.dice.cast(forVisits, p)
	calls := c.calls(d, p, cracks)
	p.visits = make([]record.Visit, 0, len(calls)+len(planned))
	for i := range calls {
		p.visits = append(p.visits, p.answered(d, &calls[i], calls[:i], cracks))
	}
	for _, v := range planned {
		day := v.day + d.days(-v.slip, v.slip)
		on := p.PlacedOn + record.Date(day)
		called := slices.ContainsFunc(calls, func(k call) bool { return k.day == day })
		if missed := d.chance(v.missed); missed || called || on > c.last {
			continue
		}
		p.visits = append(p.visits, p.looked(day, calls, cracks))
	}
	slices.SortFunc(p.visits, func(a, b record.Visit) int { return int(a.SeenOn - b.SeenOn) })
}

// answered is the visit to a callback, after earlier ones.
func (p *pour) answered(d *dice, k *call, earlier []call, cracks []crack) record.Visit {
	v := p.visit(k.day, "callback")
	v.Finding = k.kind
	v.Cost, v.LaborHours, v.ResolvedOn = k.cost, k.hours, k.resolved
	if k.kind == "crack" {
		p.describe(&v, k.day, earlier, cracks)
	}
	if len(earlier) > 0 && d.chance(0.5) {
		v.Note = "called again"
	}
	return v
}

// looked is a planned visit: a crack that nobody has mended is what is noted
// first, then any other defect that was called about and is still open.
func (p *pour) looked(day int, calls []call, cracks []crack) record.Visit {
	v := p.visit(day, "planned")
	v.Finding = "sound"
	for _, k := range calls {
		if k.kind != "crack" && k.day <= day && (k.resolved == 0 || v.SeenOn <= k.resolved) {
			v.Finding = k.kind
		}
	}
	p.describe(&v, day, calls, cracks)
	return v
}

func (p *pour) visit(day int, why string) record.Visit {
	return record.Visit{JobNo: p.JobNo, Placement: p.Placement.Placement, SeenOn: p.PlacedOn + record.Date(day), Why: why}
}

// describe notes the widest crack that is there on the day and was not mended
// before: what a crack callback closed by then had seen is mended.
func (p *pour) describe(v *record.Visit, day int, calls []call, cracks []crack) {
	mended := 0.0
	for _, k := range calls {
		if k.kind == "crack" && k.resolved != 0 && k.resolved < v.SeenOn {
			mended = float64(k.day)
		}
	}
	for i := range cracks {
		k := &cracks[i]
		if k.arose > float64(day) || k.arose <= mended {
			continue
		}
		if w := k.widthOn(day, p.Bar != ""); !v.WidthIn.OK || w.V > v.WidthIn.V {
			v.Finding, v.CrackKind, v.AtJoint = "crack", k.kind, k.atJoint
			v.WidthIn, v.LengthFt = w, record.Some(k.lengthFt)
		}
	}
}
