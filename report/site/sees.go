package site

import (
	"pourback/analysis/bid"
	"pourback/ingest/record"
)

// crew is the crew whose pours alone who asks sees, "" for any: that of a crew's
// user who has one. Nobody has a crew of the invented company.
func (a *Ask) crew() string {
	if a.Who.Role != Crew || a.Base() != "" {
		return ""
	}
	return a.Who.Crew
}

// sees says whether who asks may see and write what is a crew's: a placement by the
// crew that it names, a bid by its own; "" where it names none.
func (a *Ask) sees(crew string) bool { return seenBy(a.crew(), crew) }

// seenBy says whether what is a crew's is for one who sees only that of another, "" for
// who sees all. What is no crew's is everybody's.
func seenBy(only, crew string) bool { return only == "" || crew == "" || crew == only }

// seesBid is sees of a kept bid, whose crew is known where names are left out, too.
func (a *Ask) seesBid(id int64, kept []bid.Kept) bool {
	for i := range kept {
		if kept[i].ID == id {
			return a.sees(kept[i].Bid.Spec.Crew)
		}
	}
	return true // none such, which is said elsewhere
}

// seenBy are the records of a reading that a crew sees, all for "".
func (r *reading) seenBy(only string) *record.History {
	if only == "" {
		return r.h
	}
	p := &r.h.Placements
	h, _ := r.h.Subset(func(i int) bool { return seenBy(only, r.crewOf(p.Crew.At(i))) })
	return h
}

// crewOf is what the records call a crew that is called otherwise where names are left out.
func (r *reading) crewOf(called string) string {
	if name, ok := r.crews[called]; ok {
		return name
	}
	return called
}

// withoutNames leaves the names out of a reading, and notes which crew is called what.
func (r *reading) withoutNames() {
	names := wordsOf(&r.h.Placements.Crew)
	var n record.Nameless
	n.History(r.h)
	r.crews = map[string]string{}
	for _, name := range names {
		r.crews[n.Crew(name)] = name
	}
}
