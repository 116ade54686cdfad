package findings

import (
	"cmp"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/backtest"
	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/stat/score"
	"pourback/analysis/steel"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Finding is one of the facts most worth money now.
type Finding struct {
	Rank    int
	Topic   string
	Told    Fact
	Dollars figure.Figure // a year: what it costs, or would bring
	Sure    float64       // probability that it is worth more than nothing
	Reach   float64       // the share of the dollars that a change could move: all of a gain, a quarter of a sum
}

// Within is what a change could bring a year. Findings stand in the order of it
// times Sure.
func (f *Finding) Within() float64 { return f.Reach * f.Dollars.Value }

// Outcome is what came of looking for findings.
type Outcome struct {
	Verdict    Verdict
	Days       int // that the records cover, of the last year
	Placements int // of the last twelve months
	ToCheck    int // records that hold values worth a second look
}

// Verdict is whether there are findings, or why not.
type Verdict string

// The verdicts.
const (
	SomethingStandsOut Verdict = "something stands out"
	NothingStandsOut   Verdict = "nothing stands out"
	NoRecords          Verdict = "no records"
	TooShort           Verdict = "too short" // fewer than LeastDays
	TooFew             Verdict = "too few"   // placements in the last twelve months
)

// Answers are the answers to all topics, in which findings are looked for.
type Answers struct {
	First          record.Date // of the pours
	Placements     int
	RecordsToCheck int // placements
	Level          float64

	Overage       *concrete.Overage
	AsOrdered     *backtest.Rule // orders as they were made, in the backtest; nil where the past is too short
	Crews         []work.Crew
	Pump          *work.Pump
	Cracks        *cracks.Cracks
	Reinforcement *steel.Reinforcement
	Margin        *money.Margin
}

const (
	MostFindings = 5
	LeastWorth   = 250  // dollars a year under which nobody need read of it
	LeastSure    = 0.90 // probability under which a finding is not told
	falseShare   = 0.10 // of the comparisons told, the share that may be chance
	withinReach  = 0.25 // of a sum, for ranking
)

// candidate is a fact that may be told. What came of looking through several
// groups for one that stands out bears the p-value of its comparison, also
// where it is worth nothing: it was looked at all the same.
type candidate struct {
	topic    string
	purse    string // facts about the same money share it, and one of them is told
	told     Fact
	worth    figure.Figure // dollars a year
	sure     float64
	explored bool
	p        float64
	reach    float64 // the share of worth that counts in the ranking
	booked   bool    // worth is a sum of the last twelve months and no estimate: its range only says how sure another year like it is
}

// gain is a candidate whose dollars are the difference of two ways, both seen
// in the records: what going the other way would bring.
func gain(topic, purse string, worth figure.Figure, told Fact) candidate {
	return candidate{topic: topic, purse: purse, told: told, worth: worth, sure: sureOf(worth), reach: 1}
}

// sum is a candidate whose dollars are what a thing costs or brings as a whole
// (waiting, callbacks, follow-on work). No change would move all of it, so it
// counts in the ranking by the part that is taken to be within reach: a
// judgment, no published source.
func sum(topic, purse string, worth figure.Figure, told Fact) candidate {
	c := gain(topic, purse, worth, told)
	c.reach = withinReach
	return c
}

// asBooked is a candidate whose dollars are those of the last twelve months, where
// the records cover as many.
func (y *lastYear) asBooked(c candidate) candidate {
	c.booked = y.scale == 1
	return c
}

// compared is a gain that was found by looking through groups.
func compared(c candidate, sure, p float64) candidate {
	c.sure, c.explored, c.p = sure, true, p
	return c
}

// rank is what candidates are ranked by.
func (c *candidate) rank() float64 { return c.worth.Value * c.sure * c.reach }

// shown are its dollars, with a range only where they are an estimate.
func (c *candidate) shown() figure.Figure {
	if c.booked {
		return figure.Total(c.worth.Value, c.worth.N, "sum of the last twelve months")
	}
	return c.worth
}

// Of are the facts most worth money as of the data date, and what came of
// looking for them. Comparisons are screened together for chance finds
// (Benjamini & Hochberg 1995), and estimates of groups are those drawn towards
// the others; the ranking is by dollars within reach times certainty.
func Of(h *record.History, f *Answers, opt setting.Options) ([]Finding, Outcome) {
	y := newLastYear(h, f, opt)
	out := Outcome{Verdict: y.verdict, Days: y.days, Placements: len(y.rows), ToCheck: f.RecordsToCheck}
	if y.verdict != "" {
		return []Finding{}, out
	}
	var all []candidate
	for _, look := range []func(*lastYear) []candidate{
		concreteFindings, crewFindings, pumpFindings, delayFindings, callbackFindings, crackFindings, steelFindings,
		bridgeFindings, bidFindings, monthFindings, followOnFindings, unpricedFindings,
	} {
		all = append(all, look(y)...)
	}
	told := rankFindings(screen(all))
	out.Verdict = SomethingStandsOut
	if len(told) == 0 {
		out.Verdict = NothingStandsOut
	}
	return told, out
}

// screen leaves out what is worth too little, what is not sure enough, and what
// chance throws up among so many comparisons.
func screen(all []candidate) []candidate {
	var explored []int
	var ps []float64
	for i, c := range all {
		if c.explored {
			explored, ps = append(explored, i), append(ps, c.p)
		}
	}
	chance := make([]bool, len(all))
	if adjusted, err := score.BenjaminiHochberg(ps); err == nil {
		for k, i := range explored {
			chance[i] = adjusted[k] > falseShare
		}
	}
	var kept []candidate
	for i, c := range all {
		if !chance[i] && c.worth.Known() && c.worth.Value >= LeastWorth && c.sure >= LeastSure && !math.IsInf(c.worth.Value, 0) {
			kept = append(kept, c)
		}
	}
	return kept
}

// rankFindings puts the most dollars times certainty first, of the same those
// of the earlier kind and subject, and tells of each purse once.
func rankFindings(kept []candidate) []Finding {
	slices.SortStableFunc(kept, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.rank(), a.rank()), cmp.Compare(a.told.Kind(), b.told.Kind()), cmp.Compare(a.told.Subject(), b.told.Subject()))
	})
	told, purses := []Finding{}, map[string]bool{}
	for _, c := range kept {
		if purses[c.purse] || len(told) == MostFindings {
			continue
		}
		purses[c.purse] = true
		told = append(told, Finding{Rank: len(told) + 1, Topic: c.topic, Told: c.told, Dollars: c.shown(), Sure: c.sure, Reach: c.reach})
	}
	return told
}

// sureOf is the probability that a figure is above zero, taking its interval
// for a normal one.
func sureOf(f figure.Figure) float64 {
	if !f.Known() || !f.Bounded || !(f.High > f.Low) {
		return 1
	}
	sd := (f.High - f.Low) / (2 * distuv.UnitNormal.Quantile((1+f.Level)/2))
	return distuv.UnitNormal.CDF(f.Value / sd)
}
