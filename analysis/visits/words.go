package visits

import (
	"fmt"
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// mostNamed is how many trips a sentence names.
const mostNamed = 3

// conclude says in one breath where to drive, what is open, what is to come and
// which pours to worry about.
func (v *Visits) conclude(a *after) {
	v.Notes = []string{
		fmt.Sprintf("A visit is worth the chance that the slab brings a crack callback in the next %s, as far as its warranty reaches, times %s, which one costs. ", figure.CountOf(a.plan.AheadDays, "day"), figure.DollarWords(a.cost.Value)) + v.Risk.Says,
		fmt.Sprintf("A planned visit counts as made when somebody looked at the slab from a tenth of its age before the day until the next one is due; the last of a plan stays overdue for %d days.", grace),
	}
	if stake := atStake(v.Due, v.Overdue); stake > 0 {
		v.Notes = append(v.Notes, fmt.Sprintf("All that is due and overdue has about %s at stake in the next %s. The cost of a drive is not counted: much of it may be seen on the way to other work.", figure.RoughDollars(stake), figure.CountOf(a.plan.AheadDays, "day")))
	}
	if len(a.h.Visits) == 0 {
		v.Notes = append(v.Notes, "No visit is on record, so it looks as if nobody went. Write visits into a table with job_no, placement, seen_on, why and finding.")
	}
	if long := longOpenCalls(v.Callbacks.Open); long > 0 {
		v.Notes = append(v.Notes, fmt.Sprintf("%s open for more than %d days and left out of the trips: go and see, or write down the day they were closed.", areCount(long, "callback"), longOpen))
	}
	if len(a.h.Placements) == 0 {
		v.Answer = "No slab has been recorded yet."
		return
	}
	s := []string{v.drive(a.h.AsOf)}
	switch n := len(v.Callbacks.Open); n {
	case 0:
		s = append(s, v.Callbacks.noneOpen()+".")
	default:
		o := v.Callbacks.Open[0]
		s = append(s, figure.Capital(fmt.Sprintf("%s open, the oldest for %s.", areCount(n, "callback"), figure.CountOf(o.AgeDays, "day"))))
	}
	switch w := &v.Warranty; {
	case w.Placements == 0:
	case w.Cost.Known():
		s = append(s, fmt.Sprintf("Slabs under warranty may still cost about %s.", figure.RoughDollars(w.Cost.Value)))
	default:
		s = append(s, "What slabs under warranty may still cost cannot be told yet.")
	}
	if len(v.Early.Listed) > 0 {
		s = append(s, v.Early.worry())
	}
	v.Answer = strings.Join(s, " ")
}

// atStake adds up what visits are worth: each slab once, however many of its
// visits are listed.
func atStake(lists ...[]DueVisit) float64 {
	type slab struct{ job, placement string }
	counted, sum := map[slab]bool{}, 0.0
	for _, d := range slices.Concat(lists...) {
		if at := (slab{d.JobNo, d.Placement}); !counted[at] {
			counted[at] = true
			sum += d.Worth.Value
		}
	}
	return sum
}

func longOpenCalls(open []OpenCallback) int {
	n := 0
	for _, o := range open {
		n += int(cracks.Indicator(o.AgeDays > longOpen))
	}
	return n
}

// drive names the trips worth most.
func (v *Visits) drive(asOf record.Date) string {
	when := "this week"
	if v.DueBy != (asOf + 7).String() {
		when = "by " + v.DueBy
	}
	if len(v.Trips) == 0 {
		return fmt.Sprintf("Nobody need drive anywhere %s: no visit is due and none overdue.", when)
	}
	n := min(len(v.Trips), mostNamed)
	labels := make([]string, n)
	for i := range n {
		labels[i] = v.Trips[i].label()
	}
	s := fmt.Sprintf("Drive to %s %s: %s", thisMany(n, len(v.Trips)), when, strings.Join(labels, "; "))
	return s + fmt.Sprintf(". In all %s due, %d overdue.", areCount(len(v.Due), "visit"), len(v.Overdue))
}

func thisMany(n, of int) string {
	switch {
	case of == 1:
		return "this one"
	case n < of:
		return fmt.Sprintf("these %d first", n)
	}
	return fmt.Sprintf("these %d", n)
}
