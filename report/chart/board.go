package chart

import (
	"math"
	"slices"
	"strings"
)

// Widths of drawings, and the sizes of their words: on a phone 360 pixels wide a
// figure's words are 11 pixels high at least, and those of a small picture.
const (
	figureWidth, figureWords = 400.0, 13.5
	smallWidth, smallWords   = 330.0, 12.5
)

// edge keeps the first letter of words whole: some reach a little before their
// beginning.
const edge = 1.0

const (
	start  = "start"
	middle = "middle"
	end    = "end"
)

// board is a drawing in the making. It knows where words stand, so that none
// covers another, and which places are better left clear of them.
type board struct {
	*Drawing
	face
	taken []box
	busy  []Point
}

func newBoard(small bool) *board {
	if small {
		return &board{Drawing: &Drawing{Width: smallWidth, Class: "small"}, face: face{size: smallWords}}
	}
	return &board{Drawing: &Drawing{Width: figureWidth, Class: "figure"}, face: face{size: figureWords}}
}

// box is a part of a drawing, from its upper left to its lower right.
type box struct{ x1, y1, x2, y2 float64 }

func (b box) overlaps(o box) bool { return b.x1 < o.x2 && o.x1 < b.x2 && b.y1 < o.y2 && o.y1 < b.y2 }

func (b box) holds(p Point) bool { return p.X > b.x1 && p.X < b.x2 && p.Y > b.y1 && p.Y < b.y2 }

// strongly are classes of words that are set strong.
const strongly = "strong"

// boxOf is what words take of a drawing whose words have a size.
func boxOf(s Shape, f face) box {
	f.strong = strings.Contains(s.Class, strongly)
	w, x, y := f.widest(s.Words), s.Points[0].X, s.Points[0].Y
	switch s.Anchor {
	case middle:
		x -= w / 2
	case end:
		x -= w
	}
	return box{x, y - ascent*f.size, x + w, y + float64(len(s.Words)-1)*f.leading() + descent*f.size}
}

// write puts words at a place, whatever stands there.
func (b *board) write(class, anchor string, lines []string, x, y float64, tip string) {
	if strings.Join(lines, "") == "" {
		return
	}
	s := Shape{Kind: WordShape, Class: class, Anchor: anchor, Words: lines, Points: []Point{{x, y}}, Size: b.leading(), Tip: tip}
	b.taken = append(b.taken, boxOf(s, b.face))
	b.add(s)
}

// line puts one line of words at a place, cut to a room, unless others stand there.
func (b *board) line(class, anchor, words string, room, x, y float64) {
	f := face{b.size, strings.Contains(class, strongly)}
	if lines, whole := f.wrap(words, room, 1); b.free(class, anchor, lines, x, y) {
		b.write(class, anchor, lines, x, y, whole)
	}
}

// free says whether words at a place would stand within the drawing, and clear of
// all others.
func (b *board) free(class, anchor string, lines []string, x, y float64) bool {
	at := boxOf(Shape{Class: class, Anchor: anchor, Words: lines, Points: []Point{{x, y}}}, b.face)
	const slack = .01
	if at.x1 < -slack || at.x2 > b.Width+slack || at.y1 < 0 || b.Height > 0 && at.y2 > b.Height {
		return false
	}
	return !slices.ContainsFunc(b.taken, at.overlaps)
}

// covered counts what words at a place would cover.
func (b *board) covered(class, anchor string, lines []string, x, y float64) (n int) {
	at := boxOf(Shape{Class: class, Anchor: anchor, Words: lines, Points: []Point{{x, y}}}, b.face)
	for _, p := range b.busy {
		if at.holds(p) {
			n++
		}
	}
	return n
}

// keepClear notes that what lies along a line is better left clear of words.
func (b *board) keepClear(points []Point) {
	const apart = 6
	for i, p := range points {
		b.busy = append(b.busy, p)
		if i == 0 || !p.finite() || !points[i-1].finite() {
			continue
		}
		q := points[i-1]
		for far, at := math.Hypot(p.X-q.X, p.Y-q.Y), float64(apart); at < far; at += apart {
			b.busy = append(b.busy, Point{q.X + (p.X-q.X)*at/far, q.Y + (p.Y-q.Y)*at/far})
		}
	}
}

// marks writes words along a level line, each around its place: all of them, or
// every so manieth, as many as have room.
func (b *board) marks(class string, at []Rule, place func(v float64) float64, y float64) {
	at = slices.DeleteFunc(slices.Clone(at), func(m Rule) bool { return !finite(m.At) })
	for every := 1; every <= len(at); every++ {
		var chosen []Rule
		for i := len(at) - 1; i >= 0; i -= every {
			chosen = append(chosen, at[i])
		}
		if every == len(at) || b.inRoom(chosen, place) {
			for _, m := range chosen {
				if x := b.around(m.Name, place(m.At)); b.free(class, middle, []string{m.Name}, x, y) {
					b.write(class, middle, []string{m.Name}, x, y, "")
				}
			}
			return
		}
	}
}

// around is the middle of words around a place, moved where they would leave the
// drawing.
func (b *board) around(words string, x float64) float64 {
	half := b.width(words) / 2
	return min(max(x, half), b.Width-half)
}

// inRoom says whether words around places, in order, stand clear of each other.
func (b *board) inRoom(at []Rule, place func(v float64) float64) bool {
	const between = 6
	for i := 1; i < len(at); i++ {
		far := math.Abs(b.around(at[i].Name, place(at[i].At)) - b.around(at[i-1].Name, place(at[i-1].At)))
		if far < (b.width(at[i].Name)+b.width(at[i-1].Name))/2+between {
			return false
		}
	}
	return true
}

// apart moves blocks of heights along an upright line so that none covers
// another and all lie between two ends, each as near to its middle as that
// allows (isotonic least squares by pooling neighbors). It says where their
// middles come to lie, or that there is no room.
func apart(middles, heights []float64, top, bottom float64) ([]float64, bool) {
	n := len(middles)
	if n == 0 {
		return nil, true
	}
	order := make([]int, n)
	total := 0.0
	for i := range order {
		order[i] = i
		total += heights[i]
	}
	if total > bottom-top {
		return nil, false
	}
	slices.SortStableFunc(order, func(i, j int) int { return compare(middles[i], middles[j]) })
	type pool struct {
		sum float64
		n   int
	}
	before := make([]float64, n) // how far below the first block each must be at least
	var pools []pool
	for k, i := range order {
		if k > 0 {
			before[k] = before[k-1] + (heights[order[k-1]]+heights[i])/2
		}
		pools = append(pools, pool{middles[i] - before[k], 1})
		for m := len(pools); m > 1 && pools[m-1].sum/float64(pools[m-1].n) <= pools[m-2].sum/float64(pools[m-2].n); m-- {
			pools[m-2].sum += pools[m-1].sum
			pools[m-2].n += pools[m-1].n
			pools = pools[:m-1]
		}
	}
	low, high := top+heights[order[0]]/2, bottom-heights[order[n-1]]/2-before[n-1]
	out := make([]float64, n)
	k := 0
	for _, p := range pools {
		at := min(max(p.sum/float64(p.n), low), high)
		for range p.n {
			out[order[k]] = at + before[k]
			k++
		}
	}
	return out, true
}

func compare(a, b float64) int {
	switch {
	case a < b:
		return -1
	case a > b:
		return 1
	}
	return 0
}

// key is an entry of a legend.
type key struct {
	name  string
	class string // of its mark
	dash  bool   // a piece of a line
	mark  symbol
	bar   bool
}

// legend writes the keys from a height on, in as many lines as they take, and
// says where it ends.
func (b *board) legend(keys []key, top float64) float64 {
	if len(keys) == 0 {
		return top
	}
	const mark, between = 22, 14
	x, y := 0.0, top
	for _, k := range keys {
		lines, whole := b.wrap(k.name, b.Width-mark, 1)
		if len(lines) == 0 {
			continue
		}
		w := mark + b.width(lines[0])
		if x > 0 && x+w > b.Width {
			x, y = 0, y+b.leading()+2
		}
		at := y + b.size*.62
		switch {
		case k.bar:
			b.rect(k.class, x+1, at-6, x+15, at+6, 2, "")
		case k.dash:
			b.Line(k.class, x, at, x+17, at)
		default:
			b.mark(k.class, k.mark, Point{x + 8, at}, 5, "")
		}
		b.write("word", start, lines, x+mark, y+b.size, whole)
		x += w + between
	}
	return y + b.leading() + 8
}

// Note is said of a place on a chart that stands out.
type Note struct {
	X, Y float64
	Text string
}

// note writes words beside a place with a leader to it, where they cover least;
// where there is no room, the place says them when it is pointed at.
func (b *board) note(at Point, text string, within box) {
	if !at.finite() || text == "" {
		return
	}
	lines, whole := b.wrap(text, 150, 2)
	w, h := b.widest(lines), float64(len(lines)-1)*b.leading()
	best, covers := Point{}, math.MaxInt
	anchor := start
	for _, far := range []float64{16, 26, 40, 58} {
		for _, d := range []Point{{.7, -.7}, {-.7, -.7}, {.7, .7}, {-.7, .7}, {1, 0}, {-1, 0}} {
			p, to := Point{at.X + far*d.X, at.Y + far*d.Y}, start
			if p.Y += b.size * .35; d.X < 0 {
				to = end
			}
			if d.Y < 0 {
				p.Y -= h
			}
			left := p.X
			if to == end {
				left -= w
			}
			inside := left >= within.x1 && left+w <= within.x2 && p.Y-ascent*b.size >= within.y1 && p.Y+h+descent*b.size <= within.y2
			if !inside || !b.free("word", to, lines, p.X, p.Y) {
				continue
			}
			if n := b.covered("word", to, lines, p.X, p.Y); n < covers {
				best, covers, anchor = p, n, to
			}
		}
	}
	if covers == math.MaxInt {
		b.mark("ring", circle, at, 8, text)
		return
	}
	b.mark("ring", circle, at, 8, "")
	toward := best.X - 3
	if anchor == end {
		toward = best.X + 3
	}
	level := best.Y - b.size*.35
	if level < at.Y {
		level += h
	}
	if far := math.Hypot(toward-at.X, level-at.Y); far > 8 {
		b.Line("leader", at.X+(toward-at.X)*8/far, at.Y+(level-at.Y)*8/far, toward, level)
	}
	b.write("word note", anchor, lines, best.X, best.Y, whole)
}
