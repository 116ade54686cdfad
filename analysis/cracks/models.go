package cracks

import (
	"cmp"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
)

// The ladder by the number of crack events: what may be asked of so few.
const (
	EventsForAny   = 5  // under this: counts, time watched, exact limits
	EventsForFirth = 20 // up to this: a prior and at most fewTerms covariates
	fewTerms       = 3
	eventsPerTerm  = 5 // above: one covariate for so many events
)

// mostMissing is the share of slabs that may lack a covariate; past it the
// covariate is left out, and what it would have told apart is not told apart.
const mostMissing = 0.2

// MostTerms is how many covariates so many events bear.
func MostTerms(events int) int {
	switch {
	case events < EventsForAny:
		return 0
	case events <= EventsForFirth:
		return fewTerms
	}
	return events / eventsPerTerm
}

// CrackModel is the hazard model of all slabs.
type CrackModel struct {
	terms  []CoxTerm
	ph     PropHazards
	events int      // slabs with a crack, whether or not they could be used
	used   int      // of them in the model
	lead   *CoxTerm // the clearest of the terms
	out    []LeftOut
	failed figure.Reason // why the model has no answer
}

// crackModel fits as many covariates as the events bear, the most telling
// first. A reinforcement without a term of its own has a baseline of its own.
func (s *Slabs) crackModel(opt setting.Options) CrackModel {
	m := CrackModel{terms: []CoxTerm{}}
	for _, e := range s.First {
		if e {
			m.events++
		}
	}
	m.ph = PropHazards{P: figure.Unknown(TooFewCracks{N: m.events, Within: ToSeeAge}), Ratios: TooFewToCheck}
	if m.events < EventsForAny {
		return m
	}
	if m.events > EventsForFirth {
		m.ph = PropHazards{P: figure.Unknown(NoHazardModel{}), Ratios: NoRatios}
	}
	base, terms := s.Candidates(&m)
	f := s.NewFrame(terms, s.Watches)
	f.Cut(MostTerms(f.Events))
	f.Stratum = s.Baselines(f, base)
	if m.used = f.Events; f.Events < EventsForAny || len(f.X) == 0 {
		return m
	}
	f = f.Fewer()
	var err error
	if m.terms, err = s.fitTerms(f, opt.Level); err != nil {
		m.terms, m.failed = []CoxTerm{}, figure.ReasonOf(err)
		return m
	}
	m.lead = f.clearest(m.terms)
	switch {
	case f.Events <= EventsForFirth:
	case s.Event == setting.EventSeen:
		m.ph = PropHazards{P: figure.Unknown(NotCheckedOfLooks{}), Ratios: NotChecked}
	default:
		m.ph = f.proportional()
	}
	return m
}

// fitTerms fits the frame as its event asks.
func (s *Slabs) fitTerms(f *Frame, level float64) ([]CoxTerm, error) {
	if s.Event == setting.EventSeen {
		return s.LookedTerms(f, setting.PriorSD, level)
	}
	fit, o, err := f.Fit(setting.PriorSD)
	if err != nil {
		return nil, err
	}
	terms := make([]CoxTerm, len(f.Terms))
	for j := range terms {
		terms[j] = coxTerm(fit, f, j, level, o.Firth)
	}
	return terms, nil
}

// Candidates are the terms in the order of their worth, and the reinforcement
// against which the others are held, −1 where none is.
func (s *Slabs) Candidates(m *CrackModel) (base int, terms []Term) {
	add := func(t Term, mend func(Term) Term) {
		if share := s.unrecorded(t, func(int) bool { return true }); share > mostMissing {
			m.out = append(m.out, LeftOut{Term: t.Covariate, Lacking: share})
			return
		}
		terms = append(terms, mend(t))
	}
	whole := func(t Term) Term { return t } // heat and spacing go with everything: slabs without them are left out
	add(s.Heat(), whole)
	add(s.Spacing(), whole)
	base, others := s.heldAgainst()
	steel := 0
	for _, code := range others {
		if why := s.CannotTell(code, base, s.Steel.Names[code], s.Steel.Names[base]); why != nil {
			m.out = append(m.out, LeftOut{Term: s.made(code, base).Covariate, Why: why})
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
func (s *Slabs) heldAgainst() (base int, others []int) {
	count := make([]int, len(s.Steel.Names))
	for _, c := range s.Steel.Code {
		count[c]++
	}
	for c, name := range s.Steel.Names {
		if count[c] >= figure.LeastForRate && name != "unknown" {
			others = append(others, c)
		}
	}
	if len(others) == 0 {
		return -1, nil
	}
	isSteel := func(c int) int { return int(Indicator(s.Steel.Names[c] == "mesh" || s.Steel.Names[c] == "rebar")) }
	slices.SortStableFunc(others, func(a, b int) int {
		return cmp.Or(isSteel(b)-isSteel(a), count[b]-count[a])
	})
	return others[0], others[1:]
}

// Baselines gives slabs whose reinforcement has no term a baseline of their own.
func (s *Slabs) Baselines(f *Frame, base int) []int {
	own := make([]int, len(s.Steel.Names))
	for c := range own {
		own[c] = c + 1
	}
	if base >= 0 {
		own[base] = 0
	}
	for _, t := range f.Terms {
		if t.Steel >= 0 {
			own[t.Steel] = 0
		}
	}
	strata := make([]int, len(f.Row))
	for k, i := range f.Row {
		strata[k] = own[s.Steel.Code[i]]
	}
	return strata
}
