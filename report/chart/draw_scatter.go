package chart

// ScatterPlot draws points by two things, or over dates. Those marked are larger
// and of another shape, and a region may be shaded: pours by temperature and
// drying rate, those that cracked over where cracks begin to threaten.
type ScatterPlot struct {
	ID, Says      string
	Across, Up    Axis
	Points        []ScatterPoint
	Others, Those string // the names of the points, and of those marked
	Region        Region // none where it has no name
	Rules         []Rule // level lines with names
	Notes         []Note
	Undrawn       string // why there is no chart, where no point has a place
}

// ScatterPoint is one point.
type ScatterPoint struct {
	Spot
	Marked bool
}

// Region is the part of a chart within a ring of places.
type Region struct {
	Name string
	Ring []Spot
}

// Chart is the chart, or none where no point has a place and no words say why.
func (p ScatterPlot) Chart() *Chart {
	for _, s := range p.Points {
		if s.drawable() {
			return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
		}
	}
	if p.Undrawn != "" {
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

func (p ScatterPlot) draw() *board {
	b := newBoard(false)
	var xs, ys []float64
	for _, s := range p.Points {
		if s.drawable() {
			xs, ys = append(xs, s.X), append(ys, s.Y)
		}
	}
	names, classes := make([]string, len(p.Rules)), make([]string, len(p.Rules))
	for i, r := range p.Rules {
		names[i], classes[i] = r.Name, "word"
	}
	tags, room := b.tagged(names, classes)
	top := b.legend(p.keys(), 0)
	f := b.framed(plan{X: p.Across, Y: p.Up, xs: xs, ys: append(ys, rulesAt(p.Rules)...), top: top, high: 220, right: room, roundX: p.Across.Calendar == nil})
	p.region(f)
	for _, s := range p.Points {
		if at := f.place(s.X, s.Y); at.finite() {
			f.busy = append(f.busy, at)
		}
	}
	p.points(f, false)
	p.points(f, true)
	for i, r := range p.Rules {
		f.rule(r)
		tags[i].at = f.ruleEnd(r)
	}
	f.writeTags(tags)
	f.notes(p.Notes)
	return b
}

func (p ScatterPlot) keys() []key {
	keys := []key{{name: p.Others, class: "mark own", mark: circle}, {name: p.Those, class: "mark worse", mark: triangle}}
	if p.Region.Name != "" {
		keys = append(keys, key{name: p.Region.Name, class: "region", bar: true})
	}
	return keys
}

// region shades its part of the chart, within the scales.
func (p ScatterPlot) region(f *frame) {
	var ring []Point
	for _, s := range p.Region.Ring {
		if s.drawable() {
			ring = append(ring, f.place(f.x.within(s.X), f.y.within(s.Y)))
		}
	}
	if p.Region.Name != "" && len(ring) > 2 {
		f.Polygon("region", ring)
	}
}

func (p ScatterPlot) points(f *frame, marked bool) {
	class, kind, size := "mark cloud own", circle, 2.6
	if marked {
		class, kind, size = "mark worse", triangle, 4.2
	}
	for _, s := range p.Points {
		if at := f.place(s.X, s.Y); s.Marked == marked && at.finite() && f.shows(s.X, s.Y) {
			f.mark(class, kind, at, size, s.Tip)
		}
	}
}
