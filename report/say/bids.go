package say

import "pourback/analysis/bid"

// Bids says how kept bids turned out.
type Bids struct{ *Voice }

// Title names the page.
func (w Bids) Title() string { return w.text("Bids and how they turned out") }

// None says that no bid has been kept, and how to make one.
func (w Bids) None() (answer, note string) {
	if w.OnSite {
		return w.text("No bid has been kept yet."), w.text("Each bid is kept and compared with its job once the records are in.")
	}
	return w.text("No bid has been kept yet."), w.text("`pourback bid --help` shows a bid of ten lines. Each bid is kept and compared with its job once the records are in.")
}

// Answer says how many bids are open and since when, how many were won, and how often
// the ranges of bids held what came.
func (w Bids) Answer(r *bid.Record) string {
	if len(r.Outcomes) == 0 {
		answer, _ := w.None()
		return answer
	}
	return w.open(r) + " " + w.heldAnswer(r)
}

// heldAnswer says how often the ranges of bids held what came.
func (w Bids) heldAnswer(r *bid.Record) string {
	kept := w.plural(len(r.Outcomes), "1 bid kept|{n} bids kept", nil)
	switch {
	case r.Compared == 0 && r.Begun:
		return w.say("{kept}. None can be compared with its job yet: those with records were made after the pour, or lack hours, yards and costs.", with{"kept": kept})
	case r.Compared == 0:
		return w.say("{kept}. None has the records of its job yet, so there is nothing to compare.", with{"kept": kept})
	}
	var held, wrong, sides []string
	for _, h := range r.Held {
		if h.Verdict == bid.NothingHeld {
			continue
		}
		held = append(held, w.say("{times} for {what}", with{"times": Grouped(100*h.Share.Value, 0), "what": w.What(h.What)}))
		if h.Verdict != bid.AsItShouldBe {
			wrong = append(wrong, w.wrong(h))
		}
		if said := w.Runs(h); said != "" && !(h.What == bid.Costs && w.marginRuns(r)) {
			sides = append(sides, said)
		}
	}
	said := w.say("{kept}, {compared} compared with jobs. Ranges should hold 80 times in 100; they held {shares}.", with{"kept": kept, "compared": Count(r.Compared), "shares": w.List(held)})
	if len(wrong)+len(sides) == 0 {
		return said + " " + w.text("None is clearly off.")
	}
	for _, s := range append(sides, wrong...) {
		said += " " + s
	}
	return said
}

// marginRuns says whether margins run to one side, which says the same as costs do.
func (w Bids) marginRuns(r *bid.Record) bool {
	for _, h := range r.Held {
		if h.What == bid.Margin {
			return h.Bias.Runs != bid.NoSide
		}
	}
	return false
}

// Runs says which way jobs run beside their bids, "" where that may be luck.
func (w Bids) Runs(h bid.Held) string {
	b := h.Bias
	n := Count(b.Below)
	if b.Runs == bid.RunsAbove {
		n = Count(b.Above)
	}
	margin := with{"n": n, "all": Count(h.Share.N), "by": Count(b.Points())}
	other := with{"n": n, "all": Count(h.Share.N), "by": Count(b.Points()), "what": w.What(h.What)}
	switch {
	case b.Runs == bid.NoSide:
		return ""
	case h.What == bid.Margin && b.Runs == bid.RunsBelow:
		return w.say("On {n} of {all} jobs the margin came in under the bid: you run about {by} points under.", margin)
	case h.What == bid.Margin:
		return w.say("On {n} of {all} jobs the margin came in over the bid: you run about {by} points over.", margin)
	case b.Runs == bid.RunsBelow:
		return w.say("On {n} of {all} jobs {what} came in under the bid, by about {by}% on average.", other)
	}
	return w.say("On {n} of {all} jobs {what} came in over the bid, by about {by}% on average.", other)
}

// Side is which way jobs run, for a table: "7 under, 1 over".
func (w Bids) Side(b bid.Bias) string {
	if b.Below+b.Above == 0 {
		return "—"
	}
	return w.say("{below} under, {above} over", with{"below": Count(b.Below), "above": Count(b.Above)})
}

// wrong says what ranges that held too seldom or too often mean.
func (w Bids) wrong(h bid.Held) string {
	if h.Verdict == bid.TooNarrow {
		return w.say("Ranges of {what} are too narrow: jobs land outside too often.", with{"what": w.What(h.What)})
	}
	return w.say("Ranges of {what} are wider than they need to be.", with{"what": w.What(h.What)})
}

// What names a quantity that bids predict.
func (w Bids) What(q bid.Quantity) string {
	switch q {
	case bid.Hours:
		return w.text("hours")
	case bid.Yards:
		return w.text("yards")
	case bid.Costs:
		return w.text("cost")
	case bid.Margin:
		return w.text("margin")
	}
	return Clean(string(q), ShortName)
}

// Verdict is what the share of ranges that held says.
func (w Bids) Verdict(c bid.Calibration) string {
	switch c {
	case bid.TooNarrow:
		return w.text("too narrow: jobs land outside too often")
	case bid.TooWide:
		return w.text("wider than it needs to be")
	case bid.AsItShouldBe:
		return w.text("not clearly off so far")
	}
	return w.text("nothing yet")
}

// VerdictOf is what the ranges that held say, and which way the jobs run where that
// is more than luck.
func (w Bids) VerdictOf(h bid.Held) string {
	runs := w.Runs(h)
	if runs == "" {
		return w.Verdict(h.Verdict)
	}
	if h.Verdict == bid.AsItShouldBe {
		return runs
	}
	return runs + " " + Capital(w.Verdict(h.Verdict)) + "."
}

// Why says why a bid is compared with no job.
func (w Bids) Why(u bid.Unmatched) string {
	switch u {
	case bid.NoJobNo:
		if w.OnSite {
			return w.text("no job number: write it on the bid's own page once it is won")
		}
		return w.text("no job number: write it in the bid, or name the job once it is won with `pourback bids --link ID=JOB_NO`")
	case bid.NoRecords:
		return w.text("no records of this job yet")
	case bid.Voided:
		return w.text("marked void: it counts nowhere")
	case bid.Revised:
		return w.text("a later version counts in its place")
	}
	return ""
}

// But is a reservation about a comparison, "" where there is none.
func (w Bids) But(p bid.Proviso) string {
	switch p.Kind {
	case bid.Superseded:
		return w.text("a later bid on the same job counts in its place")
	case bid.MadeTooLate:
		return w.say("made after the first pour on {day}, so it predicts nothing", with{"day": w.Day(p.FirstPour)})
	case bid.OtherPlacements:
		return w.say("the job has {job} on record, the bid has {bid}", with{"job": w.plural(p.Job, "1 placement|{n} placements", nil), "bid": Count(p.InBid)})
	}
	return ""
}

// Missing says why there is nothing to compare a quantity with.
func (w Bids) Missing(q bid.Quantity) string {
	switch q {
	case bid.Hours:
		return w.text("a placement has no hours")
	case bid.Yards:
		return w.text("a placement has no delivered and leftover yards")
	case bid.Costs:
		return w.text("no actual cost yet")
	}
	return w.text("no contract price or no actual cost yet")
}

// Notes are what is to be kept in mind.
func (w Bids) Notes() []string {
	return []string{w.text("Actual costs include what a bid did not price: see its items. The actual margin is on the price agreed, which may differ from the bid's.")}
}

// Method says how it was computed.
func (w Bids) Method() []string {
	return []string{
		w.text("Each bid keeps its 80% ranges, from P10 to P90: 8 jobs in 10 should land inside."),
		w.say("Which way jobs run is tested by their signs (exact sign test) and by their mean ({source}). One of them must be rarer than 1 in 10 by luck.", with{"source": "Student 1908, Biometrika 6"}),
		w.say("The share that did has its range by {source}. Only the last bid on a job counts, and only if it was made before the pour.", with{"source": "Wilson 1927, J. Am. Stat. Assoc. 22"}),
	}
}

// BidsHeads names what the tables hold.
type BidsHeads struct {
	HeldTitle, HeldCaption, RangeOf, Held, Jobs, Side, Says     string
	LinesTitle, LinesCaption, Bid, Job, What, Predicted, Actual string
	RangeHeld, Yes, No, Unknown, More                           string
}

// Heads are the titles and heads of the tables.
func (w Bids) Heads() BidsHeads {
	more := w.text("And earlier ones: `pourback bids --json` has them all.")
	if w.OnSite {
		more = w.text("Earlier ones stand under “Bids”.")
	}
	return BidsHeads{
		HeldTitle: w.text("How often the ranges held"), HeldCaption: w.text("Ranges that held the actual figure; 80 in 100 should"), RangeOf: w.text("Range of"), Held: w.text("Held"), Jobs: w.text("Jobs"), Side: w.text("Beside the bid"), Says: w.text("What it says"),
		LinesTitle: w.text("Each bid beside its job"), LinesCaption: w.text("Predicted and actual, the latest bid first"), Bid: w.text("Bid"), Job: w.text("Job"), What: w.text("What"),
		Predicted: w.text("Predicted"), Actual: w.text("Actual"), RangeHeld: w.text("Range held"), Yes: w.text("yes"), No: w.text("no"), Unknown: w.text("not known"),
		More: more}
}
