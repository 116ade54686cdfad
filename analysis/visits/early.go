package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// EarlySigns are the pours of the last full month and of this one that lie
// outside a guide, each with what such pours did before.
type EarlySigns struct {
	From   figure.Day  `json:"from"`  // the first day of the month before this one
	Pours  int         `json:"pours"` // since then
	Signs  []EarlySign `json:"signs"`
	Listed []EarlyPour `json:"listed"` // pours with a sign, those with signs that went with callbacks here first, then those with most signs

	First *EarlyPour `json:"-"` // of the listed, the one to look at first; nil where none is worth a worry
	Told  int        `json:"-"` // pours since then of which anything is recorded that could show a sign
	Worse []SignCode `json:"-"` // signs that went with more callbacks here than chance makes
}

// EarlySign is one way to go wrong and the company's own record of it, from
// pours before the ones that are listed.
type EarlySign struct {
	Sign     SignCode      `json:"sign"`
	Recorded int           `json:"recorded"` // earlier pours whose records can tell
	With     SignRecord    `json:"with"`
	Without  SignRecord    `json:"without"`
	Alike    figure.Figure `json:"alike"` // p of a test that pours with it and without share one rate
	Worse    bool          `json:"worse"` // pours with it were called back more than chance makes
	Now      int           `json:"now"`   // of the listed
	Stands   SignStand     `json:"-"`
}

// SignStand is what the company's own record says of a sign.
type SignStand string

// What a record can say of a sign.
const (
	SignUnrecorded SignStand = "not recorded"       // no earlier pour can tell
	SignFew        SignStand = "too few"            // earlier pours with it
	SignAlone      SignStand = "too few to compare" // with those without it
	SignWorse      SignStand = "worse"              // more callbacks than chance makes
	SignByChance   SignStand = "by chance"          // chance may make the difference
)

// SignRecord is what pours with a sign, or without it, did.
type SignRecord struct {
	Placements int           `json:"placements"`
	Callbacks  int           `json:"callbacks"` // placements called back, for anything
	Share      figure.Figure `json:"share"`
	Rate       figure.Figure `json:"rate_per_100_placement_years"` // which allows for how long each was watched

	years float64 // watched
}

// EarlyPour is one pour with its signs.
type EarlyPour struct {
	JobNo     string        `json:"job_no"`
	Placement string        `json:"placement"`
	Site      string        `json:"site,omitempty"`
	PlacedOn  figure.Day    `json:"placed_on"`
	Chance    figure.Figure `json:"chance"` // of a callback in the days to come
	Worth     figure.Figure `json:"worth"`
	Signs     []Sign        `json:"-"`
	Before    []SignBefore  `json:"-"` // what earlier pours with each of them did

	of    []int // which of the signs
	worse int   // of them, those that went with more callbacks than chance makes
	risky bool  // its risk is well above the usual
}

// worry says whether there is a reason to look at a pour first: a sign that went
// with more callbacks here, a risk well above the usual, or at stake what a drive
// costs.
func (p *EarlyPour) worry(drive float64) bool {
	return p.worse > 0 || p.risky || drive > 0 && p.Worth.Value >= drive
}

// SignBefore is what earlier pours with a sign did.
type SignBefore struct {
	Code                  SignCode
	Told                  bool // they are enough to say
	Placements, Callbacks int
}

func (a *after) earlySigns() EarlySigns {
	e := EarlySigns{Signs: []EarlySign{}, Listed: []EarlyPour{}, From: figure.Day{Date: monthStart(monthStart(a.h.AsOf) - 1)}}
	listed := map[int]*EarlyPour{}
	recent := 0
	for i := range a.h.Placements.Len() {
		recent += int(cracks.Indicator(a.h.Placements.At(i).PlacedOn() >= e.From.Date))
	}
	e.Pours = recent
	told := map[int]bool{} // pours of which any sign could be told
	for k, c := range a.checks() {
		e.Signs = append(e.Signs, a.holdSign(k, c, e.From.Date, listed, told))
	}
	e.Told = len(told)
	judge(e.Signs)
	for k := range e.Signs {
		if s := &e.Signs[k]; s.Worse {
			e.Worse = append(e.Worse, s.Sign)
		}
	}
	for _, p := range listed {
		p.record(e.Signs)
		e.Listed = append(e.Listed, *p)
	}
	slices.SortFunc(e.Listed, func(x, y EarlyPour) int {
		return cmp.Or(cmp.Compare(y.worse, x.worse), cmp.Compare(len(y.of), len(x.of)), cmp.Compare(y.Worth.Value, x.Worth.Value),
			cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement))
	})
	for i := range e.Listed {
		if p := &e.Listed[i]; e.First == nil && p.worry(a.drive) {
			e.First = p
		}
	}
	return e
}

// holdSign counts what earlier pours with and without the sign did, and lists
// those of the last months that have it, and those that could tell.
func (a *after) holdSign(k int, c check, from record.Date, listed map[int]*EarlyPour, told map[int]bool) EarlySign {
	out := EarlySign{Sign: c.code}
	var tally [2]signTally
	for i := range a.h.Placements.Len() {
		found := c.look(i)
		if !found.known {
			continue
		}
		if a.h.Placements.At(i).PlacedOn() < from {
			out.Recorded++
			tally[int(cracks.Indicator(found.outside))].add(a, i)
			continue
		}
		if told[i] = true; found.outside {
			out.Now++
			if listed[i] == nil {
				listed[i] = a.earlyPour(i)
			}
			listed[i].Signs, listed[i].of = append(listed[i].Signs, found.Sign), append(listed[i].of, k)
		}
	}
	out.With, out.Without = tally[1].record(a.level), tally[0].record(a.level)
	return out
}

// judge tells the signs with which more callbacks went than chance makes, with
// all signs looked at.
func judge(signs []EarlySign) {
	var at []int
	var ps []float64
	for k := range signs {
		s := &signs[k]
		if s.Alike = figure.Unknown(FewPoursBeside{}); s.With.Rate.Known() && s.Without.Rate.Known() {
			s.Alike = oneRate([]interval.Rate{{Events: s.With.Callbacks, Exposure: s.With.years}, {Events: s.Without.Callbacks, Exposure: s.Without.years}})
		}
		if s.Alike.Known() {
			at, ps = append(at, k), append(ps, s.Alike.Value)
		}
	}
	adjusted, _ := score.BenjaminiHochberg(ps)
	for j, k := range at {
		s := &signs[k]
		s.Worse = j < len(adjusted) && adjusted[j] <= cracks.FalseFinds && s.With.Rate.Value > s.Without.Rate.Value
	}
	for k := range signs {
		signs[k].Stands = signs[k].stands()
	}
}

func (a *after) earlyPour(i int) *EarlyPour {
	p := a.h.Placements.At(i)
	e := &EarlyPour{JobNo: p.JobNo(), Placement: p.Placement(), Site: a.site(i), PlacedOn: figure.Day{Date: p.PlacedOn()}, risky: a.atRisk(i)}
	e.Chance, e.Worth = a.ahead(i)
	return e
}

// record says what earlier pours with the same signs did, sign by sign.
func (p *EarlyPour) record(signs []EarlySign) {
	for _, k := range p.of {
		s := &signs[k]
		p.worse += int(cracks.Indicator(s.Worse))
		p.Before = append(p.Before, SignBefore{s.Sign, s.With.Share.Known(), s.With.Placements, s.With.Callbacks})
	}
}

// signTally adds up pours and the days to their first callback.
type signTally struct {
	placements, called int
	days               float64
}

func (t *signTally) add(a *after, i int) {
	t.placements++
	until := a.h.AsOf
	if calls := a.callsOf(i); len(calls) > 0 {
		t.called++
		until = calls[0].on
	}
	t.days += float64(until - a.h.Placements.At(i).PlacedOn())
}

func (t *signTally) record(level float64) SignRecord {
	r := SignRecord{Placements: t.placements, Callbacks: t.called, years: t.days / cracks.DaysPerYear}
	if t.placements < figure.LeastForRate {
		r.Share = figure.Unknown(FewPours{N: t.placements})
		r.Rate = r.Share
		return r
	}
	r.Share = figure.Estimated(interval.Wilson(t.called, t.placements, level))
	if r.Rate = figure.Unknown(NotWatchedYet{}); t.days > 0 {
		r.Rate = cracks.Garwood(t.called, t.days, level)
	}
	return r
}

// stands says what the record of a sign comes to.
func (e *EarlySign) stands() SignStand {
	switch {
	case e.Recorded == 0:
		return SignUnrecorded
	case e.With.Placements < figure.LeastForRate:
		return SignFew
	case !e.Alike.Known():
		return SignAlone
	case e.Worse:
		return SignWorse
	}
	return SignByChance
}
