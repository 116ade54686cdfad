package visits

import (
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// What turns which sites are worth a drive, besides what a callback costs and
// what a drive does.
const MeanChance figure.Assumed = "chance of a callback where a visit is due"

// siteWorth is what the visits at one site have at stake, and whether somebody
// goes there anyhow, for an open callback.
type siteWorth struct {
	worth figure.Figure
	open  bool
}

// How far the cost of a drive may be off, as a factor either way: as the owner
// entered it, and as it came (no published source).
const (
	offEntered = 1.1
	offUsual   = 2
)

// turnedBy are the two inputs that turn most easily how many sites are worth a
// drive, which is what it comes to. Where none is weighed nothing turns it.
func (a *after) turnedBy(sites []siteWorth, dues int) []figure.Lever {
	var sum figure.Figure
	waiting := 0
	for _, s := range sites {
		if !s.open {
			waiting++
			addWorth(&sum, s.worth, 1)
		}
	}
	if waiting == 0 || a.drive == 0 || sum.Value <= 0 || dues == 0 {
		return []figure.Lever{}
	}
	pays := func(times, drive float64) float64 {
		n := 0.0
		for _, s := range sites {
			if s.open || s.worth.Value*times >= drive {
				n++
			}
		}
		return n
	}
	off := offEntered
	if p, usual := a.visits, setting.DefaultVisitPlan(); p.DriveMinutes == usual.DriveMinutes && p.DriveMiles == usual.DriveMiles {
		off = offUsual
	}
	chance := sum.Value / a.cost.Value / float64(dues)
	inputs := []figure.Input{
		{What: DriveCost, Unit: figure.Dollar, Value: a.drive, Low: a.drive / off, High: a.drive * off, Comes: func(v float64) float64 { return pays(1, v) }},
		{What: a.cost.What, Unit: figure.Dollar, Value: a.cost.Value, Low: max(0, a.cost.Value-a.cost.Off), High: a.cost.Value + a.cost.Off,
			Comes: func(v float64) float64 { return pays(v/a.cost.Value, a.drive) }},
	}
	if sum.Bounded && sum.Low > 0 {
		inputs = append(inputs, figure.Input{What: MeanChance, Unit: figure.Chance, Value: chance, Low: chance * sum.Low / sum.Value, High: chance * sum.High / sum.Value,
			Comes: func(v float64) float64 { return pays(v/chance, a.drive) }})
	}
	return figure.First(figure.Choices(inputs))
}
