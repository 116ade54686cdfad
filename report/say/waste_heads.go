package say

import "pourback/analysis/concrete"

// WasteHeads are the heads of the columns of the tables on waste.
type WasteHeads struct {
	Kind, UsualSize, Order, Adds, RunsShort, LeftOver, CapCosts, Uses, Tenth string // of the next jobs
	Rank, Worth, Sure, Placements                                            string // of what is worth most
	Job, P10, P50, P80, P90, OrderShort                                      string // of what the next job will use
	Average, Together, HalfUnder, NineUnder                                  string // of past jobs
	Part, Share, Means, PlacedBy, Lost, Crew, MoreOrLess, OddLess, Cut       string
}

// Heads are the heads of the columns.
func (w Waste) Heads() WasteHeads {
	return WasteHeads{
		Kind: w.text("Kind"), UsualSize: w.text("Usual size"), Order: w.text("Order"), Adds: w.text("That adds"), RunsShort: w.text("Runs short, in 100"), CapCosts: w.text("Your limit costs"),
		LeftOver: w.text("Left over"), Uses: w.text("Uses over the drawing"), Tenth: w.text("1 in 10 uses over"),
		Rank: w.text("Rank"), Worth: w.text("Worth a year"), Sure: w.text("How sure, in 100"), Placements: w.text("Placements"),
		Job: w.text("Job"), P10: w.text("1 in 10 stays under"), P50: w.text("Half stay under"), P80: w.text("8 in 10 stay under"), P90: w.text("9 in 10 stay under"),
		OrderShort: w.text("Order runs short, in 100"),
		Average:    w.text("Average"), Together: w.text("All concrete together"), HalfUnder: w.text("Half stayed under"), NineUnder: w.text("9 in 10 stayed under"),
		Part: w.text("Part"), Share: w.text("Share"), Means: w.text("What it is"), PlacedBy: w.text("Placed by"), Lost: w.text("Lost"),
		Crew: w.text("Crew"), MoreOrLess: w.text("More or less"), OddLess: w.text("With odd jobs counted less"), Cut: w.text("Without jobs that may have run short"),
	}
}

// CrewName names a crew of the comparison.
func (w Waste) CrewName(c concrete.CrewUse) string {
	if c.Crew == concrete.OtherCrews {
		return w.text("all other crews")
	}
	return w.Named(c.Crew)
}

// Method says how it was worked out, with the sources.
func (w Waste) Method(o *concrete.Overage) []string {
	said := []string{
		w.text("Waste is concrete used divided by the volume on the drawing, minus 1. Used is delivered minus left over. The drawing's volume is as recorded, or area × thickness."),
		w.say("The next job is predicted from all placements at once. Each kind of work loses a share of the volume, and each way of placing some concrete whatever the size. The fewer placements a kind has, the more it borrows from the others ({sources}).",
			with{"sources": "Box & Tiao 1973; Gelman 2006"}),
		w.say("The order is the one that costs least on average ({sources}). Leftover concrete is paid for and hauled off; too little brings an extra load. Its range is the order if the average of the kind stood at the ends of its own range.",
			with{"sources": "Arrow, Harris & Marschak 1951; Silver, Pyke & Thomas 2017"}),
		w.say("Averages of the past have a range from Student's t; all concrete together has that of a ratio of totals ({source_ratio}). “Half stayed under” and the like are quantiles ({source_quantiles}). Their ranges are by order statistics ({source_ranges}).",
			with{"source_ratio": "Cochran 1977, §6.4", "source_quantiles": "Hyndman & Fan 1996, type 7", "source_ranges": "Conover 1999, §3.2"}),
		w.say("Odd placements are found by a second fit that counts the far ones less ({sources}).", with{"sources": "Lange, Little & Taylor 1989"}),
	}
	if o == nil {
		return said
	}
	return append(said, w.Assumed(o.Assumptions)...)
}
