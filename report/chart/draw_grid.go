package chart

import (
	"math"

	"pourback/report/say"
)

// GridPlot crosses two things: in each cell a count, the darker the more. Cells
// with nothing in them are seen as such.
type GridPlot struct {
	ID, Says string
	Across   string // what the columns are: "joint spacing"
	Columns  []string
	Rows     []GridRow
	Nothing  string // stands in an empty cell: "–"
	Undrawn  string // why there is no chart, where there is no cell

}

// GridRow is one row of cells.
type GridRow struct {
	Label string
	Cells []GridCell
}

// GridCell is one cell. How dark it is goes by its value; 0, and what is no
// number, is empty.
type GridCell struct {
	Value float64
	Text  string // in it: the count, where empty
	Tip   string
}

// shades is how many grounds of cells there are.
const shades = 5

// mostGridColumns can be told apart on a phone.
const mostGridColumns = 8

// Chart is the chart, or none where there is no cell and no words say why.
func (p GridPlot) Chart() *Chart {
	p.Columns = p.Columns[:min(len(p.Columns), mostGridColumns)]
	p.Rows = p.Rows[:min(len(p.Rows), MostKinds)]
	switch {
	case len(p.Columns) > 0 && len(p.Rows) > 0:
		return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
	case p.Undrawn != "":
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

func (p GridPlot) draw() *board {
	b := newBoard(false)
	labels := make([]string, len(p.Rows))
	names := 0.0
	for i, r := range p.Rows {
		labels[i] = say.Clean(r.Label, say.ShortName)
		lines, _ := b.wrap(labels[i], .3*b.Width, 2)
		names = max(names, b.widest(lines)+10)
	}
	each := (b.Width - names) / float64(len(p.Columns))
	top := p.heads(b, names, each)
	r := b.listed(listing{labels: labels, top: top, each: 32, namesShare: .3})
	most := 0.0
	for _, row := range p.Rows {
		for _, c := range row.Cells {
			if finite(c.Value) {
				most = max(most, c.Value)
			}
		}
	}
	for i, row := range p.Rows {
		for k := range p.Columns {
			c := GridCell{}
			if k < len(row.Cells) {
				c = row.Cells[k]
			}
			p.cell(r, c, names+float64(k)*each, r.middle(i), each, most)
		}
	}
	r.Height = math.Ceil(r.y2 + 2)
	return b
}

// heads writes what the columns are, and says where the rows begin.
func (p GridPlot) heads(b *board, left, each float64) float64 {
	top := b.size
	if p.Across != "" {
		b.line("word faint", start, p.Across, b.Width-left, left, top)
		top += b.leading() + 3
	}
	deepest := 1
	for k, name := range p.Columns {
		lines, whole := b.wrap(name, each-6, 3)
		deepest = max(deepest, len(lines))
		b.write("word", middle, lines, left+(float64(k)+.5)*each, top, whole)
	}
	return top + float64(deepest-1)*b.leading() + 8
}

func (p GridPlot) cell(r *rows, c GridCell, x, middleY, each, most float64) {
	const half = 14
	empty := !finite(c.Value) || c.Value <= 0
	class, text := "cell empty", p.Nothing
	if !empty {
		class = "cell shade" + string(rune('1'+min(shades-1, int(shades*c.Value/most))))
		if text = c.Text; text == "" {
			text = say.Grouped(c.Value, 0)
		}
	}
	r.rect(class, x+1.5, middleY-half, x+each-1.5, middleY+half, 3, c.Tip)
	lines, whole := r.wrap(text, each-8, 1)
	if empty {
		r.write("word faint", middle, lines, x+each/2, middleY+r.size*.35, whole)
		return
	}
	r.write("word", middle, lines, x+each/2, middleY+r.size*.35, whole)
}
