package say

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
)

// Question is a figure that the choice rests on, with what it answers.
type Question struct {
	Asks   string
	Answer figure.Figure
	Cell   Cell
}

// Questions are what the choice rests on, as far as it is known.
func (s Steel) Questions(m *steel.MeshVsRebar, event string) []Question {
	var known []Question
	ask := func(asks string, f figure.Figure, cell func(figure.Figure) Cell) {
		if f.Known() {
			known = append(known, Question{asks, f, cell(f)})
		}
	}
	chance := func(f figure.Figure) Cell { return s.In(OfHundred, Valued(s.TimesIn100(f.Value), f.Value)) }
	money := func(f figure.Figure) Cell { return s.Cell(s.About(), f) }
	ratio := func(f figure.Figure) Cell { return s.Cell(Times, f) }
	number := func(f figure.Figure) Cell { return s.Cell(Wholes, f) }
	rebarCheaper := m.MeshCheaper
	rebarCheaper.Value = 1 - rebarCheaper.Value
	ask(s.text("Chance that mesh is cheaper"), m.MeshCheaper, chance)
	ask(s.text("Chance that rebar is cheaper"), rebarCheaper, chance)
	ask(s.text("Extra cost to place rebar, a placement"), m.ExtraRebar, money)
	ask(s.text("What rebar saves with callbacks counted, a placement"), m.RebarGain, money)
	ask(s.text("What a placement loses with mesh where rebar is the better"), m.WrongMesh, money)
	ask(s.text("What a placement loses with rebar where mesh is the better"), m.WrongRebar, money)
	ask(s.text("Cost of a callback over which the other would pay"), m.TurningCost, money)
	ask(s.text("Mesh callbacks against rebar's, where rebar just pays"), m.BreakEven, ratio)
	ask(s.ratioAsked(event), m.HazardRatio, ratio)
	ask(s.text("Chance of such a difference by luck alone, on days of similar temperature"), m.Luck, chance)
	ask(s.text("How far something not on record may move that, either way"), m.BiasSD, s.biasCell)
	if event == setting.EventSeen {
		ask(s.text("Smallest difference this many cracks can show"), m.Detectable, ratio)
		ask(s.text("Cracks a year on 100 slabs with mesh"), m.MeshRate, number)
		ask(s.text("Cracks a year on 100 slabs with rebar"), m.RebarRate, number)
	} else {
		ask(s.text("Smallest difference this many callbacks can show"), m.Detectable, ratio)
		ask(s.text("Callbacks a year on 100 slabs with mesh"), m.MeshRate, number)
		ask(s.text("Callbacks a year on 100 slabs with rebar"), m.RebarRate, number)
	}
	ask(s.text("Placements it takes to tell"), m.PlacementsNeeded, number)
	ask(s.text("Years that takes at the present pace"), m.YearsNeeded, number)
	ask(s.text("Placements it takes with mesh and rebar taking turns"), m.PlacementsInTurns, number)
	ask(s.text("Years that takes in turns at the present pace"), m.YearsInTurns, number)
	ask(s.text("What it would be worth to know for sure"), m.ValueOfKnowing, money)
	ask(s.text("What one more year of callbacks is worth"), m.ValueOfAYear, money)
	ask(s.text("What one more year of them is worth, mesh and rebar taking turns"), m.ValueOfTurns, money)
	ask(s.text("How strongly something not on record would have to go with both steel and cracks to explain the whole difference"), m.EValue, ratio)
	ask(s.text("The same, to bring the range to no difference"), m.EValueLimit, ratio)
	return known
}

// ratioAsked is what the hazard ratio answers.
func (s Steel) ratioAsked(event string) string {
	if event == setting.EventSeen {
		return s.text("Cracks seen with mesh against rebar, like for like")
	}
	return s.text("Mesh callbacks against rebar's, like for like")
}

// Look names a way of looking at it, as a row of a table.
func (s Steel) Look(c steel.Check) string {
	name := s.LookName(c.Assumption)
	if !c.Heeded {
		return s.say("{look} (shown only: it does not count)", with{"look": Capital(name)})
	}
	return Capital(name)
}

// LookName names a way of looking at it.
func (s Steel) LookName(look steel.Look) string {
	switch look {
	case steel.LookRaw:
		return s.text("as they stand, not like for like")
	case steel.LookHotOrCool:
		return s.say("hot and cool days apart, at {heat}", with{"heat": s.Degrees(steel.HotFrom)})
	case steel.LookFiveBands:
		return s.text("within five bands of temperature")
	case steel.LookStraight:
		return s.text("temperature as a straight line")
	case steel.LookFewCalls:
		return s.text("fewer callbacks than it seems: the 10th percentile of their risk")
	case steel.LookManyCalls:
		return s.text("more callbacks than it seems: the 90th percentile of their risk")
	case steel.LookNoBias:
		return s.text("as if nothing off the record went with either")
	}
	return s.text("a stronger assumption that mesh and rebar crack alike")
}

// Compared names a comparison in short.
func (s Steel) Compared(p steel.Compared) string {
	return s.say("{one} against {other}", with{"one": s.Made(p.Of), "other": s.Made(p.Against)})
}

// FairSays says what making the slabs alike did to the difference, "" where one
// is not known.
func (s Steel) FairSays(m *steel.MeshVsRebar) string {
	raw, fair := m.RawDifference, m.AdjustedDifference
	if !raw.Known() || !fair.Known() {
		return ""
	}
	said := s.say("Raw, mesh brings {raw} callbacks in 100 slabs than rebar; like for like, {fair}.", with{"raw": s.pointsMore(raw.Value), "fair": s.pointsMore(fair.Value)})
	if fair.Bounded && fair.Low <= 0 && fair.High >= 0 {
		return s.sentences(said, s.text("There may be no difference at all."))
	}
	return said
}

func (s Steel) pointsMore(v float64) string {
	n := with{"n": Grouped(math.Round(100*math.Abs(v)), 0)}
	switch {
	case math.Round(100*math.Abs(v)) == 0:
		return s.text("no more")
	case v < 0:
		return s.filled(s.text("{n} fewer"), n)
	}
	return s.filled(s.text("{n} more"), n)
}

// biasCell shows how far a bias may move a ratio.
func (s Steel) biasCell(f figure.Figure) Cell {
	if f.Value == 0 {
		return Valued(s.text("not at all: they took turns"), 0)
	}
	return Valued(s.biasTimes(f.Value), f.Value)
}

// BothSlabs counts the placements of a use with each.
func (s Steel) BothSlabs(u steel.Use) string {
	return s.say("{mesh}, {rebar}", with{"mesh": Count(u.Mesh), "rebar": Count(u.Rebar)})
}

// Method says how it was worked out, with the sources.
func (s Steel) Method(r *steel.Reinforcement) []string {
	out := []string{
		s.say("Raw fractions do not compare like with like where the choice of steel followed the season, the soil or the customer. The fair comparison asks what all slabs would do with mesh, and what with rebar. It is a hazard model that holds heat, spacing and the like alike ({sources}). Its ranges are approximate: jobs are drawn again and again.", with{"sources": "Cox 1972; Firth 1993"}),
		s.text("No comparison is made where more than a fifth of the slabs lack their joint spacing, or where the two never met the same weather."),
		s.say("The chance that mesh is cheaper weighs the records against a belief held before them: neither is likely to crack much more than the other. The result is set against the ratio at which rebar just pays, with costs as far off as they may be ({sources}).", with{"sources": "Raiffa and Schlaifer 1961"}),
		s.say("What was not recorded may move the ratio too: by as much as what was recorded did, and no less than a fair allowance. No number of slabs makes that less ({sources}).", with{"sources": "Greenland 2005"}),
		s.say("How many placements it takes: enough to show the ratio at which rebar just pays ({source}). It is never the one that was seen ({sources}).", with{"source": "Schoenfeld 1983", "sources": "Hoenig and Heisey 2001"}),
		s.say("How strong something not on record would have to be: the E-value ({sources}).", with{"sources": "VanderWeele and Ding 2017"}),
	}
	if r == nil {
		return out
	}
	for _, a := range r.Assumptions {
		out = append(out, s.Assumed(a))
	}
	return out
}

// steelReason says the reasons of the answers about mesh and rebar.
func (v *Voice) steelReason(r figure.Reason) (string, bool) {
	switch r.(type) {
	case steel.SeenIsNoMoney:
		return v.text("costs are figured from callbacks, and these are cracks seen at visits"), true
	case steel.RatioBetweenLooks:
		return v.text("cracks seen at visits are compared by how many times as often they are seen"), true
	case steel.ByProbability:
		return v.text("callbacks are judged by the chance that mesh is cheaper"), true
	case steel.NoArea:
		return v.text("no placement with mesh or rebar records its area"), true
	case steel.NothingTurns:
		return v.text("the other would pay at no cost of a callback: it costs more to place and saves no callbacks"), true
	case steel.TurnsAnywhere:
		return v.text("the records leave it all but open"), true
	case steel.HardlyWrong:
		return v.text("it is all but certain that it never is"), true
	case steel.RangeAnswers:
		return v.text("the range of the difference leaves out already where rebar just pays"), true
	case steel.OnlyTurnsTell:
		return v.text("no number of slabs chosen as before would tell: something not on record may matter as much"), true
	case steel.InTurnsAlready:
		return v.text("mesh and rebar take turns already"), true
	case steel.IsSettled:
		return v.text("it is settled"), true
	case steel.RiskUnknown:
		return v.text("how often slabs crack within a year is not known yet"), true
	case steel.NoneLately:
		return v.text("no slab with mesh or rebar in the last year"), true
	case steel.OneKindRecorded:
		return v.text("only one of mesh and rebar has slabs whose heat and spacing are on record"), true
	case steel.NeverAlike:
		return v.text("mesh and rebar were never poured on days of similar temperature"), true
	case steel.NoFullYear:
		return v.text("no slab with mesh or rebar has been watched for a full year"), true
	case steel.NoFairComparison:
		return v.text("there is no fair comparison to rest it on"), true
	case steel.NoCallbackAtAll:
		return v.text("that percentile is no callback at all, which leaves nothing to decide"), true
	}
	return "", false
}
