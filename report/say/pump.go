package say

import (
	"pourback/analysis/figure"
	"pourback/analysis/work"
)

// Pump says how often the pump line clogs and whose.
type Pump struct{ *Voice }

func (p Pump) Title() string { return p.text("Pump and delays") }

// Answer says how often the line clogs, what a clog costs and whether an outfit
// is better.
func (p Pump) Answer(w *work.Pump) string {
	all := w.All
	switch {
	case all.Placements == 0:
		return p.text("The records cannot say how often the pump line clogs: no pumped placement has both its yards and its clogs.")
	case all.Clogs == 0:
		return p.say("No clogs in {pumped} pumped. Plan for no more than {rate}.", with{"pumped": p.pumped(all.PumpedYd), "rate": p.At(p.Rate(all.ClogsPer100.High), all.ClogsPer100.High)})
	}
	s := p.say("Plan on {rate}.", with{"rate": p.Value(p.Rate(all.ClogsPer100.Value), all.ClogsPer100)})
	if each := w.PerClog; each.Known() {
		s += " " + p.say("Each one takes about {minutes}.", with{"minutes": p.Minutes(each.Value)})
	}
	return s + " " + p.verdict(w.Verdict)
}

// verdict says whether one outfit is to be preferred.
func (p Pump) verdict(v work.Verdict) string {
	switch v.Kind {
	case work.OneBetter:
		return p.ends(v)
	case work.NoneBetter:
		return p.text("No outfit stands out: the differences could easily be luck.")
	}
	return p.text("Too early to say whether one outfit is better.")
}

// ends names the outfits that clog least and most, where enough stands behind
// them.
func (p Pump) ends(v work.Verdict) string {
	switch {
	case v.Least != "" && v.Most != "":
		return p.say("{least} clogs least and {most} most.", with{"least": p.Named(v.Least), "most": p.Named(v.Most)})
	case v.Most != "":
		return p.say("{most} clogs most.", with{"most": p.Named(v.Most)})
	case v.Least != "":
		return p.say("{least} clogs least.", with{"least": p.Named(v.Least)})
	}
	return p.text("The outfits differ by more than luck, but too few clogs stand behind any one of them to name it.")
}

// Rate is how a rate of clogs stands in a sentence: "3 clogs in 100 yd".
func (p Pump) Rate(rate float64) Measure {
	m := Measure{Factor: p.Units.Clogs.Factor, Digits: Round}
	switch one := p.At(m, rate) == "1"; {
	case p.Units.Si && one:
		return m.As("{value} clog in 100 m³")
	case p.Units.Si:
		return m.As("{value} clogs in 100 m³")
	case one:
		return m.As("{value} clog in 100 yd")
	}
	return m.As("{value} clogs in 100 yd")
}

// pumped is an exact volume: "1,240 yd".
func (p Pump) pumped(yd float64) string {
	n := p.Number(p.Units.Volume, yd, 0)
	if p.Units.Si {
		return n + " m³"
	}
	return p.unit(n, " yd")
}

// Will is what the page will say once there are records, and Takes what it takes.
func (p Pump) Will() string { return p.text("how often the pump line clogs, and where time is lost") }

func (p Pump) Takes() string {
	return p.text("the method, the pump outfit, the yards delivered and the number of clogs (0 where there was none) of each pumped placement")
}

// Notes say what to bear in mind.
func (p Pump) Notes(w *work.Pump) []string {
	var notes []string
	if same := w.SameRate; same.Known() {
		notes = append(notes, p.say("Luck alone makes differences as large as these {odds}.", with{"odds": p.TimesIn100(same.Value)}))
	}
	return append(notes,
		p.text("Outfits also differ by mix, hose and job. A high rate is a reason to look, not a verdict."),
		p.text("Only pumped placements with both their yards and their clogs count. A blank is not a 0."))
}

// Counted says what the page rests on.
func (p Pump) Counted(n int) string {
	return p.plural(n, "1 pumped placement|{n} pumped placements", nil)
}

// Method says how it was worked out, with the sources.
func (p Pump) Method() []string {
	return []string{
		p.say("The rate is all clogs over all yards delivered, from pumped placements that record both. Its range is exact for counts that come at random, and holds even with no clogs ({source}).", with{"source": "Garwood 1936"}),
		p.say("“Expect” pulls each rate toward the others, more where there is little to go on: a few clogs in few yards may be luck. The model is gamma-Poisson ({source}).", with{"source": "Gelman et al., Bayesian Data Analysis"}),
		p.say("Clogs that come together on a job say less than as many on as many jobs. The range is the wider for it ({source}).", with{"source": "McCullagh and Nelder 1989"}),
		p.say("The dashed lines are where luck keeps an outfit that is like the rest: 19 times in 20, and 998 in 1,000 ({source}). Whether all outfits could be alike is an exact test of equal rates.", with{"source": "Spiegelhalter 2005"}),
		p.say("Minutes a clog are all minutes over all clogs, with the range of a ratio ({source}). Minutes by cause have a range from {source_three}, shares of loads one from {source_two}.", with{"source": "Cochran 1977, §6.4", "source_two": "Wilson 1927", "source_three": "Student's t"}),
	}
}

// OutfitsTitle and what follows are the words around the table of outfits.
func (p Pump) OutfitsTitle() string   { return p.text("By pump outfit") }
func (p Pump) OutfitsCaption() string { return p.text("Clogs by pump outfit") }
func (p Pump) OutfitsSay() string {
	return p.text("An outfit between the dashed lines could be like all the rest.")
}
func (p Pump) AllOutfits() string  { return p.text("all outfits") }
func (p Pump) All() string         { return p.text("all") }
func (p Pump) HeadOutfit() string  { return p.text("Outfit") }
func (p Pump) HeadGroup() string   { return p.text("Group") }
func (p Pump) HeadExpect() string  { return p.text("Expect") }
func (p Pump) HeadClogs() string   { return p.text("Clogs") }
func (p Pump) HeadPlaced() string  { return p.text("Placements") }
func (p Pump) MixesTitle() string  { return p.text("By mix, hose and stone") }
func (p Pump) MixesSource() string { return "ACI 304" }

func (p Pump) HeadRate() string {
	if p.Units.Si {
		return p.text("Clogs per 100 m³")
	}
	return p.text("Clogs per 100 yd³")
}

func (p Pump) HeadPumped() string {
	return p.say("Pumped, {unit}", with{"unit": p.sign(p.Units.Volume)})
}

func (p Pump) HeadNext(yd float64) string {
	return p.say("A clog on the next {yards}, in 100", with{"yards": p.Yards(yd)})
}

// FunnelSays describes the chart of outfits for those who do not see it.
func (p Pump) FunnelSays() string {
	return p.text("Each outfit's clogs beside how much it has pumped. Between the curved lines its rate may be luck.")
}

// PumpedAxis and RateAxis name its scales.
func (p Pump) PumpedAxis() string {
	return p.say("pumped, {unit}", with{"unit": p.sign(p.Units.Volume)})
}

func (p Pump) RateAxis() string {
	if p.Units.Si {
		return p.text("clogs per 100 m³")
	}
	return p.text("clogs per 100 yd³")
}

// Tip says a group's record in one line.
func (p Pump) Tip(name string, o work.PumpOutfit) string {
	return p.say("{name}: {clogs}, {rate}, from {placements}", with{"name": name, "clogs": p.plural(o.Clogs, "1 clog|{n} clogs", nil),
		"rate": p.Long(p.Units.Clogs, o.ClogsPer100), "placements": p.plural(o.Placements, "1 placement|{n} placements", nil)})
}

func (p Pump) MixesCaption() string {
	return p.text("Clogs by mix, by inside diameter of the hose and by largest stone")
}

func (p Pump) MixesSay() string {
	return p.say("Mix, hose and stone are each compared alone. Small stone often goes through small hose, so this cannot say which one matters. Keep the line at least 3 times as wide as the largest stone, 4 to be safe ({source}).", with{"source": p.MixesSource()})
}

func (p Pump) MixesChart() string {
	return p.text("A point for each mix, hose and size of stone: its clogs per 100 pumped, with the exact range.")
}

// Mix, Hose and Stone name a group by what it has in common.
func (p Pump) Mix(name string) string { return p.say("mix {name}", with{"name": p.Named(name)}) }
func (p Pump) Hose(in string) string  { return p.say("hose {size}", with{"size": p.diameter(in)}) }
func (p Pump) Stone(in string) string { return p.say("stone {size}", with{"size": p.diameter(in)}) }

// TimeTitle and what follows are the words around the time that clogs take.
func (p Pump) TimeTitle() string   { return p.text("The time it takes") }
func (p Pump) TimeCaption() string { return p.text("Minutes lost on pumped placements") }
func (p Pump) HeadWhat() string    { return p.text("What") }
func (p Pump) HeadMinutes() string { return p.text("Minutes") }
func (p Pump) HeadFrom() string    { return p.text("Records") }
func (p Pump) ClogMinutes() string { return p.text("Lost to clogs, in all") }
func (p Pump) PerClog() string     { return p.text("Each clog") }
func (p Pump) PerJob() string {
	return p.text("All delays of a pumped placement")
}

// ClogCost says what the crews' wait came to.
func (p Pump) ClogCost(cost figure.Figure) string {
	return p.say("While the line was clogged, the crews' wait cost {cost} at your labor rate, over {placements}.",
		with{"cost": p.Exactly(cost.Value), "placements": p.Counted(cost.N)})
}

// workReason says why a figure about crews, pumps or delays is not known.
func (v *Voice) workReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case work.NothingToPool:
		return v.text("all outfits together have no others to be pulled toward"), true
	case work.NoClogCounts:
		return v.text("no pumped placement has both its yards and its clogs"), true
	case work.OneOutfit:
		return v.text("it takes two outfits to compare"), true
	case work.TooFewClogs:
		return v.plural(r.Clogs, "1 clog in all; it takes {least} to compare|{n} clogs in all; it takes {least} to compare", with{"least": Count(figure.LeastEvents)}), true
	case work.NoClogMinutes:
		return v.text("no pumped placement has the minutes lost to clogs"), true
	case work.NoClogWait:
		return v.text("no pumped placement has both the minutes lost to clogs and its crew size"), true
	case work.NoWait:
		return v.text("no placement has both its delay minutes and its crew size"), true
	case work.NoNewCrew:
		return v.text("no crew is new in these records"), true
	case work.NoSuchTask:
		return v.text("the crew has booked no hours on it"), true
	case work.FewHotHours:
		return v.plural(r.Placements, "1 placement with hours in air above {warm}; it takes {least}|{n} placements with hours in air above {warm}; it takes {least}",
			with{"warm": v.Degrees(work.WarmF), "least": Count(figure.LeastForRate)}), true
	case work.TooFewPours:
		return v.say("{late} pours with a late load and {others} without; it takes {least} of each", with{"late": Count(r.With), "others": Count(r.Without), "least": Count(figure.LeastForRate)}), true
	case work.TooFewCallbacks:
		return v.plural(r.Callbacks, "1 callback in all; it takes {least} to compare|{n} callbacks in all; it takes {least} to compare", with{"least": Count(figure.LeastEvents)}), true
	}
	return "", false
}
