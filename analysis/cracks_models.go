package analysis

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat"
	"pourback/analysis/stat/survival"
)

// The ladder by the number of crack events: what may be asked of so few.
const (
	eventsForAny   = 5  // under this: counts, time watched, exact limits
	eventsForFirth = 20 // up to this: a prior and at most fewTerms covariates
	fewTerms       = 3
	eventsPerTerm  = 5 // above: one covariate for so many events
)

// priorSD is that of a log hazard ratio with few events: 0.38 to 2.7 times.
const priorSD = 0.5

// mostMissing is the share of slabs that may lack a covariate; past it the
// covariate is left out, and what it would have told apart is not told apart.
const mostMissing = 0.2

// CoxTerm is one covariate of the hazard model.
type CoxTerm struct {
	Term        string `json:"term"`
	HazardRatio Figure `json:"hazard_ratio"`
	P           Figure `json:"p"`
}

// PropHazards says whether one hazard ratio for all ages will do.
type PropHazards struct {
	P    Figure `json:"p"`
	Says string `json:"says"`
}

// LogRank is the test that groups share one hazard: as a figure its p.
type LogRank struct {
	Figure
	ChiSq  float64
	DF     int
	Groups int
}

// MarshalJSON adds chi_square, df, groups and p to the figure.
func (l LogRank) MarshalJSON() ([]byte, error) {
	b, err := l.Figure.MarshalJSON()
	if err != nil {
		return nil, err
	}
	b = appendNumber(append(b[:len(b)-1], `,"p":`...), l.Value, l.Known())
	b = appendNumber(append(b, `,"chi_square":`...), l.ChiSq, l.Known())
	b = strconv.AppendInt(append(b, `,"df":`...), int64(l.DF), 10)
	b = strconv.AppendInt(append(b, `,"groups":`...), int64(l.Groups), 10)
	return append(b, '}'), nil
}

func newLogRank(times []float64, event []bool, group, stratum []int) LogRank {
	t, err := survival.LogRankTest(times, event, group, stratum)
	if err != nil {
		return LogRank{Figure: unknown("%s", reason(err))}
	}
	return LogRank{Figure: total(t.P, len(times), "log-rank test, p"), ChiSq: t.ChiSq, DF: t.DF, Groups: t.DF + 1}
}

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
	terms = terms[:min(len(terms), mostTerms(m.events))]
	f := s.newFrame(terms, func(int) bool { return true })
	f.varying()
	f.stratum = s.baselines(f, base)
	if m.used = f.events; f.events < eventsForAny || len(f.x) == 0 {
		return m
	}
	f = f.fewer()
	fit, err := f.cox(penalty(f.events, len(f.x)))
	if err != nil {
		m.notes = append(m.notes, "The hazard model has no answer: "+reason(err)+".")
		return m
	}
	for j := range f.terms {
		m.terms = append(m.terms, coxTerm(fit, f, j, opt.Level))
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

// penalty is what the ladder asks of so many events.
func penalty(events, columns int) survival.CoxOptions {
	if events > eventsForFirth {
		return firth(events)
	}
	return shrunk(columns, priorSD)
}

func coxTerm(fit *survival.Cox, f *frame, j int, level float64) CoxTerm {
	t := CoxTerm{Term: f.terms[j].name}
	ratio, err := hazardRatio(fit, j, level, f.events)
	t.HazardRatio = estimated(ratio, err)
	switch {
	case err != nil:
		t.P = t.HazardRatio
	case f.events <= eventsForFirth:
		t.P = unknown("with so few cracks the ratio leans on a belief held before, and a p-value does not go with that")
	default:
		t.P = total(pOf(t.HazardRatio), f.events, "from the limits of the hazard ratio")
	}
	return t
}

// hazardRatio is a column's ratio with limits that fit the number of events:
// by profile where Firth's penalty is on. Slabs of one job go together: where
// that makes the error greater, the limits are widened by as much.
func hazardRatio(fit *survival.Cox, j int, level float64, events int) (stat.Estimate, error) {
	widen := math.Max(1, math.Sqrt(fit.Robust.At(j, j)/fit.Cov.At(j, j)))
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	ratio, err := fit.Wald(j, level)
	if err != nil {
		return ratio, err
	}
	b, half := fit.Coef[j], z*math.Sqrt(fit.Cov.At(j, j))
	low, high := b-half, b+half
	if events > eventsForFirth && events <= mostFirth {
		if ratio, err = fit.Profile(j, level); err != nil {
			return ratio, err
		}
		low, high = math.Log(ratio.Low), math.Log(ratio.High)
	}
	ratio.Low, ratio.High = math.Exp(b-widen*(b-low)), math.Exp(b+widen*(high-b))
	ratio.Method += ", by job"
	return ratio, nil
}

// pOf is the p of a ratio of 1 that goes with a ratio's limits.
func pOf(ratio Figure) float64 {
	b, near := math.Log(ratio.Value), math.Log(ratio.Low)
	if b < 0 {
		near = math.Log(ratio.High)
	}
	if b == 0 || math.IsInf(near, 0) {
		return 1
	}
	z := distuv.UnitNormal.Quantile((1+ratio.Level)/2) * math.Abs(b/(b-near))
	return 2 * distuv.UnitNormal.Survival(z)
}

// proportional tests, without penalties, whether the ratios hold at all ages.
func (f *frame) proportional() PropHazards {
	fit, err := f.cox(survival.CoxOptions{})
	if err == nil {
		var test *survival.PropHaz
		if test, err = fit.PropHazTest(nil); err == nil {
			return f.changing(test)
		}
	}
	return PropHazards{P: unknown("%s", reason(err)), Says: "Whether these ratios hold over a slab's whole age could not be checked."}
}

// changing puts the test in words; terms are named only where all of them
// together, and they themselves, change.
func (f *frame) changing(test *survival.PropHaz) PropHazards {
	const small = 0.05
	p := PropHazards{P: total(test.Global.P, f.events, "score test of proportional hazards (Grambsch & Therneau 1994), p"),
		Says: "Nothing says that these ratios change as slabs grow older."}
	if test.Global.P >= small {
		return p
	}
	p.Says = "These ratios change as slabs grow older: read them as an average over the time watched."
	worst := 0
	for j, t := range test.Term {
		if t.P < test.Term[worst].P {
			worst = j
		}
	}
	p.Says += " It shows most in " + f.terms[worst].name + "."
	return p
}
