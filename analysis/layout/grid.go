package layout

import (
	"math"
	"slices"

	"pourback/analysis/shape"
	"pourback/analysis/trade"
)

// inner is a place where a slab cracks first: an inside corner, or a hole, which
// is relieved by joints both ways that begin there.
type inner struct {
	at       shape.Point
	bisector shape.Point // into the slab, of length 1; of a round hole none
	round    float64     // radius of a round hole
	corners  []inner     // of a small hole, which joints through its middle do not meet
	x, y     bool        // an upright and a level joint are wanted there
	must     bool        // an existing joint: it has no say in it
}

// gridJoints lays joints along two directions.
func (p *Plan) gridJoints(f frame, spacing float64) error {
	g := gridder{frame: f, spacing: spacing}
	g.edges, g.xs = ringsOf(f)
	g.narrow = min(f.w, f.h) < trade.NarrowFt
	g.inners = innersOf(f, spacing)
	if _, _, ok := f.outline.IsRectangle(); ok && len(g.inners) == 0 {
		columns, rows, err := trade.Division(f.w, f.h, spacing)
		if err != nil {
			return err
		}
		g.keep(p, cellsOf(g.edges, g.xs, divided([]float64{0, f.w}, f.w/float64(columns)), divided([]float64{0, f.h}, f.h/float64(rows))))
		return nil
	}
	g.keep(p, g.search())
	return nil
}

// gridder searches for the lines of a slab.
type gridder struct {
	frame
	spacing float64
	edges   []edge
	xs      []float64
	inners  []inner
	narrow  bool
}

// search tries panels of several sizes, with joints both ways from every inside
// corner; then leaves out joints from corners one by one, each for a bar, as long
// as that is better.
func (g *gridder) search() *cells {
	const mostTrials = 60 // of outlines with very many inside corners not all are tried
	best, cost := g.bestOf()
	for trials := 0; ; {
		found := false
		for i := range g.inners {
			for _, want := range []*bool{&g.inners[i].x, &g.inners[i].y} {
				if trials++; !*want || g.inners[i].must || trials > mostTrials {
					continue
				}
				*want = false
				if c, now := g.bestOf(); now < cost-1e-9 {
					best, cost, found = c, now, true
				} else {
					*want = true
				}
			}
		}
		if !found {
			g.hold(best)
			return best
		}
	}
}

// bestOf is the best layout of those with panels of several sizes.
func (g *gridder) bestOf() (*cells, float64) {
	const steps = 10
	var best *cells
	least := math.Inf(1)
	for i := range steps {
		side := g.spacing * (1 - 0.5*float64(i)/steps)
		for _, longer := range []float64{1, trade.AspectLimit} {
			c := cellsOf(g.edges, g.xs, divided(g.wanted(true), side), divided(g.wanted(false), side/longer))
			g.hold(c)
			g.prune(c)
			if cost := g.cost(c); cost < least-1e-9 {
				best, least = c, cost
			}
		}
	}
	return best, least
}

// wanted are the places where lines have to go, with both ends of the slab.
func (g *gridder) wanted(upright bool) []float64 {
	at := []float64{0, g.w}
	if !upright {
		at = []float64{0, g.h}
	}
	for _, n := range g.inners {
		if upright && n.x {
			at = append(at, n.at.X)
		}
		if !upright && n.y {
			at = append(at, n.at.Y)
		}
	}
	return once(at)
}

// divided are lines between the ends of a length: at the places given, and evenly
// between them, no further apart than side.
func divided(at []float64, side float64) []float64 {
	var lines []float64
	for i := 0; i+1 < len(at); i++ {
		if i > 0 {
			lines = append(lines, at[i])
		}
		n := max(1, int(math.Ceil((at[i+1]-at[i])/side-1e-6)))
		for k := 1; k < n; k++ {
			lines = append(lines, at[i]+(at[i+1]-at[i])*float64(k)/float64(n))
		}
	}
	return lines
}

// hold marks the chords that have to stay.
func (g *gridder) hold(c *cells) {
	for i := range c.chords {
		ch := &c.chords[i]
		ch.kept = slices.ContainsFunc(g.inners, func(n inner) bool { return n.relievedBy(*ch) })
	}
}

// relievedBy says whether a chord is a joint from here.
func (n inner) relievedBy(c chord) bool {
	across, along := n.at.Y, n.at.X
	if c.upright {
		across, along = n.at.X, n.at.Y
	}
	reach := n.round
	for _, k := range n.corners {
		if d := k.at.Y - n.at.Y; c.upright {
			reach = max(reach, math.Abs(d))
		} else {
			reach = max(reach, math.Abs(k.at.X-n.at.X))
		}
	}
	return math.Abs(c.at-across) < tiny && along >= c.low-reach*1.01-tiny && along <= c.high+reach*1.01+tiny
}

// relieved says whether joints run from here both ways.
func (g *gridder) relieved(c *cells, n inner) (x, y bool) {
	for _, ch := range c.chords {
		if !ch.out && n.relievedBy(ch) {
			x, y = x || ch.upright, y || !ch.upright
		}
	}
	return x, y
}

// prune leaves out chords, the longest first, as long as the panels that then run
// together are as good as before.
func (g *gridder) prune(c *cells) {
	order := make([]int, len(c.chords))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(i, j int) int {
		if a, b := c.chords[i], c.chords[j]; a.high-a.low > b.high-b.low+tiny {
			return -1
		} else if a.high-a.low < b.high-b.low-tiny {
			return 1
		}
		return 0
	})
	touching := make([][]int, len(c.chords))
	for k, l := range c.links {
		if l.chord >= 0 {
			touching[l.chord] = append(touching[l.chord], k)
		}
	}
	of, all := c.regions()
	for again := true; again; {
		again = false
		for _, i := range order {
			if ch := &c.chords[i]; ch.kept || ch.out || !g.mergeable(c, touching[i], of, all) {
				continue
			}
			c.chords[i].out, again = true, true
			of, all = c.regions()
		}
	}
}

// mergeable says whether panels across a chord may run together.
func (g *gridder) mergeable(c *cells, links []int, of []int, all []region) bool {
	root := map[int]region{}
	in := map[int]int{}
	leader := func(r int) int {
		for in[r] != r {
			r = in[r]
		}
		return r
	}
	worst, least := trade.AspectLimit, 1.0
	for _, k := range links {
		for _, r := range []int{of[c.links[k].a], of[c.links[k].b]} {
			if _, known := in[r]; !known {
				in[r], root[r] = r, all[r]
				worst, least = max(worst, all[r].panel().Ratio()), min(least, all[r].fill())
			}
		}
		if a, b := leader(of[c.links[k].a]), leader(of[c.links[k].b]); a != b {
			in[b] = a
			root[a] = root[a].with(root[b])
		}
	}
	for r := range in {
		if leader(r) != r {
			continue
		}
		p := root[r].panel()
		if max(p.W, p.H) > g.spacing+1e-6 || p.Ratio() > worst+1e-9 || root[r].fill() < least-1e-6 {
			return false
		}
	}
	return true
}

// cost is how bad a layout is: panels beyond the spacing and the ratio above all,
// then panels and bars by their number, crumbs, and at last the feet to cut.
func (g *gridder) cost(c *cells) float64 {
	_, all := c.regions()
	sum := 0.0
	for _, r := range all {
		p := r.panel()
		sum++
		if max(p.W, p.H) > g.spacing+1e-6 {
			sum += 1e6
		}
		if ratio := p.Ratio(); ratio > trade.AspectLimitLoose+1e-9 {
			sum += 1e3
		} else if ratio > trade.AspectLimit+1e-9 {
			sum++
		}
		if min(p.W, p.H) < trade.NarrowFt && !g.narrow {
			sum += 2
		}
		if r.fill() < 0.4 {
			sum += 2
		}
	}
	const bar = 6 // a bar is worth as many panels
	for _, n := range g.inners {
		if x, y := g.relieved(c, n); !(x && y) && !n.must {
			sum += bar
		}
	}
	for _, ch := range c.chords {
		if !ch.out {
			sum += 1e-4 * (ch.high - ch.low)
		}
	}
	return sum
}

// keep puts a layout into the plan.
func (g *gridder) keep(p *Plan, c *cells) {
	_, all := c.regions()
	for _, r := range all {
		p.Panels = append(p.Panels, r.panel())
	}
	for _, ch := range c.chords {
		if ch.out {
			continue
		}
		cut := ch.cut()
		cut.Corner = slices.ContainsFunc(g.inners, func(n inner) bool { return !n.must && n.relievedBy(ch) })
		p.Cuts = append(p.Cuts, cut)
	}
	for _, n := range g.inners {
		x, y := g.relieved(c, n)
		switch {
		case n.must && !(n.x && x || n.y && y):
			p.Missed = append(p.Missed, n.at)
		case !n.must && !(x && y) || len(n.corners) > 0:
			p.Bars = append(p.Bars, n.bars()...)
		}
	}
}

// bars lie across a corner, a foot from it and two feet long; at a round hole four
// of them between the directions of the joints.
func (n inner) bars() []Bar {
	const from, half = 0.5, 1.0
	across := func(at, into shape.Point) Bar {
		x, y := at.X+from*into.X, at.Y+from*into.Y
		return Bar{x - half*into.Y, y + half*into.X, x + half*into.Y, y - half*into.X}
	}
	if n.round > 0 {
		var out []Bar
		for k := range 4 {
			into := shape.Point{X: math.Cos(math.Pi / 4 * float64(2*k+1)), Y: math.Sin(math.Pi / 4 * float64(2*k+1))}
			out = append(out, across(shape.Point{X: n.at.X + n.round*into.X, Y: n.at.Y + n.round*into.Y}, into))
		}
		return out
	}
	if len(n.corners) > 0 {
		var out []Bar
		for _, c := range n.corners {
			out = append(out, across(c.at, c.bisector))
		}
		return out
	}
	return []Bar{across(n.at, n.bisector)}
}
