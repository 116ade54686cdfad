package figure

import (
	"cmp"
	"math"
	"slices"

	"pourback/analysis/stat/resample"
	"pourback/ingest/record"
)

// RoundCents rounds to whole cents. What is no amount of money (a thickness of
// next to nothing, a million miles of delay) is 0 and stays with other.
func RoundCents(cents float64) record.Cents {
	if c := math.Round(cents); math.Abs(c) < 9e15 {
		return record.Cents(c)
	}
	return 0
}

func InRecordOrder(problems []record.Problem) []record.Problem {
	slices.SortStableFunc(problems, func(a, b record.Problem) int { return cmp.Compare(a.Record, b.Record) })
	return problems
}

// Where are the rows for which it is so, looked for on all cores.
func Where(n int, so func(i int) bool) []int {
	found := make([][]int, (n+resample.BlockSize-1)/resample.BlockSize)
	resample.Blocks(n, func() func(block, lo, hi int) {
		return func(block, lo, hi int) {
			for i := lo; i < hi; i++ {
				if so(i) {
					if found[block] == nil {
						found[block] = make([]int, 0, hi-i)
					}
					found[block] = append(found[block], i)
				}
			}
		}
	})
	return slices.Concat(found...)
}

// mostDays keeps one slip of a date from asking for a table of all days since.
const mostDays = 1 << 20

// ByDay are the numbers 0 to n−1 in the order of their days, those of a day as they
// were. There are few days beside many rows, so rows are counted into days.
func ByDay(n int, day func(k int) record.Date) []int {
	if n == 0 {
		return nil
	}
	first, last := day(0), day(0)
	for k := range n {
		first, last = min(first, day(k)), max(last, day(k))
	}
	order := make([]int, n)
	if int(last-first) > mostDays {
		for k := range order {
			order[k] = k
		}
		slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(day(a), day(b)) })
		return order
	}
	start := make([]int, last-first+2) // where each day's rows begin
	for k := range n {
		start[day(k)-first+1]++
	}
	for d := 1; d < len(start); d++ {
		start[d] += start[d-1]
	}
	for k := range n {
		at := &start[day(k)-first]
		order[*at] = k
		*at++
	}
	return order
}

func SortedNames[T any](m map[string]T) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}

// Frequent are the words that have records enough for a column, the most
// frequent where there are too many, in the order of the words.
func Frequent(l Labels, except ...string) []string {
	counts := l.Counts()
	var ks []int
	for k, n := range counts {
		if n >= LeastForRate && !slices.Contains(except, l.Names[k]) {
			ks = append(ks, k)
		}
	}
	slices.SortStableFunc(ks, func(a, b int) int { return cmp.Compare(counts[b], counts[a]) })
	ks = ks[:min(len(ks), mostColumns)]
	slices.Sort(ks)
	var names []string
	for _, k := range ks {
		names = append(names, l.Names[k])
	}
	return names
}

func SumOf(xs []float64) float64 {
	s := 0.0
	for _, x := range xs {
		s += x
	}
	return s
}

// mostColumns bounds the methods, and the bases, that have a column of their own.
const mostColumns = 8
