package cracks

import "pourback/analysis/figure"

// Why figures about cracks are not known.
type (
	NoPlacements   struct{ figure.Because } // none of the kind
	NotLookedAt    struct{ figure.Because } // nobody has looked since the pour
	OneRow         struct{ figure.Because } // it alone compares with nothing
	NoHazardModel  struct{ figure.Because }
	LeansOnBelief  struct{ figure.Because } // so few cracks that a p-value does not go with the ratio
	SeenNotCalled  struct{ figure.Because } // cracks seen at visits bring no callbacks to reckon with
	FewerThanARate struct{ figure.Because } // fewer placements than it takes for a rate
	FewWatched     struct{ figure.Because } // of slabs so old to read a curve
	NobodyLooked   struct{ figure.Because } // at a slab of the kind, but for calls

	NotCheckedOfLooks struct{ figure.Because } // whether ratios hold at all ages, between looks
)

// NoOldSlab says that none of the kind is a year old, or, where cracks are seen
// at visits, that none was looked at as its year ended.
type NoOldSlab struct {
	figure.Because
	Seen bool
}

// FewLooked says that too few of the slabs looked at were looked at about an age.
type FewLooked struct {
	figure.Because
	N, Of, Days int
}

// LeftOpen says that the looks leave open how many had cracked by an age.
type LeftOpen struct {
	figure.Because
	Least, Most float64
	Days        int
}

// NoEstimate is why the estimate between looks has no answer.
type NoEstimate struct {
	figure.Because
	Why figure.Reason
}

// ManySlabs are so many that no limits are drawn between looks.
type ManySlabs struct {
	figure.Because
	Most int
}

// TooFewPlacements are too few of a kind for a rate.
type TooFewPlacements struct {
	figure.Because
	N int
}

// TooFewCracks are too few to compare, or to see a change with age.
type TooFewCracks struct {
	figure.Because
	N      int
	Within Scope
}

// Scope says what so few cracks were to show.
type Scope string

// The scopes of too few cracks.
const (
	ToCompare     Scope = "to compare"
	ToCompareKind Scope = "to compare these slabs"
	ToSeeAge      Scope = "to see a change with age"
)

// WatchedTooShort says that no slab of the kind, or for the whole warranty where
// that is asked, has been watched for so many days.
type WatchedTooShort struct {
	figure.Because
	Days, Longest float64
	Warranty      bool
}

// NoneRecords says that no placement records a factor.
type NoneRecords struct {
	figure.Because
	Factor Factor
}

// Incomparable says why slabs of two kinds of reinforcement cannot be compared:
// one is missing, or what they differ in besides steel is not recorded, or they
// were hardly ever poured alike in it.
type Incomparable struct {
	figure.Because
	Of, Against string
	N           [2]int // slabs of each; a comparison needs both
	By          []Obstacle
}

// Obstacle is one thing besides steel that the two are not alike in.
type Obstacle struct {
	In      Likeness
	Unknown int        // slabs of the two that do not record it; 0 where it is recorded
	Mean    [2]float64 // where it is: the means of each, in °F or thicknesses
}

// Likeness is what slabs must be alike in to be compared.
type Likeness string

// What slabs must be alike in.
const (
	InSpacing Likeness = "joint spacing"
	InAir     Likeness = "air temperature"
	InSeason  Likeness = "season"
)
