package analysis

import (
	"cmp"
	"maps"
	"slices"
)

// groups gathers the indices of rows by a key, and hands them out in the
// order of the keys.
type groups[K comparable] struct{ rows map[K][]int }

// groupBy asks of for the key of each of n rows; rows for which it is false
// belong to no group.
func groupBy[K comparable](n int, of func(i int) (K, bool)) groups[K] {
	g := groups[K]{map[K][]int{}}
	for i := range n {
		if k, ok := of(i); ok {
			g.rows[k] = append(g.rows[k], i)
		}
	}
	return g
}

// sorted are the keys in the order of compare.
func (g groups[K]) sorted(compare func(a, b K) int) []K {
	return slices.SortedFunc(maps.Keys(g.rows), compare)
}

// kind is a use and a method of placing.
type kind struct{ use, method string }

// orUnknown names a group whose key was not recorded.
func orUnknown(s string) string { return cmp.Or(s, "unknown") }
