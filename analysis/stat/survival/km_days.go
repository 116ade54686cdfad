package survival

import "slices"

const (
	maxDays   = 1 << 15 // a longer follow-up than this is sorted instead
	maxTables = 64      // more groups than this are gathered instead
	oneEvent  = 1 << 32
	endedMask = oneEvent - 1
)

// days counts, for each whole number of days, the rows that end there in the
// low half of a cell and the events among them in the high half.
type days []uint64

// countDays counts rows by day in one table per group, the group of a row
// being group[i]−low, or 0 where group is nil. It reports false as soon as a
// time is not a whole number or too great to be worth a table.
func countDays(times []float64, event []bool, group []int, low, groups int) ([]days, bool) {
	oks := make([]bool, partsOf(len(times)))
	tabs := make([]days, len(oks)*groups)
	inParts(len(times), func(p, from, to int) {
		var g []int
		if group != nil {
			g = group[from:to]
		}
		oks[p] = countPart(tabs[p*groups:(p+1)*groups], times[from:to], event[from:to], g, low)
	})
	for i, tab := range tabs[groups:] {
		tabs[i%groups] = tabs[i%groups].plus(tab)
	}
	return tabs[:groups], !slices.Contains(oks, false)
}

func countPart(tabs []days, times []float64, event []bool, group []int, low int) bool {
	tab := tabs[0]
	event = event[:len(times)]
	if group != nil {
		group = group[:len(times)]
	}
	g := 0
	longest := uint(min(maxDays, 16*len(times)+64)) // few rows are sorted sooner
	for i, t := range times {
		d := uint(int(t))
		if float64(int(t)) != t || d >= longest {
			return false
		}
		if group != nil {
			g = group[i] - low
			tab = tabs[g]
		}
		if d >= uint(len(tab)) {
			tab = tab.grown(int(d))
			tabs[g] = tab
		}
		var e uint64
		if event[i] {
			e = oneEvent
		}
		tab[d] += e + 1
	}
	return true
}

// grown has room for the day.
func (d days) grown(day int) days {
	return append(d, make(days, max(64, len(d), day+1-len(d)))...)
}

// plus adds two tables, into the longer of them.
func (d days) plus(e days) days {
	if len(e) > len(d) {
		d, e = e, d
	}
	for i, c := range e {
		d[i] += c
	}
	return d
}

// curve makes the Kaplan-Meier curve of the counted rows.
func (d days) curve() *KM {
	rows, used := 0, 0
	for _, c := range d {
		if c != 0 {
			rows += int(c & endedMask)
			used++
		}
	}
	b := newBuilder(rows, used)
	for day, c := range d {
		if c != 0 {
			b.add(float64(day), int(c&endedMask), int(c>>32))
		}
	}
	return b.km
}
