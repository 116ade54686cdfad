package figure

import (
	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat/interval"
)

// Assumption is a number that the records do not give, or not alone.
type Assumption struct {
	What  Assumed `json:"name"`
	Value float64 `json:"value"`
	Unit  Unit    `json:"unit"`
	From  Source  `json:"from"`
	Off   float64 `json:"off,omitempty"` // 9 times in 10 it is off by no more than this; 0 where that is not told
}

// Assumed says what a number stands for that is assumed: a code, which the room
// that assumes it lists and the report says.
type Assumed string

// Unit is what a number is counted in, as JSON writes it.
type Unit string

// The units of assumptions and of what slabs differ in.
const (
	NoUnit         Unit = ""
	Dollar         Unit = "$"
	DollarsPerSqft Unit = "$/ft²"
	DollarsAnHour  Unit = "$ an hour"
	HoursPer100    Unit = "person-hours per 100 ft²"
	Days           Unit = "days"
	Months         Unit = "months"
	Years          Unit = "years"
	AYear          Unit = "a year"
	TimesOneSD     Unit = "times, one standard deviation"
	Fahrenheit     Unit = "°F"
	Inches         Unit = "in"
	Hours          Unit = "hours"
	AfterFinishing Unit = "hours after finishing"
	Thicknesses    Unit = "thicknesses"
	Evaporation    Unit = "lb/ft²/h"
	Chance         Unit = "share"
	Yards          Unit = "yd"
	Per100Yd       Unit = "in 100 yd"
	PersonHours    Unit = "person-hours"
	Minutes        Unit = "min"
)

// Source is where the number of an assumption comes from, and how many records
// it rests on where it rests on any.
type Source struct {
	Kind SourceKind `json:"kind"`
	N    int        `json:"n,omitempty"`
}

// SourceKind is a kind of source.
type SourceKind string

// The kinds of source.
const (
	FromSetting      SourceKind = "setting"
	MostCommon       SourceKind = "most common" // among the jobs
	NoneStated       SourceKind = "none stated" // no job states it: what is usual
	MeanOf           SourceKind = "mean"        // of N records
	MeanOfJobs       SourceKind = "mean of jobs"
	MeanOfPlacements SourceKind = "mean of placements"
	MeanOfLabor      SourceKind = "mean of entries of labor"
)

// Setting is the source of what the settings say.
func Setting() Source { return Source{Kind: FromSetting} }

// WarrantyFrom is the source of the usual warranty, which the jobs state or not.
func WarrantyFrom(stated bool) Source {
	if stated {
		return Source{Kind: MostCommon}
	}
	return Source{Kind: NoneStated}
}

// Entered is an amount that the settings give, off by no more than this share
// of it 9 times in 10.
func Entered(what Assumed, unit Unit, value, share float64) Assumption {
	return Assumption{What: what, Value: value, Unit: unit, From: Setting(), Off: share * value}
}

// Or is the mean of what the records say with its error, where they are enough
// for a rate, and else the assumption as it is.
func (a Assumption) Or(recorded []float64, from SourceKind) Assumption {
	if len(recorded) < LeastForRate {
		return a
	}
	a.From = Source{Kind: from, N: len(recorded)}
	a.Value, a.Off = SumOf(recorded)/float64(len(recorded)), 0
	if m, err := interval.MeanT(recorded, nineInTen); err == nil { // an error: they are all alike
		a.Off = (m.High - m.Low) / 2
	}
	return a
}

// nineInTen is how sure the range of an assumption is.
const nineInTen = 0.90

// SE is the standard error that goes with the range.
func (a Assumption) SE() float64 { return a.Off / distuv.UnitNormal.Quantile((1+nineInTen)/2) }
