package chart

import (
	"html/template"
	"math"
	"strconv"
	"strings"
)

// Drawing is a picture made of lines, areas, marks and words, written as SVG
// that needs no script. Coordinates are in drawing units from the top left. How
// a shape looks is said by its class alone; colors are those of the page.
type Drawing struct {
	Says          string // what it shows, for those who do not see it
	Width, Height float64
	Class         string // figure, or small for one that is read at a glance; none for a plan
	Shapes        []Shape
}

// Shape is one mark of a drawing.
type Shape struct {
	Kind   ShapeKind
	Class  string
	Points []Point  // a line breaks where one is no number
	Size   float64  // the radius of a dot, or of a box's corners
	Words  []string // line by line
	Anchor string   // of words: start, middle or end
	Turned bool     // words that read upwards
	Tip    string   // the words that appear when it is pointed at
}

// ShapeKind says what a shape is made of.
type ShapeKind int

const (
	LineShape ShapeKind = iota // through its points
	AreaShape                  // what its points enclose
	BoxShape                   // from one corner to the other
	DotShape                   // around its one point
	WordShape                  // at its one point
)

// Point is a place in a drawing.
type Point struct{ X, Y float64 }

// gap breaks a line.
var gap = Point{math.NaN(), math.NaN()}

func (p Point) finite() bool { return finite(p.X) && finite(p.Y) }

// most is the farthest from 0 that anything is drawn: a figure beyond it is a
// mistake, and the differences of such are no numbers any more.
const most = 1e15

// finite says whether v can be drawn.
func finite(v float64) bool { return math.Abs(v) <= most } // what is no number is in no order

func (d *Drawing) add(s Shape) { d.Shapes = append(d.Shapes, s) }

// Line joins two points.
func (d *Drawing) Line(class string, x1, y1, x2, y2 float64) {
	d.add(Shape{Class: class, Points: []Point{{x1, y1}, {x2, y2}}})
}

// Polygon is what points enclose.
func (d *Drawing) Polygon(class string, points []Point) {
	d.add(Shape{Kind: AreaShape, Class: class, Points: points})
}

// Box is a rectangle.
func (d *Drawing) Box(class string, x, y, w, h float64) { d.rect(class, x, y, x+w, y+h, 0, "") }

func (d *Drawing) rect(class string, x1, y1, x2, y2, corner float64, tip string) {
	d.add(Shape{Kind: BoxShape, Class: class, Points: []Point{{min(x1, x2), min(y1, y2)}, {max(x1, x2), max(y1, y2)}}, Size: corner, Tip: tip})
}

// Words stand at a place, before it, behind it or around it.
func (d *Drawing) Words(class, anchor, words string, x, y float64) {
	d.add(Shape{Kind: WordShape, Class: class, Anchor: anchor, Words: []string{words}, Points: []Point{{x, y}}})
}

// Upwards are words that read upwards.
func (d *Drawing) Upwards(class, words string, x, y float64) {
	d.add(Shape{Kind: WordShape, Class: class, Anchor: "middle", Words: []string{words}, Turned: true, Points: []Point{{x, y}}})
}

// SVG writes the drawing, called by its own words, or by those of the element of
// an id where one is given. All text is escaped; the same drawing has the same
// bytes everywhere.
func (d *Drawing) SVG(saidBy string) template.HTML {
	w := &svg{}
	w.raw(`<svg`)
	w.attribute("class", strings.TrimSpace("drawn "+d.Class))
	w.raw(` viewBox="0 0 `).number(d.Width).raw(" ").number(d.Height).raw(`"`)
	w.at("width", d.Width).at("height", d.Height).attribute("role", "img")
	if saidBy != "" {
		w.attribute("aria-labelledby", saidBy)
	} else {
		w.attribute("aria-label", d.Says)
	}
	w.raw(">")
	for from := 0; from < len(d.Shapes); {
		to := from + 1
		for to < len(d.Shapes) && d.Shapes[to].Class == d.Shapes[from].Class && (d.Shapes[to].Kind == WordShape) == (d.Shapes[from].Kind == WordShape) {
			to++
		}
		w.run(d.Shapes[from:to])
		from = to
	}
	w.raw("</svg>")
	return template.HTML(w.String()) // markup of ours, everything else escaped
}

// svg is a drawing being written.
type svg struct{ strings.Builder }

func (w *svg) raw(s string) *svg {
	w.WriteString(s)
	return w
}

// text writes what may be anything.
func (w *svg) text(s string) { template.HTMLEscape(w, []byte(s)) }

func (w *svg) attribute(name, value string) *svg {
	w.raw(" ").raw(name).raw(`="`)
	w.text(value)
	return w.raw(`"`)
}

// number writes a coordinate to a tenth.
func (w *svg) number(v float64) *svg {
	var b [24]byte
	w.Write(strconv.AppendFloat(b[:0], math.Round(v*10)/10+0, 'f', -1, 64))
	return w
}

func (w *svg) at(name string, v float64) *svg {
	return w.raw(" ").raw(name).raw(`="`).number(v).raw(`"`)
}

// run writes shapes of one class, whose name is written once where they are
// several.
func (w *svg) run(shapes []Shape) {
	class := shapes[0].Class
	if len(shapes) > 2 && shapes[0].Kind != WordShape {
		w.raw("<g").attribute("class", class).raw(">")
		defer w.raw("</g>")
		class = ""
	}
	for _, s := range shapes {
		w.shape(s, class)
	}
}

// shape writes one shape, unless it has no place.
func (w *svg) shape(s Shape, class string) {
	if len(s.Points) == 0 || s.Kind != LineShape && !allFinite(s.Points) {
		return
	}
	name := [...]string{"path", "path", "rect", "circle", "text"}[s.Kind]
	w.raw("<").raw(name)
	if class != "" {
		w.attribute("class", class)
	}
	p := s.Points[0]
	switch s.Kind {
	case LineShape, AreaShape:
		w.path(s.Points, s.Kind == AreaShape)
	case BoxShape:
		q := s.Points[1]
		w.at("x", p.X).at("y", p.Y).at("width", q.X-p.X).at("height", q.Y-p.Y)
		if s.Size > 0 {
			w.at("rx", s.Size)
		}
	case DotShape:
		w.at("cx", p.X).at("cy", p.Y).at("r", s.Size)
	case WordShape:
		w.words(s)
		return
	}
	if s.Tip == "" {
		w.raw("/>")
		return
	}
	w.raw(">")
	w.tip(s.Tip)
	w.raw("</").raw(name).raw(">")
}

func (w *svg) tip(tip string) {
	if tip != "" {
		w.raw("<title>")
		w.text(tip)
		w.raw("</title>")
	}
}

func (w *svg) path(points []Point, closed bool) {
	w.raw(` d="`)
	begin := true
	for _, p := range points {
		switch {
		case !p.finite():
			begin = true
			continue
		case begin:
			w.raw("M")
		default:
			w.raw("L")
		}
		begin = false
		w.number(p.X).raw(" ").number(p.Y)
	}
	if closed {
		w.raw("Z")
	}
	w.raw(`"`)
}

// words writes lines of words, the first at the shape's place.
func (w *svg) words(s Shape) {
	p := s.Points[0]
	w.at("x", p.X).at("y", p.Y)
	if s.Anchor != "" && s.Anchor != start {
		w.attribute("text-anchor", s.Anchor)
	}
	if s.Turned {
		w.raw(` transform="rotate(-90 `).number(p.X).raw(" ").number(p.Y).raw(`)"`)
	}
	w.raw(">")
	w.tip(s.Tip)
	for i, line := range s.Words {
		if i > 0 {
			w.raw("<tspan").at("x", p.X).at("dy", s.Size).raw(">")
			w.text(line)
			w.raw("</tspan>")
			continue
		}
		w.text(line)
	}
	w.raw("</text>")
}

func allFinite(points []Point) bool {
	for _, p := range points {
		if !p.finite() {
			return false
		}
	}
	return true
}
