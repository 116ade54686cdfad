package concrete

import (
	"errors"

	"pourback/analysis/figure"
)

// Why a figure about concrete is not known.
type (
	// NoCap is set on the chance of running short.
	NoCap struct{ figure.Because }
	// FewVolumes are fewer placements with all their yards than
	// [figure.LeastForRate].
	FewVolumes struct {
		figure.Because
		N int
	}
	// FewByMethod are as few by one way of placing, for which the yards that are
	// lost whatever the size are assumed.
	FewByMethod struct {
		figure.Because
		Method    string
		N         int
		AssumedYd float64
	}
	// AlikeInSize are the placements by one way of placing: yards lost whatever
	// the size cannot be told from a share of the volume, so the assumption
	// decides.
	AlikeInSize struct {
		figure.Because
		Method    string
		AssumedYd float64
	}
	// FewOfCrew are fewer placements of a crew than [figure.LeastForRate].
	FewOfCrew struct {
		figure.Because
		N int
	}
	// FewProbed are fewer placements than [figure.LeastForRate] that tell where
	// their yards went.
	FewProbed struct {
		figure.Because
		N int
	}
	NoVolumes struct{ figure.Because } // no placement has all its yards
	ManyKinds struct{ figure.Because } // no one mean holds for all kinds of placement
	TooUnlike struct{ figure.Because } // such placements have used amounts too unlike one another to order by
)

// unknown is a figure that a method could not make.
func unknown(err error) figure.Figure {
	if errors.Is(err, errUnlike) {
		return figure.Unknown(TooUnlike{})
	}
	return figure.Unknown(figure.ReasonOf(err))
}
