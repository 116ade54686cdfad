package say

import (
	"pourback/analysis/bid"
	"pourback/analysis/figure"
)

// From is what a number stands on, with the sentence behind it where it is no
// plain arithmetic and no plain count.
func (w Bid) From(b bid.Basis) Cell {
	switch b.From {
	case bid.FromRecords:
		return Cell{Text: w.say("From your records ({n})", with{"n": Count(b.N)})}
	case bid.FromPractice:
		return Cell{Text: w.text("From common practice"), Why: w.Footing(b)}
	case bid.FromSetting:
		return Cell{Text: w.text("You entered it"), Why: w.Footing(b)}
	case bid.FromSpec:
		return Cell{Text: w.text("You entered it")}
	case bid.FromDrawing:
		return Cell{Text: w.text("From the dimensions")}
	}
	return Cell{Text: "—"}
}

// FromHead is the head of the column that says what numbers stand on.
func (w Bid) FromHead() string { return w.text("Where it comes from") }

// Footing says what a number stands on.
func (w Bid) Footing(b bid.Basis) string {
	if b.Yards != nil && b.Hours != nil {
		return w.say("yards: {yards}; hours: {hours}", with{"yards": w.Footing(*b.Yards), "hours": w.Footing(*b.Hours)})
	}
	if b.Says != "" && b.Of == "" && b.By == "" && (b.From == bid.FromRecords || b.From == bid.FromPractice) { // kept without codes
		return Clean(b.Says, LongName)
	}
	s := w.footing(b)
	if b.Scaled != nil {
		return w.say("{from}; the price is for #{bar} at {spacing}, scaled by weight", with{"from": s, "bar": Count(b.Scaled.Bar), "spacing": w.Inches(b.Scaled.SpacingIn)})
	}
	return s
}

func (w Bid) footing(b bid.Basis) string {
	switch b.From {
	case bid.FromSetting:
		return w.text("your settings")
	case bid.FromSpec:
		return w.text("you entered it in this bid")
	case bid.FromDrawing:
		return w.text("from the dimensions")
	case bid.FromRecords:
		return w.recorded(b)
	}
	if said := w.guide(b); said != "" {
		return said
	}
	practice, has := w.practice(b), w.counted(b.Of, b.N)
	if practice == "" {
		return w.say("nothing is published; your records have {has}, and it takes {least}", with{"has": has, "least": Count(figure.LeastForRate)})
	}
	return w.say("common practice, {practice}; your records have {has}, and it takes {least}", with{"practice": practice, "has": has, "least": Count(figure.LeastForRate)})
}

// recorded is a number that the company's own records give.
func (w Bid) recorded(b bid.Basis) string {
	has := w.counted(b.Of, b.N)
	switch b.By {
	case bid.ByMedian:
		return w.say("your records: the middle value of {records}", with{"records": has})
	case bid.ByMostCommon:
		return w.text("your records: the most common among your jobs")
	case bid.ByUsualSpacing:
		return w.say("your usual spacing: the middle value of {records} of about that thickness", with{"records": has})
	case bid.ByCutSpacing:
		return w.say("your usual spacing of {usual} is more than 36 thicknesses, so it is cut down to that ({source})", with{"usual": w.Feet(b.At), "source": sourceCSA})
	case bid.ByFewEvents:
		return w.say("your records: {records}; with so few events, they count beside the usual rate", with{"records": has})
	}
	return w.say("your records: {records}", with{"records": has})
}

// guide is common practice or a publication that no record would replace.
func (w Bid) guide(b bid.Basis) string {
	switch b.By {
	case bid.ByUsualSetting:
		return w.text("common practice, no published source: change it in your settings")
	case bid.ByCommonMix:
		return w.text("common practice for flatwork, no published source; ask your plant")
	case bid.By24Times:
		return w.say("24 times the thickness ({source}), at most {most}", with{"source": w.cement(), "most": w.Feet(15)})
	case bid.By30Times:
		return w.say("30 times the thickness with aggregate of {large} and more ({source}), at most {most}", with{"large": w.Inches(0.75), "source": w.cement(), "most": w.Feet(15)})
	case bid.ByCutDepth:
		return w.say("a quarter to a third of the thickness ({source}), at least {least} (trade press)", with{"source": sourceCSA, "least": w.Inches(1)})
	case bid.ByEarlyDepth:
		return w.say("at least {least} ({source}, from memory)", with{"least": w.Inches(1), "source": sourceACI302})
	case bid.ByNeatAndTenth:
		return w.say("your placements used amounts too far apart to order by: neat volume plus 10% ({source})", with{"source": "NRMCA CIP 8"})
	case bid.WithTheMix:
		return w.text("it comes with the mix")
	}
	return ""
}

// practice is what stands in for records that are too few, "" where nothing
// does.
func (w Bid) practice(b bid.Basis) string {
	switch b.Of {
	case bid.OfVolumes:
		return w.text("the waste assumed in the settings")
	case bid.OfHours:
		return w.say("{hours} person-hours for {area} at {thickness}", with{"hours": trimmed(b.At, 1), "area": w.Area(400), "thickness": w.Inches(4)})
	case bid.OfTasks:
		return w.text("the usual shares of tasks")
	case bid.OfClogCounts:
		return w.say("{rate} clogs in {yards} pumped", with{"rate": trimmed(b.At, 2), "yards": w.Yards(100)})
	case bid.OfClogMinutes:
		return w.say("{minutes} a clog", with{"minutes": w.halfMinutes(b.At)})
	case bid.OfDelays:
		return w.say("{minutes} a placement", with{"minutes": w.halfMinutes(b.At)})
	case bid.OfWatched:
		return w.say("{rate} callbacks a year in 100 placements", with{"rate": trimmed(100*b.At, 1)})
	case bid.OfCallbacks:
		return w.text("the cost assumed in the settings")
	}
	return ""
}

func (w Bid) halfMinutes(m float64) string {
	return w.say("{n} minutes", with{"n": trimmed(m, 1)})
}

// counted is a number of records of a kind.
func (w Bid) counted(of bid.Counted, n int) string {
	switch of {
	case bid.OfVolumes:
		return w.plural(n, "1 placement with neat, delivered and leftover yards|{n} placements with neat, delivered and leftover yards", nil)
	case bid.OfHours:
		return w.plural(n, "1 placement with area, thickness and hours|{n} placements with area, thickness and hours", nil)
	case bid.OfTasks:
		return w.plural(n, "1 placement with hours by task|{n} placements with hours by task", nil)
	case bid.OfClogCounts:
		return w.plural(n, "1 pumped placement with its clogs counted|{n} pumped placements with their clogs counted", nil)
	case bid.OfClogMinutes:
		return w.plural(n, "1 clog with its minutes|{n} clogs with their minutes", nil)
	case bid.OfDelays:
		return w.plural(n, "1 placement with its delays|{n} placements with their delays", nil)
	case bid.OfWatched:
		return w.plural(n, "1 placement watched since its pour|{n} placements watched since their pour", nil)
	case bid.OfCallbacks:
		return w.plural(n, "1 callback with its cost|{n} callbacks with their cost", nil)
	case bid.OfSlabs:
		return w.plural(n, "1 slab of this kind|{n} slabs of this kind", nil)
	case bid.OfMonthsPours:
		return w.plural(n, "1 pour of that month with its weather|{n} pours of that month with their weather", nil)
	case bid.OfJobs:
		return w.plural(n, "1 job|{n} jobs", nil)
	case bid.OfPumpedJobs:
		return w.plural(n, "1 pumped job|{n} pumped jobs", nil)
	case bid.OfCostLines:
		return w.plural(n, "1 cost line|{n} cost lines", nil)
	case bid.OfRebid:
		return w.plural(n, "1 job bid on anew|{n} jobs bid on anew", nil)
	case bid.OfMarked:
		return w.plural(n, "1 marked bid|{n} marked bids", nil)
	case bid.OfTickets:
		return w.plural(n, "1 load with its times|{n} loads with their times", nil)
	case bid.OfLaborLines:
		return w.plural(n, "1 labor line|{n} labor lines", nil)
	}
	return w.plural(n, "1 placement|{n} placements", nil)
}

// What publications are cited as, in every language.
const (
	sourceCSA      = "CSA A23.1-94 §20.2.1"
	sourceACI302   = "ACI 302.1R"
	sourceUFC      = "UFC 3-250-04"
	sourceUFCSaw   = "UFC 3-250-04 §9-4.4"
	sourceUFCJoint = "UFC 3-250-04 Table 9-1"
)

// cement cites the association whose limits are known at second hand.
func (w Bid) cement() string { return w.text("Portland Cement Association, as quoted elsewhere") }

// bidReason says why a figure of a bid is not known.
func (v *Voice) bidReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case bid.NothingPumped:
		return v.text("nothing is pumped"), true
	case bid.NoSuchSlab:
		return v.text("no slab on record has this reinforcement and such a spacing"), true
	case bid.TooFewSlabs:
		return v.say("{slabs} on record; a risk takes {least}", with{"slabs": v.plural(r.N, "1 slab of this kind|{n} slabs of this kind", nil), "least": Count(r.Least)}), true
	case bid.TooFewPours:
		return v.say("{pours} on record; it takes {least}",
			with{"pours": v.plural(r.N, "1 pour of that month with its weather|{n} pours of that month with their weather", nil), "least": Count(r.Least)}), true
	case bid.TooFewRebid:
		return v.say("{jobs}; it takes {least}", with{"jobs": v.plural(r.N, "1 kept bid has its job's cost on record|{n} kept bids have their jobs' costs on record", nil), "least": Count(r.Least)}), true
	case bid.NoBidWith:
		return v.say("no bid's job has its {what} on record yet", with{"what": Bids{v}.What(r.What)}), true
	}
	return v.winReason(r)
}

// FigureHead heads a column of figures.
func (w Bid) FigureHead() string { return w.text("Figure") }
