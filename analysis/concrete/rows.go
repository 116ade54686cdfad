package concrete

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/ingest/record"
)

// Placement is one placement's volumes in yd³.
type Placement struct {
	Index      int // among the history's placements
	Group      int // among the groups
	Neat, Used float64
	AtLeast    bool // nothing was left over and nothing more was called in: Used may have been cut short
}

// Ratio is used/neat − 1.
func (p Placement) Ratio() float64 { return p.Used/p.Neat - 1 }

// LeftOut counts the placements that the answer cannot use, by what
// they lack first.
type LeftOut struct {
	Placements  int `json:"placements"`
	NoNeat      int `json:"without_neat"`
	NoDelivered int `json:"without_delivered"`
	NoLeftover  int `json:"without_leftover"`
	Impossible  int `json:"more_left_over_than_delivered"`
}

// Rows are the placements with all that overage needs, in the order of
// the history, with their words numbered.
type Rows struct {
	Points            []Placement
	Use, Method, Base figure.Labels
	leftOut           LeftOut
}

// RowsOf are the rows of a history.
func RowsOf(h *record.History) *Rows {
	r := &Rows{Points: make([]Placement, 0, h.Placements.Len())}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if !r.leftOut.add(p) {
			r.Points = append(r.Points, Placement{Index: i, Neat: p.Neat().V, Used: p.Used().V,
				AtLeast: p.LeftoverYd().V == 0 && p.PlannedYd().OK && math.Abs(p.PlannedYd().V-p.DeliveredYd().V) < 1e-9})
		}
	}
	columns := []struct {
		to   *figure.Labels
		from *record.Values[string]
	}{{&r.Use, &h.Placements.Use}, {&r.Method, &h.Placements.Method}, {&r.Base, &h.Placements.Base}}
	stat.InParallel(len(columns), func(k int) {
		*columns[k].to = figure.LabelsIn(columns[k].from, len(r.Points), func(i int) int { return r.Points[i].Index })
	})
	return r
}

// add says whether a placement has to be left out, and counts it.
func (l *LeftOut) add(p record.PlacementRow) bool {
	switch neat, used := p.Neat(), p.Used(); {
	case !(neat.V > 0) || math.IsInf(neat.V, 1):
		l.NoNeat++
	case !p.DeliveredYd().OK:
		l.NoDelivered++
	case !p.LeftoverYd().OK:
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
func (r *Rows) without(drop func(Placement) bool) *Rows {
	return r.picked(figure.Where(len(r.Points), func(i int) bool { return !drop(r.Points[i]) }))
}

// ByDate are the rows in the order of pours.
func (r *Rows) ByDate(h *record.History) *Rows {
	order := figure.ByDay(len(r.Points), func(i int) record.Date { return h.Placements.PlacedOn.At(r.Points[i].Index) })
	return r.picked(order)
}

// picked are some rows, with the same numbers for their words.
func (r *Rows) picked(order []int) *Rows {
	out := &Rows{Points: make([]Placement, len(order))}
	for i, k := range order {
		out.Points[i] = r.Points[k]
	}
	for _, l := range []struct{ to, from *figure.Labels }{{&out.Use, &r.Use}, {&out.Method, &r.Method}, {&out.Base, &r.Base}} {
		l.to.Names, l.to.Of = l.from.Names, make([]int, len(order))
		for i, k := range order {
			l.to.Of[i] = l.from.Of[k]
		}
	}
	return out
}

// Before are the first n rows.
func (r *Rows) Before(n int) *Rows {
	return &Rows{Points: r.Points[:n], Use: r.Use.First(n), Method: r.Method.First(n), Base: r.Base.First(n)}
}

// AtMost are n of the rows at even distances, all where there are no more.
func (r *Rows) AtMost(n int) *Rows {
	every := (len(r.Points) + n - 1) / n
	if every <= 1 {
		return r
	}
	var order []int
	for i := 0; i < len(r.Points); i += every {
		order = append(order, i)
	}
	return r.picked(order)
}
