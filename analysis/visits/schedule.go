package visits

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// DueVisit is a planned visit that nobody has made yet.
type DueVisit struct {
	JobNo        string        `json:"job_no"`
	Placement    string        `json:"placement"`
	Site         string        `json:"site,omitempty"`
	PlannedOn    figure.Day    `json:"planned_on"`
	PlacedOn     figure.Day    `json:"placed_on"`
	LastSeenOn   figure.Day    `json:"last_seen_on"`
	WarrantyEnds figure.Day    `json:"warranty_ends"`
	Chance       figure.Figure `json:"chance"` // of a callback in the days to come, within the warranty
	Worth        figure.Figure `json:"worth"`  // that times the cost of a callback
	Visit        PlanPoint     `json:"-"`
	Why          []Why         `json:"-"` // the last of them about the warranty
}

// PlanPoint is a visit's place in the plan of its slab.
type PlanPoint struct {
	Days int  // from the pour
	End  bool // the end of the warranty
}

// DoneVisit is a planned visit that was made of late.
type DoneVisit struct {
	JobNo     string     `json:"job_no"`
	Placement string     `json:"placement"`
	PlannedOn figure.Day `json:"planned_on"`
	SeenOn    figure.Day `json:"seen_on"`
	Finding   string     `json:"finding"`
	Visit     PlanPoint  `json:"-"`
}

// lately is for how many days a visit that was made is listed.
const lately = 30

// KeptVisits says how many of the visits planned so far were made.
type KeptVisits struct {
	Planned int           `json:"planned"`
	Made    int           `json:"made"`
	Share   figure.Figure `json:"share"`
}

// plannedVisit is one entry of a slab's plan.
type plannedVisit struct {
	days  int
	extra bool // for slabs at risk
	last  bool // the end of the warranty
}

func (p plannedVisit) point() PlanPoint { return PlanPoint{p.days, p.last} }

// slack is how much earlier than planned a look still counts as the visit: a
// tenth of the age, to the nearest day.
func (p plannedVisit) slack() record.Date { return record.Date((p.days + 5) / 10) }

// GraceDays is how long the last visit of a plan stays overdue; each other one
// does until the next is due.
const GraceDays = 30

// planOf appends the plan of slab i: days ascending, with the end of the
// warranty in place of a day just about it.
func (a *after) planOf(i int, plan []plannedVisit) []plannedVisit {
	end := plannedVisit{days: int(a.slab[i].warrantyEnd - a.h.Placements.At(i).PlacedOn()), last: true}
	if end.days > 0 {
		plan = append(plan, end)
	}
	add := func(days []int, extra bool) {
		for _, d := range days {
			v := plannedVisit{days: d, extra: extra}
			if end.days <= 0 || math.Abs(float64(d-end.days)) > float64(v.slack()) {
				plan = append(plan, v)
			}
		}
	}
	add(a.visits.Days, false)
	if a.slab[i].hot || a.atRisk(i) {
		add(a.visits.ExtraDays, true)
	}
	slices.SortStableFunc(plan, func(x, y plannedVisit) int { return cmp.Compare(x.days, y.days) })
	return slices.CompactFunc(plan, func(x, y plannedVisit) bool { return x.days == y.days })
}

// atRisk says whether what a slab is like puts it well above the usual risk.
func (a *after) atRisk(i int) bool { return a.risk.ratio[i] >= a.visits.HighRisk }

// schedule holds each slab's plan against the looks that were taken at it.
func (a *after) schedule(v *Visits, dueBy record.Date) {
	v.Due, v.Overdue, v.Done = []DueVisit{}, []DueVisit{}, []DoneVisit{}
	v.PlannedFrom = figure.Day{Date: a.since}
	var plan []plannedVisit
	for i := range a.h.Placements.Len() {
		plan = a.planOf(i, plan[:0])
		a.holdPlan(v, i, plan, dueBy)
	}
	switch {
	case len(a.h.Visits) == 0:
		v.Kept.Share = figure.Unknown(NoVisits{})
	case v.Kept.Planned == 0:
		v.Kept.Share = figure.Unknown(NoneDueYet{AsOf: a.h.AsOf})
	default:
		v.Kept.Share = figure.Estimated(interval.Wilson(v.Kept.Made, v.Kept.Planned, a.level))
	}
	slices.SortStableFunc(v.Done, func(x, y DoneVisit) int { return cmp.Compare(y.SeenOn.Date, x.SeenOn.Date) })
	worthiest(v.Due)
	worthiest(v.Overdue)
}

// holdPlan goes through the plan of slab i. A visit was made if somebody looked
// between it and the next one.
func (a *after) holdPlan(v *Visits, i int, plan []plannedVisit, dueBy record.Date) {
	on := a.h.Placements.At(i).PlacedOn()
	looks := a.h.VisitsOf(i)
	for k, p := range plan {
		day := on + record.Date(p.days)
		if day > max(dueBy, v.Calendar.End) {
			return
		}
		until := day + GraceDays
		if k+1 < len(plan) {
			until = on + record.Date(plan[k+1].days) - plan[k+1].slack()
		}
		at, _ := slices.BinarySearchFunc(looks, day-p.slack(), func(l record.Visit, d record.Date) int { return cmp.Compare(l.SeenOn, d) })
		made := at < len(looks) && looks[at].SeenOn < max(until, day+1)
		if made && day <= dueBy && looks[at].SeenOn > a.h.AsOf-lately {
			l := &looks[at]
			v.Done = append(v.Done, DoneVisit{l.JobNo, l.Placement, figure.Day{Date: day}, figure.Day{Date: l.SeenOn}, l.Finding, p.point()})
		}
		if !made && day < a.since {
			continue
		}
		if !p.extra && day < a.h.AsOf {
			v.Kept.Planned++
			if made {
				v.Kept.Made++
			}
		}
		switch {
		case made || a.slab[i].state == open: // an open callback brings somebody there anyway
		case day >= a.h.AsOf:
			v.Calendar.mark(day, CalendarDue, a.placement(i), p.point())
			if day <= dueBy {
				v.Due = append(v.Due, a.dueVisit(i, p))
			}
		case until > a.h.AsOf:
			v.Calendar.mark(day, CalendarOverdue, a.placement(i), p.point())
			v.Overdue = append(v.Overdue, a.dueVisit(i, p))
		}
	}
}

// dueVisit says what a visit is worth and why.
func (a *after) dueVisit(i int, p plannedVisit) DueVisit {
	pl, f := a.h.Placements.At(i), &a.slab[i]
	d := DueVisit{JobNo: pl.JobNo(), Placement: pl.Placement(), Site: a.site(i), Visit: p.point(), PlannedOn: figure.Day{Date: pl.PlacedOn() + record.Date(p.days)},
		PlacedOn: figure.Day{Date: pl.PlacedOn()}, LastSeenOn: figure.Day{Date: f.last}, WarrantyEnds: figure.Day{Date: f.warrantyEnd}, Why: a.why(i)}
	d.Chance, d.Worth = a.ahead(i)
	return d
}

// ahead is the chance that slab i brings a callback in the days to come, as far
// as its warranty reaches, and that chance in money.
func (a *after) ahead(i int) (chance, worth figure.Figure) {
	if a.slab[i].state == open {
		return figure.Total(1, 1, "a callback is open"), figure.Total(a.cost.Value, 1, "an open callback, at the mean cost of a crack callback")
	}
	now := a.slabs.Age[i]
	until := min(now+float64(a.visits.AheadDays), float64(a.slab[i].warrantyEnd-a.h.Placements.At(i).PlacedOn()))
	chance = a.risk.chance(i, a.slab[i].state, now, until, a.level)
	worth = cracks.Scaled(chance, a.cost.Value)
	worth.Method = chance.Method + ", times the mean cost of a crack callback"
	return chance, worth
}

// worthiest puts the visits worth most first; visits of the same worth in the
// order of their days, jobs and placements.
func worthiest(visits []DueVisit) {
	slices.SortStableFunc(visits, func(x, y DueVisit) int {
		return cmp.Or(cmp.Compare(y.Worth.Value, x.Worth.Value), cmp.Compare(x.PlannedOn.Date, y.PlannedOn.Date),
			cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement))
	})
}
