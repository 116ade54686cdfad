package cracks

import (
	"math"

	"pourback/analysis/trade"
)

// Term is a covariate as the owner is told of it.
type Term struct {
	Name  string
	Value func(i int) float64 // of slab i; NaN where not recorded
	Steel int                 // the reinforcement that it tells, −1 where none
	more  string              // what to do where more of it goes with more cracks
	less  string              // and where more of it goes with fewer
}

func (s *Slabs) Heat() Term {
	return Term{"air temperature, each 10 °F hotter", func(i int) float64 { return s.Air[i] / 10 }, -1,
		"pour in the cool of the day", "look at what is different on cold days before drawing a lesson"}
}

func (s *Slabs) Spacing() Term {
	return Term{"joint spacing, each 6 thicknesses wider", func(i int) float64 { return s.ratio[i] / 6 }, -1,
		"keep joints no wider than 24 to 30 times the thickness", "look at where the joints were close before drawing a lesson"}
}

func (s *Slabs) dried() Term {
	return Term{"evaporation over 0.2 lb/ft²/h", func(i int) float64 {
		if math.IsNaN(s.Drying[i]) {
			return math.NaN()
		}
		return Indicator(s.Drying[i] > trade.PrecautionLbFt2)
	}, -1, "shade, fog or wait where the surface dries that fast", "look at what was done on such days: it may have worked"}
}

func (s *Slabs) cured() Term {
	none, unknown := s.curing.Find("none"), s.curing.Find("unknown")
	return Term{"cured in any way", func(i int) float64 {
		if s.curing.Code[i] == unknown {
			return math.NaN()
		}
		return Indicator(s.curing.Code[i] != none)
	}, -1, "look at which slabs were cured before drawing a lesson", "cure every slab"}
}

// sawn is the delay of the saw where there was one.
func (s *Slabs) sawn() Term {
	return Term{"saw delay, each 4 hours later", func(i int) float64 { return s.saw[i] / 4 }, -1, "saw as soon as the cut does not ravel", "look at why those slabs were sawn late before drawing a lesson"}
}

// made tells one reinforcement from another.
func (s *Slabs) made(code, against int) Term {
	return Term{s.Steel.Names[code] + " against " + s.Steel.Names[against],
		func(i int) float64 { return Indicator(s.Steel.Code[i] == code) }, code,
		"see what it costs under mesh or rebar", "see what it costs under mesh or rebar"}
}

func Indicator(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// orMean puts slabs for which a term is not known at the mean of the others,
// where they say nothing of it and still count for the other terms.
func (s *Slabs) orMean(t Term) Term {
	sum, n := 0.0, 0.0
	for i := range s.Days {
		if v := t.Value(i); !math.IsNaN(v) {
			sum += v
			n++
		}
	}
	mean, value := sum/max(1, n), t.Value
	t.Value = func(i int) float64 {
		if v := value(i); !math.IsNaN(v) {
			return v
		}
		return mean
	}
	return t
}

// unrecorded is the share of the wanted slabs for which a term is not known.
func (s *Slabs) unrecorded(t Term, want func(i int) bool) float64 {
	n, lacking := 0, 0
	for i := range s.Days {
		if want(i) {
			n++
			if math.IsNaN(t.Value(i)) {
				lacking++
			}
		}
	}
	return float64(lacking) / max(1, float64(n))
}
