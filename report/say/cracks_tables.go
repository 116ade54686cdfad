package say

import (
	"strconv"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/trade"
)

// Made names a kind of reinforcement, for a row: "mesh+fiber".
func (v *Voice) Made(kind string) string {
	switch kind {
	case "all":
		return v.text("all")
	case "unknown":
		return v.text("unknown")
	}
	words := strings.Split(kind, "+")
	for i, w := range words {
		words[i] = v.Word(w)
	}
	return Clean(strings.Join(words, "+"), LabelName)
}

// Band is a band of joint spacings: "6 to 8 ft".
func (c Cracks) Band(of cracks.Cell) string {
	unit := strings.TrimSpace(c.Units.Spacing.Unit)
	ft := func(n figure.Number) string { return Grouped(n.V*c.Units.Spacing.Factor, btoi(c.Units.Si)) }
	switch {
	case !of.From.OK:
		return c.text("spacing unknown")
	case !of.To.OK:
		return c.say("{low} {unit} and over", with{"low": ft(of.From), "unit": unit})
	case of.From.V == 0:
		return c.say("under {high} {unit}", with{"high": ft(of.To), "unit": unit})
	}
	return c.say("{low} to {high} {unit}", with{"low": ft(of.From), "high": ft(of.To), "unit": unit})
}

// CellName names slabs by reinforcement and joint spacing.
func (c Cracks) CellName(of cracks.Cell) string { return c.Made(of.Reinforcement) + ", " + c.Band(of) }

// RiskCell shows a risk out of 100 by an age in days, or that there are too few
// slabs for one.
func (c Cracks) RiskCell(of cracks.Cell, day float64, f figure.Figure) Cell {
	if f.Known() && of.Enough() && !of.TellsBy(day) {
		return c.tooFewOld()
	}
	if of.Enough() && allOpen(f) {
		return c.saysNothing()
	}
	return c.enough(of, OfHundred, f)
}

// allOpen says whether a risk may be all but anything.
func allOpen(f figure.Figure) bool { return f.Known() && f.Bounded && f.High-f.Low > 0.9 }

// saysNothing stands for a risk that may be all but anything.
func (c Cracks) saysNothing() Cell {
	return Cell{Text: c.text("too few"), Why: c.text("so few leave it open from none to all"), Unknown: true}
}

// tooFewOld says that too few slabs are old enough to speak of a risk.
func (c Cracks) tooFewOld() Cell {
	return Cell{Text: c.text("too few"), Why: c.Reason(cracks.FewWatched{}), Unknown: true}
}

// FullYearCell shows the share of slabs a year old that cracked within it.
func (c Cracks) FullYearCell(of cracks.Cell) Cell {
	if f := of.FullYear; f.Known() && f.N < figure.LeastForRate && of.Enough() {
		return Cell{Text: c.text("too few"), Why: c.say("fewer than {n} slabs of the kind are a year old", with{"n": Count(figure.LeastForRate)}), Unknown: true}
	}
	return c.enough(of, OfHundred, of.FullYear)
}

// RowRisk shows the risk within a year of the slabs of a row.
func (c Cracks) RowRisk(of cracks.Row) Cell {
	if of.Risk1Yr.Known() && !of.Told {
		return c.tooFewOld()
	}
	return c.Cell(OfHundred, of.Risk1Yr)
}

// RateCell shows cracks a year on 100 slabs.
func (c Cracks) RateCell(of cracks.Cell) Cell { return c.enough(of, Wholes, of.Rate) }

func (c Cracks) enough(of cracks.Cell, m Measure, f figure.Figure) Cell {
	if !of.Enough() {
		why := c.say("fewer than {n} slabs of the kind", with{"n": Count(figure.LeastForRate)})
		return Cell{Text: c.text("too few"), Why: why, Unknown: true}
	}
	return c.Cell(m, f)
}

// BoxCell is a risk above the slabs that it rests on.
func (c Cracks) BoxCell(of cracks.Cell) Cell {
	below := c.say("of {n}", with{"n": Count(of.Placements)})
	if !of.Enough() {
		return Cell{Text: c.text("too few"), Below: below, Unknown: true}
	}
	if of.Risk1Yr.Known() && !of.TellsBy(cracks.OneYear) {
		out := c.tooFewOld()
		out.Below = below
		return out
	}
	if allOpen(of.Risk1Yr) {
		out := c.saysNothing()
		out.Below = below
		return out
	}
	if !of.Risk1Yr.Known() {
		out := c.unknown(c.Reason(of.Risk1Yr.Why))
		out.Below = below
		return out
	}
	out := c.In(OfHundred, Valued(c.Short(OfHundred, of.Risk1Yr), of.Risk1Yr.Value))
	out.Below = below
	return out
}

// Term says what a hazard model tells slabs apart by.
func (v *Voice) Term(t cracks.Covariate) string {
	switch t.What {
	case cracks.AirTemperature:
		return v.say("air temperature, each {step} hotter", with{"step": v.DegreesApart(t.Step)})
	case cracks.JointSpacing:
		return v.say("joint spacing, each {step} thicknesses wider", with{"step": Grouped(t.Step, 0)})
	case cracks.FastDrying:
		return v.say("evaporation over {limit}", with{"limit": v.Drying(t.Step)})
	case cracks.Cured:
		return v.text("cured in any way")
	case cracks.SawDelay:
		return v.say("saw delay, each {step} later", with{"step": v.Hours(t.Step)})
	case cracks.Made:
		return v.say("{one} against {other}", with{"one": v.Made(t.Of), "other": v.Made(t.Against)})
	}
	return v.thing(t.What)
}

// thing names what a covariate is about.
func (v *Voice) thing(what cracks.Thing) string {
	switch what {
	case cracks.AirTemperature:
		return v.text("air temperature")
	case cracks.JointSpacing:
		return v.text("joint spacing")
	case cracks.FastDrying:
		return v.text("drying rate")
	case cracks.Cured:
		return v.text("curing")
	case cracks.SawDelay:
		return v.text("saw delay")
	case cracks.Thickness:
		return v.text("thickness")
	case cracks.DrivenOn:
		return v.text("whether cars drive on it")
	}
	return v.text("reinforcement")
}

// Factor names a thing that slabs differ in, in an owner's words.
func (c Cracks) Factor(f cracks.Factor) string {
	switch f {
	case cracks.ByAir:
		return c.text("air temperature")
	case cracks.ByEvaporation:
		return c.text("drying rate")
	case cracks.BySpacing:
		return c.text("joint spacing, in slab thicknesses")
	case cracks.ByCut:
		return c.text("joint cutting")
	case cracks.BySaw:
		return c.text("hours from finishing to the saw")
	}
	return c.text("curing")
}

// FactorHead is the same as the head of a column.
func (c Cracks) FactorHead(f cracks.Factor) string {
	if f == cracks.ByCut {
		return c.text("Joints cut by")
	}
	return Capital(c.Factor(f))
}

// Level names a row in the units that are read: "over 40 to 60 °F".
func (c Cracks) Level(t *cracks.Table, l cracks.Level) string {
	switch t.Unit {
	case figure.Fahrenheit:
		if c.Units.Si {
			return c.level(l, func(v float64) string { return Grouped(trade.Celsius(v), 0) }, " °C")
		}
		return c.level(l, fourFigures, " °F")
	case figure.Evaporation:
		unit := c.Units.Evaporation.Unit
		return c.level(l, func(v float64) string { return strings.TrimSuffix(c.Drying(v), unit) }, unit)
	}
	return c.level(l, fourFigures, "")
}

// LevelName names a row by its numbers as they are reckoned with, and the words
// of the records as they stand.
func (c Cracks) LevelName(l cracks.Level) string {
	if len(l.Words) == 1 {
		return l.Words[0]
	}
	if len(l.Words) > 1 {
		return c.say("others ({words})", with{"words": strings.Join(l.Words, ", ")})
	}
	return c.level(l, fourFigures, "")
}

func (c Cracks) level(l cracks.Level, number func(float64) string, unit string) string {
	switch {
	case len(l.Words) == 1:
		return c.Made(l.Words[0])
	case len(l.Words) > 1:
		words := make([]string, len(l.Words))
		for i, w := range l.Words {
			words[i] = c.Made(w)
		}
		return Clean(c.say("others ({words})", with{"words": strings.Join(words, ", ")}), ShortName)
	case !l.Low.OK && !l.High.OK:
		return c.text("all")
	case !l.Low.OK:
		return c.say("up to {high}", with{"high": number(l.High.V) + unit})
	case !l.High.OK:
		return c.say("over {low}", with{"low": number(l.Low.V) + unit})
	}
	return c.say("over {low} to {high}", with{"low": number(l.Low.V), "high": number(l.High.V) + unit})
}

func fourFigures(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// TableSays says whether the rows of a table differ, what luck has to do with it,
// and where the trend of the same thing says otherwise.
func (c Cracks) TableSays(t *cracks.Table) string {
	return c.sentences(c.rowsDiffer(t), c.besideTrend(t.Trend))
}

func (c Cracks) besideTrend(t cracks.Trend) string {
	switch t {
	case cracks.TrendAlone:
		return c.text("“All of it at once” does show a trend: it takes these rows in their order and holds other things equal.")
	case cracks.RowsAlone:
		return c.text("“All of it at once” shows no clear trend: there other things are held equal.")
	}
	return ""
}

func (c Cracks) rowsDiffer(t *cracks.Table) string {
	switch {
	case !t.LogRank.Known():
		return c.say("Nothing to compare: {why}.", with{"why": c.Reason(t.LogRank.Why)})
	case t.OneOfSeveral():
		return c.say("Not clear: luck alone makes differences this large {often}, and more often in one of several tables.", with{"often": c.TimesIn100(t.LogRank.Value)})
	case !t.Differ:
		return c.say("Could easily be luck: luck alone makes differences this large {often}.", with{"often": c.TimesIn100(t.LogRank.Value)})
	}
	return c.sentences(c.ends(t), c.say("Luck alone makes that {often}. It does not prove the cause.", with{"often": c.TimesIn100(t.LogRank.Value)}))
}

// ends names the rows with most and with fewest cracks, where enough stands
// behind them.
func (c Cracks) ends(t *cracks.Table) string {
	level := func(row int) string { return c.Level(t, t.Rows[row].Level) }
	switch {
	case t.Most >= 0 && t.Least >= 0:
		return c.say("The rows differ by more than luck: most cracks a year at {most}, fewest at {least}.", with{"most": level(t.Most), "least": level(t.Least)})
	case t.Most >= 0:
		return c.say("The rows differ by more than luck: most cracks a year at {most}.", with{"most": level(t.Most)})
	case t.Least >= 0:
		return c.say("The rows differ by more than luck: fewest cracks a year at {least}.", with{"least": level(t.Least)})
	}
	return c.text("The rows differ by more than luck, but too few cracks stand behind any one of them to name it.")
}

// RatiosSay says whether ratios hold over a slab's whole age.
func (c Cracks) RatiosSay(p cracks.PropHazards) string {
	switch p.Ratios {
	case cracks.TooFewToCheck:
		return c.text("There are too few cracks to say whether these ratios hold over a slab's whole age.")
	case cracks.NoRatios:
		return c.text("Too little is on record of these slabs to look at all of it at once.")
	case cracks.NotChecked:
		return c.text("Whether these ratios hold over a slab's whole age could not be checked.")
	case cracks.Changing:
		return c.sentences(c.text("These ratios change as slabs get older: read them as an average over the time watched."),
			c.say("It shows most in {what}.", with{"what": c.Term(p.Most)}))
	}
	return c.text("No sign that these ratios change as slabs get older.")
}

// Age is the age of a slab in days.
func (c Cracks) Age(days int) string {
	if days == 0 {
		return c.text("just poured")
	}
	return c.Days(days)
}

// happened is what the page calls crack events of several slabs, as a head.
func (c Cracks) happened(event string) string {
	if event == setting.EventSeen {
		return c.text("Cracked")
	}
	return c.text("Callbacks")
}
