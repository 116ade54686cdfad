package shape

// Rectangle is lengthFt × widthFt from the origin.
func Rectangle(lengthFt, widthFt float64) Outline {
	return Outline{{0, 0, 0}, {lengthFt, 0, 0}, {lengthFt, widthFt, 0}, {0, widthFt, 0}}
}

// L is lengthFt × widthFt less its upper right corner.
func L(lengthFt, widthFt, notchLengthFt, notchWidthFt float64) Outline {
	left, low := lengthFt-notchLengthFt, widthFt-notchWidthFt
	return Outline{{0, 0, 0}, {lengthFt, 0, 0}, {lengthFt, low, 0}, {left, low, 0}, {left, widthFt, 0}, {0, widthFt, 0}}
}

// At is the outline moved by x and y.
func (o Outline) At(x, y float64) Outline {
	out := make(Outline, len(o))
	for i, c := range o {
		out[i] = Corner{c.X + x, c.Y + y, c.Radius}
	}
	return out
}

// IsCircle says whether the outline is a full circle, and of which radius.
func (o Outline) IsCircle() (center Point, radiusFt float64, ok bool) {
	for i, c := range o {
		if !(c.Radius > 0) {
			return Point{}, 0, false
		}
		a := o.arcOf(i)
		if i > 0 && (a.center.distance(center) > 1e-6*radiusFt || !near(a.radius, radiusFt)) {
			return Point{}, 0, false
		}
		center, radiusFt = a.center, a.radius
	}
	return center, radiusFt, len(o) > 1
}

// IsRectangle says whether the outline is a rectangle, and of which sides: the
// first and the second.
func (o Outline) IsRectangle() (firstFt, secondFt float64, ok bool) {
	if len(o) != 4 || !o.straight() {
		return 0, 0, false
	}
	for i := range o {
		a, b := o.chord(i)
		_, c := o.chord(i + 1)
		if u, v := b.minus(a), c.minus(b); !(abs(u.dot(v)) <= 1e-9*u.length()*v.length()) {
			return 0, 0, false
		}
	}
	return o.chordFt(0), o.chordFt(1), true
}

func abs(x float64) float64 { return max(x, -x) }

func near(a, b float64) bool { return abs(a-b) <= 1e-6*max(1e-3, abs(a), abs(b)) }
