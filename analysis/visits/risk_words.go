package visits

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
)

// RiskModel says how the chance of a coming callback was reckoned.
type RiskModel struct {
	Events  int           `json:"events"`  // crack callbacks
	Terms   []string      `json:"terms"`   // what slabs are told apart by
	Cracked figure.Figure `json:"cracked"` // callbacks in 100 placement-years after a crack was seen
	Quiet   figure.Figure `json:"quiet"`   // of slabs that nobody has called about
	Again   figure.Figure `json:"again"`   // after a repair
	Says    string        `json:"says"`
}

// mostFor is what raises slab i's risk the most, in a word or two, "" where
// nothing does, or where its coefficient lies within a standard error of none:
// then a coin might have chosen its sign, and a reason that may be the wrong way
// round is none.
func (r *callRisk) mostFor(i int) string {
	words, most := "", math.Log(1.1)
	for j := range r.terms {
		from, log := r.apart(j, i)
		if log <= most {
			continue
		}
		words, most = "", log
		if r.coef[j]*r.coef[j] >= r.cov.At(j, j) {
			words = termWords(r.terms[j].Name, from > 0)
		}
	}
	return words
}

// termWords says a covariate that lies above its mean, or below it.
func termWords(term string, above bool) string {
	for _, t := range []struct{ begins, above, below string }{
		{"air temperature", "the heat", "the cold"},
		{"joint spacing", "wide joints", "close joints"},
		{"evaporation", "fast drying", "slow drying"},
		{"cured", "having been cured", "lack of curing"},
		{"saw delay", "a late saw", "an early saw"},
	} {
		if strings.HasPrefix(term, t.begins) {
			if above {
				return t.above
			}
			return t.below
		}
	}
	first, second, _ := strings.Cut(term, " against ")
	if above || second == "" {
		return first
	}
	return second
}

// model describes the risk in figures and words.
func (r *callRisk) model(level float64) RiskModel {
	m := RiskModel{Events: r.events, Terms: []string{}}
	for _, t := range r.terms {
		m.Terms = append(m.Terms, t.Name)
	}
	per100 := func(s state, g gammaRate, to string) figure.Figure {
		law := distuv.Gamma{Alpha: g.shape, Beta: g.days / cracks.DaysPerYear / 100}
		return figure.Figure{Value: law.Mean(), Low: law.Quantile((1 - level) / 2), High: law.Quantile((1 + level) / 2), Level: level, N: int(r.counts[s][0]),
			Method: "gamma posterior, prior worth one callback at " + to, Bounded: true, OK: true}
	}
	const all = "the rate of all slabs"
	m.Quiet = per100(quiet, r.overall(), "the usual rate")
	m.Cracked, m.Again = per100(cracked, r.state[cracked], all), per100(repaired, r.state[repaired], all)
	switch {
	case r.events == 0:
		m.Says = fmt.Sprintf("No crack callback is on record yet: the chances are mostly the usual ones, %s in 100 slabs a year (common practice, no published source).", fmt.Sprintf("%.3g", 100*r.usual))
	case r.events < cracks.EventsForAny:
		m.Says = fmt.Sprintf("The records hold %s: too few to tell slabs apart, so all of an age share one chance.", figure.CountOf(r.events, "crack callback"))
	case len(r.terms) == 0:
		m.Says = fmt.Sprintf("From %s: too little else is recorded to tell slabs apart, so all of an age share one chance.", figure.CountOf(r.events, "crack callback"))
	default:
		m.Says = fmt.Sprintf("From %s: slabs are told apart by %s.", figure.CountOf(r.events, "crack callback"), listWords(shortNames(m.Terms)))
	}
	return m
}

// shortNames are the terms without their units.
func shortNames(terms []string) []string {
	out := make([]string, len(terms))
	for i, t := range terms {
		out[i], _, _ = strings.Cut(t, ",")
	}
	return out
}

// listWords joins words as a sentence does: "a, b and c".
func listWords(words []string) string {
	switch n := len(words); n {
	case 0:
		return "nothing"
	case 1:
		return words[0]
	default:
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
}
