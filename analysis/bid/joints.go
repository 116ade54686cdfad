package bid

import (
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
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
		low, high, err := trade.SpacingBand(s.ThicknessIn)
		if err != nil {
			return err
		}
		j.Guide = Guidance{ThicknessIn: s.ThicknessIn, FromFt: low, ToFt: high}
		j.own(cells, s.Reinforcement, w.opt.Bands)
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
		if p.JointSpacingFt().OK && p.ThicknessIn().OK && math.Abs(p.ThicknessIn().V-s.ThicknessIn) < 0.5 {
			own = append(own, p.JointSpacingFt().V)
		}
	}
	_, widest, err := trade.SpacingBand(s.ThicknessIn)
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
	guide, err := trade.JointSpacing(s.ThicknessIn, mix)
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
	length, width := s.sides()
	if s.drawn() && s.NotchLengthFt > 0 {
		s.layout, err = trade.PanelsOfL(length, width, s.NotchLengthFt, s.NotchWidthFt, spacing)
	} else {
		s.layout, err = trade.Panels(length, width, spacing)
	}
	if err != nil {
		return err
	}
	l := s.layout
	j.Drawn = s.drawn()
	j.Outline, j.Panels, j.Cuts = planRects(l.Outline), planRects(l.Panels), planCuts(l.Cuts)
	j.MaxFt = number(spacing, "ft", b, "spacing kept to")
	j.CutFt = number(l.CutFt(), "ft", drawing, "sum of the joints")
	j.LongestFt, j.WorstRatio = l.LongestFt(), l.Ratio()
	if !j.Drawn {
		j.note(JointNote{Kind: JointAssumed, LengthFt: length, WidthFt: width})
	}
	if j.WorstRatio > trade.AspectLimitLoose+1e-9 {
		j.note(JointNote{Kind: JointStrip})
	} else if j.WorstRatio > trade.AspectLimit+1e-9 {
		j.note(JointNote{Kind: JointLong, Ratio: j.WorstRatio})
	}
	switch {
	case l.Through:
		j.note(JointNote{Kind: JointThrough})
	case len(l.Outline) > 1:
		j.note(JointNote{Kind: JointEnding})
	}
	return nil
}

func (j *JointPlan) note(n JointNote) { j.Notes = append(j.Notes, n) }

func planRects(rs []trade.Rect) []PlanRect {
	out := make([]PlanRect, len(rs))
	for i, r := range rs {
		out[i] = PlanRect(r)
	}
	return out
}

func planCuts(cs []trade.Cut) []PlanCut {
	out := make([]PlanCut, len(cs))
	for i, c := range cs {
		out[i] = PlanCut(c)
	}
	return out
}

// cutDepths fills how deep to cut and when.
func (w *bidWork) cutDepths(s *bidSlab, j *JointPlan) {
	depth := func(saw trade.Saw, by Manner) Number {
		low, high, err := trade.CutDepth(s.ThicknessIn, saw)
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
	j.Own = Number{figure.Unknown(NoSuchSlab{}), "chance", basis(0, OfSlabs, 0)}
	at := cracks.Band(record.Some(j.LongestFt), bands)
	for _, c := range cells {
		if c.Reinforcement != steel || !c.From.OK || c.From.V != bands[at] {
			continue
		}
		few := c.Placements < figure.LeastForRate
		j.Own.Basis = basis(c.Placements, OfSlabs, 0)
		if j.Own.Figure = c.RiskWarranty; few {
			j.Own.Figure = figure.Unknown(TooFewSlabs{N: c.Placements, Least: figure.LeastForRate})
		}
		j.Slabs = &OwnSlabs{N: c.Placements, Reinforcement: steel, FromFt: c.From.V, ToFt: c.To.V, Years: c.PlacementYears, Callbacks: c.Callbacks, TooFew: few}
	}
}
