package steel

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// looks fills what cracks seen at visits tell of mesh against rebar: of each by
// itself the rate and the share cracked within a year (Turnbull), like for like
// the ratio of grouped proportional hazards within bands of temperature, with its
// p by permutation of jobs. It goes into no money: people pay for callbacks.
func (s reinforced) looks(p cracks.Pair, f *cracks.Frame, m *MeshVsRebar, opt setting.Options) figure.Reason {
	m.RawDifference = s.lookedDifference(p, opt.Level)
	within(f, s.Air)
	if !compares(f) {
		return NeverAlike{}
	}
	kinds, strata := s.sides(f, p)
	m.Luck = s.CompareLooks(kinds, strata).Figure
	fitted := f.Fewer()
	terms, err := s.LookedTerms(fitted, opt.Steel.PriorSD, opt.Level)
	if err != nil {
		return figure.ReasonOf(err)
	}
	m.HazardRatio, m.MadeAlike = terms[0].HazardRatio, alikeIn(fitted)
	m.EValue, m.EValueLimit = eValue(m.HazardRatio)
	for _, to := range []*figure.Figure{&m.AdjustedMesh, &m.AdjustedRebar, &m.AdjustedDifference} {
		*to = figure.Unknown(RatioBetweenLooks{})
	}
	return nil
}

// sides are the kind and the stratum of each slab of a frame, −1 of all others.
func (s reinforced) sides(f *cracks.Frame, p cracks.Pair) (kinds, strata []int) {
	kinds, strata = make([]int, s.N()), make([]int, s.N())
	for i := range kinds {
		kinds[i] = -1
	}
	for k, i := range f.Row {
		kinds[i], strata[i] = int(p.Kind[i]), f.Stratum[k]
	}
	return kinds, strata
}

// ofKind are the slabs of one side of a pair.
func ofKind(p cracks.Pair, kind int8) func(i int) bool {
	return func(i int) bool { return p.Kind[i] == kind }
}

// lookedDifference is that of the shares cracked within a year, the first kind
// less the second. Its limits are put together from those of the two (Zou &
// Donner 2008, Statistics in Medicine 27, 1693-1702; Newcombe's method 10 where
// those are Wilson's).
func (s reinforced) lookedDifference(p cracks.Pair, level float64) figure.Figure {
	first, _ := s.OfLooks(ofKind(p, 0), level)
	second, _ := s.OfLooks(ofKind(p, 1), level)
	for _, f := range []figure.Figure{first, second} {
		if !f.Known() {
			return f
		}
	}
	d := figure.Total(first.Value-second.Value, first.N+second.N, "difference of Turnbull's estimates")
	if first.Bounded && second.Bounded {
		d.Low = d.Value - math.Hypot(first.Value-first.Low, second.High-second.Value)
		d.High = d.Value + math.Hypot(first.High-first.Value, second.Value-second.Low)
		d.Level, d.Bounded = level, true
	}
	return d
}

// lookedRatio is the hazard ratio of a pair within bands of temperature, with
// nothing else made alike.
func (s reinforced) lookedRatio(p cracks.Pair, of, against string, opt setting.Options) figure.Figure {
	first := cracks.Term{Covariate: cracks.Covariate{What: cracks.Made, Of: of, Against: against}, Steel: -1, Value: func(i int) float64 { return 1 - float64(p.Kind[i]) }}
	f := s.NewFrame([]cracks.Term{first, s.Heat()}, func(i int) bool { return p.Kind[i] >= 0 && s.Watches(i) })
	if f.Events < cracks.EventsForAny {
		return figure.Unknown(tooFew(f.Events))
	}
	f.Cut(1) // heat goes into the bands
	within(f, s.Air)
	if len(f.Terms) == 0 || f.Terms[0].What != cracks.Made {
		return figure.Unknown(NeverAlike{})
	}
	terms, err := s.LookedTerms(f.Fewer(), opt.Steel.PriorSD, opt.Level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return terms[0].HazardRatio
}
