package survival

import "sync"

const (
	maxDays   = 1 << 15 // a longer follow-up than this is sorted instead
	manyRows  = 1 << 17 // from here on rows are counted in parts
	rowParts  = 4       // fixed, so that no answer depends on the machine
	oneEvent  = 1 << 32
	endedMask = oneEvent - 1
)

// days counts, for each whole number of days, the rows that end there in the
// low half of a cell and the events among them in the high half.
type days []uint64

// countDays counts rows by day, or reports false as soon as a time is not a
// whole number from 0 up to maxDays.
func countDays(times []float64, event []bool) (days, bool) {
	if len(times) < manyRows {
		return countPart(times, event)
	}
	var (
		tabs [rowParts]days
		oks  [rowParts]bool
		wg   sync.WaitGroup
	)
	for p := range rowParts {
		from, to := part(len(times), p)
		wg.Go(func() { tabs[p], oks[p] = countPart(times[from:to], event[from:to]) })
	}
	wg.Wait()
	var sum days
	for p, tab := range tabs {
		if !oks[p] {
			return nil, false
		}
		sum = sum.plus(tab)
	}
	return sum, true
}

// part is the p-th of rowParts stretches of n rows.
func part(n, p int) (from, to int) { return n * p / rowParts, n * (p + 1) / rowParts }

func countPart(times []float64, event []bool) (days, bool) {
	tab := make(days, min(maxDays, len(times)+64))
	event = event[:len(times)]
	for i, t := range times {
		d := uint(int(t))
		if float64(int(t)) != t || d >= maxDays {
			return nil, false
		}
		if d >= uint(len(tab)) {
			tab = append(tab, make(days, max(len(tab), int(d)+1-len(tab)))...)
		}
		var e uint64
		if event[i] {
			e = oneEvent
		}
		tab[d] += e + 1
	}
	return tab, true
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

// fromDays makes the curve of n rows counted by day.
func fromDays(tab days, n int) *KM {
	used := 0
	for _, c := range tab {
		if c != 0 {
			used++
		}
	}
	b := newBuilder(n, used)
	for d, c := range tab {
		if c != 0 {
			b.add(float64(d), int(c&endedMask), int(c>>32))
		}
	}
	return b.km
}
