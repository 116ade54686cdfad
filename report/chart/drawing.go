package chart

import (
	"math"
	"strconv"
)

// Drawing is a picture made of lines, boxes and words, drawn without script: a
// plan to scale, or bars. Coordinates are in drawing units from the top left.
type Drawing struct {
	Says          string // what it shows, for those who do not see it
	Width, Height float64
	Shapes        []Shape
}

// Shape is one mark of a drawing: a polygon or line through its points, or
// words at the first of them. Its class says what it is, and so how it looks.
type Shape struct {
	Class  string
	Points []Point
	Words  string
	Anchor string // of words: start, middle or end
	Turned bool   // words that read upwards
	Closed bool
}

// Point is a place in a drawing.
type Point struct{ X, Y float64 }

// At are the points as an SVG attribute has them.
func (s Shape) At() string {
	var b []byte
	for i, p := range s.Points {
		if i > 0 {
			b = append(b, ' ')
		}
		b = append(appendTenths(b, p.X), ',')
		b = appendTenths(b, p.Y)
	}
	return string(b)
}

// X and Y are where words stand.
func (s Shape) X() string { return string(appendTenths(nil, s.Points[0].X)) }
func (s Shape) Y() string { return string(appendTenths(nil, s.Points[0].Y)) }

// appendTenths writes a coordinate to a tenth, so that the same drawing has the
// same bytes everywhere.
func appendTenths(b []byte, v float64) []byte {
	return strconv.AppendFloat(b, math.Round(v*10)/10+0, 'f', -1, 64)
}

func (d *Drawing) Line(class string, x1, y1, x2, y2 float64) {
	d.Shapes = append(d.Shapes, Shape{Class: class, Points: []Point{{x1, y1}, {x2, y2}}})
}

func (d *Drawing) Box(class string, x, y, w, h float64) {
	d.Polygon(class, []Point{{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}})
}

func (d *Drawing) Polygon(class string, points []Point) {
	d.Shapes = append(d.Shapes, Shape{Class: class, Points: points, Closed: true})
}

func (d *Drawing) Words(class, anchor, words string, x, y float64) {
	d.Shapes = append(d.Shapes, Shape{Class: class, Anchor: anchor, Words: words, Points: []Point{{x, y}}})
}

func (d *Drawing) Upwards(class, words string, x, y float64) {
	d.Shapes = append(d.Shapes, Shape{Class: class, Anchor: "middle", Words: words, Turned: true, Points: []Point{{x, y}}})
}

// MostKinds keeps a chart readable on a phone.
const MostKinds = 12
