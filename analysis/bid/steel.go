package bid

import (
	"regexp"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/analysis/trade"
)

// steel reckons each way to reinforce each placement.
func (w *bidWork) steel() error {
	w.compared = steel.MeshVsRebar{}
	if !w.light {
		w.compared = w.ground.steel()
	}
	for _, s := range w.slabs {
		s.part.Settled = w.compared.Verdict
		chosen := strings.Split(s.Reinforcement, "+")
		none := SteelWay{Way: "none", Chosen: slices.Contains(chosen, "none")}
		none.Material = number(0, "$", drawing, "nothing to buy")
		none.Hours, none.Cost = number(0, "person-hours", drawing, "nothing to place"), none.Material
		mesh, err := w.mesh(s)
		if err != nil {
			return err
		}
		rebar, err := w.rebar(s)
		if err != nil {
			return err
		}
		s.part.Steel = []SteelWay{none, mesh, rebar, w.fiber(s)}
		for i := range s.part.Steel {
			way := &s.part.Steel[i]
			way.Chosen = slices.Contains(chosen, way.Way)
			way.Risk = w.riskWith(s, way.Way)
			if way.Chosen {
				s.material += way.Material.Figure.Value
			}
		}
	}
	return nil
}

// riskWith is the company's risk of a crack callback within a year with a way of
// reinforcing: of mesh and rebar like for like, where the two can be compared; of
// the others, and where they cannot, that of such slabs at such joints.
func (w *bidWork) riskWith(s *bidSlab, way string) Number {
	of := map[string]figure.Figure{"mesh": w.compared.AdjustedMesh, "rebar": w.compared.AdjustedRebar}[way]
	if of.Known() {
		return Number{of, "chance", basis(of.N, OfSlabs, 0)}
	}
	n, _ := riskOf(s.cells, way, s.part.Joints.LongestFt, w.opt.Bands)
	return n
}

// placedWay fills what a way costs: material by a price and hours by a rate,
// both a hundred or one of some unit.
func (w *bidWork) placedWay(way *SteelWay, material sourced, amount float64, hours sourced, area float64) {
	way.Material = number(material.value*amount, "$", material.basis, "price × quantity")
	way.Hours = number(hours.value*area/100, "person-hours", hours.basis, "hours for 100 ft² × area")
	cost := way.Material.Figure.Value + way.Hours.Figure.Value*w.wage.value
	way.Cost = number(cost, "$", material.basis, "material + hours × wage")
}

func (w *bidWork) mesh(s *bidSlab) (SteelWay, error) {
	t, area := w.opt.Bid.Takeoff, s.part.AreaSqft
	sheets, err := t.Sheets(area)
	if err != nil {
		return SteelWay{}, err
	}
	spacing, wire := meshOf(s.Bar)
	per100, err := trade.MeshLbPer100Ft2(spacing, wire)
	if err != nil {
		return SteelWay{}, err
	}
	way := SteelWay{Way: "mesh", Quantity: float64(sheets), Unit: "sheets", WeightLb: per100 / 100 * float64(sheets) * t.SheetLengthFt * t.SheetWidthFt}
	way.Takeoff = Takeoff{SheetWidthFt: t.SheetWidthFt, SheetLengthFt: t.SheetLengthFt, WireSpacingIn: spacing, Wire: wire, LapIn: t.SheetLapIn, Waste: t.Waste}
	if way.Rolls, err = t.Rolls(area); err != nil {
		return SteelWay{}, err
	}
	way.Chairs = trade.Chairs(area)
	w.placedWay(&way, w.prices["mesh"], area, w.prices["mesh hours"], area)
	return way, nil
}

var meshWord = regexp.MustCompile(`(?i)^\s*(\d+)\s*[x×]\s*\d+\D*?w\s*(\d+(?:\.\d+)?)`)

// meshOf reads a designation such as 6x6-W2.9; the lightest usual mesh stands
// for what it cannot read.
func meshOf(word string) (spacingIn, wire float64) {
	if m := meshWord.FindStringSubmatch(word); m != nil {
		spacing, err := strconv.ParseFloat(m[1], 64)
		wire, err2 := strconv.ParseFloat(m[2], 64)
		if _, bad := trade.MeshLbPer100Ft2(spacing, wire); err == nil && err2 == nil && bad == nil {
			return spacing, wire
		}
	}
	return 6, 1.4
}

// rebar is a grid both ways. The price by the ft² is that of the usual grid, and
// goes by weight for another unless the spec names it.
func (w *bidWork) rebar(s *bidSlab) (SteelWay, error) {
	set := w.opt.Bid
	usual, err := trade.BarSize(set.BarNumber)
	if err != nil {
		return SteelWay{}, err
	}
	bar, spacing := usual, set.BarSpacingIn
	if strings.Contains(s.Reinforcement, "rebar") {
		if b, err := barOf(s.Bar, set.BarNumber); err == nil {
			bar = b
		}
		if s.BarSpacingIn > 0 {
			spacing = s.BarSpacingIn
		}
	}
	way := SteelWay{Way: "rebar", Unit: "ft"}
	lines, crossings := s.layout.Lines(spacing/12, set.Takeoff.EdgeIn/12)
	g, err := set.Takeoff.Cut(lines, bar)
	if err != nil {
		return way, err
	}
	way.Quantity, way.WeightLb = g.Feet, g.Lb
	way.Sticks, way.Chairs, way.Ties = g.Sticks, trade.Chairs(s.part.AreaSqft), trade.Ties(crossings, g.Laps)
	way.Takeoff = Takeoff{Grid: Grid{bar.Number, spacing}, Lines: g.Lines, Laps: g.Laps, LapDiameters: set.Takeoff.LapDiameters, StockFt: set.Takeoff.StockFt, Waste: set.Takeoff.Waste}
	price := w.prices["rebar"]
	if price.basis.From != FromSpec && (bar != usual || spacing != set.BarSpacingIn) {
		price.value *= bar.LbPerFt / spacing / (usual.LbPerFt / set.BarSpacingIn)
		price.basis.Scaled = &Grid{usual.Number, set.BarSpacingIn}
	}
	w.placedWay(&way, price, s.part.AreaSqft, w.prices["rebar hours"], s.part.AreaSqft)
	return way, nil
}

func (w *bidWork) fiber(s *bidSlab) SteelWay {
	yd := s.part.UsedYd.Mean
	way := SteelWay{Way: "fiber", Quantity: yd * w.opt.Bid.FiberLbPerYd, Unit: "lb", WeightLb: yd * w.opt.Bid.FiberLbPerYd, Takeoff: Takeoff{LbPerYd: w.opt.Bid.FiberLbPerYd}}
	w.placedWay(&way, w.prices["fiber"], yd, sourced{0, Basis{From: FromPractice, By: WithTheMix}}, s.part.AreaSqft)
	return way
}
