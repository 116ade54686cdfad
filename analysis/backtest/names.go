package backtest

import "pourback/analysis/figure"

// Name is a rule of ordering.
type Name string

// The rules, ours first.
const (
	Factors   Name = "factors"    // the order of least expected cost by these factors
	Flat5     Name = "flat_5"     // neat volume and 5 %
	Flat10    Name = "flat_10"    // and 10 %
	Flat15    Name = "flat_15"    // and 15 %
	LastYear  Name = "last_year"  // neat volume times all used over all neat of the twelve months before
	P75       Name = "p75"        // neat volume times the ratio that three of four earlier placements stayed under
	NoPooling Name = "no_pooling" // least expected cost by the earlier placements of the same use and method alone
	AsOrdered Name = "as_ordered" // what was carried in the bid or ordered first
)

// Verdict says which of a rule and the factors loses less.
type Verdict string

// The verdicts; "" where there are too few months for one.
const (
	FactorsBetter Verdict = "factors"
	RuleBetter    Verdict = "rule"
	AsGood        Verdict = "as good" // the range of the difference holds 0
)

// Why a figure of a backtest is not known.
type (
	TheseAreOurs struct{ figure.Because } // nothing to compare them with
	TooShort     struct {                 // placements that tell their yards, or their hours
		figure.Because
		N, Least int
		Hours    bool
	}
)

// Find is a rule by its name, nil where it had no order.
func (b *Backtest) Find(name Name) *Rule {
	for i := range b.Rules {
		if b.Rules[i].Rule == name {
			return &b.Rules[i]
		}
	}
	return nil
}

// Rivals are the simple rules that are as good as the factors or better, beside
// the flat tenth, to which the factors are held first.
func (b *Backtest) Rivals() (all []Rule) {
	for _, r := range b.Rules {
		if r.Rule != Factors && r.Rule != Flat10 && (r.Verdict == AsGood || r.Verdict == RuleBetter) {
			all = append(all, r)
		}
	}
	return all
}
