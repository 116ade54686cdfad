package survival

import (
	"fmt"
	"slices"

	"pourback/analysis/stat"
)

// labels lists the different codes in ascending order, and gives each row the
// position of its own in that list.
func labels(codes []int) (label []int, index []int32) {
	label = slices.Clone(codes)
	slices.Sort(label)
	label = slices.Clip(slices.Compact(label))
	index = make([]int32, len(codes))
	for i, c := range codes {
		at, _ := slices.BinarySearch(label, c)
		index[i] = int32(at)
	}
	return label, index
}

// KaplanMeierBy makes a curve for each group of rows. The groups have any
// codes; label lists them in ascending order, as the curves are.
func KaplanMeierBy(times []float64, event []bool, group []int) (label []int, curves []*KM, err error) {
	if len(group) != len(times) || len(event) != len(times) {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %d times, %d events and %d groups: %w",
			len(times), len(event), len(group), stat.ErrShape)
	}
	if len(times) == 0 {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %w", stat.ErrNoData)
	}
	if err := checkTimes(times); err != nil {
		return nil, nil, fmt.Errorf("Kaplan-Meier: %w", err)
	}
	label, index := labels(group)
	byGroup, byGroupEvent := gather(times, event, index, len(label))
	curves = make([]*KM, len(label))
	for g := range label {
		if curves[g], err = KaplanMeier(byGroup[g], byGroupEvent[g]); err != nil {
			return nil, nil, fmt.Errorf("group %d: %w", label[g], err)
		}
	}
	return label, curves, nil
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
