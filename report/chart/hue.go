package chart

import "strconv"

// Hue is what a mark is about, and so its color: the same thing has the same
// color everywhere. It is a class of the page's style and none of a record's
// words.
type Hue string

const (
	Plain    Hue = "plain"  // of nothing in particular
	Own      Hue = "own"    // what the company did
	Past     Hue = "past"   // what it did in the time before
	Bid      Hue = "bid"    // what it had bid
	Better   Hue = "better" // than bid, than others
	Worse    Hue = "worse"
	Bare     Hue = "bare" // without reinforcement
	Mesh     Hue = "mesh"
	Rebar    Hue = "rebar"
	Fiber    Hue = "fiber"
	Chute    Hue = "chute"
	Pump     Hue = "pump"
	Buggy    Hue = "buggy"
	Barrow   Hue = "barrow"
	Conveyor Hue = "conveyor"
)

// mostCrews is how many crews have colors of their own.
const mostCrews = 6

// CrewHue is that of the crew that is so manieth by name, from 0.
func CrewHue(i int) Hue { return Hue("crew" + strconv.Itoa(1+i%mostCrews)) }

// HueOf is that of a word of the records' vocabularies.
func HueOf(word string) Hue {
	switch h := Hue(word); h {
	case Mesh, Rebar, Fiber, Chute, Pump, Buggy, Barrow, Conveyor:
		return h
	case "none":
		return Bare
	}
	return Plain
}

// apartHues gives those of several things that have none of their own one each,
// so that they can be told apart.
func apartHues(hues []Hue) []Hue {
	out := make([]Hue, len(hues))
	for i, h := range hues {
		if out[i] = h; (h == Plain || h == "") && len(hues) > 1 {
			out[i] = CrewHue(i)
		} else if h == "" {
			out[i] = Plain
		}
	}
	return out
}

// symbols tell marks apart without color.
type symbol int

const (
	circle symbol = iota
	triangle
	diamond
	square
	symbolKinds
)

// mark puts a symbol of about a radius at a place.
func (d *Drawing) mark(class string, s symbol, at Point, radius float64, tip string) {
	shape := Shape{Kind: AreaShape, Class: class, Tip: tip}
	r := radius
	switch s % symbolKinds {
	case circle:
		shape.Kind, shape.Points, shape.Size = DotShape, []Point{at}, r
	case triangle:
		shape.Points = []Point{{at.X, at.Y - 1.25*r}, {at.X + 1.15*r, at.Y + .8*r}, {at.X - 1.15*r, at.Y + .8*r}}
	case diamond:
		shape.Points = []Point{{at.X, at.Y - 1.35*r}, {at.X + 1.35*r, at.Y}, {at.X, at.Y + 1.35*r}, {at.X - 1.35*r, at.Y}}
	case square:
		shape.Kind, shape.Points = BoxShape, []Point{{at.X - .9*r, at.Y - .9*r}, {at.X + .9*r, at.Y + .9*r}}
	}
	d.add(shape)
}
