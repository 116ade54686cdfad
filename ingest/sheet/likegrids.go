package sheet

import (
	"slices"
)

// headed are the headings of a grid without the empty ones, in order of the
// alphabet where no two are alike.
func (g *grid) headed() []string {
	names := make([]string, 0, len(g.head.names))
	for _, name := range g.head.names {
		if name = foldHeading(name); name != "" {
			names = append(names, name)
		}
	}
	sorted := slices.Sorted(slices.Values(names))
	if len(slices.Compact(slices.Clone(sorted))) < len(names) {
		return names
	}
	return sorted
}

// order says where each of the headings of one grid stands in another with the
// same headings.
func (g *grid) order(names []string) []int {
	at := make([]int, len(names))
	taken := make([]bool, len(g.head.names))
	for i, name := range names {
		at[i] = -1
		for k, own := range g.head.names {
			if !taken[k] && foldHeading(own) == foldHeading(name) {
				at[i], taken[k] = k, true
				break
			}
		}
	}
	return at
}

// likeGrids gathers the grids with the same headings, in whatever order: a tab a
// month is one table, and is understood from all its rows.
func likeGrids(grids []*grid) [][]*grid {
	var groups [][]*grid
	for _, g := range grids {
		k := slices.IndexFunc(groups, func(x []*grid) bool { return slices.Equal(x[0].headed(), g.headed()) })
		if k < 0 {
			groups = append(groups, []*grid{g})
		} else {
			groups[k] = append(groups[k], g)
		}
	}
	return groups
}
