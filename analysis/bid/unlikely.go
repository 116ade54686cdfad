package bid

import (
	"slices"

	"pourback/ingest/record"
)

// unlikely finds what in a spec does not go with the records: a day that is past by
// the data date, and a crew that none of them names.
func (g *Ground) unlikely(s Spec) Problems {
	c := &bidCheck{}
	if day := g.h.AsOf; day != 0 && isPast(s.On, day) {
		c.care("on", s.On, PastDay, Amounts{Word: day.String()})
	}
	if crews := g.crews(); s.Crew != "" && len(crews) > 0 && !slices.Contains(crews, s.Crew) {
		c.care("crew", s.Crew, UnknownCrew, Amounts{Words: nearest(s.Crew, crews, mostNearest)})
	}
	return c.ps
}

// isPast says whether a day, or all of a month of a year, lies before a day.
func isPast(on string, day record.Date) bool {
	switch len(on) {
	case len("2026-07"):
		return on < day.Month()
	case len("2026-07-14"):
		return on < day.String()
	}
	return false
}

// crews are those of the placements on record, in no order.
func (g *Ground) crews() (crews []string) {
	column := &g.h.Placements.Crew
	met := map[string]bool{"": true}
	for i := range column.Len() {
		if name := column.At(i); !met[name] {
			met[name] = true
			crews = append(crews, name)
		}
	}
	return crews
}

// mostNearest is how many names are offered for one that is not known.
const mostNearest = 3

// nearest are at most so many names, those that take the fewest changes first.
func nearest(written string, names []string, most int) (near []string) {
	names = slices.Sorted(slices.Values(names))
	for len(names) > 0 && len(near) < most {
		name, _ := record.Nearest(written, names)
		near = append(near, name)
		names = slices.DeleteFunc(names, func(n string) bool { return n == name })
	}
	return near
}
