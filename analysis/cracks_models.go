package analysis

import (
	"cmp"
	"fmt"
	"slices"
)

// The ladder by the number of crack events: what may be asked of so few.
const (
	eventsForAny   = 5  // under this: counts, time watched, exact limits
	eventsForFirth = 20 // up to this: a prior and at most fewTerms covariates
	fewTerms       = 3
	eventsPerTerm  = 5 // above: one covariate for so many events
)

// mostMissing is the share of slabs that may lack a covariate; past it the
// covariate is left out, and what it would have told apart is not told apart.
const mostMissing = 0.2

// mostTerms is how many covariates so many events bear.
func mostTerms(events int) int {
	switch {
	case events < eventsForAny:
		return 0
	case events <= eventsForFirth:
		return fewTerms
	}
	return events / eventsPerTerm
}

// crackModel is the hazard model of all slabs.
type crackModel struct {
	terms  []CoxTerm
	ph     PropHazards
	events int    // slabs with a crack, whether or not they could be used
	used   int    // of them in the model
	lead   string // what the clearest of the terms says to do
	notes  []string
}

// crackModel fits as many covariates as the events bear, the most telling
// first. A reinforcement without a term of its own has a baseline of its own.
func (s *slabs) crackModel(opt Options) crackModel {
	m := crackModel{terms: []CoxTerm{}}
	for _, e := range s.first {
		if e {
			m.events++
		}
	}
	m.ph = PropHazards{P: unknown("%s: too few to see a change with age", countOf(m.events, "crack event")),
		Says: "Too few cracks to say whether these ratios hold over a slab's whole age."}
	if m.events < eventsForAny {
		return m
	}
	if m.events > eventsForFirth {
		m.ph = PropHazards{P: unknown("no hazard model"), Says: "Too little is recorded of these slabs for a hazard model."}
	}
	base, terms := s.candidates(&m)
	f := s.newFrame(terms, func(int) bool { return true })
	f.cut(mostTerms(f.events))
	f.stratum = s.baselines(f, base)
	if m.used = f.events; f.events < eventsForAny || len(f.x) == 0 {
		return m
	}
	f = f.fewer()
	fit, o, err := f.fit(priorSD)
	if err != nil {
		m.notes = append(m.notes, "The hazard model has no answer: "+reason(err)+".")
		return m
	}
	for j := range f.terms {
		m.terms = append(m.terms, coxTerm(fit, f, j, opt.Level, o.Firth))
	}
	m.lead = f.clearest(m.terms)
	if f.events > eventsForFirth {
		m.ph = f.proportional()
	}
	return m
}

// candidates are the terms in the order of their worth, and the reinforcement
// against which the others are held, −1 where none is.
func (s *slabs) candidates(m *crackModel) (base int, terms []term) {
	add := func(t term, mend func(term) term) {
		if share := s.unrecorded(t, func(int) bool { return true }); share > mostMissing {
			m.notes = append(m.notes, fmt.Sprintf("Not in the hazard model, for want of records on %.0f in 100 slabs: %s.", 100*share, t.name))
			return
		}
		terms = append(terms, mend(t))
	}
	whole := func(t term) term { return t } // heat and spacing go with everything: slabs without them are left out
	add(s.heat(), whole)
	add(s.spacing(), whole)
	base, others := s.heldAgainst()
	steel := 0
	for _, code := range others {
		if why := s.cannotTell(code, base, s.steel.names[code], s.steel.names[base]); why != "" {
			m.notes = append(m.notes, fmt.Sprintf("Not in the hazard model: %s against %s. %s.", s.steel.names[code], s.steel.names[base], why))
			continue
		}
		terms = append(terms, s.made(code, base))
		if steel++; steel == 1 {
			add(s.cured(), s.orMean)
			add(s.dried(), s.orMean)
		}
	}
	if steel == 0 {
		add(s.cured(), s.orMean)
		add(s.dried(), s.orMean)
	}
	return base, append(terms, s.orMean(s.sawn())) // many slabs are not sawn at all
}

// heldAgainst is the more common of mesh and rebar, or else the most common
// reinforcement, and the others of which there are enough to say anything, the
// other steel first and then by their number.
func (s *slabs) heldAgainst() (base int, others []int) {
	count := make([]int, len(s.steel.names))
	for _, c := range s.steel.code {
		count[c]++
	}
	for c, name := range s.steel.names {
		if count[c] >= leastForRate && name != "unknown" {
			others = append(others, c)
		}
	}
	if len(others) == 0 {
		return -1, nil
	}
	isSteel := func(c int) int { return int(indicator(s.steel.names[c] == "mesh" || s.steel.names[c] == "rebar")) }
	slices.SortStableFunc(others, func(a, b int) int {
		return cmp.Or(isSteel(b)-isSteel(a), count[b]-count[a])
	})
	return others[0], others[1:]
}

// baselines gives slabs whose reinforcement has no term a baseline of their own.
func (s *slabs) baselines(f *frame, base int) []int {
	own := make([]int, len(s.steel.names))
	for c := range own {
		own[c] = c + 1
	}
	if base >= 0 {
		own[base] = 0
	}
	for _, t := range f.terms {
		if t.steel >= 0 {
			own[t.steel] = 0
		}
	}
	strata := make([]int, len(f.row))
	for k, i := range f.row {
		strata[k] = own[s.steel.code[i]]
	}
	return strata
}
