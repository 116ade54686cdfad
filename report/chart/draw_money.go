package chart

import (
	"pourback/report/say"
)

// ParetoPlot draws amounts with the costliest first, and the share of all that
// each adds up to with those before it.
type ParetoPlot struct {
	ID, Says string
	Scale    string // of the amounts: "minutes lost"
	Running  string // the name of the shares: "with those above, % of all"
	Few      Few    // why fewer than two are not drawn
	Rows     []ParetoRow
	Notes    []Note // Y counts the rows from 0
}

type ParetoRow struct {
	Label   string
	Amount  float64
	Running float64 // share of all up to here, 0 to 1
	Text    string  // that share in words: "82 %"
	Tip     string
}

func (p ParetoPlot) Chart() *Chart {
	const least = 2
	var rows []ParetoRow
	for _, r := range p.Rows {
		if finite(r.Amount) && len(rows) < MostKinds {
			rows = append(rows, r)
		}
	}
	if len(rows) < least {
		return Undrawn(p.ID, p.Few(len(rows), least))
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: func() *board { return p.draw(rows) }}
}

func (p ParetoPlot) draw(all []ParetoRow) *board {
	b := newBoard(false)
	labels := make([]string, len(all))
	amounts, shares, high := 0.0, 0.0, 0.0
	for i, r := range all {
		labels[i] = say.Clean(r.Label, say.ShortName)
		amounts = max(amounts, b.strongWidth(say.Grouped(r.Amount, 0))+8)
		shares = max(shares, b.width(r.Text)+10)
		high = max(high, r.Amount)
	}
	head, whole := b.wrap(p.Running, .5*b.Width, 2)
	b.write("word faint", end, head, b.Width, b.size, whole)
	top := float64(len(head))*b.leading() + 8
	r := b.listed(listing{labels: labels, top: top, each: 28, right: amounts + shares})
	low, high := widened(0, max(high, 1e-9), 5)
	r.x = scale{low: low, high: high, from: r.x1, to: r.x2}
	r.foot(p.Scale)
	for i, row := range all {
		y := r.middle(i)
		x := r.x.at(r.x.within(row.Amount))
		r.rect("mark own", r.x.at(0), y-9, x, y+9, 2, row.Tip)
		r.line("word strong", start, say.Grouped(row.Amount, 0), amounts, x+6, y+r.size*.35)
		r.line("word faint", end, row.Text, shares, r.Width, y+r.size*.35)
	}
	r.notes(p.Notes)
	return b
}

// BridgePlot leads from one sum to another: a bar for each end from zero, and
// between them each step from where the one before it stopped.
type BridgePlot struct {
	ID, Says string
	Scale    string // "margin, $"
	First    BridgeStep
	Steps    []BridgeStep
	Last     string // the label of the end, which is the sum of all
	LastTip  string
	LastText string

	Ends, Worse, Better string // the names of the bars: "in all", "costs more than bid" …
	NoSteps, NoAmount   string // why nothing is drawn
}

type BridgeStep struct {
	Label  string
	Amount float64
	Text   string // beside the bar: "+$1,200"
	Tip    string
}

func (p BridgePlot) Chart() *Chart {
	if len(p.Steps) == 0 {
		return Undrawn(p.ID, p.NoSteps)
	}
	for _, b := range p.bars() {
		if !finite(b.to) {
			return Undrawn(p.ID, p.NoAmount)
		}
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
}

// floating is a bar that need not begin at zero.
type floating struct {
	label, text, tip string
	from, to         float64
	hue              Hue
}

// bars are the ends and the steps between them.
func (p BridgePlot) bars() []floating {
	at := p.First.Amount
	bars := []floating{{p.First.Label, p.First.Text, p.First.Tip, 0, at, Own}}
	for _, s := range p.Steps {
		hue := Better
		if s.Amount < 0 {
			hue = Worse
		}
		bars = append(bars, floating{s.Label, s.Text, s.Tip, at, at + s.Amount, hue})
		at += s.Amount
	}
	bars[0].hue = Bid
	return append(bars, floating{p.Last, p.LastText, p.LastTip, 0, at, Own})
}

func (p BridgePlot) keys(bars []floating) (keys []key) {
	for _, k := range []struct {
		hue  Hue
		name string
	}{{Worse, p.Worse}, {Better, p.Better}} {
		for _, b := range bars {
			if b.hue == k.hue {
				keys = append(keys, key{name: k.name, class: "mark " + string(k.hue), bar: true})
				break
			}
		}
	}
	return keys
}

func (p BridgePlot) draw() *board {
	b := newBoard(false)
	bars := p.bars()
	labels := make([]string, len(bars))
	values := []float64{0}
	beside := 0.0
	for i, f := range bars {
		labels[i] = say.Clean(f.label, say.ShortName)
		values = append(values, f.from, f.to)
		beside = max(beside, b.strongWidth(f.text)+8)
	}
	top := b.legend(p.keys(bars), 0)
	r := b.listed(listing{labels: labels, top: top + 4, each: 28, right: min(beside, .3*b.Width)})
	low, high, _ := ends(values...)
	if flat(low, high) {
		low, high = widened(low, high, 5)
	}
	cut := cutOff(bars)
	if cut > 0 {
		low = cut
	}
	r.x = scale{low: low, high: high, from: r.x1, to: r.x2}
	r.foot(p.Scale)
	if cut <= 0 {
		r.Line("axis", r.x.at(0), r.y1, r.x.at(0), r.y2)
	}
	for i, f := range bars {
		y, from, to := r.middle(i), r.x.at(r.x.within(f.from)), r.x.at(f.to)
		if to-from < 1 && from-to < 1 {
			to = from + 1
		}
		r.rect("mark "+string(f.hue), from, y-9, to, y+9, 2, f.tip)
		if cut > 0 && f.from == 0 {
			r.torn(from+9, y)
		}
		if i+1 < len(bars) {
			r.Line("leader", to, y+9, to, r.middle(i+1)-9)
		}
		x := max(from, to) + 6
		r.line("word strong halo", start, f.text, r.Width-x, x, y+r.size*.35)
	}
	return b
}

// cutOff is where the scale of a bridge may begin, beyond zero, where all its
// steps are small beside the sums that they lead between; 0 where they are not.
func cutOff(bars []floating) float64 {
	low, high := bars[0].to, bars[0].to
	for _, f := range bars {
		low, high = min(low, f.to), max(high, f.to)
	}
	if low <= 0 || high-low > low/2 {
		return 0
	}
	return max(0, low-max(high-low, low/100)/2)
}

// torn shows that a bar does not begin where it seems to.
func (r *rows) torn(x, y float64) {
	for _, off := range []float64{0, 5} {
		r.add(Shape{Class: "torn", Points: []Point{{x + off - 3, y + 12}, {x + off + 3, y - 12}}})
	}
}
