package visits

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/score"
	"pourback/ingest/record"
)

// EarlySigns are the pours of the last full month and of this one that went
// wrong in a way the record shows, each with what such pours did before.
type EarlySigns struct {
	Answer string      `json:"answer"`
	From   figure.Day  `json:"from"`  // the first day of the month before this one
	Pours  int         `json:"pours"` // since then
	Signs  []EarlySign `json:"signs"`
	Listed []EarlyPour `json:"listed"` // pours with a sign, those with signs that went with callbacks here first, then those with most signs
	Notes  []string    `json:"notes"`

	told int // pours since then of which anything is recorded that could show a sign
}

// EarlySign is one way to go wrong and the company's own record of it, from
// pours before the ones that are listed.
type EarlySign struct {
	Sign     string        `json:"sign"`
	Limit    string        `json:"limit"`    // with its source
	Recorded int           `json:"recorded"` // earlier pours whose records can tell
	With     SignRecord    `json:"with"`
	Without  SignRecord    `json:"without"`
	Says     string        `json:"says"`
	Alike    figure.Figure `json:"alike"` // p of a test that pours with it and without share one rate
	Worse    bool          `json:"worse"` // pours with it were called back more than chance makes
	Now      int           `json:"now"`   // of the listed
}

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
	Signs     []string      `json:"signs"`  // what, how much, beside its limit
	Did       string        `json:"did"`    // what earlier pours with those signs did
	Chance    figure.Figure `json:"chance"` // of a callback in the days to come
	Worth     figure.Figure `json:"worth"`

	of    []int // which of the signs
	worse int   // of them, those that went with more callbacks than chance makes
}

func (a *after) earlySigns() EarlySigns {
	e := EarlySigns{Signs: []EarlySign{}, Listed: []EarlyPour{}, From: figure.Day{Date: monthStart(monthStart(a.h.AsOf) - 1)}}
	listed := map[int]*EarlyPour{}
	recent := 0
	for i := range a.h.Placements {
		recent += int(cracks.Indicator(a.h.Placements[i].PlacedOn >= e.From.Date))
	}
	e.Pours = recent
	told := map[int]bool{} // pours of which any sign could be told
	for k, s := range a.signs() {
		e.Signs = append(e.Signs, a.holdSign(k, s, e.From.Date, listed, told))
	}
	e.told = len(told)
	judge(e.Signs)
	for _, p := range listed {
		p.record(e.Signs)
		e.Listed = append(e.Listed, *p)
	}
	slices.SortFunc(e.Listed, func(x, y EarlyPour) int {
		return cmp.Or(cmp.Compare(y.worse, x.worse), cmp.Compare(len(y.of), len(x.of)), cmp.Compare(y.Worth.Value, x.Worth.Value),
			cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement))
	})
	e.Notes = []string{
		"A sign says what went against a guide, not that the slab will crack. What such pours did before may be the doing of what went with them: hot pours, one crew, one soil.",
		"“Too few to say” stands where fewer than 5 earlier pours had the sign, and no comparison where there were fewer than 3 callbacks.",
	}
	e.Answer = e.answer()
	return e
}

// holdSign counts what earlier pours with and without the sign did, and lists
// those of the last months that have it, and those that could tell.
func (a *after) holdSign(k int, s sign, from record.Date, listed map[int]*EarlyPour, told map[int]bool) EarlySign {
	out := EarlySign{Sign: s.name, Limit: s.limit}
	var tally [2]signTally
	for i := range a.h.Placements {
		known, wrong, says := s.look(i)
		if !known {
			continue
		}
		if a.h.Placements[i].PlacedOn < from {
			out.Recorded++
			tally[int(cracks.Indicator(wrong))].add(a, i)
			continue
		}
		if told[i] = true; wrong {
			out.Now++
			if listed[i] == nil {
				listed[i] = a.earlyPour(i)
			}
			listed[i].Signs, listed[i].of = append(listed[i].Signs, says), append(listed[i].of, k)
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
		if s.Alike = figure.UnknownFor("too few pours to compare"); s.With.Rate.Known() && s.Without.Rate.Known() {
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
		signs[k].Says = signs[k].says()
	}
}

func (a *after) earlyPour(i int) *EarlyPour {
	p := &a.h.Placements[i]
	e := &EarlyPour{JobNo: p.JobNo, Placement: p.Placement, Site: a.site(i), PlacedOn: figure.Day{Date: p.PlacedOn}, Signs: []string{}}
	e.Chance, e.Worth = a.ahead(i)
	return e
}

// record says what earlier pours with the same signs did, sign by sign.
func (p *EarlyPour) record(signs []EarlySign) {
	var did []string
	for _, k := range p.of {
		s := &signs[k]
		p.worse += int(cracks.Indicator(s.Worse))
		if s.With.Share.Known() {
			did = append(did, fmt.Sprintf("%s: %d of %d called back", s.Sign, s.With.Callbacks, s.With.Placements))
		} else {
			did = append(did, s.Sign+": too few to say")
		}
	}
	p.Did = strings.Join(did, "; ")
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
	t.days += float64(until - a.h.Placements[i].PlacedOn)
}

func (t *signTally) record(level float64) SignRecord {
	r := SignRecord{Placements: t.placements, Callbacks: t.called, years: t.days / cracks.DaysPerYear}
	if t.placements < figure.LeastForRate {
		r.Share = figure.UnknownFor("too few to say: %s", figure.CountOf(t.placements, "pour"))
		r.Rate = r.Share
		return r
	}
	r.Share = figure.Estimated(interval.Wilson(t.called, t.placements, level))
	if r.Rate = figure.UnknownFor("none has been watched for a day"); t.days > 0 {
		r.Rate = cracks.Garwood(t.called, t.days, level)
	}
	return r
}

// says puts the record of a sign in a sentence.
func (e *EarlySign) says() string {
	switch {
	case e.Recorded == 0:
		return "Not recorded."
	case e.With.Placements < figure.LeastForRate:
		return fmt.Sprintf("Too few to say: %s before.", figure.CountOf(e.With.Placements, "such pour"))
	}
	s := fmt.Sprintf("%d of %s were called back, %s a year", e.With.Callbacks, figure.CountOf(e.With.Placements, "such pour"), cracks.OutOf100(perYear(e.With.Rate)))
	if !e.Alike.Known() {
		return s + "; too few to compare."
	}
	s += fmt.Sprintf("; of the others %d of %s, %s", e.Without.Callbacks, figure.Grouped(int64(e.Without.Placements)), cracks.OutOf100(perYear(e.Without.Rate)))
	if e.Worse {
		return s + ". More than chance makes, whatever the cause."
	}
	return s + ". Chance may make such a difference."
}

// perYear turns a rate in 100 placement-years into one in a placement-year.
func perYear(f figure.Figure) figure.Figure { return cracks.Scaled(f, 0.01) }

// since is the stretch of the new pours.
func (e *EarlySigns) since() string { return "since the start of " + figure.MonthWords(e.From.Month()) }

// worry names the pour to look at first and what went wrong with it, in few
// words.
func (e *EarlySigns) worry() string {
	first := &e.Listed[0]
	signs := make([]string, len(first.of))
	for j, k := range first.of {
		signs[j] = e.Signs[k].Sign
	}
	return fmt.Sprintf("Of %s %s, %d went against a guide: worry first about %s %s (%s).",
		figure.CountOf(e.Pours, "pour"), e.since(), len(e.Listed), first.JobNo, first.Placement, strings.Join(signs, ", "))
}

func (e *EarlySigns) answer() string {
	since := e.since()
	n := len(e.Listed)
	switch {
	case e.Pours == 0:
		return "Nothing was poured " + since + "."
	case e.told == 0:
		return fmt.Sprintf("Nothing is recorded of the %s %s that could show whether one went wrong: no curing and weather, saw time, joints, added water, times of loads or probed thickness.", figure.CountOf(e.Pours, "pour"), since)
	case n == 0:
		s := fmt.Sprintf("Of %s %s, none went wrong in a way the record shows", figure.CountOf(e.Pours, "pour"), since)
		if e.told < e.Pours {
			s += fmt.Sprintf("; of %d of them nothing is recorded that could show it", e.Pours-e.told)
		}
		return s + "."
	}
	first := &e.Listed[0]
	s := fmt.Sprintf("Of %s %s, %d went against a guide; look first at %s %s, poured %s: %s.",
		figure.CountOf(e.Pours, "pour"), since, n, first.JobNo, first.Placement, first.PlacedOn, strings.Join(first.Signs, "; "))
	var worse []string
	for _, sign := range e.Signs {
		if sign.Worse {
			worse = append(worse, sign.Sign)
		}
	}
	if len(worse) == 0 {
		return s + " So far none of these signs has gone with more callbacks here than chance makes."
	}
	return s + fmt.Sprintf(" Here more callbacks than chance makes have gone with: %s.", listWords(worse))
}
