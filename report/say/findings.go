package say

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/analysis/money"
)

// Findings says the facts that are worth the most money.
type Findings struct{ *Voice }

// Sentence says a finding: the fact, what it is worth and what to do.
func (w Findings) Sentence(f findings.Finding) string {
	worth := w.aYear(f.Dollars)
	switch told := f.Told.(type) {
	case findings.Leftover:
		return w.say("You paid for {yards} of concrete that was left over in the last twelve months: {worth}. Some left over is the price of not running short: order by the waste table, and hold back a last load only where a job takes several trucks.", with{"yards": w.wholeYards(told.Yd), "worth": worth})
	case findings.Orders:
		return w.say("Order by the waste table: on your own past that would have saved {worth}. In the last twelve months you ordered {planned} over the drawing, all jobs together; the cheapest orders come to {cheapest}.", with{"worth": worth, "planned": w.Percent(told.Planned), "cheapest": w.Percent(told.Cheapest)})
	case findings.SlowCrew:
		return w.say("{crew} takes {more} more hours than an average crew on the same job: {worth} of labor. See what the others do differently before you bid its hours.", with{"crew": w.Named(told.Crew), "more": w.Percent(told.More), "worth": worth})
	case findings.CloggingOutfit:
		return w.clogging(told, worth)
	case findings.Waiting:
		return w.plural(int(math.Round(told.Hours)), "Crews waited 1 person-hour in the last twelve months: {worth}. Write down each cause, and take the most common one up with whoever causes it.|Crews waited {n} person-hours in the last twelve months: {worth}. Write down each cause, and take the most common one up with whoever causes it.", with{"worth": worth})
	case findings.Callbacks:
		return w.callbacks(told, worth)
	case findings.CrackLevel:
		return w.crackLevel(told, worth)
	case findings.Steel:
		return w.steel(told, worth)
	case findings.StepLost:
		return w.stepLost(told.Step, worth)
	case findings.KindOfBid:
		return w.kindOfBid(told, worth)
	case findings.LowMonth:
		return w.say("{month} {kept}, where a normal month keeps about {usual}: {lost} of margin was lost. Find the cause while it is fresh.", with{
			"month": w.Month(told.Month), "kept": Bridge(w).share(told.Pct), "usual": w.dollarShare(told.Usual), "lost": w.Dollars(told.Dollars)})
	case findings.FollowOn:
		return w.plural(told.Jobs, "1 job of the last twelve months was won from an earlier one. At your usual margin that left {worth}. After each finished job, ask who else has one in mind.|{n} jobs of the last twelve months were won from earlier ones. At your usual margin they left {worth}. After each finished job, ask who else has one in mind.", with{"worth": worth})
	case findings.Unpriced:
		return w.plural(told.Jobs, "{unpriced} of 1 job of the last twelve months has no price or no cost. If these strayed from their bids like the others, {each} each, then {worth} is not tracked. Add the missing prices and costs.|{unpriced} of {n} jobs of the last twelve months have no price or no cost. If these strayed from their bids like the others, {each} each, then {worth} is not tracked. Add the missing prices and costs.", with{
			"unpriced": Count(told.Unpriced), "each": w.Dollars(told.Each), "worth": worth})
	}
	return ""
}

// aYear is what a finding is worth: "about $4,300 a year".
func (w Findings) aYear(f figure.Figure) string {
	return w.say("about {amount} a year", with{"amount": w.Dollars(f.Value)})
}

// wholeYards is a sum of volumes: "46 yd", "35 m³".
func (w Findings) wholeYards(yd float64) string { return w.Yards(math.Round(yd)) }

func (w Findings) clogging(f findings.CloggingOutfit, worth string) string {
	per := w.Units.Clogs.Factor
	values := with{"outfit": w.Named(f.Outfit), "rate": Grouped(f.Rate*per, 1), "others": Grouped(f.Others*per, 1), "worth": worth}
	if w.Units.Si {
		return w.say("{outfit} clogs {rate} times in 100 m³, the other outfits {others}: {worth} of waiting. Ask for another outfit where you have the choice.", values)
	}
	return w.say("{outfit} clogs {rate} times in 100 yd, the other outfits {others}: {worth} of waiting. Ask for another outfit where you have the choice.", values)
}

func (w Findings) callbacks(f findings.Callbacks, worth string) string {
	if f.Cracks {
		return w.plural(f.Times, "A customer called once about cracks in the last twelve months: {worth}. See the cracks page for what goes with them, and carry a reserve in each bid.|Customers called {n} times about cracks in the last twelve months: {worth}. See the cracks page for what goes with them, and carry a reserve in each bid.", with{"worth": worth})
	}
	return w.plural(f.Times, "A customer called once about something other than cracks in the last twelve months: {worth}. Read what it was about.|Customers called {n} times about something other than cracks in the last twelve months: {worth}. Read what they called about, and see whether one cause comes up again.", with{"worth": worth})
}

func (w Findings) crackLevel(f findings.CrackLevel, worth string) string {
	row := &f.Table.Rows[f.Row]
	c := Cracks(w)
	values := with{"what": c.Factor(f.Table.Factor) + " " + c.Level(f.Table, row.Level), "times": Grouped(f.Times, 1), "worth": worth}
	if f.Times == 0 {
		delete(values, "times")
		return w.say("Slabs with {what} bring far more crack callbacks than the others: {worth}. Something else may be the cause: change it on some jobs of each kind before you trust it.", values)
	}
	return w.say("Slabs with {what} bring {times} times the crack callbacks of the others: {worth}. Something else may be the cause: change it on some jobs of each kind before you trust it.", values)
}

func (w Findings) steel(f findings.Steel, worth string) string {
	saves := with{"worth": worth}
	said := w.plural(f.Placements, "Rebar costs less than mesh with callbacks counted: {worth} on the 1 placement that had mesh.|Rebar costs less than mesh with callbacks counted: {worth} on the {n} placements that had mesh.", saves)
	if f.Mesh {
		said = w.plural(f.Placements, "Mesh costs less than rebar with callbacks counted: {worth} on the 1 placement that had rebar.|Mesh costs less than rebar with callbacks counted: {worth} on the {n} placements that had rebar.", saves)
	}
	if f.ByPrices {
		said = w.sentences(said, w.text("The prices in the settings decide that, not your callbacks."))
	}
	return w.sentences(said, w.text("Where a code or an engineer asks for one, that decides."))
}

func (w Findings) stepLost(s money.Step, worth string) string {
	switch s {
	case money.StepVolume:
		return w.say("Slabs came out thicker than drawn in the last twelve months: {worth} of concrete. Check the grade with a string line before the truck comes.", with{"worth": worth})
	case money.StepUsage:
		return w.say("More concrete came than planned in the last twelve months, thickness aside: {worth}. Order by the waste table.", with{"worth": worth})
	}
	return w.say("Jobs of the last twelve months cost more than bid for reasons your log doesn't show: {worth}. It may be prices, wages, or hours that the bids left out. Compare bids with actual cost.", with{"worth": worth})
}

func (w Findings) kindOfBid(f findings.KindOfBid, worth string) string {
	gap, others := math.Round(math.Abs(100*f.Gap)), math.Round(math.Abs(100*f.Others))
	values := with{"kind": w.kind(f), "gap": w.dollarShare(gap), "others": w.bareShare(others), "worth": worth}
	switch {
	case (f.Gap >= 0) == (f.Others >= 0) && gap == others: // under a cent apart
		delete(values, "gap")
		delete(values, "others")
		return w.say("{kind} come out a little worse against their bids than other jobs: {worth}. Put more hours and allowances into such bids.", values)
	case f.Gap >= 0:
		return w.say("{kind} earn only {gap} more than bid, other jobs {others} more: {worth}. Put more hours and allowances into such bids.", values)
	case f.Others >= 0:
		return w.say("{kind} earn {gap} less than bid, other jobs {others} more: {worth}. Put more hours and allowances into such bids.", values)
	}
	return w.say("{kind} earn {gap} less than bid, other jobs {others} less: {worth}. Put more hours and allowances into such bids.", values)
}

// kind is a kind of job: by use, or by size.
func (w Findings) kind(f findings.KindOfBid) string {
	switch {
	case f.Use != "":
		return Capital(w.say("{use} jobs", with{"use": w.Word(f.Use)}))
	case f.From == 0:
		return w.say("Jobs under {area}", with{"area": w.Area(f.To)})
	case f.To == 0:
		return w.say("Jobs of {area} or more", with{"area": w.Area(f.From)})
	}
	return w.say("Jobs of {from} to {to}", with{"from": w.Area(f.From), "to": w.Area(f.To)})
}

// bareShare is a share of revenue in %, beside another that says what it is of.
func (w Findings) bareShare(pct float64) string {
	if w.Currency != "$" {
		return w.unit(Grouped(pct, 0), "%")
	}
	return Grouped(pct, 0)
}

// dollarShare is a share of revenue in whole %.
func (w Findings) dollarShare(pct float64) string {
	share := Grouped(pct, 0)
	switch {
	case w.Currency != "$":
		return w.say("{share}% of revenue", with{"share": share})
	case share == "1":
		return w.text("1 cent of the dollar")
	}
	return w.say("{share} cents of the dollar", with{"share": share})
}

// Answer says the first finding, or why there is none.
func (w Findings) Answer(told []findings.Finding, o *findings.Outcome) string {
	switch {
	case o == nil:
		return ""
	case o.Verdict == findings.NoRecords:
		return w.text("Nothing stands out: no placements are on record yet.")
	case o.Verdict == findings.TooShort:
		return w.plural(o.Days, "Too early to say what is worth the most: the records cover 1 day, and it takes {least}.|Too early to say what is worth the most: the records cover {n} days, and it takes {least}.", with{"least": Count(findings.LeastDays)})
	case o.Verdict == findings.TooFew:
		return w.plural(o.Placements, "Too early to say what is worth the most: 1 placement in the last twelve months, and it takes {least}.|Too early to say what is worth the most: {n} placements in the last twelve months, and it takes {least}.", with{"least": Count(figure.LeastForRate)})
	case len(told) == 0:
		return w.plural(o.Placements, "Nothing stands out. Nothing in the 1 placement of the last twelve months is both worth {least} a year and sure enough to act on.|Nothing stands out. Nothing in the {n} placements of the last twelve months is both worth {least} a year and sure enough to act on.", with{"least": w.Exactly(findings.LeastWorth)})
	}
	said := w.say("Worth the most now: {finding}", with{"finding": w.Sentence(told[0])})
	if o.ToCheck == 0 {
		return said
	}
	return said + " " + w.plural(o.ToCheck, "1 placement in the records deserves a second look.|{n} placements in the records deserve a second look.", nil)
}

// The words around the list of findings.
func (w Findings) Title() string { return w.text("Worth the most now") }

func (w Findings) Says(asOf string) string {
	return w.say("Over the twelve months to {day}, whatever month this page is about.", with{"day": w.AsOf(asOf)})
}

func (w Findings) Caption(n int) string {
	return w.plural(n, "1 fact and what to do about it|{n} facts and what to do about each, the most within reach, times how sure, first", nil)
}
func (w Findings) HeadRank() string  { return w.text("Rank") }
func (w Findings) HeadFact() string  { return w.text("Fact") }
func (w Findings) HeadWorth() string { return w.text("Worth a year") }
func (w Findings) HeadReach() string { return w.text("Of it within reach") }
func (w Findings) HeadSure() string  { return w.text("How sure") }

// SureCell says how sure a finding is, in words and out of 100.
func (w Findings) SureCell(p float64) Cell {
	return w.In(OfHundred, Valued(w.say("{sure}, {odds} in 100", with{"sure": w.Sure(p), "odds": w.Odds(p)}), p))
}
