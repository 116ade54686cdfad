package chart

import "math"

// rows are names one below the other with a scale along the foot.
type rows struct {
	*board
	box     // what lies right of the names
	x       scale
	middles []float64
}

// listing says what rows are to hold.
type listing struct {
	labels     []string
	top        float64
	each       float64 // of a row, at least
	left       float64 // room before what is drawn, beside that of the names
	right      float64 // room behind it
	namesShare float64 // of the width, at most; 0 for what is usual
}

// listed writes the names in lines of their own, wrapped to three where they must.
func (b *board) listed(l listing) *rows {
	share := l.namesShare
	if share == 0 {
		share = .38
	}
	r := &rows{board: b}
	lines, wholes := make([][]string, len(l.labels)), make([]string, len(l.labels))
	names := 0.0
	for i, label := range l.labels {
		lines[i], wholes[i] = b.wrap(label, share*b.Width, 3)
		names = max(names, b.widest(lines[i]))
	}
	if names > 0 {
		names += 10
	}
	r.box = box{names + l.left, l.top, b.Width - max(min(l.right, .35*b.Width), 10), l.top}
	for i := range l.labels {
		each := l.each
		if n := len(lines[i]); n > 1 {
			each = max(each, float64(n)*b.leading()+5)
		}
		at := r.y2 + each/2
		r.middles = append(r.middles, at)
		b.write("word", start, lines[i], edge, at-float64(len(lines[i])-1)*b.leading()/2+b.size*.35, wholes[i])
		r.y2 += each
	}
	return r
}

// middle is the height of a row.
func (r *rows) middle(i int) float64 { return r.middles[i] }

// foot draws the scale below the rows, and closes the drawing there.
func (r *rows) foot(name string) {
	marks := r.x.marks(5)
	y := r.y2 + 4
	for _, m := range marks {
		r.Line("grid", r.x.at(m.At), r.y1, r.x.at(m.At), y)
	}
	y += r.size + 2
	r.marks("word faint", marks, r.x.at, y)
	y += 3
	if name != "" {
		y += r.leading()
		lines, whole := r.wrap(name, r.Width, 1)
		r.write("word faint", end, lines, max(r.x2, r.widest(lines)), y, whole)
		y += 3
	}
	r.Height = math.Ceil(y + 3)
}

// notes writes what is said of places on the chart.
func (r *rows) notes(notes []Note) {
	for _, n := range notes {
		i := int(n.Y)
		if !finite(n.X) || i < 0 || i >= len(r.middles) || !r.x.holds(n.X) {
			continue
		}
		r.note(Point{r.x.at(n.X), r.middles[i]}, n.Text, box{r.x1, r.y1, r.Width, r.y2})
	}
}
