package chart

import (
	"math"
	"slices"

	"pourback/report/say"
)

// DayPlot draws a day by the clock: a row for each thing, with bars from when it
// begins to when it ends, ticks at its deadlines, and words at times of the day.
// Times are minutes.
type DayPlot struct {
	ID, Says string
	Rows     []DayRow
	Rule     Rule                 // a time that all turn on; none where it has no name
	Keys     []DayKey             // what bars and ticks are
	Clock    func(min int) string // a mark on the scale, on the hour
	Undrawn  string               // why there is no chart, where no row has a bar
}

// DayRow is a row of the day.
type DayRow struct {
	Label string
	Bars  []DayBar
	Ticks []Spot // X is the time; the tip says what ends there
	Words []Rule // at times, centered
}

// DayBar is a stretch of the day. A thin one leads to a bar or follows it.
type DayBar struct {
	From, To float64
	Hue      Hue
	Thin     bool
	Tip      string
}

// DayKey explains a kind of bar, or the ticks where its hue is "".
type DayKey struct {
	Name string
	Hue  Hue
}

// mostDayRows keeps a day on one screen of a phone or two.
const mostDayRows = 24

// Chart is the chart, or none where no row has a bar and no words say why.
func (p DayPlot) Chart() *Chart {
	var rows []DayRow
	bars := 0
	for _, r := range p.Rows {
		r.Bars = slices.DeleteFunc(slices.Clone(r.Bars), func(b DayBar) bool { return !onDay(b.From) || !onDay(b.To) || b.To < b.From })
		r.Ticks = slices.DeleteFunc(slices.Clone(r.Ticks), func(s Spot) bool { return !onDay(s.X) })
		r.Words = slices.DeleteFunc(slices.Clone(r.Words), func(w Rule) bool { return !onDay(w.At) })
		if bars += len(r.Bars); len(r.Bars)+len(r.Words) > 0 && len(rows) < mostDayRows {
			rows = append(rows, r)
		}
	}
	p.Rows = rows
	switch {
	case bars > 0:
		return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
	case p.Undrawn != "":
		return Undrawn(p.ID, p.Undrawn)
	}
	return nil
}

// onDay says whether a time is within some days of the one that is drawn.
func onDay(min float64) bool { return math.Abs(min) <= 7*24*60 }

func (p DayPlot) draw() *board {
	b := newBoard(false)
	labels := make([]string, len(p.Rows))
	for i, r := range p.Rows {
		labels[i] = say.Clean(r.Label, say.LongName)
	}
	top := 0.0
	var keys []key
	for _, k := range p.Keys {
		if k.Hue == "" {
			keys = append(keys, key{name: k.Name, class: "range", dash: true})
			continue
		}
		keys = append(keys, key{name: k.Name, class: "mark " + string(k.Hue), bar: true})
	}
	top = b.legend(keys, top)
	if p.Rule.Name != "" {
		top += b.leading() + 6
	}
	r := b.listed(listing{labels: labels, top: top + 4, each: 26, left: 6, right: 14, namesShare: .34})
	r.x = p.scale(r.x1, r.x2)
	p.hours(r)
	if p.Rule.Name != "" && onDay(p.Rule.At) && r.x.holds(p.Rule.At) {
		r.upright("rule", p.Rule)
	}
	for i, row := range p.Rows {
		p.row(r, r.middle(i), row)
	}
	return b
}

// scale holds all bars and ticks, from a whole hour to a whole hour.
func (p DayPlot) scale(from, to float64) scale {
	low, high := math.Inf(1), math.Inf(-1)
	for _, r := range p.Rows {
		for _, b := range r.Bars {
			low, high = min(low, b.From), max(high, b.To)
		}
		for _, t := range r.Ticks {
			low, high = min(low, t.X), max(high, t.X)
		}
	}
	const hour = 60
	low, high = hour*math.Floor(low/hour), hour*math.Ceil(high/hour)
	if high == low {
		high += hour
	}
	return scale{low: low, high: high, from: from, to: to}
}

// hours draws the scale of whole hours below the rows, and closes the drawing.
func (p DayPlot) hours(r *rows) {
	const hour, most = 60, 7
	span := (r.x.high - r.x.low) / hour
	every := 24.0
	for _, e := range []float64{1, 2, 3, 4, 6, 12} {
		if span/e <= most {
			every = e
			break
		}
	}
	for span/every > most {
		every *= 2
	}
	var marks []Rule
	for k := math.Ceil(r.x.low / hour / every); k*every*hour <= r.x.high; k++ {
		at := k * every * hour
		name := ""
		if p.Clock != nil {
			name = say.Clean(p.Clock(int(at)), say.LabelName)
		}
		marks = append(marks, Rule{name, at})
	}
	y := r.y2 + 4
	for _, m := range marks {
		r.Line("grid", r.x.at(m.At), r.y1, r.x.at(m.At), y)
	}
	y += r.size + 2
	r.marks("word faint", marks, r.x.at, y)
	r.Height = math.Ceil(y + 6)
}

// row draws the bars, ticks and words of one row.
func (p DayPlot) row(r *rows, y float64, row DayRow) {
	const half, thin, tick = 8, 2.5, 11
	for _, b := range row.Bars {
		h := float64(half)
		if b.Thin {
			h = thin
		}
		from := r.x.at(b.From)
		r.rect("mark "+string(b.Hue), from, y-h, max(r.x.at(b.To), from+2), y+h, min(2, h), b.Tip)
	}
	for _, t := range row.Ticks {
		x := r.x.at(t.X)
		r.add(Shape{Class: "range", Points: []Point{{x, y - tick}, {x, y + tick}}, Tip: t.Tip})
	}
	for _, w := range row.Words {
		if r.x.holds(w.At) {
			x := r.around(w.Name, r.x.at(w.At))
			r.line("word faint", middle, w.Name, r.Width, x, y+r.size*.35)
		}
	}
}
