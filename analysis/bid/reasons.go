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
	TooFewMarked struct { // bids marked won or lost
		figure.Because
		N, Least int
	}
	TooFewEither struct { // bids won, or bids lost
		figure.Because
		Won, Lost, Least int
	}
	NeverTried struct { // a markup beyond all that were bid
		figure.Because
		From, To float64
	}
	NoBidWith struct { // no bid has this on record yet
		figure.Because
		What Quantity
	}
)
