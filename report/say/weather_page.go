package say

import (
	"pourback/analysis/trade"
	"pourback/analysis/work"
)

// Reading says how the figures of the page are to be read.
func (w Weather) Reading() string {
	return w.text("Drying rates are estimates, so the counts of fast-drying pours are too.")
}

// Method says how it was worked out, with the sources.
func (w Weather) Method() []string {
	return []string{
		w.say("The drying rate is how fast water leaves the surface. It comes from the heat of concrete and air, the humidity and the wind at placing ({source}). Below zero it counts as zero. It is good to about 40% either way ({source_accuracy}).",
			with{"source": "Uno 1998, ACI Materials Journal 95-M34", "source_accuracy": "Hover 2020, ACI SP-338"}),
		w.say("Precautions against plastic cracking begin at {limit} ({source_limit}). Weather is cold below {cold} ({source_cold}).",
			with{"limit": w.Limit(), "cold": w.Degrees(work.ColdF), "source_limit": "ACI 305R; FHWA-HRT-05-038, chapter 5", "source_cold": "ACI 306R"}),
		w.text("The formula wants the wind half a meter above the slab. A weather station's wind, at ten meters, is about twice as strong."),
		w.say("Hours on drying days are compared with what the model of the page on crews expects of the same job in cool air. The speed of setting is by {source}, next to {cool}.",
			with{"source": "ASTM C1074 (Arrhenius, 5000 K)", "cool": w.Degrees(68)}),
	}
}

// WorkTitle and what follows are the words of what fast drying did to the work.
func (w Weather) WorkTitle() string { return w.text("What fast drying did to the work") }

// WorkCaption names the table.
func (w Weather) WorkCaption() string {
	return w.say("Pours that dried at {limit} and faster", with{"limit": w.Limit()})
}

// HoursRow and PaceRow are its rows.
func (w Weather) HoursRow() string {
	return w.text("Hours, times those of the same job on other days")
}

// PaceRow is the pace of setting.
func (w Weather) PaceRow() string {
	return w.say("Speed of setting, times that at {cool}", with{"cool": w.Degrees(68)})
}

// CracksByDrying and CracksByAir name what cracks are looked at by.
func (w Weather) CracksByDrying() string { return w.text("Cracks by drying rate") }

// CracksByAir is the other.
func (w Weather) CracksByAir() string { return w.text("Cracks by air temperature") }

// MonthsTitle and what follows are the words of the months.
func (w Weather) MonthsTitle() string { return w.text("By month of the year") }

// MonthsCaption names the table.
func (w Weather) MonthsCaption() string {
	return w.text("Pours by month of the year, all years together")
}

// MonthsChart and what follows are the words of its picture.
func (w Weather) MonthsChart() string {
	return w.text("Pours over the limit in each month, all years together.")
}
func (w Weather) MonthsAxis() string { return w.text("pours over the limit") }
func (w Weather) MonthTip(m work.MonthOfYear) string {
	return w.plural(m.Pours, "{month}: {hot} of 1 pour|{month}: {hot} of {n} pours", with{"month": w.MonthName(int(m.Month)), "hot": Count(m.Hot)})
}

// Rate is a drying rate, which is known to two digits at best.
func (w Weather) Rate(rate float64) Cell {
	m := w.Units.Evaporation
	c := w.Exact(m, rate)
	c.Text = Grouped(rate*m.Factor, 2)
	return c
}

// PourTip says one pour where it is pointed at.
func (w Weather) PourTip(e *work.Evaporation) string {
	return w.say("{pour}, {day}: {rate}", with{"pour": Clean(e.JobNo+" "+e.Placement, ShortName), "day": w.Day(e.PlacedOn), "rate": w.Rate(e.Rate.V).Text + w.Units.Evaporation.Unit})
}

// Within and Over name the pours on both sides of it.
func (w Weather) Within() string { return w.text("within the limit") }

// Over are those beyond.
func (w Weather) Over() string { return w.text("over the limit") }

// LimitAt is where the line stands, in the unit of the chart.
func (w Weather) LimitAt() float64 { return trade.PrecautionLbFt2 * w.Units.Evaporation.Factor }

// HotTitle and what follows are the words of the list of pours over the limit.
func (w Weather) HotTitle() string { return w.text("Pours over the limit") }

// HotCaption names the table.
func (w Weather) HotCaption() string {
	return w.say("The latest pours over {limit}", with{"limit": w.Limit()})
}

// HotMore says how many more there are.
func (w Weather) HotMore(n int) string {
	if w.OnSite {
		return w.plural(n, "And 1 earlier.|And {n} earlier.", nil)
	}
	return w.plural(n, "And 1 earlier; `pourback factors weather --json` has them all.|And {n} earlier; `pourback factors weather --json` has them all.", nil)
}

// WeatherHeads are the heads of the columns of the tables on the weather.
type WeatherHeads struct{ What, Times, Pours, Month, OverLimit, Fastest, Job, Poured, Rate string }

// Heads are the heads of the columns.
func (w Weather) Heads() WeatherHeads {
	unit := w.Units.Evaporation.Unit[1:]
	return WeatherHeads{What: w.text("What"), Times: w.text("Times"), Pours: w.text("Pours"), Month: w.text("Month"),
		OverLimit: w.say("Over {limit}", with{"limit": w.Limit()}), Fastest: w.say("Fastest, {unit}", with{"unit": unit}),
		Job: w.text("Job"), Poured: w.text("Poured"), Rate: w.say("Rate, {unit}", with{"unit": unit})}
}
