package chart

// ControlPlot draws a value over time with its average and the limits that
// chance keeps it within, and marks what stands out.
type ControlPlot struct {
	ID, Says string
	Scale    string // "margin, %"
	Value    string // the name of the line: "margin"
	Points   []ControlPoint
	Center   Rule    // the average; none where it has no name
	Limits   [2]Rule // the lower and the upper limit; none where they have no names
	Marked   string  // the name of what stands out
	Few      Few     // why fewer than eight are not drawn
	Notes    []Note  // X counts the points from 0
}

type ControlPoint struct {
	Label  string // along the foot: "Mar 2026"
	Value  float64
	Signal bool // stands out
	Tip    string
}

func (p ControlPlot) Chart() *Chart {
	const least = 8 // fewer months make limits of nothing (common practice, no published source)
	if len(p.Points) < least {
		return Undrawn(p.ID, p.Few(len(p.Points), least))
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
}

func (p ControlPlot) draw() *board {
	b := newBoard(false)
	line := Series{Name: p.Value, Hue: Own}
	var ys []float64
	var marks []Rule
	for i, c := range p.Points {
		line.At = append(line.At, Spot{X: float64(i), Y: c.Value})
		marks, ys = append(marks, Rule{c.Label, float64(i)}), append(ys, c.Value)
	}
	var rules []Rule
	for _, r := range []Rule{p.Limits[1], p.Center, p.Limits[0]} {
		if r.Name != "" && finite(r.At) {
			rules, ys = append(rules, r), append(ys, r.At)
		}
	}
	names, classes := []string{p.Value}, []string{"word strong own"}
	for _, r := range rules {
		names, classes = append(names, r.Name), append(classes, "word faint")
	}
	tags, room := b.tagged(names, classes)
	top := b.legend(p.keys(), 0)
	last := float64(len(p.Points) - 1)
	f := b.framed(plan{X: Axis{Marks: marks, From: At(0), To: At(last)}, Y: Axis{Name: p.Scale}, ys: ys, top: top, high: 200, right: room})
	if low, high := p.Limits[0], p.Limits[1]; low.Name != "" && high.Name != "" {
		f.band("area plain", []Reach{{0, low.At, high.At}, {last, low.At, high.At}})
	}
	for i, r := range rules {
		f.rule(r)
		tags[1+i].at = f.ruleEnd(r)
	}
	tails := f.lines(b.lined([]Series{line}, nil))
	p.points(f)
	if len(tails) > 0 {
		tags[0].at = tails[0]
	} else {
		tags = tags[1:]
	}
	f.writeTags(tags)
	f.notes(p.Notes)
	return b
}

func (p ControlPlot) keys() (keys []key) {
	for _, c := range p.Points {
		if c.Signal && finite(c.Value) {
			return []key{{name: p.Marked, class: "mark bare", mark: diamond}}
		}
	}
	return nil
}

// points marks the months, those that stand out larger.
func (p ControlPlot) points(f *frame) {
	for i, c := range p.Points {
		at := f.place(float64(i), c.Value)
		switch {
		case !at.finite() || !f.y.holds(c.Value):
		case c.Signal:
			f.mark("mark bare", diamond, at, 6, c.Tip)
		default:
			f.mark("mark own", circle, at, 3, c.Tip)
		}
	}
}
