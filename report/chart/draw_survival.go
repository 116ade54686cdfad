package chart

import (
	"math"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// SurvivalPlot draws how many in 100 have cracked by each age, as stepped curves
// with bands, and below them, under the ages on the scale, how many slabs are
// still watched.
type SurvivalPlot struct {
	ID, Says   string
	Across, Up string // names of the scales
	Watched    string // what the numbers below are
	Undrawn    string // why there is no chart, where there is no curve
	Curves     []NamedCurve
	Notes      []Note
	And        func(names []string) string
}

// NamedCurve is the curve of one kind of slab. Ages are in years.
type NamedCurve struct {
	Name    string
	Hue     Hue
	Start   string // said of its beginning, at the pour
	End     float64
	Steps   []CurveStep
	Watched func(age float64) int // slabs still watched
}

// CurveStep is the share that has cracked by an age; where its range is not
// known, the band leaves the step out.
type CurveStep struct {
	Age   float64
	Share figure.Figure
	Tip   string
}

// mostCurves is how many curves are drawn at most.
const mostCurves = 6

func (p SurvivalPlot) Chart() *Chart {
	var drawn []NamedCurve
	for _, c := range p.Curves {
		if len(c.Steps) > 0 && len(drawn) < mostCurves {
			drawn = append(drawn, c)
		}
	}
	if len(drawn) == 0 {
		return Undrawn(p.ID, p.Undrawn)
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: func() *board { return p.draw(drawn) }}
}

func (p SurvivalPlot) draw(drawn []NamedCurve) *board {
	b := newBoard(false)
	end, left, most := 0.0, 0.0, 0
	lines := make([]Series, len(drawn))
	for i, c := range drawn {
		lines[i] = Series{Name: say.Clean(c.Name, say.LabelName), Hue: c.Hue, At: c.at(), Band: c.band(), Step: true}
		end = max(end, c.End, c.Steps[len(c.Steps)-1].Age)
		left, most = max(left, b.width(lines[i].Name)), max(most, c.Watched(0))
	}
	left = min(left, .25*b.Width) + 10 + b.width(say.Count(most))/2
	l := b.lined(lines, p.And)
	const high = 210
	n := b.naming(l, nil, high)
	ages := Axis{Name: p.Across, From: At(0), To: At(end)}
	f := b.framed(plan{X: ages, Y: Axis{Name: p.Up, From: At(0)}, ys: l.ys(), top: n.top, high: high, left: left, right: n.room})
	f.name(n, nil, f.lines(l))
	f.notes(p.Notes)
	p.watched(f, drawn, lines)
	return b
}

// band is the range of a curve: it jumps where the curve does, and goes as far.
func (c NamedCurve) band() []Reach {
	var band []Reach
	for _, s := range c.Steps {
		if n := len(band); n > 0 {
			band = append(band, Reach{s.Age, band[n-1].Low, band[n-1].High})
		}
		if s.Share.Bounded {
			band = append(band, Reach{s.Age, 100 * s.Share.Low, 100 * s.Share.High})
		}
	}
	if n := len(band); n > 0 && c.End > band[n-1].X {
		band = append(band, Reach{c.End, band[n-1].Low, band[n-1].High})
	}
	return band
}

// at are a curve's steps, from 0 at the pour to where it ends.
func (c NamedCurve) at() []Spot {
	at := []Spot{{0, 0, c.Start}}
	for _, s := range c.Steps {
		at = append(at, Spot{s.Age, 100 * s.Share.Value, s.Tip})
	}
	if last := at[len(at)-1]; c.End > last.X {
		at = append(at, Spot{X: c.End, Y: last.Y})
	}
	return at
}

// watched writes the numbers still watched under the ages of the scale.
func (p SurvivalPlot) watched(f *frame, drawn []NamedCurve, lines []Series) {
	hues := make([]Hue, len(lines))
	for i := range lines {
		hues[i] = lines[i].Hue
	}
	hues = apartHues(hues)
	y := f.Height + f.leading()
	f.Height = 0
	f.line("word faint", start, p.Watched, f.Width-edge, edge, y)
	for i, c := range drawn {
		y += f.leading() + 1
		f.line("word "+string(hues[i]), start, lines[i].Name, .25*f.Width-edge, edge, y)
		for _, m := range f.x.marks(6) {
			n := say.Count(c.Watched(m.At))
			x := min(max(f.x.at(m.At), f.width(n)/2), f.Width-f.width(n)/2)
			if f.free("word", middle, []string{n}, x, y) {
				f.write("word", middle, []string{n}, x, y, "")
			}
		}
	}
	f.Height = math.Ceil(y + f.leading()*.6)
}
