package bid

import (
	"fmt"
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
		j.Guide = fmt.Sprintf("Joints 24 to 36 times the thickness apart, %.0f to %.0f ft for a slab of %.3g in, and never above %d ft; panels as square as may be, at most %v times as long as wide without steel, %v at the outside.",
			low, high, s.ThicknessIn, trade.SpacingCapFt, trade.AspectLimit, trade.AspectLimitLoose)
		j.Sources = []Source{
			{"24 to 36 thicknesses; cut a quarter to a third of the thickness", "CSA A23.1-94 §20.2.1"},
			{"24, 30 or 36 times the thickness by the mix", "Portland Cement Association, as quoted elsewhere"},
			{"never above 15 ft", "NRMCA CIP 6, from memory"},
			{"10 to 15 ft under 9 in; length over width at most 1.25 without steel", "UFC 3-250-04, Table 9-1 and §9-3.1.2"},
			{"length over width at most 1.5", "ACI 360-06, as quoted elsewhere"},
		}
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
	for i := range w.h.Placements {
		p := &w.h.Placements[i]
		if p.JointSpacingFt.OK && p.ThicknessIn.OK && math.Abs(p.ThicknessIn.V-s.ThicknessIn) < 0.5 {
			own = append(own, p.JointSpacingFt.V)
		}
	}
	_, widest, err := trade.SpacingBand(s.ThicknessIn)
	if q, few := interval.Quantiles(own, 0.5); err == nil && few == nil && len(own) >= figure.LeastForRate {
		ft := min(max(q[0], leastSpacingFt), widest)
		b := Basis{FromRecords, len(own), fmt.Sprintf("your usual spacing: median of %s of about that thickness", figure.CountOf(len(own), "placement"))}
		if ft < q[0] {
			b.Says += fmt.Sprintf(", which is %s ft: more than 36 thicknesses (CSA A23.1-94 §20.2.1), so cut down to that", plain(q[0]))
		}
		return ft, b, nil
	}
	mix, says := trade.SmallAggregate, "24 times the thickness (Portland Cement Association, as quoted elsewhere), at most 15 ft"
	if s.MaxAggregateIn >= 0.75 {
		mix, says = trade.LargeAggregate, "30 times the thickness with aggregate of 3/4 in and more (Portland Cement Association, as quoted elsewhere), at most 15 ft"
	}
	guide, err := trade.JointSpacing(s.ThicknessIn, mix)
	return guide.Ft, Basis{From: FromPractice, Says: says}, err
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
	j.Notes = []string{}
	if !j.Drawn {
		j.Notes = append(j.Notes, fmt.Sprintf("The spec gives an area without its shape: a slab of %.1f × %.1f ft stands for it.", length, width))
	}
	if j.WorstRatio > trade.AspectLimitLoose+1e-9 {
		j.Notes = append(j.Notes, fmt.Sprintf("A strip under %d ft wide keeps the spacing alone: square panels would be crumbs.", trade.NarrowFt))
	} else if j.WorstRatio > trade.AspectLimit+1e-9 {
		j.Notes = append(j.Notes, fmt.Sprintf("The longest panel is %.2f times as long as wide: above %v, which holds for slabs without steel, and within %v.", j.WorstRatio, trade.AspectLimit, trade.AspectLimitLoose))
	}
	switch {
	case l.Through:
		j.Notes = append(j.Notes, "Joints run from the inside corner, where a crack would start, and each joint runs through to an edge.")
	case len(l.Outline) > 1:
		j.Notes = append(j.Notes, "A joint runs from the inside corner, where a crack would start. Joints that end at it may go on as a crack: let them run on to the other side where they can.")
	}
	return nil
}

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
	depth := func(saw trade.Saw, says string) Number {
		low, high, err := trade.CutDepth(s.ThicknessIn, saw)
		if err != nil {
			return Number{figure.UnknownFor("%s", err), "in", drawing}
		}
		f := figure.Figure{Value: low, Low: low, High: high, Level: 1, Bounded: true, Method: "least and most of the guide", OK: true}
		return Number{f, "in", Basis{From: FromPractice, Says: says}}
	}
	j.DepthIn = depth(trade.ConventionalSaw, "a quarter to a third of the thickness (CSA A23.1-94 §20.2.1), at least 1 in (trade press)")
	j.EarlyIn = depth(trade.EarlyEntrySaw, "at least 1 in (ACI 302.1R, from memory)")
	switch when := trade.SawGeneral; {
	case s.JointCut == "none" || s.JointCut == "tooled":
		if s.JointCut == "tooled" {
			j.Notes = append(j.Notes, "Tool the joints once the bleed water is gone and the groove keeps its edges, before the last pass of the trowel or the broom (common practice, no published source).")
		}
		return
	case s.JointCut == "early-entry":
		j.Saw = fmt.Sprintf("%.0f to %.0f hours after placing, early-entry (ACI 302.1R, from memory)", trade.SawEarlyEntry.From, trade.SawEarlyEntry.To)
	case w.month >= 5 && w.month <= 9:
		j.Saw = fmt.Sprintf("%.0f to %.0f hours after placing in warm weather (UFC 3-250-04 §9-4.4)", trade.SawWarm.From, trade.SawWarm.To)
	case w.month >= 11 || w.month >= 1 && w.month <= 3:
		j.Saw = fmt.Sprintf("%.0f to %.0f hours after placing in cold weather (UFC 3-250-04 §9-4.4)", trade.SawCold.From, trade.SawCold.To)
	default:
		j.Saw = fmt.Sprintf("%.0f to %.0f hours after placing (CSA A23.1-94 §20.2.1)", when.From, when.To)
	}
	j.Saw += ". The slab decides: as soon as the cut does not ravel, and before it cracks on its own."
}

// own is the company's record at that spacing and reinforcement.
func (j *JointPlan) own(cells []cracks.Cell, steel string, bands []float64) {
	j.Own = Number{figure.UnknownFor("no slab of this reinforcement at such a spacing is on record"), "chance", basis(0, "slab", "of this kind", "no risk is published")}
	at := cracks.Band(record.Some(j.LongestFt), bands)
	for _, c := range cells {
		if c.Reinforcement != steel || !c.From.OK || c.From.V != bands[at] {
			continue
		}
		j.Own.Basis = basis(c.Placements, "slab", "of this kind", "no risk is published")
		if c.Placements < figure.LeastForRate {
			j.Own.Figure = figure.UnknownFor("%s of this kind on record: a risk needs at least %d", figure.CountOf(c.Placements, "slab"), figure.LeastForRate)
		} else {
			j.Own.Figure = c.RiskWarranty
		}
		j.OwnSays = fmt.Sprintf("Your own record: %s with %s and joints %s, watched for %.0f slab-years in all, brought %s.",
			figure.CountOf(c.Placements, "slab"), reinforcementSays(steel), bandSays(c), c.PlacementYears, figure.CountOf(c.Callbacks, "crack callback"))
		if c.Placements < figure.LeastForRate {
			j.OwnSays += " That is too few to say anything."
		}
	}
	if j.OwnSays == "" {
		j.OwnSays = "Your own record holds no such slab yet: keep to the published guidance."
	}
}

func reinforcementSays(steel string) string {
	if steel == "none" {
		return "no reinforcement"
	}
	return steel
}

func bandSays(c cracks.Cell) string {
	if !c.To.OK {
		return fmt.Sprintf("%s ft apart and more", plain(c.From.V))
	}
	return fmt.Sprintf("%s to %s ft apart", plain(c.From.V), plain(c.To.V))
}
