package trade

// through cuts an L by joints that run on from edge to edge: one grid for all of
// it, with lines both ways from the inside corner, columns of one width left of
// it and of another right of it, rows likewise. Of the grids that keep
// [AspectLimitLoose] it is the one of fewest panels, one beyond [AspectLimit]
// counting twice; false where there is none. A joint that ends at another one
// goes on as a crack (common practice).
func through(left, right, low, high, spacing float64) (Layout, bool) {
	const steps = 24
	var best Layout
	found, least := false, 0
	for i := range steps {
		side := spacing * (1 - 0.5*float64(i)/steps)
		for _, longer := range []float64{1, AspectLimit} {
			columns, rows := [2]int{atLeast(left, side), atLeast(right, side)}, [2]int{atLeast(low, side/longer), atLeast(high, side/longer)}
			l := gridOfL(left, right, low, high, columns, rows)
			if l.beyond(AspectLimitLoose) > 0 || l.LongestFt() > spacing+1e-9 {
				continue
			}
			if worth := len(l.Panels) + l.beyond(AspectLimit); !found || worth < least {
				best, least, found = l, worth, true
			}
		}
	}
	return best, found
}

// gridOfL lays out the panels and joints of one grid.
func gridOfL(left, right, low, high float64, columns, rows [2]int) Layout {
	parts := []struct {
		of            Rect
		columns, rows int
	}{
		{Rect{W: left, H: low}, columns[0], rows[0]},
		{Rect{X: left, W: right, H: low}, columns[1], rows[0]},
		{Rect{Y: low, W: left, H: high}, columns[0], rows[1]},
	}
	l := Layout{Outline: []Rect{{W: left + right, H: low}, {Y: low, W: left, H: high}}, Through: true,
		Cuts: []Cut{{0, low, left, low}, {left, 0, left, low}}}
	for _, p := range parts {
		l.Panels = append(l.Panels, p.of.panels(p.columns, p.rows)...)
	}
	upright := func(x, to float64) { l.Cuts = append(l.Cuts, Cut{x, 0, x, to}) }
	level := func(y, to float64) { l.Cuts = append(l.Cuts, Cut{0, y, to, y}) }
	between(left, columns[0], func(x float64) { upright(x, low+high) })
	between(right, columns[1], func(x float64) { upright(left+x, low) })
	between(low, rows[0], func(y float64) { level(y, left+right) })
	between(high, rows[1], func(y float64) { level(low+y, left) })
	return l
}

// between calls at for the lines that cut a length into equal parts.
func between(length float64, parts int, at func(float64)) {
	for i := 1; i < parts; i++ {
		at(length * float64(i) / float64(parts))
	}
}
