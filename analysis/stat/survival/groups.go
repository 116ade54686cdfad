package survival

import (
	"fmt"
	"math"
	"slices"

	"pourback/analysis/stat"
)

// KaplanMeierBy makes a curve for each group of rows. The groups have any
// codes; label lists them in ascending order, as the curves are. Errors are
// those of [KaplanMeier].
func KaplanMeierBy(times []float64, event []bool, group []int) (label []int, curves []*KM, err error) {
	if len(group) != len(times) || len(event) != len(times) {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %d times, %d events and %d groups: %w",
			len(times), len(event), len(group), stat.ErrShape)
	}
	if len(times) == 0 {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %w", stat.ErrNoData)
	}
	if low, width := span(group); width <= maxTables {
		if tabs, ok := countDays(times, event, group, low, width); ok {
			for g, tab := range tabs {
				if tab != nil {
					label, curves = append(label, low+g), append(curves, tab.curve())
				}
			}
			return label, curves, nil
		}
	}
	if err := checkTimes("time", times); err != nil {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %w", err)
	}
	label, index := labels(group)
	byGroup, byGroupEvent := gather(times, event, index, len(label))
	curves = make([]*KM, len(label))
	for g := range label {
		if curves[g], err = KaplanMeier(byGroup[g], byGroupEvent[g]); err != nil {
			return nil, nil, err
		}
	}
	return label, curves, nil
}

// span is the least code and how many codes there are from it to the greatest,
// as far as an int can tell.
func span(codes []int) (low, width int) {
	low, high := codes[0], codes[0]
	for _, c := range codes {
		low, high = min(low, c), max(high, c)
	}
	if width = high - low + 1; width <= 0 {
		width = math.MaxInt
	}
	return low, width
}

// labels lists the different codes in ascending order, and gives each row the
// position of its own in that list.
func labels(codes []int) (label []int, index []int32) {
	if len(codes) == 0 {
		return nil, nil
	}
	index = make([]int32, len(codes))
	if low, width := span(codes); width <= len(codes)+maxTables {
		return tabledLabels(codes, low, width, index), index
	}
	label = slices.Clone(codes)
	slices.Sort(label)
	label = slices.Clip(slices.Compact(label))
	for i, c := range codes {
		at, _ := slices.BinarySearch(label, c)
		index[i] = int32(at)
	}
	return label, index
}

// tabledLabels does so in O(n) for codes that lie close together.
func tabledLabels(codes []int, low, width int, index []int32) (label []int) {
	at := make([]int32, width)
	for _, c := range codes {
		at[c-low] = 1
	}
	for c, seen := range at {
		if seen == 1 {
			at[c] = int32(len(label))
			label = append(label, low+c)
		}
	}
	for i, c := range codes {
		index[i] = at[c-low]
	}
	return label
}

// gather brings the rows of each of k groups together, in their order.
func gather(times []float64, event []bool, index []int32, k int) ([][]float64, [][]bool) {
	size := make([]int, k)
	for _, g := range index {
		size[g]++
	}
	t, e := make([][]float64, k), make([][]bool, k)
	allT, allE := make([]float64, len(times)), make([]bool, len(times))
	for g, n := range size {
		t[g], allT = allT[:0:n], allT[n:]
		e[g], allE = allE[:0:n], allE[n:]
	}
	for i, g := range index {
		t[g] = append(t[g], times[i])
		e[g] = append(e[g], event[i])
	}
	return t, e
}
