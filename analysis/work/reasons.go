package work

import "pourback/analysis/figure"

// Why a figure about crews, pumps or delays is not known.
type (
	NothingToPool struct{ figure.Because } // all outfits together are pooled with no others
	NoClogCounts  struct{ figure.Because } // no pumped placement has both its yards and its clogs
	OneOutfit     struct{ figure.Because } // there are no two to compare
	NoClogMinutes struct{ figure.Because } // no pumped placement has the minutes that clogs took
	NoClogWait    struct{ figure.Because } // or those and its crew size
	NoWait        struct{ figure.Because } // no placement has both its delay minutes and its crew size
	NoNewCrew     struct{ figure.Because } // every crew was at work before the records begin
	NoSuchTask    struct{ figure.Because } // the crew has booked no hours on it
)

// TooFewClogs are fewer than [figure.LeastEvents], from which outfits are
// compared.
type TooFewClogs struct {
	figure.Because
	Clogs int
}

// TooFewPours are fewer with or without a late load than a comparison takes,
// [figure.LeastForRate] of each.
type TooFewPours struct {
	figure.Because
	With, Without int
}

// TooFewCallbacks are fewer than [figure.LeastEvents].
type TooFewCallbacks struct {
	figure.Because
	Callbacks int
}

// FewHotHours are fewer placements with hours in warm air than
// [figure.LeastForRate].
type FewHotHours struct {
	figure.Because
	Placements int
}
