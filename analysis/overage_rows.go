package analysis

import (
	"cmp"
	"math"
	"slices"

	"pourback/ingest/record"
)

// OveragePlacement is one placement's volumes in yd³.
type OveragePlacement struct {
	Index      int // among the history's placements
	Group      int // among the groups
	Neat, Used float64
	AtLeast    bool // nothing was left over and nothing more was called in: Used may have been cut short
}

// Ratio is used/neat − 1.
func (p OveragePlacement) Ratio() float64 { return p.Used/p.Neat - 1 }

// OverageLeftOut counts the placements that the answer cannot use, by what
// they lack first.
type OverageLeftOut struct {
	Placements  int `json:"placements"`
	NoNeat      int `json:"without_neat"`
	NoDelivered int `json:"without_delivered"`
	NoLeftover  int `json:"without_leftover"`
	Impossible  int `json:"more_left_over_than_delivered"`
}

// overageRows are the placements with all that overage needs, in the order of
// the history, with their words numbered.
type overageRows struct {
	points            []OveragePlacement
	use, method, base labels
	leftOut           OverageLeftOut
}

func overageRowsOf(h *record.History) *overageRows {
	r := &overageRows{points: make([]OveragePlacement, 0, len(h.Placements))}
	for i := range h.Placements {
		p := &h.Placements[i]
		if !r.leftOut.add(p) {
			r.points = append(r.points, OveragePlacement{Index: i, Neat: p.Neat().V, Used: p.Used().V,
				AtLeast: p.LeftoverYd.V == 0 && p.PlannedYd.OK && math.Abs(p.PlannedYd.V-p.DeliveredYd.V) < 1e-9})
		}
	}
	columns := []struct {
		to   *labels
		word func(*record.Placement) string
	}{
		{&r.use, func(p *record.Placement) string { return p.Use }},
		{&r.method, func(p *record.Placement) string { return p.Method }},
		{&r.base, func(p *record.Placement) string { return p.Base }},
	}
	inParallel(len(columns), func(k int) {
		*columns[k].to = labelsOf(len(r.points), func(i int) string { return orUnknown(columns[k].word(&h.Placements[r.points[i].Index])) })
	})
	return r
}

// add says whether a placement has to be left out, and counts it.
func (l *OverageLeftOut) add(p *record.Placement) bool {
	switch neat, used := p.Neat(), p.Used(); {
	case !(neat.V > 0) || math.IsInf(neat.V, 1):
		l.NoNeat++
	case !p.DeliveredYd.OK:
		l.NoDelivered++
	case !p.LeftoverYd.OK:
		l.NoLeftover++
	case !(used.V >= 0) || math.IsInf(used.V, 1):
		l.Impossible++
	default:
		return false
	}
	l.Placements++
	return true
}

// without are the rows that keep does not drop, with the same numbers for
// their words.
func (r *overageRows) without(drop func(OveragePlacement) bool) *overageRows {
	out := &overageRows{}
	for _, l := range []struct{ to, from *labels }{{&out.use, &r.use}, {&out.method, &r.method}, {&out.base, &r.base}} {
		l.to.names = l.from.names
	}
	for i, p := range r.points {
		if drop(p) {
			continue
		}
		out.points = append(out.points, p)
		out.use.of = append(out.use.of, r.use.of[i])
		out.method.of = append(out.method.of, r.method.of[i])
		out.base.of = append(out.base.of, r.base.of[i])
	}
	return out
}

// byDate are the rows in the order of pours.
func (r *overageRows) byDate(h *record.History) *overageRows {
	order := make([]int, len(r.points))
	for i := range order {
		order[i] = i
	}
	on := func(i int) record.Date { return h.Placements[r.points[i].Index].PlacedOn }
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(on(a), on(b)) })
	return r.picked(order)
}

// picked are some rows, with the same numbers for their words.
func (r *overageRows) picked(order []int) *overageRows {
	out := &overageRows{points: make([]OveragePlacement, len(order))}
	for i, k := range order {
		out.points[i] = r.points[k]
	}
	for _, l := range []struct{ to, from *labels }{{&out.use, &r.use}, {&out.method, &r.method}, {&out.base, &r.base}} {
		l.to.names, l.to.of = l.from.names, make([]int, len(order))
		for i, k := range order {
			l.to.of[i] = l.from.of[k]
		}
	}
	return out
}

// before are the first n rows.
func (r *overageRows) before(n int) *overageRows {
	return &overageRows{points: r.points[:n], use: r.use.first(n), method: r.method.first(n), base: r.base.first(n)}
}
