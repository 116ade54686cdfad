package shape

// Check finds what is wrong with an outline by itself: hole is the number under
// which it goes, 0 for the slab's own.
func (o Outline) Check(hole int) *Problem {
	least := 3
	if o.any(func(c Corner) bool { return c.Radius != 0 }) {
		least = 2
	}
	if len(o) < least {
		return &Problem{What: FewCorners, Hole: hole, Value: float64(len(o)), Limit: float64(least)}
	}
	for i, c := range o {
		ft := o.chordFt(i)
		if !(ft > 1e-6) {
			return &Problem{What: NoSide, Hole: hole, Side: i + 1}
		}
		if c.Radius != 0 && !(abs(c.Radius) >= ft/2*(1-1e-9)) {
			return &Problem{What: ArcShort, Hole: hole, Side: i + 1, Value: abs(c.Radius), Limit: ft / 2}
		}
	}
	fine := o.Fine(drawnStep)
	if i, j, crossed := crossing(fine, fine, true); crossed {
		return &Problem{What: Crosses, Hole: hole, Side: min(i, j) + 1, Other: max(i, j) + 1}
	}
	if !(o.AreaFt2() > 1e-6) {
		return &Problem{What: NoArea, Hole: hole}
	}
	return nil
}

// crossing finds two sides that meet where they should not. Stretches that follow
// on each other in one line share an end.
func crossing(a, b []Stretch, same bool) (sideA, sideB int, crossed bool) {
	for i := range a {
		p, q := a[i].From, a[(i+1)%len(a)].From
		for j := range b {
			if same && (j <= i || j == i+1 || i == 0 && j == len(b)-1) {
				if j == i+1 && doublesBack(p, q, b[(j+1)%len(b)].From) && len(a) > 2 {
					return a[i].Side, b[j].Side, true
				}
				continue
			}
			if meets(p, q, b[j].From, b[(j+1)%len(b)].From) {
				return a[i].Side, b[j].Side, true
			}
		}
	}
	return 0, 0, false
}

// doublesBack says whether the way from p over q to r returns on itself.
func doublesBack(p, q, r Point) bool {
	u, v := q.minus(p), r.minus(q)
	return abs(u.cross(v)) <= 1e-9*u.length()*v.length() && u.dot(v) < 0
}

// meets says whether two stretches have a point in common.
func meets(a, b, c, d Point) bool {
	side := func(p, q, r Point) float64 {
		s := q.minus(p).cross(r.minus(p))
		if abs(s) <= 1e-9*(1+q.minus(p).length()*r.minus(p).length()) {
			return 0
		}
		return s
	}
	s1, s2, s3, s4 := side(a, b, c), side(a, b, d), side(c, d, a), side(c, d, b)
	if s1*s2 < 0 && s3*s4 < 0 {
		return true
	}
	on := func(p, q, r Point) bool { return r.minus(p).dot(r.minus(q)) <= 0 }
	return s1 == 0 && on(a, b, c) || s2 == 0 && on(a, b, d) || s3 == 0 && on(c, d, a) || s4 == 0 && on(c, d, b)
}

// checkHoles finds a hole that is not within the outline, or that runs into
// another.
func (s *Slab) checkHoles() *Problem {
	rim := s.Outline.Fine(drawnStep)
	var before [][]Stretch
	for k, h := range s.Holes {
		if p := h.Check(k + 1); p != nil {
			return p
		}
		own := h.Fine(drawnStep)
		if _, _, crossed := crossing(own, rim, false); crossed || !s.Outline.Inside(own[0].From) {
			return &Problem{What: HoleOutside, Hole: k + 1}
		}
		for j, other := range before {
			_, _, crossed := crossing(own, other, false)
			if crossed || s.Holes[j].Inside(own[0].From) || h.Inside(other[0].From) {
				return &Problem{What: HolesMeet, Hole: k + 1, Other: j + 1}
			}
		}
		before = append(before, own)
	}
	return nil
}
