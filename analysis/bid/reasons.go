package bid

import "pourback/analysis/figure"

// Why a figure of a bid is not known.
type (
	NothingPumped struct{ figure.Because }
	NoSuchSlab    struct{ figure.Because } // of this reinforcement at such a spacing
	TooFewSlabs   struct {                 // of this kind, for a risk
		figure.Because
		N, Least int
	}
	TooFewPours struct { // of that month with their weather
		figure.Because
		N, Least int
	}
	TooFewRebid struct { // jobs bid on anew with what they cost
		figure.Because
		N, Least int
	}
	NoBidWith struct { // no bid has this on record yet
		figure.Because
		What Quantity
	}
)
