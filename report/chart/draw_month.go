package chart

import (
	"math"
	"strconv"
	"time"

	"pourback/ingest/record"
)

// MonthPlot draws months as a calendar, one below the other, each day with what
// happens on it.
type MonthPlot struct {
	ID, Says string
	Days     [7]string // the heads of the days of the week, from Sunday
	Kinds    []DayKind
	Months   []CalendarMonth
	Today    string // the name of the day that is today, in the legend; none where no day is
}

// DayKind is what is marked, with a symbol of its own: "pour", "visit".
type DayKind struct {
	Name string
	Hue  Hue
}

// CalendarMonth is one month.
type CalendarMonth struct {
	Name  string // above it
	Year  int
	Month time.Month
	Today int // 1 to 31; 0 where today is in another month
	Marks []DayMark
}

// DayMark is something that happens on a day of the month.
type DayMark struct {
	Day  int // 1 to 31; others are left out
	Kind int // which of the kinds
	Tip  string
}

// Chart is the chart, none without a month.
func (p MonthPlot) Chart() *Chart {
	if len(p.Months) == 0 {
		return nil
	}
	return &Chart{ID: p.ID, Says: p.Says, draw: p.draw}
}

func (p MonthPlot) draw() *board {
	b := newBoard(false)
	var keys []key
	for k, d := range p.Kinds {
		keys = append(keys, key{name: d.Name, class: "mark " + string(d.Hue), mark: symbol(k)})
	}
	if p.Today != "" {
		keys = append(keys, key{name: p.Today, class: "cell day today", bar: true})
	}
	top := b.legend(keys, 0)
	for _, m := range p.Months {
		top = p.month(b, m, top)
	}
	b.Height = math.Ceil(top)
	return b
}

// month draws one month below top, and says where it ends.
func (p MonthPlot) month(b *board, m CalendarMonth, top float64) float64 {
	const high, between = 36.0, 3.0
	each := b.Width / 7
	if m.Name != "" {
		b.line("word strong", start, m.Name, b.Width, edge, top+b.size)
		top += b.leading() + 2
	}
	for i, name := range p.Days {
		b.line("word faint", middle, name, each-4, (float64(i)+.5)*each, top+b.size)
	}
	top += b.leading() + 2
	first := record.DateOf(m.Year, m.Month, 1)
	offset := int(first.Time().Weekday())
	days := int(record.DateOf(m.Year, m.Month+1, 1) - first)
	for day := 1; day <= days; day++ {
		cell, class := offset+day-1, "cell day"
		if day == m.Today {
			class += " today"
		}
		x, y := float64(cell%7)*each, top+float64(cell/7)*(high+between)
		b.rect(class, x+1.5, y, x+each-1.5, y+high, 3, "")
		b.write("word faint", start, []string{strconv.Itoa(day)}, x+5, y+b.size+1, "")
		p.marks(b, m, day, box{x, y, x + each, y + high})
	}
	return top + float64((offset+days+6)/7)*(high+between) + 4
}

// marks draws what happened on a day: a symbol for each, and where they are many
// one with their number.
func (p MonthPlot) marks(b *board, in CalendarMonth, day int, at box) {
	const room = 2
	byKind := map[int][]DayMark{}
	n := 0
	for _, m := range in.Marks {
		if m.Day == day && m.Kind >= 0 && m.Kind < len(p.Kinds) {
			byKind[m.Kind] = append(byKind[m.Kind], m)
			n++
		}
	}
	x, y := at.x1+12, at.y2-10
	for k, d := range p.Kinds {
		class, kind := "mark "+string(d.Hue), symbol(k)
		if marks := byKind[k]; n <= room {
			for _, m := range marks {
				b.mark(class, kind, Point{x, y}, 4.5, m.Tip)
				x += 14
			}
		} else if len(marks) > 0 && x < at.x2-8 {
			b.mark(class, kind, Point{x, y}, 4.5, tipsOf(marks))
			count := strconv.Itoa(len(marks))
			if len(marks) > 1 && b.free("word", start, []string{count}, x+7, y+b.size*.35) && x+7+b.width(count) < at.x2 {
				b.write("word", start, []string{count}, x+7, y+b.size*.35, "")
				x += b.width(count)
			}
			x += 14
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
