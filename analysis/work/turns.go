package work

import (
	"cmp"
	"slices"

	"pourback/analysis/figure"
)

// What turns the choice of an outfit or of a crew.
const (
	ClogsOfLeast figure.Assumed = "clogs of the outfit with fewest"
	ClogsOfMost  figure.Assumed = "clogs of the outfit with most"
	CostOfClog   figure.Assumed = "cost of a clog"
	HoursOfFirst figure.Assumed = "hours of the crew that needs fewest"
	HoursOfLast  figure.Assumed = "hours of the crew that needs most"
	HourOfWork   figure.Assumed = "cost of an hour of work"
)

// Rivals are the two whose difference a choice is about, with what the better
// saves: of outfits on 100 yd pumped, of crews on the reference job; $.
type Rivals struct {
	Better, Worse string
	Saves         float64
}

// leastSaved is the least that a choice saves to be one, in $: below it nobody is
// the better of the two.
const leastSaved = 0.5

// turnedBy are the two inputs that turn most easily which outfit to call: what it
// comes to is what calling the one with fewest clogs saves on 100 yd, beside the
// one with most.
func (p *Pump) turnedBy() ([]figure.Lever, Rivals) {
	outfits := slices.DeleteFunc(slices.Clone(p.Outfits), func(o PumpOutfit) bool { return o.Outfit == "unknown" || !o.Pooled.Known() })
	if len(outfits) < 2 || !p.ClogCost.Known() || p.ClogCost.Value <= 0 || !p.PerClog.Bounded || p.All.Clogs == 0 {
		return []figure.Lever{}, Rivals{}
	}
	byRate := func(x, y PumpOutfit) int { return cmp.Compare(x.Pooled.Value, y.Pooled.Value) }
	least, most := slices.MinFunc(outfits, byRate), slices.MaxFunc(outfits, byRate)
	each := p.ClogCost.Value / float64(p.All.Clogs)
	if (most.Pooled.Value-least.Pooled.Value)*each < leastSaved {
		return []figure.Lever{}, Rivals{}
	}
	saves := func(low, high, cost float64) float64 { return (high - low) * cost }
	rate := func(what figure.Assumed, f figure.Figure, comes func(float64) float64) figure.Input {
		return figure.Input{What: what, Unit: figure.Per100Yd, Value: f.Value, Low: f.Low, High: f.High, Comes: comes}
	}
	a, b := least.Pooled, most.Pooled
	return figure.First(figure.Levers([]figure.Input{
		rate(ClogsOfLeast, a, func(v float64) float64 { return saves(v, b.Value, each) }),
		rate(ClogsOfMost, b, func(v float64) float64 { return saves(a.Value, v, each) }),
		{What: CostOfClog, Unit: figure.Dollar, Value: each, Low: each * p.PerClog.Low / p.PerClog.Value, High: each * p.PerClog.High / p.PerClog.Value,
			Comes: func(v float64) float64 { return saves(a.Value, b.Value, v) }},
	})), Rivals{least.Outfit, most.Outfit, saves(a.Value, b.Value, each)}
}

// turnedBy are those of which crew to send: what it comes to is what the crew that
// needs fewest hours saves on the reference job, beside the one that needs most.
func (l *Labor) turnedBy(crews []Crew, hour float64) ([]figure.Lever, Rivals) {
	known := slices.DeleteFunc(slices.Clone(crews), func(c Crew) bool { return c.Crew == "unknown" || !c.HoursVsAverage.Bounded })
	if len(known) < 2 || !l.Reference.Known() {
		return []figure.Lever{}, Rivals{}
	}
	byHours := func(x, y Crew) int { return cmp.Compare(x.HoursVsAverage.Value, y.HoursVsAverage.Value) }
	first, last := slices.MinFunc(known, byHours), slices.MaxFunc(known, byHours)
	saves := func(fewest, most, hour float64) float64 { return l.Reference.Value * (most - fewest) * hour }
	if saves(first.HoursVsAverage.Value, last.HoursVsAverage.Value, hour) < leastSaved {
		return []figure.Lever{}, Rivals{}
	}
	ratio := func(what figure.Assumed, f figure.Figure, comes func(float64) float64) figure.Input {
		return figure.Input{What: what, Unit: figure.NoUnit, Value: f.Value, Low: f.Low, High: f.High, Comes: comes}
	}
	a, b := first.HoursVsAverage, last.HoursVsAverage
	const off = 1.1 // an hourly rate that was entered
	return figure.First(figure.Levers([]figure.Input{
		ratio(HoursOfFirst, a, func(v float64) float64 { return saves(v, b.Value, hour) }),
		ratio(HoursOfLast, b, func(v float64) float64 { return saves(a.Value, v, hour) }),
		{What: HourOfWork, Unit: figure.DollarsAnHour, Value: hour, Low: hour / off, High: hour * off, Comes: func(v float64) float64 { return saves(a.Value, b.Value, v) }},
	})), Rivals{first.Crew, last.Crew, saves(a.Value, b.Value, hour)}
}
