package clock

import (
	"math"
	"time"

	"pourback/analysis/trade"
)

// line puts each placement's stages and the saw's windows on the clock.
func (w *working) line() {
	if len(w.runs) == 0 {
		return
	}
	total, cured := 0.0, w.runs[len(w.runs)-1].empty
	for _, s := range w.Slabs {
		total += s.NeatYd
	}
	before := 0.0
	for _, s := range w.Slabs {
		if s.NeatYd <= 0 || total <= 0 {
			continue
		}
		first, last := w.placed(before/total), w.placed((before+s.NeatYd)/total)
		before += s.NeatYd
		cured = max(cured, w.slab(s, first, last))
	}
	w.drying(cured)
}

// placed is the minute at which a share of what the day takes lies in place.
func (w *working) placed(share float64) int {
	if share <= 0 {
		return w.runs[0].flows
	}
	all := 0.0
	for _, r := range w.runs {
		all += r.yd
	}
	primed := w.day.PrimedYd
	return w.downAt(w.DownYd + primed + share*(all-primed))
}

// slab adds the stages of one placement, whose first and last concrete is placed
// at two minutes, and says when its curing is on.
func (w *working) slab(s Slab, first, last int) int {
	d, h := w.day, w.Hours
	after := func(hours float64) int {
		return int(math.Round(60 * max(0, hours+s.SlowerHour) / d.Air.Pace))
	}
	struck := int(math.Round(60 * h.Strike)) // behind the screed, whatever the heat
	add := func(work Work, from, to int) {
		d.Line = append(d.Line, Span{s.Name, work, w.at(from), w.at(max(from, to))})
	}
	floated, finished, done, set := max(struck, after(h.Float)), max(struck, after(h.Finish)), max(struck, after(h.Done)), after(h.Set)
	add(Placing, first, last)
	add(Striking, first, last+struck)
	add(Bleeding, first+struck, last+floated)
	add(Floating, first+floated, last+finished)
	add(Brooming, first+finished, last+done)
	add(Setting, first+set, last+set)
	add(Curing, first+done, last+done)
	cut := func(early bool, from, to int) {
		d.Saw = append(d.Saw, Saw{s.Name, early, w.at(first + from), w.at(first + to), w.at(last + from), w.at(last + to)})
	}
	if s.Early {
		pace := func(hours float64) int { return int(math.Round(60 * hours / d.Air.Pace)) }
		cut(true, done+pace(trade.SawEarlyEntry.From), done+pace(trade.SawEarlyEntry.To))
	}
	if s.Saw {
		cut(false, max(done, after(trade.SawGeneral.From)), max(done, after(trade.SawGeneral.To)))
	}
	if over := w.runs[len(w.runs)-1].empty - (first + floated); over > 0 {
		w.note(Note{Kind: FastSet, At: w.at(first + floated), Min: over})
	}
	return last + done
}

// clockNotes are what the day's own clock asks to be told.
func (w *working) clockNotes() {
	d := w.day
	if len(w.runs) == 0 {
		return
	}
	end := d.LastEmpty
	for _, s := range d.Line {
		end = later(end, s.To)
	}
	for _, s := range d.Saw {
		end = later(end, s.To)
	}
	if end.Day > d.LastEmpty.Day {
		w.note(Note{Kind: NextDay, At: end})
	}
	if w.midnight.IsZero() {
		return
	}
	offset := func(min int) int { _, o := w.midnight.Add(time.Duration(min) * time.Minute).Zone(); return o / 60 }
	first := w.runs[0].batched
	for at := first; at < end.Min; at++ {
		if by := offset(at+1) - offset(at); by != 0 {
			w.note(Note{Kind: ClockChange, At: w.at(at + 1), Min: by})
			return
		}
	}
}

func later(a, b Time) Time {
	if b.Min > a.Min {
		return b
	}
	return a
}
