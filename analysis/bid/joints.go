package bid

import (
	"math"
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/layout"
	"pourback/analysis/shape"
	"pourback/analysis/stat/interval"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// joints lays out the joints of each placement, with the guidance and the
// company's own record beside them.
func (w *bidWork) joints() error {
	horizon := math.Round(w.b.Reserve.Months.Figure.Value * cracks.DaysPerMonth)
	cells := w.watched.BySpacing(w.opt.Bands, horizon, w.opt.Level)
	for _, s := range w.slabs {
		j := &s.part.Joints
		if err := w.layOut(s, j); err != nil {
			return err
		}
		w.cutDepths(s, j)
		low, high, err := trade.SpacingBand(s.leastIn)
		if err != nil {
			return err
		}
		j.Guide = Guidance{ThicknessIn: s.leastIn, FromFt: low, ToFt: high}
		j.own(cells, s.Reinforcement, w.opt.Bands)
		s.cells = cells
	}
	return nil
}

// spacing is the joint spacing to keep to: the spec's, the company's usual one at
// that thickness as far as the guide goes, or the guide's.
func (w *bidWork) spacing(s *bidSlab) (float64, Basis, error) {
	if s.JointSpacingFt > 0 {
		return s.JointSpacingFt, inSpec, nil
	}
	var own []float64
	for i := range w.h.Placements.Len() {
		p := w.h.Placements.At(i)
		if p.JointSpacingFt().OK && p.ThicknessIn().OK && math.Abs(p.ThicknessIn().V-s.leastIn) < 0.5 {
			own = append(own, p.JointSpacingFt().V)
		}
	}
	_, widest, err := trade.SpacingBand(s.leastIn)
	if q, few := interval.Quantiles(own, 0.5); err == nil && few == nil && len(own) >= figure.LeastForRate {
		ft := min(max(q[0], leastSpacingFt), widest)
		b := Basis{From: FromRecords, N: len(own), Of: OfPlacements, By: ByUsualSpacing}
		if ft < q[0] {
			b.By, b.At = ByCutSpacing, q[0]
		}
		return ft, b, nil
	}
	mix, by := trade.SmallAggregate, By24Times
	if s.MaxAggregateIn >= 0.75 {
		mix, by = trade.LargeAggregate, By30Times
	}
	guide, err := trade.JointSpacing(s.leastIn, mix)
	return guide.Ft, Basis{From: FromPractice, By: by}, err
}

// leastSpacingFt is the least spacing taken from the records: below it stand
// slips of the pen.
const leastSpacingFt = 3

// layOut cuts the slab into panels within its spacing.
func (w *bidWork) layOut(s *bidSlab, j *JointPlan) error {
	spacing, b, err := w.spacing(s)
	if err != nil {
		return err
	}
	j.Drawn, j.Tooled = s.drawn(), s.JointCut == "tooled"
	j.MaxFt = number(spacing, "ft", b, "spacing kept to")
	if s.StepsOnly() {
		j.lines(layout.Plan{})
		j.CutFt = number(0, "ft", drawing, "steps have none")
		return nil
	}
	ask := layout.Ask{Outline: s.outline(), Holes: s.holes(), SpacingFt: spacing, Against: s.Against}
	for _, at := range s.ExistingJoints {
		ask.Meets = append(ask.Meets, shape.Point{X: at[0], Y: at[1]})
	}
	if s.layout, err = layout.Lay(ask); err != nil {
		return err
	}
	l := &s.layout
	j.lines(*l)
	j.CutFt = number(l.CutFt(), "ft", drawing, "sum of the joints")
	j.LongestFt, j.WorstRatio = l.LongestFt(), l.Ratio()
	j.remarks(s, l)
	return nil
}

// remarks are what is to be said about a layout.
func (j *JointPlan) remarks(s *bidSlab, l *layout.Plan) {
	length, width := s.sides()
	if !j.Drawn {
		j.note(JointNote{Kind: JointAssumed, LengthFt: length, WidthFt: width})
	}
	if n := l.Beyond(trade.AspectLimitLoose); min(length, width) < trade.NarrowFt {
		j.note(JointNote{Kind: JointStrip})
	} else if n > 0 {
		j.note(JointNote{Kind: JointBeyond, N: n, Ratio: j.WorstRatio})
	} else if j.WorstRatio > trade.AspectLimit+1e-9 {
		j.note(JointNote{Kind: JointLong, Ratio: j.WorstRatio})
	}
	if len(l.Cuts) > 0 {
		first := JointNote{Kind: JointFirst, LengthFt: l.Cuts[0].Length()}
		if l.Cuts[0].Corner {
			first.Kind = JointFirstCorner
		}
		j.note(first)
	}
	if slices.ContainsFunc(l.Cuts, func(c layout.Cut) bool { return c.Corner }) {
		j.note(JointNote{Kind: JointThrough})
	}
	if n := len(l.Bars); n > 0 {
		j.note(JointNote{Kind: JointBars, N: n})
	}
	if len(l.Isolation) > 0 {
		j.note(JointNote{Kind: JointIsolated})
	}
	if n := len(l.Missed); n > 0 {
		j.note(JointNote{Kind: JointMissed, N: n})
	}
}

func (j *JointPlan) note(n JointNote) { j.Notes = append(j.Notes, n) }

// lines puts a layout's places into the plan.
func (j *JointPlan) lines(l layout.Plan) {
	points := func(ring []shape.Point) []PlanPoint {
		out := make([]PlanPoint, len(ring))
		for i, p := range ring {
			out[i] = PlanPoint(p)
		}
		return out
	}
	cuts := func(cs []layout.Cut) []PlanCut {
		out := make([]PlanCut, len(cs))
		for i, c := range cs {
			out[i] = PlanCut{c.X1, c.Y1, c.X2, c.Y2}
		}
		return out
	}
	j.Shape, j.Holes, j.Outline = points(l.Shape), make([][]PlanPoint, len(l.Holes)), []PlanRect{}
	for i, h := range l.Holes {
		j.Holes[i] = points(h)
	}
	for _, r := range shape.Rectangles(l.Shape) {
		j.Outline = append(j.Outline, PlanRect(r))
	}
	if len(j.Outline) == 0 && len(l.Shape) > 0 {
		var bounds PlanRect
		for _, p := range l.Shape {
			bounds.W, bounds.H = max(bounds.W, p.X), max(bounds.H, p.Y)
		}
		j.Outline = append(j.Outline, bounds)
	}
	j.Panels = make([]PlanRect, len(l.Panels))
	for i, p := range l.Panels {
		j.Panels[i] = PlanRect{p.X, p.Y, p.W, p.H}
	}
	j.Cuts, j.Isolation, j.Bars = cuts(l.Cuts), cuts(l.Isolation), make([]PlanCut, len(l.Bars))
	for i, b := range l.Bars {
		j.Bars[i] = PlanCut(b)
	}
}

// cutDepths fills how deep to cut and when.
func (w *bidWork) cutDepths(s *bidSlab, j *JointPlan) {
	depth := func(saw trade.Saw, by Manner) Number {
		low, high, err := trade.CutDepth(s.leastIn, saw)
		if err != nil {
			return Number{figure.Unknown(figure.ReasonOf(err)), "in", drawing}
		}
		f := figure.Figure{Value: low, Low: low, High: high, Level: 1, Bounded: true, Method: "least and most of the guide", OK: true}
		return Number{f, "in", Basis{From: FromPractice, By: by}}
	}
	j.DepthIn = depth(trade.ConventionalSaw, ByCutDepth)
	j.EarlyIn = depth(trade.EarlyEntrySaw, ByEarlyDepth)
	if s.JointCut == "tooled" {
		j.note(JointNote{Kind: JointTooled})
	}
	j.Saw = w.sawing(s.JointCut)
}

// sawing is when to saw in the bid's month.
func (w *bidWork) sawing(cut string) Sawing {
	when, hours := SawGeneral, trade.SawGeneral
	switch {
	case cut == "none" || cut == "tooled":
		return Sawing{}
	case cut == "early-entry":
		when, hours = SawEarly, trade.SawEarlyEntry
	case w.month >= 5 && w.month <= 9:
		when, hours = SawWarm, trade.SawWarm
	case w.month >= 11 || w.month >= 1 && w.month <= 3:
		when, hours = SawCold, trade.SawCold
	}
	return Sawing{when, hours.From, hours.To}
}

// own is the company's record at that spacing and reinforcement.
func (j *JointPlan) own(cells []cracks.Cell, steel string, bands []float64) {
	j.Own, j.Slabs = riskOf(cells, steel, j.LongestFt, bands)
}

// riskOf is the company's crack risk within the warranty with a reinforcement at a
// spacing, and the slabs that it stands on, nil where there are none.
func riskOf(cells []cracks.Cell, steel string, spacingFt float64, bands []float64) (Number, *OwnSlabs) {
	at := cracks.Band(record.Some(spacingFt), bands)
	for _, c := range cells {
		if c.Reinforcement != steel || !c.From.OK || c.From.V != bands[at] {
			continue
		}
		few, risk := c.Placements < figure.LeastForRate, c.RiskWarranty
		if few {
			risk = figure.Unknown(TooFewSlabs{N: c.Placements, Least: figure.LeastForRate})
		}
		return Number{risk, "chance", basis(c.Placements, OfSlabs, 0)},
			&OwnSlabs{N: c.Placements, Reinforcement: steel, FromFt: c.From.V, ToFt: c.To.V, Years: c.PlacementYears, Callbacks: c.Callbacks, TooFew: few}
	}
	return Number{figure.Unknown(NoSuchSlab{}), "chance", basis(0, OfSlabs, 0)}, nil
}
