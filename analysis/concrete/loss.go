package concrete

import (
	"fmt"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/ingest/record"
)

// Loss says where the yards beyond the drawing went, over the placements
// that were probed: each part is a share of their neat volume, and the parts
// add up to the whole.
type Loss struct {
	N           int           `json:"n"`           // placements with neat volume, area, thickness bid and measured, delivered and left over
	Delivered   figure.Figure `json:"delivered"`   // beyond neat: the whole
	Leftover    figure.Figure `json:"leftover"`    // delivered and not placed
	Area        figure.Figure `json:"area"`        // area × thickness beyond the neat volume on the drawing
	Thickness   figure.Figure `json:"thickness"`   // placed thicker than bid
	Fixed       figure.Figure `json:"fixed"`       // lost whatever the size, by the model
	Unexplained figure.Figure `json:"unexplained"` // the rest: base, forms, spills, errors of measuring
}

// whereLost is made without the model too, the fixed part then being unknown
// and in the rest.
func (w *overageWork) whereLost() Loss {
	var neat []float64
	var parts [5][]float64 // delivered, leftover, area, thickness, rest
	fixedAt := make([]float64, w.model.columns())
	for i, p := range w.rows.Points {
		r := w.h.Placements.At(p.Index)
		if !r.NeatYd().OK || !r.MeasuredThicknessIn().OK || !(r.AreaSqft().V > 0) || !(r.ThicknessIn().V > 0) {
			continue
		}
		built := record.NeatYd(r.AreaSqft().V, r.ThicknessIn().V)
		thicker := record.NeatYd(r.AreaSqft().V, r.MeasuredThicknessIn().V-r.ThicknessIn().V)
		for k, yd := range []float64{r.DeliveredYd().V - p.Neat, r.LeftoverYd().V, built - p.Neat, thicker, p.Used - built - thicker} {
			parts[k] = append(parts[k], yd)
		}
		neat = append(neat, p.Neat)
		fixedAt[1+w.model.method(w.rows.Method.Names[w.rows.Method.Of[i]])]++
	}
	l := Loss{N: len(neat)}
	figures := []*figure.Figure{&l.Delivered, &l.Leftover, &l.Area, &l.Thickness, &l.Unexplained}
	if l.N < figure.LeastForRate {
		why := figure.Unknown(FewProbed{N: l.N})
		l.Fixed = why
		for _, f := range figures {
			*f = why
		}
		return l
	}
	for k, f := range figures {
		e, err := interval.Ratio(parts[k], neat, w.level)
		*f = figure.OrBare(e, err, figure.SumOf(parts[k])/figure.SumOf(neat), l.N, "ratio of totals")
	}
	l.takeFixed(w, fixedAt, figure.SumOf(neat))
	return l
}

// takeFixed moves what the model calls fixed out of the rest. The placements by
// each method are in the model's columns.
func (l *Loss) takeFixed(w *overageWork, placements []float64, neat float64) {
	if w.model.post == nil {
		l.Fixed = figure.Unknown(NoVolumes{})
		return
	}
	for j := range placements {
		placements[j] /= neat
	}
	law, err := w.model.post.Average(placements)
	if err != nil {
		l.Fixed = unknown(err)
		return
	}
	l.Fixed = fromMean(law, w.level, l.N, fmt.Sprintf("hierarchical model, fixed yards over %.1f neat yards a placement", neat/float64(l.N)))
	u := &l.Unexplained
	u.Value, u.Low, u.High = u.Value-l.Fixed.Value, u.Low-l.Fixed.Value, u.High-l.Fixed.Value
	u.Method = "ratio of totals, less the fixed part"
}
