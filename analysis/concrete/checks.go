package concrete

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Checks is what in the records may mislead the answer, and how far the
// orders would move without it. Nothing is dropped from the answer itself.
type Checks struct {
	Odd   OddPlacements `json:"odd"`
	Cut   CutPlacements `json:"cut_short"`
	Under int           `json:"under_neat"` // used less than nine tenths of neat
}

// OddPlacements lie far off what the model expects of them.
type OddPlacements struct {
	Placements int            `json:"placements"`
	Orders     int            `json:"orders_changed"` // kinds whose order moves by more than one increment when they are weighed down
	Worst      []OddPlacement `json:"worst"`          // the oddest first, at most 20
}

// OddPlacement is one of them.
type OddPlacement struct {
	JobNo     string  `json:"job_no"`
	Placement string  `json:"placement"`
	Overage   float64 `json:"overage"`
	Expected  float64 `json:"expected"`
	Weight    float64 `json:"weight"` // 1 is an ordinary placement
	index     int
}

// CutPlacements had nothing left over and nothing called in: they may have
// wanted more than they got.
type CutPlacements struct {
	Placements int `json:"placements"`
	Orders     int `json:"orders_changed"` // kinds whose order moves by more than one increment without them
}

const (
	oddWeight  = 0.35   // of Student-t(4) errors, under which a placement is odd
	studentDF  = 4      // of those errors
	underNeat  = 0.9    // of neat, under which a used volume is doubted
	mostOdd    = 20     // listed in the result
	robustRows = 20_000 // a robust line rests on so many rows at most, evenly taken
)

func (o *Overage) check(w *overageWork) {
	o.checkOdd(w)
	o.checkCut(w)
	for _, p := range w.rows.Points {
		if p.Used < underNeat*p.Neat {
			o.Checks.Under++
			o.Problems = append(o.Problems, w.problem(p.Index, "used-under-neat", "used "+moreText(p.Ratio())+" than the drawing", "check the neat volume, the yards delivered and what was left over"))
		}
	}
	o.Problems = figure.InRecordOrder(o.Problems)
}

// checkOdd refits with errors of Student-t(4) and lists the placements that
// count for little then (Lange, Little & Taylor 1989).
func (o *Overage) checkOdd(w *overageWork) {
	o.Checks.Odd.Worst = []OddPlacement{}
	robust, residuals, err := w.robust()
	o.Checks.Odd.Orders = o.again(w, robust, err, ByLeastCost+", Student-t(4) refit", func(g *Group) *figure.Figure { return &g.RobustOrderYd })
	var odd []OddPlacement
	for i, r := range residuals {
		if weight := (studentDF + 1) / (studentDF + r*r); weight < oddWeight {
			odd = append(odd, w.odd(robust, i, weight))
		}
	}
	o.Checks.Odd.Placements = len(odd)
	for _, p := range odd {
		o.Problems = append(o.Problems, w.problem(p.index, "odd-overage",
			"used "+moreText(p.Overage)+" than the drawing; "+moreText(p.Expected)+" was to be expected",
			"check the yards and what was left over, or note what happened"))
	}
	slices.SortStableFunc(odd, func(a, b OddPlacement) int { return cmp.Compare(a.Weight, b.Weight) })
	o.Checks.Odd.Worst = append(o.Checks.Odd.Worst, odd[:min(len(odd), mostOdd)]...)
}

// robust is the model with Student-t(4) errors and how far off its line each
// row is, in scales of the error.
func (w *overageWork) robust() (*Model, []float64, error) {
	sample := w.data
	if n := len(w.data.Y); n > robustRows {
		sample = everyNth(w.data, (n+robustRows-1)/robustRows)
	}
	post, _, err := w.model.narrowed().FitStudent(sample, studentDF)
	if err != nil {
		return nil, nil, err
	}
	m := *w.model
	m.post, m.tails = weighty(post), studentDF
	residuals, err := m.post.Residuals(w.data)
	return &m, residuals, err
}

// everyNth are every n-th row, and the first of each group.
func everyNth(d pool.Data, n int) pool.Data {
	seen := map[int]bool{}
	var keep []int
	for i, g := range d.Group {
		if i%n == 0 || !seen[g] {
			keep = append(keep, i)
			seen[g] = true
		}
	}
	take := func(xs []float64) []float64 {
		out := make([]float64, len(keep))
		for k, i := range keep {
			out[k] = xs[i]
		}
		return out
	}
	out := pool.Data{Y: take(d.Y), H: take(d.H), Group: make([]int, len(keep)), Cells: d.Cells}
	out.Cells.Of = make([]int32, len(keep))
	for k, i := range keep {
		out.Group[k], out.Cells.Of[k] = d.Group[i], d.Cells.Of[i]
	}
	return out
}

// odd describes row i.
func (w *overageWork) odd(robust *Model, i int, weight float64) OddPlacement {
	point := w.rows.Points[i]
	p := w.h.Placements.At(point.Index)
	out := OddPlacement{JobNo: p.JobNo(), Placement: p.Placement(), Overage: point.Ratio(), Weight: weight, index: point.Index}
	if law, err := robust.Level(Job{figure.OrUnknown(p.Use()), figure.OrUnknown(p.Method()), figure.OrUnknown(p.Base()), point.Neat}); err == nil {
		out.Expected = law.Mean()
	}
	return out
}

// checkCut refits without the placements whose use may have been cut short.
func (o *Overage) checkCut(w *overageWork) {
	for _, p := range w.rows.Points {
		if p.AtLeast {
			o.Checks.Cut.Placements++
		}
	}
	model, err := w.model, error(nil)
	if o.Checks.Cut.Placements > 0 {
		model, err = w.model.refit(w.rows.without(func(p Placement) bool { return p.AtLeast }))
	}
	o.Checks.Cut.Orders = o.again(w, model, err, ByLeastCost+", without placements that may have been cut short", func(g *Group) *figure.Figure { return &g.UncutOrderYd })
}

// again makes each kind's order by another fit, or says why there is none, and
// counts those that move by more than one increment.
func (o *Overage) again(w *overageWork, m *Model, err error, method string, to func(*Group) *figure.Figure) int {
	order := func(g *Group) {
		best, err := Order{}, err
		if err == nil {
			best, err = m.order(g.job(), w.costs)
		}
		*to(g) = figure.Total(best.Yd, g.N, method)
		if err != nil {
			*to(g) = unknown(err)
		}
	}
	stat.InParallel(len(o.Groups)+1, func(k int) {
		if k == len(o.Groups) {
			order(&o.All)
			return
		}
		order(&o.Groups[k])
	})
	moved := 0
	for k := range o.Groups {
		if f := to(&o.Groups[k]); f.Known() && math.Abs(f.Value-o.Groups[k].OrderYd.Value) > w.costs.IncrementYd*(1+1e-9) {
			moved++
		}
	}
	return moved
}

func (m *Model) order(job Job, c setting.OrderCosts) (Order, error) {
	next, err := m.Next(job)
	if err != nil {
		return Order{}, err
	}
	return OrderFor(next, c)
}

// problem is about the yards delivered to a placement.
func (w *overageWork) problem(index int, code, wrong, right string) record.Problem {
	p := w.h.Placements.At(index)
	delivered := p.DeliveredYd()
	return record.Problem{Code: code, Record: p.JobNo() + " " + p.Placement(), Column: "delivered_yd", Value: record.FieldText(&delivered), Wrong: wrong, Right: right}
}

// moreText says an overage in words: "7 % more".
func moreText(share float64) string {
	if share < 0 {
		return fmt.Sprintf("%.0f %% less", -100*share)
	}
	return fmt.Sprintf("%.0f %% more", 100*share)
}
