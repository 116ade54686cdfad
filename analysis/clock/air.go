package clock

import (
	"pourback/analysis/trade"
)

// Weather is what is known of the air on the day.
type Weather struct {
	From      AirFrom
	Pours     int     // of the month on record, where it is from these
	ConcreteF float64 // as delivered; 0 where it is to be taken as the day's mean air
	Hours     []Reading
}

// Reading is the air at minutes of the wall clock after midnight. Humidity and
// wind are below 0 where they are not known.
type Reading struct {
	Min                        int
	AirF, HumidityPct, WindMph float64
	OnSite                     bool // the wind is that of the site, not of a station at 10 m
}

// StageHours are when a slab is ready for each stage, in hours after placing at
// 70 °F.
type StageHours struct {
	Strike, Float, Finish, Done, Set float64 // struck off; bleeding over; floated; finished; initially set
}

// DefaultStageHours are common practice, no published source: what a plain mix of
// 4 to 5 in slump takes outdoors, out of the wind. The order of the stages, and
// that nobody works the surface before the water is gone, is ACI 302.1R's.
func DefaultStageHours() StageHours {
	return StageHours{Strike: 0.25, Float: 2.5, Finish: 3.5, Done: 4.5, Set: 4.5}
}

// paceMin are the minutes from the first concrete over which the day's pace is
// taken: to about the initial set of a day that is neither hot nor cold.
const paceMin = 6 * 60

// grain is how finely the day's air is looked at, in minutes.
const grain = 15

// air works out what the day's air does to the concrete. One pace holds for all
// of the day, so that more heat makes each stage earlier and none longer.
func (w *working) air() {
	a := &w.day.Air
	in := w.Air
	a.From, a.Pours, a.Hours = in.From, in.Pours, []Hour{}
	if len(in.Hours) == 0 || len(w.runs) == 0 {
		a.Pace, a.AirF, a.ConcreteF = 1, trade.PaceBaseF, trade.PaceBaseF
		return
	}
	a.ConcreteF = in.mix()
	first, n := w.runs[0].flows, 0.0
	for at := first; at <= first+paceMin; at += grain {
		air := w.readingAt(at).AirF
		pace, err := trade.Pace(min(max((air+a.ConcreteF)/2, coldestF), hottestF))
		if err != nil {
			continue // it is within these bounds
		}
		n++
		a.AirF += (air - a.AirF) / n
		a.Pace += (pace - a.Pace) / n
	}
	for _, h := range in.Hours {
		a.Hours = append(a.Hours, Hour{w.at(w.since(h.Min)), h.AirF, h.HumidityPct, h.WindMph, w.rate(h)})
	}
}

// Plants keep a mix from coming colder than this, and slabs are reckoned with
// between the others (common practice, no published source), in °F.
const (
	coolestMixF = 60
	coldestF    = 20
	hottestF    = 150
)

// readingAt is the air at a minute of the day: between two readings in proportion,
// before the first and after the last as these.
func (w *working) readingAt(min int) Reading {
	hours := w.Air.Hours
	last := hours[0]
	for i, h := range hours {
		at := w.since(h.Min)
		if at >= min {
			if i == 0 {
				return h
			}
			before := w.since(last.Min)
			return between(last, h, float64(min-before)/float64(at-before))
		}
		last = h
	}
	return last
}

// between is a reading a share of the way from one to another.
func between(a, b Reading, share float64) Reading {
	mid := func(x, y float64) float64 {
		if x < 0 || y < 0 {
			return -1
		}
		return x + share*(y-x)
	}
	return Reading{AirF: a.AirF + share*(b.AirF-a.AirF), HumidityPct: mid(a.HumidityPct, b.HumidityPct), WindMph: mid(a.WindMph, b.WindMph), OnSite: a.OnSite && b.OnSite}
}

// rate is the evaporation from fresh concrete in lb/ft²/h, below 0 where it is not
// known.
func (w *working) rate(r Reading) float64 {
	if r.HumidityPct < 0 || r.WindMph < 0 {
		return -1
	}
	wind := r.WindMph
	if !r.OnSite {
		wind *= trade.WindTenToHalfMeter
	}
	rate, err := trade.Evaporation(w.day.Air.ConcreteF, max(0, r.AirF), r.HumidityPct, wind)
	if err != nil {
		return -1
	}
	return rate
}

// drying notes how fast the fresh surface dries, from the first concrete until
// curing is on.
func (w *working) drying(until int) {
	a := &w.day.Air
	if len(w.Air.Hours) == 0 || len(w.runs) == 0 {
		return
	}
	if a.ConcreteF > trade.DischargeMaxF {
		w.note(Note{Kind: HotConcrete, F: a.ConcreteF})
	}
	var fast, some *Time
	for at := w.runs[0].flows; at <= until; at += grain {
		rate := w.rate(w.readingAt(at))
		if rate < 0 {
			return
		}
		when := w.at(at)
		if a.RateKnown, a.MostRate = true, max(a.MostRate, rate); rate >= trade.PrecautionLbFt2 && fast == nil {
			fast = &when
		}
		if rate >= trade.CautionKgM2*lbFt2PerKgM2 && some == nil {
			some = &when
		}
	}
	switch {
	case fast != nil:
		w.note(Note{Kind: DriesFast, At: *fast, Rate: a.MostRate})
	case some != nil:
		w.note(Note{Kind: DriesSome, At: *some, Rate: a.MostRate})
	}
}

// lbFt2PerKgM2 turns kg/m² into lb/ft².
const lbFt2PerKgM2 = 1 / (trade.KgPerLb / (0.3048 * 0.3048))

// Fastest is the fastest evaporation of the hours that are known, in lb/ft²/h;
// known is false where no hour has its humidity and its wind.
func (x Weather) Fastest() (rate float64, known bool) {
	w := &working{Plan: Plan{Air: x}, day: &Day{}}
	w.day.Air.ConcreteF = x.mix()
	for _, h := range x.Hours {
		if r := w.rate(h); r >= 0 {
			rate, known = max(rate, r), true
		}
	}
	return rate, known
}

// mix is the temperature of the concrete as delivered: the day's mean air where
// nobody tells, within what plants send.
func (x Weather) mix() float64 {
	if x.ConcreteF != 0 || len(x.Hours) == 0 {
		return x.ConcreteF
	}
	mean := 0.0
	for _, h := range x.Hours {
		mean += h.AirF / float64(len(x.Hours))
	}
	return min(max(mean, coolestMixF), trade.DischargeMaxF)
}
