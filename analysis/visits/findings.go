package visits

import (
	"cmp"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// CracksSeen is what visits found, planned ones and callbacks together.
type CracksSeen struct {
	Visits    int           `json:"visits"`
	Found     []FindingKind `json:"found"`         // by what was found, sound included
	Cracked   int           `json:"slabs_cracked"` // slabs on which a crack was seen
	Kinds     []CrackKind   `json:"crack_kinds"`   // by the first look that described the crack
	AtJoint   figure.Figure `json:"at_joint"`      // share of those of which it is said
	OverGuide figure.Figure `json:"over_guide"`    // share of cracks wider than the guide when last measured
	GuideIn   float64       `json:"guide_in"`
	Growing   []Growth      `json:"growing"` // cracks measured more than once on slabs not repaired, the fastest first
	Opened    int           `json:"-"`       // of those
}

// FindingKind is how often visits found one thing.
type FindingKind struct {
	Finding string `json:"finding"`
	Planned int    `json:"planned_visits"`
	Called  int    `json:"callbacks"`
}

// CrackKind is the cracks of one kind.
type CrackKind struct {
	Kind   string        `json:"kind"`
	Slabs  int           `json:"slabs"`
	Width  figure.Figure `json:"width_in"`  // median when first measured
	Length figure.Figure `json:"length_ft"` // the same
}

// Growth is how a crack opened between two visits.
type Growth struct {
	JobNo     string     `json:"job_no"`
	Placement string     `json:"placement"`
	From      figure.Day `json:"from"`
	To        figure.Day `json:"to"`
	WasIn     float64    `json:"was_in"`
	IsIn      float64    `json:"is_in"`
	PerYear   float64    `json:"in_per_year"`
	OverGuide bool       `json:"over_guide"`
}

// shortestGrowth is the days between two measurements under which a change says
// more of the reading than of the crack.
const shortestGrowth = 14

// guideWidth is the crack width in inches beside which widths are shown: that
// for concrete in soil and moist air. A general guide, and no warranty line.
func guideWidth() float64 {
	w, _ := trade.ReasonableCrackIn(trade.SoilOrMoistAir) // in the guide
	return w
}

func (a *after) cracksSeen() CracksSeen {
	c := CracksSeen{Found: []FindingKind{}, Kinds: []CrackKind{}, Growing: []Growth{}, GuideIn: guideWidth()}
	c.count(a)
	t := crackTally{kinds: map[string]*kindTally{}}
	for i := range a.h.Placements.Len() {
		if a.slab[i].crackOn != 0 && len(a.h.VisitsOf(i)) > 0 {
			c.Cracked++
			t.take(a, i, &c)
		}
	}
	c.AtJoint = figure.Estimated(interval.Wilson(t.atJoint, t.joints, a.level))
	c.OverGuide = figure.Estimated(interval.Wilson(t.over, t.measured, a.level))
	for _, k := range sortedBy(t.kinds, func(k *kindTally) int { return k.slabs }) {
		tally := t.kinds[k]
		c.Kinds = append(c.Kinds, CrackKind{k, tally.slabs, middle(tally.widths, a.level), middle(tally.lengths, a.level)})
	}
	slices.SortStableFunc(c.Growing, func(x, y Growth) int {
		return cmp.Or(cmp.Compare(y.PerYear, x.PerYear), cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement))
	})
	for _, g := range c.Growing {
		c.Opened += int(cracks.Indicator(g.PerYear > 0))
	}
	return c
}

// count counts the visits by what they found.
func (c *CracksSeen) count(a *after) {
	by := map[string]*FindingKind{}
	for i := range a.h.Placements.Len() {
		for _, v := range a.h.VisitsOf(i) {
			if v.SeenOn < a.h.Placements.At(i).PlacedOn() {
				continue
			}
			c.Visits++
			f := by[v.Finding]
			if f == nil {
				f = &FindingKind{Finding: figure.OrUnknown(v.Finding)}
				by[v.Finding] = f
			}
			if v.Callback() {
				f.Called++
			} else {
				f.Planned++
			}
		}
	}
	for _, k := range sortedBy(by, func(f *FindingKind) int { return f.Planned + f.Called }) {
		c.Found = append(c.Found, *by[k])
	}
}

// sortedBy are the keys of a map, those with the largest count first.
func sortedBy[V any](m map[string]V, n func(V) int) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.SortFunc(keys, func(x, y string) int { return cmp.Or(cmp.Compare(n(m[y]), n(m[x])), cmp.Compare(x, y)) })
	return keys
}

// crackTally adds up slabs with a crack.
type crackTally struct {
	kinds           map[string]*kindTally
	joints, atJoint int
	measured, over  int
}

type kindTally struct {
	slabs           int
	widths, lengths []float64
}

// take adds slab i: its kind and size as first described, its width as last
// measured.
func (t *crackTally) take(a *after, i int, c *CracksSeen) {
	kind, joint := "", record.Flag(0)
	var width, length record.Number
	var lastMeasured *record.Visit
	visits := a.h.VisitsOf(i)
	for k := range visits {
		v := &visits[k]
		if v.Finding != "crack" || v.SeenOn < a.h.Placements.At(i).PlacedOn() {
			continue
		}
		kind, joint = cmp.Or(kind, v.CrackKind), cmp.Or(joint, v.AtJoint)
		if !length.OK {
			length = v.LengthFt
		}
		if !v.WidthIn.OK {
			continue
		}
		if !width.OK {
			width = v.WidthIn
		}
		lastMeasured = v
	}
	k := t.kinds[figure.OrUnknown(kind)]
	if k == nil {
		k = &kindTally{}
		t.kinds[figure.OrUnknown(kind)] = k
	}
	k.slabs++
	if width.OK {
		k.widths = append(k.widths, width.V)
	}
	if length.OK {
		k.lengths = append(k.lengths, length.V)
	}
	if joint != 0 {
		t.joints++
		t.atJoint += int(cracks.Indicator(joint == record.Yes))
	}
	if lastMeasured != nil {
		t.measured++
		t.over += int(cracks.Indicator(lastMeasured.WidthIn.V > c.GuideIn))
	}
	if g, ok := a.growth(i); ok {
		c.Growing = append(c.Growing, g)
	}
}

// growth is how the crack of slab i opened over the time it was measured, from
// the first to the last measurement since the last repair.
func (a *after) growth(i int) (Growth, bool) {
	var first, last *record.Visit
	mended := record.Date(0)
	for _, c := range a.callsOf(i) {
		if c.kind == "crack" {
			mended = max(mended, c.closed)
		}
	}
	visits := a.h.VisitsOf(i)
	for k := range visits {
		v := &visits[k]
		if v.Finding == "crack" && v.WidthIn.OK && v.SeenOn > mended && v.SeenOn >= a.h.Placements.At(i).PlacedOn() {
			if first == nil {
				first = v
			}
			last = v
		}
	}
	if first == nil || last.SeenOn-first.SeenOn < shortestGrowth {
		return Growth{}, false
	}
	g := Growth{JobNo: first.JobNo, Placement: first.Placement, From: figure.Day{Date: first.SeenOn}, To: figure.Day{Date: last.SeenOn}, WasIn: first.WidthIn.V, IsIn: last.WidthIn.V}
	g.PerYear = (g.IsIn - g.WasIn) / float64(last.SeenOn-first.SeenOn) * cracks.DaysPerYear
	g.OverGuide = g.IsIn > guideWidth()
	return g, true
}

// middle is the median with limits by order statistics.
func middle(xs []float64, level float64) figure.Figure {
	q, err := interval.QuantileInterval(xs, 0.5, level)
	return figure.Estimated(q.Estimate, err)
}
