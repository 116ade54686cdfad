package sheet

import (
	"slices"
	"strings"
)

// yearsAbout are the years that stand about the rows: in the sheets' names, their
// titles and the file's name.
func (f *File) yearsAbout(grids []*grid) []int {
	var titles []string
	for _, g := range grids {
		titles = append(titles, g.titles()...)
	}
	return yearsNamed(append(titles, f.Name)...)
}

// titles are the name of a grid's tab, and what stands above its headings.
func (g *grid) titles() []string {
	titles := []string{g.name}
	for _, row := range g.rows[:g.head.first] {
		titles = append(titles, row.cells...)
	}
	return titles
}

// yearOfEach is the year of each tab, where every one names another; nil where not:
// a tab of several years may name the first.
func yearOfEach(grids []*grid) map[*grid]int {
	years, met := map[*grid]int{}, map[int]bool{}
	for _, g := range grids {
		named := yearsNamed(g.titles()...)
		if len(named) != 1 || met[named[0]] {
			return nil
		}
		years[g], met[named[0]] = named[0], true
	}
	if len(grids) < 2 {
		return nil
	}
	return years
}

// yearsOf are the years of a column's dates; where none bears one, those that
// the sheet, its titles or the file name.
func (u *insight) yearsOf(i int) []int {
	var years []int
	for _, d := range u.cols[i].days {
		if d == 0 {
			continue
		}
		if y := d.Time().Year(); !slices.Contains(years, y) {
			years = append(years, y)
		}
	}
	if len(years) == 0 {
		return u.named
	}
	return years
}

var yearName = patternOf(`\b(20\d\d)\b`)

// yearsNamed are the years that titles name.
func yearsNamed(titles ...string) []int {
	var years []int
	for _, title := range titles {
		for _, p := range yearName.FindAllString(title, -1) {
			if y := atoi(p); !slices.Contains(years, y) {
				years = append(years, y)
			}
		}
	}
	for _, title := range titles {
		for _, y := range shortYears(strings.TrimSuffix(strings.TrimSuffix(title, ".csv"), ".xlsx")) {
			if len(years) == 0 || slices.Contains(years, y-1) {
				years = append(years, y)
			}
		}
	}
	return years
}
