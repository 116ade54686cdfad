package figure

import (
	"cmp"
	"maps"
	"slices"
)

// groups gathers the indices of rows by a key, and hands them out in the
// order of the keys.
type groups[K comparable] struct{ Rows map[K][]int }

// GroupBy asks of for the key of each of n rows; rows for which it is false
// belong to no group.
func GroupBy[K comparable](n int, of func(i int) (K, bool)) groups[K] {
	g := groups[K]{map[K][]int{}}
	for i := range n {
		if k, ok := of(i); ok {
			g.Rows[k] = append(g.Rows[k], i)
		}
	}
	return g
}

// Sorted are the keys in the order of compare.
func (g groups[K]) Sorted(compare func(a, b K) int) []K {
	return slices.SortedFunc(maps.Keys(g.Rows), compare)
}

// Kind is a use and a method of placing.
type Kind struct{ Use, Method string }

// OrUnknown names a group whose key was not recorded.
func OrUnknown(s string) string { return cmp.Or(s, "unknown") }
