package figure

import (
	"errors"

	"pourback/analysis/stat"
)

// Reason is why a figure has no value, or no range: a kind of its own for each,
// with the counts and names that go with it. A room has kinds of its own beside
// these; the report has words for every one.
type Reason interface{ Reason() }

// Because makes a struct that holds it a [Reason].
type Because struct{}

// Reason marks a kind of reason.
func (Because) Reason() {}

// The reasons that methods have.
type (
	NoData      struct{ Because } // no record has what it takes
	TooFew      struct{ Because } // one record alone shows no spread
	NoVariation struct{ Because } // the records are all alike
	NoEvents    struct{ Because } // nothing of the kind has happened
)

// FewPlacements are fewer than [LeastForRate], from which a rate is shown.
type FewPlacements struct {
	Because
	N int
}

// Failed is a method that found no answer.
type Failed struct {
	Because
	Err error
}

// Written is a reason as it was once said: a kept bid's.
type Written string

// Reason marks a kind of reason.
func (Written) Reason() {}

// ReasonOf is why a method has no answer.
func ReasonOf(err error) Reason {
	switch {
	case errors.Is(err, stat.ErrNoData):
		return NoData{}
	case errors.Is(err, stat.ErrTooFew):
		return TooFew{}
	case errors.Is(err, stat.ErrNoVariation):
		return NoVariation{}
	case errors.Is(err, stat.ErrNoEvents):
		return NoEvents{}
	}
	return Failed{Err: err}
}
