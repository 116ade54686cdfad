package bid

import (
	"cmp"
	"math"
	"strings"
	"time"

	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// onTheClock puts a day on the clock. Two steps that the clock does not allow are
// not offered: the day is ordered at once.
func (w *bidWork) onTheClock(d *bidDay) {
	day := clock.Make(w.plan(d))
	if c := day.Call; c != nil && !c.InTime {
		d.out.Hold = Hold{Loads: []float64{}, FirstYd: d.out.Order.Yd, Not: concrete.OffTheClock, WouldSave: d.out.Hold.Saves}
		day = clock.Make(w.plan(d))
	}
	if c := day.Call; c != nil {
		d.out.Hold.WaitMin = float64(c.IdleMin)
	}
	d.out.Clock = day
}

// plan is what a day is put on the clock from.
func (w *bidWork) plan(d *bidDay) clock.Plan {
	t, p := w.trucksOn(d), w.opt.Pour
	out := clock.Plan{Day: w.dateOf(d), Place: w.opt.Zone, StartMin: w.startMin(), Loads: d.out.Order.Loads, Going: w.going(d), EdgeMin: int(t.edge()),
		Air: w.airOf(d), Hours: clock.StageHours{Strike: clock.DefaultStageHours().Strike, Float: p.FloatHours, Finish: p.FinishHours, Done: p.CureHours, Set: p.SetHours}}
	if out.Place == nil {
		out.Place = time.UTC
	}
	if d.pumped {
		out.PrimeYd = w.pourSetting(SetPrimeYd, "yd", 0, p.PrimeYd, setting.DefaultPourDay().PrimeYd)
	}
	if h := d.out.Hold; d.out.TwoSteps() {
		out.Loads, out.Held = h.Loads, &clock.Held{Yd: h.HoldYd, CallAtYd: h.CallAtYd, LeadMin: whole(t.call)}
	}
	for _, i := range d.slabs {
		s := w.slabs[i]
		slab := clock.Slab{Name: s.Name, NeatYd: s.neatYd, SlowerHour: slower(s.Placement)}
		if !s.StepsOnly() {
			slab.Saw, slab.Early = strings.Contains(s.JointCut, "saw"), strings.Contains(s.JointCut, "saw") || strings.Contains(s.JointCut, "early-entry")
		}
		out.Slabs = append(out.Slabs, slab)
	}
	return out
}

// TooFar are the minutes that loading and the road take and those that a truck has,
// where no truck is empty in time; else it is 0.
func (b *Bid) TooFar() (road, limit int) {
	for i := range b.Days {
		if b.Days[i].Clock == nil {
			continue
		}
		for _, n := range b.Days[i].Clock.Notes {
			if n.Kind == clock.TooFar {
				return n.Min, n.Limit
			}
		}
	}
	return 0, 0
}

// whole are minutes, not less than they are.
func whole(minutes float64) int { return int(math.Ceil(minutes - 1e-9)) }

// going is what the trucks of a day go by.
func (w *bidWork) going(d *bidDay) clock.Going {
	p, usual := w.opt.Pour, setting.DefaultPourDay()
	limit, usualLimit := p.DischargeLimitMin, usual.DischargeLimitMin
	if w.hottest(d) >= p.HotAirF {
		limit, usualLimit = p.DischargeLimitHotMin, usual.DischargeLimitHotMin
	}
	min := func(name SettingName, spec, set, usual float64) int {
		return whole(w.pourSetting(name, "min", spec, set, usual))
	}
	g := clock.Going{PlaceMinPerYd: w.placeMin(d), HaulMin: whole(w.trucks.haul), LoadMin: min(SetLoadMin, 0, p.LoadMin, usual.LoadMin), WashMin: min(SetWashOut, 0, p.WashOutMin, usual.WashOutMin),
		WashesOnSpot: p.WashOnSpot, SpacingMin: min(SetSpacing, w.spec.PlantSpacingMin, p.PlantSpacingMin, usual.PlantSpacingMin), LimitMin: min(SetLimit, w.spec.DischargeLimitMin, limit, usualLimit)}
	if d.pumped {
		g.PrimeMin = min(SetPrimeMin, 0, p.PrimeMin, usual.PrimeMin)
	}
	return g
}

// pourSetting is what the spec says, else the setting.
func (w *bidWork) pourSetting(name SettingName, unit string, spec, set, usual float64) float64 {
	return w.resolve(name, unit, spec, nil, "", set, usual).value
}

// startMin is when the first truck is to be on site, in minutes after midnight.
func (w *bidWork) startMin() int {
	at, err := record.ParseClock(cmp.Or(w.spec.Start, w.opt.Pour.Start))
	if err != nil {
		at, _ = record.ParseClock(setting.DefaultPourDay().Start) // the check has said so
	}
	usual, _ := record.ParseClock(setting.DefaultPourDay().Start)
	b := asSet(float64(at), float64(usual))
	if w.spec.Start != "" {
		b = inSpec
	}
	w.setting(SetStart, "time", sourced{float64(at), b})
	return int(at)
}

// dateOf is the date of a day, zero where the spec has none: days of pouring are
// taken to follow on each other.
func (w *bidWork) dateOf(d *bidDay) time.Time {
	on, err := record.ParseDate(w.spec.On)
	if err != nil {
		return time.Time{}
	}
	return (on + record.Date(d.out.Day-1)).Time()
}

// placeMin is how many minutes a yard of the day takes, by each placement's way of
// placing.
func (w *bidWork) placeMin(d *bidDay) float64 {
	minutes, yards := 0.0, 0.0
	for _, i := range d.slabs {
		s := w.slabs[i]
		minutes, yards = minutes+s.neatYd*w.pace(s.Method), yards+s.neatYd
	}
	return minutes / yards
}

// pace is the minutes to place a yard by a method: the median of the loads of the
// crew by it, of all crews where those are few; else the setting.
func (w *bidWork) pace(method string) float64 {
	if known, done := w.paced[method]; done {
		return known
	}
	own, all := w.paces(method)
	if len(own) < figure.LeastForRate {
		own = all
	}
	p, usual := w.opt.Bid, setting.DefaultBidPractice()
	w.paced[method] = w.settingOf(SetPlaceMin, method, "min", resolved(0, own, OfTickets, p.PlaceMinPerYd, usual.PlaceMinPerYd)).value
	return w.paced[method]
}

// Paces off these are slips of the pen, in minutes a yard (common practice, no
// published source).
const (
	quickestPace = 0.2
	slowestPace  = 30
)

// paces are the minutes a yard of loads on record by a method: of each load from
// the beginning of its discharge to its end, or of the whole pour where only that
// is on record.
func (w *bidWork) paces(method string) (own, all []float64) {
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		if p.Method() != method {
			continue
		}
		paces := pacesOf(w.h.LoadsOf(i))
		all = append(all, paces...)
		if w.spec.Crew == "" || p.Crew() == w.spec.Crew {
			own = append(own, paces...)
		}
	}
	return own, all
}

func pacesOf(loads []record.Load) (paces []float64) {
	var first, last record.Moment
	yards := 0.0
	add := func(from, to record.Moment, yd float64) {
		if pace := float64(to-from) / 60 / yd; from != 0 && yd > 0 && pace >= quickestPace && pace <= slowestPace {
			paces = append(paces, pace)
		}
	}
	for _, l := range loads {
		add(l.PourStart, l.PourEnd, l.Yards.Or(0))
		if yards += l.Yards.Or(0); l.PourStart != 0 && (first == 0 || l.PourStart < first) {
			first = l.PourStart
		}
		last = max(last, l.PourEnd)
	}
	if len(paces) == 0 {
		add(first, last, yards)
	}
	return paces
}

// trucksOn is the coming of trucks on a day: whether it dries fast is told by its
// forecast, where there is one that says so.
func (w *bidWork) trucksOn(d *bidDay) truckTimes {
	t := w.trucks
	if !w.forecast(d) {
		return t
	}
	if rate, known := w.airOf(d).Fastest(); known {
		t.hot = 0
		if rate >= w.b.Weather.Limit {
			t.hot = 1
		}
	}
	return t
}

// forecast says whether the spec has one of this day: it is of the first.
func (w *bidWork) forecast(d *bidDay) bool { return len(w.spec.Forecast) > 0 && d.out == &w.b.Days[0] }

// hottest is the warmest air of the day that is known of.
func (w *bidWork) hottest(d *bidDay) float64 {
	most := math.Inf(-1)
	for _, r := range w.airOf(d).Hours {
		most = max(most, r.AirF)
	}
	return most
}

// Air temperatures usual for a season, in °F, where nothing else tells (common
// practice, no published source). At the warm one the window of CSA A23.1-94 is
// that of UFC 3-250-04 for warm weather.
const (
	warmAirF = 83
	mildAirF = 70
	coldAirF = 50
)

// airOf is the air of a day: its forecast, the pours of the month on record, the
// setting, or what is usual in the season.
func (w *bidWork) airOf(d *bidDay) clock.Weather {
	if w.forecast(d) {
		return clock.Weather{From: clock.FromForecast, ConcreteF: w.spec.ConcreteTempF, Hours: readings(w.spec.Forecast)}
	}
	if w.aired == nil {
		air := w.airWithout()
		w.aired = &air
	}
	return *w.aired
}

// airWithout is the air of a day without forecast.
func (w *bidWork) airWithout() clock.Weather {
	one := clock.Reading{Min: w.startMin(), HumidityPct: -1, WindMph: -1, OnSite: true}
	out := clock.Weather{From: clock.FromRecords, ConcreteF: w.spec.ConcreteTempF}
	if w.usualAir(&out, &one) {
		out.Hours = []clock.Reading{one}
		return out
	}
	if out.From, one.AirF = clock.FromSetting, w.opt.Pour.AirF; one.AirF == 0 {
		out.From, one.AirF = clock.FromSeason, mildAirF
		switch w.sawing("saw").When {
		case SawWarm:
			one.AirF = warmAirF
		case SawCold:
			one.AirF = coldAirF
		}
	}
	out.Hours = []clock.Reading{one}
	return out
}

// readings are the hours of a forecast.
func readings(hours []Hour) []clock.Reading {
	known := func(v *float64) float64 {
		if v == nil {
			return -1
		}
		return *v
	}
	out := make([]clock.Reading, len(hours))
	for i, h := range hours {
		at, _ := record.ParseClock(h.At) // the check refuses what is none
		out[i] = clock.Reading{Min: int(at), AirF: h.AirF, HumidityPct: known(h.HumidityPct), WindMph: known(h.WindMph)}
	}
	return out
}

// usualAir is the middle of what pours of the month had, where enough of them tell
// their air.
func (w *bidWork) usualAir(out *clock.Weather, one *clock.Reading) bool {
	var air, humidity, wind, mix []float64
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		if int(p.PlacedOn().Time().Month()) != w.month {
			continue
		}
		for _, v := range []struct {
			of   record.Number
			into *[]float64
		}{{p.AirTempF(), &air}, {p.HumidityPct(), &humidity}, {p.WindMPH(), &wind}, {p.ConcreteTempF(), &mix}} {
			if v.of.OK {
				*v.into = append(*v.into, v.of.V)
			}
		}
	}
	middle := func(all []float64, otherwise float64) float64 {
		if q, err := interval.Quantiles(all, 0.5); err == nil && len(all) >= figure.LeastForRate {
			return q[0]
		}
		return otherwise
	}
	out.Pours = len(air)
	if len(air) < figure.LeastForRate {
		return false
	}
	one.AirF, one.HumidityPct, one.WindMph = middle(air, 0), middle(humidity, -1), middle(wind, -1)
	if out.ConcreteF == 0 {
		out.ConcreteF = middle(mix, 0)
	}
	return true
}
