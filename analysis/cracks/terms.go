package cracks

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/trade"
)

// Thing is what a covariate is about.
type Thing string

// The things that slabs are told apart by.
const (
	AirTemperature Thing = "air temperature"
	JointSpacing   Thing = "joint spacing" // over thickness
	FastDrying     Thing = "fast drying"   // whether it was over a limit
	Cured          Thing = "cured"         // in any way
	SawDelay       Thing = "saw delay"     // from finishing to the saw
	Made           Thing = "made"          // with one reinforcement and not another
	Thickness      Thing = "thickness"
	DrivenOn       Thing = "driven on" // whether cars drive on it
)

// Covariate is what a hazard model tells slabs apart by, and what one more of it
// is.
type Covariate struct {
	What        Thing
	Step        float64 // what one more is, or the limit of FastDrying; 0 of a yes or no
	Unit        figure.Unit
	Of, Against string // the reinforcements of Made
}

// Term is a covariate with its value of each slab.
type Term struct {
	Covariate
	Value func(i int) float64 // of slab i; NaN where not recorded
	Steel int                 // the reinforcement that it tells, −1 where none
}

// The steps of which a ratio is told.
const (
	heatStep    = 10 // °F
	spacingStep = 6  // thicknesses
	sawStep     = 4  // hours
)

// Heat is the air temperature of the pour.
func (s *Slabs) Heat() Term {
	return Term{Covariate{What: AirTemperature, Step: heatStep, Unit: figure.Fahrenheit}, func(i int) float64 { return s.Air[i] / heatStep }, -1}
}

// Spacing is the joint spacing over the thickness.
func (s *Slabs) Spacing() Term {
	return Term{Covariate{What: JointSpacing, Step: spacingStep, Unit: figure.Thicknesses}, func(i int) float64 { return s.ratio[i] / spacingStep }, -1}
}

// dried is whether the surface dried so fast that precautions are due.
func (s *Slabs) dried() Term {
	return Term{Covariate{What: FastDrying, Step: trade.PrecautionLbFt2, Unit: figure.Evaporation}, func(i int) float64 {
		if math.IsNaN(s.Drying[i]) {
			return math.NaN()
		}
		return Indicator(s.Drying[i] > trade.PrecautionLbFt2)
	}, -1}
}

// cured is whether the slab was cured in any way.
func (s *Slabs) cured() Term {
	none, unknown := s.curing.Find("none"), s.curing.Find("unknown")
	return Term{Covariate{What: Cured}, func(i int) float64 {
		if s.curing.Code[i] == unknown {
			return math.NaN()
		}
		return Indicator(s.curing.Code[i] != none)
	}, -1}
}

// sawn is the delay of the saw where there was one.
func (s *Slabs) sawn() Term {
	return Term{Covariate{What: SawDelay, Step: sawStep, Unit: figure.Hours}, func(i int) float64 { return s.saw[i] / sawStep }, -1}
}

// made tells one reinforcement from another.
func (s *Slabs) made(code, against int) Term {
	return Term{Covariate{What: Made, Of: s.Steel.Names[code], Against: s.Steel.Names[against]},
		func(i int) float64 { return Indicator(s.Steel.Code[i] == code) }, code}
}

// Indicator is 1 for what is so, and 0 for what is not.
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
