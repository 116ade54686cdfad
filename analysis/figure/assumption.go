package figure

// Assumption is a number that the records do not give, or not alone.
type Assumption struct {
	What  Assumed `json:"name"`
	Value float64 `json:"value"`
	Unit  Unit    `json:"unit"`
	From  Source  `json:"from"`
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
	FromSetting        SourceKind = "setting"
	MostCommon         SourceKind = "most common" // among the jobs
	NoneStated         SourceKind = "none stated" // no job states it: what is usual
	MeanOf             SourceKind = "mean"        // of N records
	MedianOfJobs       SourceKind = "median of jobs"
	MedianOfPlacements SourceKind = "median of placements"
	MedianOfLabor      SourceKind = "median of entries of labor"
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
