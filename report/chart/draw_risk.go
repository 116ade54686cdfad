package chart

import (
	"pourback/analysis/figure"
	"pourback/report/say"
)

// ForestPlot draws ratios with their ranges on a scale on which doubling and
// halving are the same way off from no difference.
type ForestPlot struct {
	ID, Says string
	Scale    string    // what the ratio compares: "risk of a crack, times that of bare slabs"
	None     string    // the name of the line at 1: "no difference"
	Sides    [2]string // what it means to lie on either side of it
	Undrawn  string    // why there is no chart, where no ratio is known
	Rows     []ForestRow
	Notes    []Note
}

// ForestRow is one ratio with its name and what is said of it.
type ForestRow struct {
	Label string
	Ratio figure.Figure
	Tip   string
	Text  string // beside it
	Hue   Hue
}

func (p ForestPlot) Chart() *Chart {
	rows := RowPlot{ID: p.ID, Says: p.Says, Scale: p.Scale, Series: []RowSeries{{Hue: Own}}, Ratio: true,
		Rule: Rule{p.None, 1}, Sides: p.Sides, Undrawn: p.Undrawn, Notes: p.Notes}
	for _, r := range p.Rows {
		if a := Of(r.Ratio, 1, r.Tip); rows.drawable(a) && len(rows.Rows) < MostKinds {
			a.Text, a.Hue = r.Text, r.Hue
			rows.Rows = append(rows.Rows, Row{say.Clean(r.Label, say.LongName), []Amount{a}})
		}
	}
	return rows.Chart()
}

// FunnelPlot draws rates by how much each rests on, between the limits within
// which chance alone would keep them: the less a rate rests on, the wider.
type FunnelPlot struct {
	ID, Says string
	Basis    string // the scale along the foot: "pumped, 100 yd³"
	Rate     string // the upright scale
	All      string // the name of the line at the rate of all
	Words    FunnelWords
	Center   float64
	Inner    []Reach // limits of 95 in 100 over the basis
	Outer    []Reach // limits of 998 in 1,000; none where empty
	Points   []FunnelPoint
	Notes    []Note
}

// FunnelWords name what is drawn, and say why nothing is.
type FunnelWords struct {
	ByChance, Outside string // the points within the limits and those beyond
	Inner, Outer      string // the limits
	TooFew            string // why there is no chart
}

// FewestGroups is how many rates a funnel takes.
const FewestGroups = 3

// FunnelPoint is one rate.
type FunnelPoint struct {
	Spot
	Name    string // written beside the point
	Outside bool   // stands out
}

func (p FunnelPlot) Chart() *Chart {
	var points []FunnelPoint
	for _, f := range p.Points {
		if f.drawable() {
			points = append(points, f)
		}
	}
	if len(points) < FewestGroups {
		return Undrawn(p.ID, p.Words.TooFew)
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: func() *board { return p.draw(points) }}
}

func (p FunnelPlot) draw(points []FunnelPoint) *board {
	b := newBoard(false)
	var xs, ys []float64
	for _, f := range points {
		xs, ys = append(xs, f.X), append(ys, f.Y)
	}
	_, widest, _ := ends(xs...)
	for _, limits := range [][]Reach{p.Inner, p.Outer} {
		for _, r := range limits {
			if xs = append(xs, r.X); r.X > widest/3 { // what hardly rests on anything has no end
				ys = append(ys, r.High)
			}
		}
	}
	names, classes := []string{p.All, p.Words.Inner}, []string{"word", "word faint"}
	if len(p.Outer) > 0 {
		names, classes = append(names, p.Words.Outer), append(classes, "word faint")
	}
	tags, room := b.tagged(names, classes)
	top := b.legend(p.keys(points), 0)
	f := b.framed(plan{X: Axis{Name: p.Basis, From: At(0)}, Y: Axis{Name: p.Rate, From: At(0)}, xs: xs, ys: append(ys, p.Center), top: top, high: 210, right: room})
	f.rule(Rule{p.All, p.Center})
	f.band("area plain", p.Inner)
	tags[0].at = f.ruleEnd(Rule{At: p.Center})
	tags[1].at = f.limits("limit", p.Inner)
	if len(p.Outer) > 0 {
		tags[2].at = f.limits("limit dotted", p.Outer)
	}
	for _, f2 := range points {
		f.busy = append(f.busy, f.place(f2.X, f2.Y))
	}
	f.writeTags(tags)
	f.funnelPoints(points)
	f.notes(p.Notes)
	return b
}

// keys name what stands out, where anything does, beside what does not.
func (p FunnelPlot) keys(points []FunnelPoint) []key {
	for _, f := range points {
		if f.Outside {
			return []key{{name: p.Words.ByChance, class: "mark own", mark: circle}, {name: p.Words.Outside, class: "mark worse", mark: diamond}}
		}
	}
	return nil
}

// funnelPoints draws rates, each with its name where there is room for it.
func (f *frame) funnelPoints(points []FunnelPoint) {
	for _, p := range points {
		at := f.place(p.X, p.Y)
		if !f.shows(p.X, p.Y) {
			continue
		}
		if p.Outside {
			f.mark("mark worse", diamond, at, 6, p.Tip)
		} else {
			f.mark("mark own", circle, at, 5, p.Tip)
		}
		f.taken = append(f.taken, box{at.X - 6, at.Y - 6, at.X + 6, at.Y + 6})
	}
	for _, p := range points {
		if f.shows(p.X, p.Y) {
			f.beside(f.place(p.X, p.Y), p.Name)
		}
	}
}

// beside names a point on one of its sides.
func (f *frame) beside(at Point, name string) {
	lines, whole := f.wrap(name, 110, 1)
	for _, s := range []struct {
		x, y   float64
		anchor string
	}{{9, .35, start}, {-9, .35, end}, {0, -.8, middle}, {0, 1.5, middle}, {8, -.6, start}, {-8, -.6, end}, {8, 1.3, start}, {-8, 1.3, end}} {
		if x, y := at.X+s.x, at.Y+s.y*f.size; f.free("word", s.anchor, lines, x, y) {
			f.write("word", s.anchor, lines, x, y, whole)
			return
		}
	}
}

// limits draws both ends of ranges as lines, and says where the upper one ends.
func (f *frame) limits(class string, ranges []Reach) Point {
	if len(ranges) == 0 {
		return Point{f.x2, f.y1}
	}
	low, high := make([]Spot, len(ranges)), make([]Spot, len(ranges))
	for i, r := range ranges {
		low[i], high[i] = Spot{X: r.X, Y: r.Low}, Spot{X: r.X, Y: r.High}
	}
	upper := f.places(high)
	f.add(Shape{Class: class, Points: f.places(low)})
	f.add(Shape{Class: class, Points: upper})
	if at := lastOf(upper); at.finite() {
		return at
	}
	return Point{f.x2, f.y1}
}
