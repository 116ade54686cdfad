package chart

import (
	"math"
	"strconv"
	"time"

	"pourback/ingest/record"
)

// MonthPlot draws a month as a calendar, each day with what happened on it.
type MonthPlot struct {
	ID, Says string
	Year     int
	Month    time.Month
	Days     [7]string // the heads of the days of the week, from Sunday
	Kinds    []string  // what is marked, each with a symbol: "pour", "visit"
	Marks    []DayMark
}

// DayMark is something that happened on a day of the month.
type DayMark struct {
	Day  int // 1 to 31; others are left out
	Kind int // which of the kinds
	Tip  string
}

func (p MonthPlot) Chart() *Chart { return &Chart{ID: p.ID, Says: p.Says, draw: p.draw} }

// kindHues are the colors of what is marked on days.
var kindHues = []Hue{Own, Worse, Better, Bid}

func (p MonthPlot) draw() *board {
	const high, between = 40.0, 3.0
	b := newBoard(false)
	var keys []key
	for k, name := range p.Kinds {
		keys = append(keys, key{name: name, class: "mark " + string(kindHues[k%len(kindHues)]), mark: symbol(k)})
	}
	top := b.legend(keys, 0)
	each := b.Width / 7
	for i, name := range p.Days {
		b.line("word faint", middle, name, each-4, (float64(i)+.5)*each, top+b.size)
	}
	top += b.leading() + 4
	first := record.DateOf(p.Year, p.Month, 1)
	offset := int(first.Time().Weekday())
	days := int(record.DateOf(p.Year, p.Month+1, 1) - first)
	for day := 1; day <= days; day++ {
		cell := offset + day - 1
		x, y := float64(cell%7)*each, top+float64(cell/7)*(high+between)
		b.rect("cell day", x+1.5, y, x+each-1.5, y+high, 3, "")
		b.write("word faint", start, []string{strconv.Itoa(day)}, x+5, y+b.size+1, "")
		p.marks(b, day, box{x, y, x + each, y + high})
	}
	rows := (offset + days + 6) / 7
	b.Height = math.Ceil(top + float64(rows)*(high+between))
	return b
}

// marks draws what happened on a day: a symbol for each, and where they are many
// one with their number.
func (p MonthPlot) marks(b *board, day int, at box) {
	const room = 3
	byKind := map[int][]DayMark{}
	n := 0
	for _, m := range p.Marks {
		if m.Day == day && m.Kind >= 0 && m.Kind < len(p.Kinds) {
			byKind[m.Kind] = append(byKind[m.Kind], m)
			n++
		}
	}
	x, y := at.x1+12, at.y2-10
	for k := range p.Kinds {
		class, kind := "mark "+string(kindHues[k%len(kindHues)]), symbol(k)
		if marks := byKind[k]; n <= room {
			for _, m := range marks {
				b.mark(class, kind, Point{x, y}, 4.5, m.Tip)
				x += 14
			}
		} else if len(marks) > 0 && x < at.x2-8 {
			b.mark(class, kind, Point{x, y}, 4.5, tipsOf(marks))
			count := strconv.Itoa(len(marks))
			if b.free("word", start, []string{count}, x+7, y+b.size*.35) && x+7+b.width(count) < at.x2 {
				b.write("word", start, []string{count}, x+7, y+b.size*.35, "")
			}
			x += 14 + b.width(count)
		}
	}
}

// tipsOf joins what is said of several marks, the first few of them.
func tipsOf(marks []DayMark) (tip string) {
	for i, m := range marks[:min(len(marks), 12)] {
		if i > 0 && m.Tip != "" {
			tip += "\n"
		}
		tip += m.Tip
	}
	return tip
}
