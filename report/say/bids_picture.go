package say

// MarginPicture are the words of the margins of bids beside those of their jobs.
type MarginPicture struct {
	w                     Bids
	Says, Axis, Bid, Kept string
}

// MarginPicture are the words of the margins of bids beside those of their jobs.
func (w Bids) MarginPicture() MarginPicture {
	p := MarginPicture{w: w, Bid: w.text("bid, with its range"), Kept: w.text("kept"), Axis: w.text("margin, cents of the dollar"),
		Says: w.text("What each bid planned to keep, with its range, and what its job kept. The latest bid stands first.")}
	if w.Currency != "$" {
		p.Axis = w.text("margin, %")
	}
	return p
}

// BidTip and KeptTip are what the marks say where they are pointed at.
func (p MarginPicture) BidTip(pct, low, high float64) string {
	return p.w.say("bid to keep {margin}% ({low} to {high})", with{"margin": Grouped(pct, 0), "low": Grouped(low, 0), "high": Grouped(high, 0)})
}
func (p MarginPicture) KeptTip(pct float64) string {
	return p.w.say("kept {margin}%", with{"margin": Grouped(pct, 0)})
}
