package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/trade"
	"pourback/analysis/work"
)

// Weather says how fast the air dried each pour, and what heat and cold did to
// the work.
type Weather struct{ *Voice }

// Title names the page.
func (w Weather) Title() string { return w.text("Weather") }

// Will is what the page will say once there are records.
func (w Weather) Will() string { return w.text("how many pours dried faster than is safe, and when") }

// Takes is what the answer rests on.
func (w Weather) Takes() string {
	return w.text("the temperatures of concrete and air, the humidity and the wind at placing")
}

// Limit is the rate from which precautions are due.
func (w Weather) Limit() string { return w.Drying(trade.PrecautionLbFt2) }

// Answer says how many pours dried too fast, when, and how many were cold.
func (w Weather) Answer(x *work.Weather) string {
	if x.Known == 0 {
		return w.text("The records cannot say how fast the slabs dried: no pour has all its weather.")
	}
	s := w.hot(x)
	if cold := w.cold(x); cold != "" {
		s += " " + cold
	}
	return s
}

// hot says how many pours dried so fast that precautions were due.
func (w Weather) hot(x *work.Weather) string {
	all := w.plural(x.Known, "1 pour|{n} pours", nil)
	switch {
	case x.HotCount == 0:
		return w.say("None of {pours} with weather on record dried fast enough to need fog or windbreaks.", with{"pours": all})
	case x.Hottest > 0:
		return w.say("{n} of {pours} dried fast enough to need fog or windbreaks, most often in {month}.", with{"n": Count(x.HotCount), "pours": all, "month": w.MonthName(int(x.Hottest))})
	}
	return w.say("{n} of {pours} dried fast enough to need fog or windbreaks.", with{"n": Count(x.HotCount), "pours": all})
}

// cold says how many pours were placed in cold air.
func (w Weather) cold(x *work.Weather) string {
	switch {
	case x.HasAir == 0:
		return ""
	case x.ColdCount == 0:
		return w.say("None was placed in air under {cold}.", with{"cold": w.Degrees(work.ColdF)})
	}
	return w.plural(x.ColdCount, "1 of {all} was placed in air under {cold}.|{n} of {all} were placed in air under {cold}.", with{"all": Count(x.HasAir), "cold": w.Degrees(work.ColdF)})
}

// Notes say what to do on drying days and what the rate is good for.
func (w Weather) Notes(x *work.Weather) []string {
	if x.Known == 0 {
		return []string{w.say("It takes {what}.", with{"what": w.Takes()})}
	}
	notes := []string{
		w.text("On hot, dry or windy days start earlier. Have fog or windbreaks and an evaporation retarder ready before the truck. Cure as soon as the surface takes it."),
		w.text("The drying rate is good to about 40% either way. It tells which days need care, not whether a slab will crack."),
		w.text("A pour just under the limit is not safe, and one just over it is not lost."),
	}
	if x.HotCount > 0 && x.SetPace.Known() {
		notes = append(notes, w.say("On such days expect concrete to set about {times} as fast as at {cool}.", with{"times": w.Value(Times, x.SetPace), "cool": w.Degrees(68)}))
	}
	return notes
}

// Hours says what fast drying did to the hours of a job.
func (w Weather) Hours(f figure.Figure) string {
	switch {
	case !f.Known():
		return w.say("Too early to say what such days do to the hours: {why}.", with{"why": w.Reason(f.Why)})
	case f.Low > 1:
		return w.say("The same job took {more} more hours on such days (between {low} and {high}).", with{"more": w.Percent(f.Value - 1), "low": Grouped(100*(f.Low-1), 0), "high": Grouped(100*(f.High-1), 0)})
	case f.High < 1:
		return w.say("The same job took {less} fewer hours on such days (between {low} and {high}).", with{"less": w.Percent(1 - f.Value), "low": Grouped(100*(1-f.High), 0), "high": Grouped(100*(1-f.Low), 0)})
	}
	return w.say("Too close to call whether such days cost hours: anywhere from {low} fewer to {high} more fits your records.", with{"low": w.Percent(1 - f.Low), "high": w.Percent(f.High - 1)})
}

// Lacking says what the other pours lack, the commonest first.
func (w Weather) Lacking(placements int, x *work.Weather) string {
	n := placements - x.Known
	if n == 0 || len(x.Lacking) == 0 {
		return ""
	}
	var columns []string
	for _, l := range x.Lacking {
		columns = append(columns, w.say("{column} {n}", with{"column": Lower(w.columnName(l.Column)), "n": Count(l.Pours)}))
	}
	return w.plural(n, "1 placement lacks a temperature, the humidity or the wind: {columns}.|{n} placements lack a temperature, the humidity or the wind: {columns}.", with{"columns": w.List(columns)})
}

// Lacks says why one pour has no rate: "lacks air temperature and wind".
func (w Weather) Lacks(l work.Lacks) string {
	columns := l.Columns()
	if len(columns) == 0 {
		return w.text("a temperature, the humidity or the wind is out of range")
	}
	return w.say("lacks {columns}", with{"columns": w.columnNames(columns)})
}

// weatherReason says why a figure about the weather is not known.
func (v *Voice) weatherReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case work.NoTimedPours:
		return v.text("no placement has its area, thickness and labor hours"), true
	case work.FewHotPours:
		return v.say("{hot} fast-drying pours and {others} others have their hours on record; it takes {least} of each",
			with{"hot": Count(r.Hot), "others": Count(r.Others), "least": Count(figure.LeastForRate)}), true
	}
	return "", false
}
