package findings

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

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
	Rank     int
	Topic    string
	Sentence string
	Dollars  figure.Figure // a year: what it costs, or would bring
	Sure     float64       // probability that it is worth more than nothing
}

// Answers are the answers to all topics, in which findings are looked for.
type Answers struct {
	First          record.Date // of the pours
	Placements     int
	RecordsToCheck int // placements
	Level          float64

	Overage       *concrete.Overage
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
	sentence string
	worth    figure.Figure // dollars a year
	sure     float64
	explored bool
	p        float64
	reach    float64 // the share of worth that counts in the ranking
}

// gain is a candidate whose dollars are the difference of two ways, both seen
// in the records: what going the other way would bring.
func gain(topic, purse string, worth figure.Figure, sentence string) candidate {
	return candidate{topic: topic, purse: purse, sentence: sentence, worth: worth, sure: sureOf(worth), reach: 1}
}

// sum is a candidate whose dollars are what a thing costs or brings as a whole
// (waiting, callbacks, follow-on work). No change would move all of it, so it
// counts in the ranking by the part that is taken to be within reach: a
// judgment, no published source.
func sum(topic, purse string, worth figure.Figure, sentence string) candidate {
	c := gain(topic, purse, worth, sentence)
	c.reach = withinReach
	return c
}

// compared is a gain that was found by looking through groups.
func compared(c candidate, sure, p float64) candidate {
	c.sure, c.explored, c.p = sure, true, p
	return c
}

// rank is what candidates are ranked by.
func (c *candidate) rank() float64 { return c.worth.Value * c.sure * c.reach }

// findings are the facts most worth money as of the data date, and a sentence
// that says what they come to. Comparisons are screened together for chance
// finds (Benjamini & Hochberg 1995), and estimates of groups are those drawn
// towards the others; the ranking is by dollars within reach times certainty.
func Of(h *record.History, f *Answers, opt setting.Options) ([]Finding, string) {
	y := newLastYear(h, f, opt)
	if y.why != "" {
		return []Finding{}, y.why
	}
	var all []candidate
	for _, look := range []func(*lastYear) []candidate{
		concreteFindings, crewFindings, pumpFindings, delayFindings, callbackFindings, crackFindings, steelFindings,
		bridgeFindings, bidFindings, monthFindings, followOnFindings, unpricedFindings,
	} {
		all = append(all, look(y)...)
	}
	told := rankFindings(screen(all))
	if len(told) == 0 {
		return []Finding{}, fmt.Sprintf("Nothing stands out: no fact of the last twelve months (%s) is both worth %s a year and sure enough to act on.",
			figure.CountOf(len(y.rows), "placement"), figure.DollarWords(LeastWorth))
	}
	s := "Most worth money now: " + told[0].Sentence
	if n := f.RecordsToCheck; n > 0 {
		s += fmt.Sprintf(" And %s hold values worth a second look.", figure.CountOf(n, "record"))
	}
	return told, s
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

// rankFindings puts the most dollars times certainty first, and tells of each
// purse once.
func rankFindings(kept []candidate) []Finding {
	slices.SortStableFunc(kept, func(a, b candidate) int {
		return cmp.Or(cmp.Compare(b.rank(), a.rank()), cmp.Compare(a.sentence, b.sentence))
	})
	told, purses := []Finding{}, map[string]bool{}
	for _, c := range kept {
		if purses[c.purse] || len(told) == MostFindings {
			continue
		}
		purses[c.purse] = true
		told = append(told, Finding{Rank: len(told) + 1, Topic: c.topic, Sentence: c.sentence, Dollars: c.worth, Sure: c.sure})
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

// MarshalJSON writes the rank, topic and sentence with their evidence.
func (f Finding) MarshalJSON() ([]byte, error) {
	b := strconv.AppendInt([]byte(`{"rank":`), int64(f.Rank), 10)
	b = figure.AppendString(append(b, `,"topic":`...), f.Topic)
	b = figure.AppendString(append(b, `,"sentence":`...), f.Sentence)
	d := f.Dollars
	b = figure.AppendNumber(append(b, `,"dollars_per_year":`...), d.Value, d.OK)
	b = figure.AppendNumber(append(b, `,"low":`...), d.Low, d.OK && d.Bounded)
	b = figure.AppendNumber(append(b, `,"high":`...), d.High, d.OK && d.Bounded)
	b = figure.AppendNumber(append(b, `,"level":`...), d.Level, d.OK && d.Bounded)
	b = figure.AppendNumber(append(b, `,"probability":`...), f.Sure, true)
	b = strconv.AppendInt(append(b, `,"n":`...), int64(d.N), 10)
	b = figure.AppendString(append(b, `,"method":`...), d.Method)
	return append(b, '}'), nil
}
