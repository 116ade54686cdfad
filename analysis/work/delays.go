package work

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Delays says where time went, from the events of a history handed in in full.
type Delays struct {
	Causes []DelayCause // the costliest first
	Spots  []DelayCause // where clogs sat
	Late   LateLoads

	UsualCrew float64 // people who wait where a placement does not record its crew size
	Assumed   int     // delays that are reckoned with it
}

// DelayCause is the time lost to one cause, or to clogs at one spot.
type DelayCause struct {
	Name    string
	Times   int
	Minutes int64
	Cost    record.Cents  // of the waiting crew, at the labor rate
	Share   float64       // of all minutes in the list
	Running float64       // share of this and all before it
	Each    figure.Figure // minutes each time
}

// LateLoads are the loads over [trade.DischargeMinutes] from batching to the end
// of discharge, of those whose times are recorded, and what followed.
type LateLoads struct {
	Known, Late, Unlikely int // Unlikely: so late that the times deserve a look
	Share                 figure.Figure
	With, Without         Followed      // pours with a late load, and those whose timed loads were none
	Ratio                 figure.Figure // of the rates of callbacks, with over without
}

// Followed is what came of a number of pours.
type Followed struct {
	Pours, Callbacks int // callbacks of any kind, the first of each pour
	Years            float64
	PerYear          figure.Figure // callbacks per 100 placement-years
}

// unlikelyLate is the minutes from batching to discharge over which the times
// themselves are among the records to check.
const unlikelyLate = 120

func delays(h *record.History, opt setting.Options) *Delays {
	if len(h.Delays) == 0 && len(h.Loads) == 0 {
		return nil
	}
	d := &Delays{}
	waiting := d.waiting(h)
	rate := float64(opt.Rates.LaborPerHour)
	d.Causes = delayCauses(h, opt.Level, waiting, rate, func(d *record.Delay) string { return figure.OrUnknown(d.Cause) })
	d.Spots = delayCauses(h, opt.Level, waiting, rate, func(d *record.Delay) string {
		if d.Cause != "clog" {
			return ""
		}
		return figure.OrUnknown(d.Spot)
	})
	d.Late.count(h)
	d.Late.conclude(opt.Level)
	return d
}

// waiting are the people kept waiting by each delay: the placement's crew, or
// the median crew where it is not recorded.
func (d *Delays) waiting(h *record.History) []float64 {
	var sizes []float64
	crew := map[[2]string]float64{}
	for i := range h.Placements.Len() {
		if p := h.Placements.At(i); p.CrewSize().OK {
			sizes = append(sizes, float64(p.CrewSize().V))
			crew[[2]string{p.JobNo(), p.Placement()}] = float64(p.CrewSize().V)
		}
	}
	if q, err := interval.Quantiles(sizes, 0.5); err == nil {
		d.UsualCrew = q[0]
	}
	people := make([]float64, len(h.Delays))
	for i := range h.Delays {
		size, known := crew[[2]string{h.Delays[i].JobNo, h.Delays[i].Placement}]
		if !known {
			size = d.UsualCrew
			d.Assumed++
		}
		people[i] = size
	}
	return people
}

// count takes in the loads, and the pours that are timed.
func (l *LateLoads) count(h *record.History) {
	for i := range h.Placements.Len() {
		switch longest := LongestDischarge(h, i); {
		case !longest.OK:
		case longest.V > trade.DischargeMinutes:
			l.With.add(h, i)
		default:
			l.Without.add(h, i)
		}
	}
	for i := range h.Loads {
		minutes := h.Loads[i].Discharge()
		if !minutes.OK {
			continue
		}
		l.Known++
		if minutes.V > trade.DischargeMinutes {
			l.Late++
		}
		if minutes.V > unlikelyLate {
			l.Unlikely++
		}
	}
}

// LongestDischarge is the most minutes from batching to the end of discharge
// among the timed loads of placement i.
func LongestDischarge(h *record.History, i int) (longest record.Number) {
	loads := h.LoadsOf(i)
	for k := range loads {
		if d := loads[k].Discharge(); d.OK && d.V >= 0 {
			longest = record.Some(max(longest.V, d.V))
		}
	}
	return longest
}

// add follows placement i to its first callback or the data date.
func (f *Followed) add(h *record.History, i int) {
	days, called := cracks.ToCallback(h.Placements.At(i), h.AsOf, math.Inf(1))
	f.Pours++
	f.Years += days / cracks.DaysPerYear
	if called {
		f.Callbacks++
	}
}

func (l *LateLoads) conclude(level float64) {
	l.Share = figure.Estimated(interval.Wilson(l.Late, l.Known, level))
	for _, f := range []*Followed{&l.With, &l.Without} {
		f.PerYear = figure.Estimated(interval.Garwood(f.Callbacks, f.Years/100, level))
	}
	switch events := l.With.Callbacks + l.Without.Callbacks; {
	case l.With.Pours < figure.LeastForRate || l.Without.Pours < figure.LeastForRate:
		l.Ratio = figure.Unknown(TooFewPours{With: l.With.Pours, Without: l.Without.Pours})
	case events < figure.LeastEvents:
		l.Ratio = figure.Unknown(TooFewCallbacks{Callbacks: events})
	default:
		c, err := interval.CompareRates(interval.Rate{Events: l.With.Callbacks, Exposure: l.With.Years}, interval.Rate{Events: l.Without.Callbacks, Exposure: l.Without.Years}, level)
		if err == nil && math.IsInf(c.Ratio, 0) {
			err = stat.ErrNoEvents
		}
		if err != nil {
			l.Ratio = figure.Unknown(figure.ReasonOf(err))
			return
		}
		l.Ratio = figure.Figure{Value: c.Ratio, Low: c.Low, High: c.High, Level: level, N: c.N, Method: c.Method, Bounded: true, OK: true}
	}
}

// Verdict says whether late concrete was called about more or less often than
// chance would make it.
func (l *LateLoads) Verdict() LateVerdict {
	switch f := l.Ratio; {
	case !f.Known():
		return LateTooFew
	case f.Low > 1:
		return LateMore
	case f.High < 1:
		return LateFewer
	}
	return LateAlike
}

// LateVerdict is how callbacks after late loads compare with those after others.
type LateVerdict string

// The verdicts on late loads.
const (
	LateTooFew LateVerdict = "too few"
	LateMore   LateVerdict = "more"
	LateFewer  LateVerdict = "fewer"
	LateAlike  LateVerdict = "alike"
)

// delayCauses are the minutes by a name; an event without a name is left out.
func delayCauses(h *record.History, level float64, waiting []float64, rate float64, name func(*record.Delay) string) []DelayCause {
	by := figure.GroupBy(len(h.Delays), func(i int) (string, bool) { n := name(&h.Delays[i]); return n, n != "" })
	var out []DelayCause
	var all int64
	for _, cause := range by.Sorted(cmp.Compare) {
		c := DelayCause{Name: cause, Times: len(by.Rows[cause])}
		minutes := make([]float64, 0, c.Times)
		hours := 0.0
		for _, i := range by.Rows[cause] {
			c.Minutes += h.Delays[i].Minutes.V
			hours += float64(h.Delays[i].Minutes.V) / 60 * waiting[i]
			minutes = append(minutes, float64(h.Delays[i].Minutes.V))
		}
		c.Cost = figure.RoundCents(rate * hours)
		mean, err := interval.MeanT(minutes, level)
		c.Each = figure.OrBare(mean, err, figure.SumOf(minutes)/float64(c.Times), c.Times, "mean")
		all += c.Minutes
		out = append(out, c)
	}
	slices.SortStableFunc(out, func(a, b DelayCause) int { return cmp.Compare(b.Minutes, a.Minutes) })
	running := int64(0)
	for i := range out {
		running += out[i].Minutes
		if all > 0 {
			out[i].Share, out[i].Running = float64(out[i].Minutes)/float64(all), float64(running)/float64(all)
		}
	}
	return out
}
