package cracks

import (
	"math"

	"pourback/analysis/stat/survival"
	"pourback/ingest/record"
)

// Look is what planned looks at a slab tell: the interval in days that holds its
// first crack, with Right +Inf where none was found. A call is timed by the
// crack, which no look may be, so a call says that a slab cracked, and not when
// anybody looked.
type Look struct {
	survival.Interval
	Job  int
	Ages []float64 // of the looks, up to the one that found the crack
}

// lateDays is how late a look still belongs to an anniversary of the pour.
const lateDays = 30

// LookAt gathers the planned looks at placement i, first found cracked on a day
// (0: never); looked is false where nobody went to look. A crack that was called
// about arose by the planned look after the call, or else by the next day of the
// plan, in days after any pour.
func LookAt(h *record.History, i int, crackOn record.Date, plan []int) (l Look, looked bool) {
	on := h.Placements.At(i).PlacedOn()
	l = Look{Interval: survival.Interval{Right: math.Inf(1)}, Job: h.JobIndex(i)}
	visits := h.VisitsOf(i)
	for k := range visits {
		v := &visits[k]
		if v.SeenOn < on || v.Callback() {
			continue
		}
		age := ageOfLook(on, v.SeenOn, l.Left)
		l.Ages = append(l.Ages, age)
		if crackOn != 0 && v.SeenOn >= crackOn {
			l.Right = max(l.Left, age)
			return l, true
		}
		l.Left = age
	}
	if crackOn != 0 {
		l.Right = max(l.Left, planned(plan, float64(crackOn-on)))
	}
	return l, len(l.Ages) > 0
}

// ageOfLook is a slab's age at a look, in days. The first look up to 30 days past
// an anniversary closes the year of 365 days that ends there; before is the age
// at the look before.
func ageOfLook(on, seen record.Date, before float64) float64 {
	age := float64(seen - on)
	years := int(age) / OneYear
	if years < 1 || before >= float64(years*OneYear) {
		return age
	}
	y, m, d := on.Time().Date()
	if seen <= record.DateOf(y+years, m, d)+lateDays {
		return float64(years * OneYear)
	}
	return age
}

// planned is the first day of a plan from an age on, or that age itself.
func planned(plan []int, age float64) float64 {
	next := math.Inf(1)
	for _, day := range plan {
		if float64(day) >= age {
			next = min(next, float64(day))
		}
	}
	if math.IsInf(next, 1) {
		return age
	}
	return next
}

// near says whether somebody looked late enough before an age, or at it, to tell
// how the slab stood then: from two fifths of it on (common practice, no
// published source), or by finding it cracked.
func (l *Look) near(age float64) bool {
	if l.Right <= age {
		return true
	}
	for _, a := range l.Ages {
		if a >= 0.4*age && a <= age {
			return true
		}
	}
	return false
}
