package bid

import "pourback/ingest/record"

// Standing is where a kept bid stands: as it is marked, by its later versions, and by
// the records of its job.
type Standing string

// Where a kept bid may stand.
const (
	StandsOpen     Standing = "open"
	StandsBegun    Standing = "begun" // nobody has marked it, and its job is on record
	StandsWon      Standing = "won"
	StandsLost     Standing = "lost"
	StandsReplaced Standing = "replaced" // by a later version, or a later bid on the same job
	StandsVoid     Standing = "void"
)

// stand says where a bid stands, the last one on its job given.
func (o *Outcome) stand(last *Kept) {
	if o.ReplacedBy == 0 && o.JobNo != "" && o.Fate != Void && last != nil && last.ID != o.ID {
		o.ReplacedBy = last.ID
	}
	switch {
	case o.Fate == Void:
		o.Stands = StandsVoid
	case o.ReplacedBy != 0:
		o.Stands = StandsReplaced
	case o.Fate == Won:
		o.Stands = StandsWon
	case o.Fate == Lost:
		o.Stands = StandsLost
	case o.Why == "":
		o.Stands = StandsBegun
	default:
		o.Stands = StandsOpen
	}
}

// laterVersions are, by the number of a bid that is replaced, the latest version after
// it that is not void.
func laterVersions(kept []Kept) map[int64]int64 {
	latest := map[int64]*Kept{}
	for i := range kept {
		k := &kept[i]
		if l := latest[k.root()]; k.Fate != Void && (l == nil || k.Version > l.Version) {
			latest[k.root()] = k
		}
	}
	later := map[int64]int64{}
	for i := range kept {
		k := &kept[i]
		if l := latest[k.root()]; l != nil && l.Version > k.Version {
			later[k.ID] = l.ID
		}
	}
	return later
}

// Standing are the outcomes that stand so, the oldest bid first.
func (r *Record) Standing(so ...Standing) (all []Outcome) {
	for _, o := range r.Outcomes {
		for _, s := range so {
			if o.Stands == s {
				all = append(all, o)
			}
		}
	}
	return all
}

// Oldest is the open bid that has waited longest; nil where none is open.
func (r *Record) Oldest() *Outcome {
	var oldest *Outcome
	for i := range r.Outcomes {
		if o := &r.Outcomes[i]; o.Stands == StandsOpen && (oldest == nil || o.MadeOn < oldest.MadeOn) {
			oldest = o
		}
	}
	return oldest
}

// Said is one thing that was said of a kept bid.
type Said struct {
	On            record.Date
	Did           string // mark, job, revise
	Before, After string
}

// FateOn is what was known of a bid's fate on a day, and since when: what was said
// after it was not known yet. Said is all that was said of it, in that order.
func FateOn(day record.Date, fate Fate, on record.Date, said []Said) (Fate, record.Date) {
	known, since, first := Fate(""), record.Date(0), true
	for _, s := range said {
		if s.Did != "mark" {
			continue
		}
		if s.On > day {
			if first {
				return Fate(s.Before), 0
			}
			return known, since
		}
		known, since, first = Fate(s.After), s.On, false
		if known == Open {
			since = 0
		}
	}
	return fate, on
}
