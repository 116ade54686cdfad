package say

import (
	"strings"

	"pourback/analysis/visits"
)

// Point is a visit's place in the plan of its slab: "day 28".
func (v Visits) Point(p visits.PlanPoint) string {
	if p.End {
		return v.text("end of warranty")
	}
	return v.say("day {n}", with{"n": Count(p.Days)})
}

// Stop is why to go to a slab.
func (v Visits) Stop(s *visits.Stop) string {
	if s.Call != nil {
		return v.say("Open {kind} callback, {age} old", with{"kind": v.Word(s.Call.Kind), "age": v.Days(s.Call.AgeDays)})
	}
	values := with{"visit": Capital(v.Point(s.Visit)), "why": Lower(v.Why(s.Why))}
	if s.Overdue {
		return v.say("{visit}, overdue: {why}", values)
	}
	return v.say("{visit}: {why}", values)
}

// Why is what makes a visit worth its drive.
func (v Visits) Why(why []visits.Why) string {
	said := make([]string, len(why))
	for i := range why {
		said[i] = v.why(&why[i])
	}
	return Capital(strings.Join(said, "; "))
}

func (v Visits) why(w *visits.Why) string {
	switch w.Code {
	case visits.WhyCrackSeen:
		return v.say("a crack was seen on {day}, and nobody has called", with{"day": v.Day(w.On)})
	case visits.WhyCalled:
		return v.say("called about before ({kind})", with{"kind": v.Word(w.Kind)})
	case visits.WhyHotAir:
		return v.say("poured in {air} air", with{"air": v.Degrees(w.Value)})
	case visits.WhyDriedFast:
		return v.say("dried at {rate}", with{"rate": v.Drying(w.Value)})
	case visits.WhyRisk:
		times := with{"times": Grouped(w.Value, 1)}
		if w.Mostly == nil {
			return v.say("{times} times the usual risk", times)
		}
		times["cause"] = v.raisedBy(*w.Mostly)
		return v.say("{times} times the usual risk (what stands out: {cause})", times)
	case visits.WhyUsualRisk:
		return v.text("the usual risk at its age")
	case visits.WhyInWarranty:
		return v.warrantyLeft(w.Days)
	}
	return v.text("out of warranty, so a visit only shows how such slabs hold up")
}

func (v *Voice) warrantyLeft(days int) string {
	return v.plural(days, "1 day of warranty left|{n} days of warranty left", nil)
}

// raisedBy is what makes a slab more likely to be called about than others.
func (v *Voice) raisedBy(c visits.Cause) string {
	switch c.Kind {
	case visits.CauseHeat:
		return v.chosen(c.Above, v.text("the heat"), v.text("the cold"))
	case visits.CauseJoints:
		return v.chosen(c.Above, v.text("wide joints"), v.text("close joints"))
	case visits.CauseDrying:
		return v.chosen(c.Above, v.text("fast drying"), v.text("slow drying"))
	case visits.CauseCuring:
		return v.chosen(c.Above, v.text("curing"), v.text("no curing"))
	case visits.CauseSaw:
		return v.chosen(c.Above, v.text("a late saw cut"), v.text("an early saw cut"))
	}
	return v.steel(c.Steel)
}

// steel is a kind of reinforcement, or that there is none.
func (v *Voice) steel(name string) string {
	switch name {
	case "none":
		return v.text("no reinforcement")
	case "unknown", "":
		return v.text("unknown reinforcement")
	}
	return v.words(name)
}

// Risk says what the chances of a callback stand on.
func (v Visits) Risk(m *visits.RiskModel) string {
	switch m.Stands {
	case visits.RiskUsual:
		return v.say("No crack callback is on record yet. The chances are mostly the {n} in 100 slabs a year of the settings (common practice, no published source).", with{"n": trimmed(100*m.Usual, 2)})
	case visits.RiskFew:
		return v.plural(m.Events, "1 crack callback is on record: too few to tell slabs apart, so all of an age share one chance.|{n} crack callbacks are on record: too few to tell slabs apart, so all of an age share one chance.", nil)
	case visits.RiskUntold:
		return v.plural(m.Events, "The chances come from 1 crack callback. Too little else is recorded to tell slabs apart, so all of an age share one chance.|The chances come from {n} crack callbacks. Too little else is recorded to tell slabs apart, so all of an age share one chance.", nil)
	}
	return v.plural(m.Events, "The chances come from 1 crack callback. Slabs are told apart by {what}.|The chances come from {n} crack callbacks. Slabs are told apart by {what}.", with{"what": v.List(v.toldApart(m.Apart))})
}

// toldApart names what slabs are told apart by, each thing once.
func (v *Voice) toldApart(causes []visits.Cause) []string {
	said := map[visits.CauseKind]bool{}
	var words []string
	for _, c := range causes {
		if !said[c.Kind] {
			said[c.Kind] = true
			words = append(words, v.causeKind(c.Kind))
		}
	}
	return words
}

func (v *Voice) causeKind(k visits.CauseKind) string {
	switch k {
	case visits.CauseHeat:
		return v.text("air temperature")
	case visits.CauseJoints:
		return v.text("joint spacing")
	case visits.CauseDrying:
		return v.text("how fast they dried")
	case visits.CauseCuring:
		return v.text("curing")
	case visits.CauseSaw:
		return v.text("when they were sawn")
	}
	return v.text("reinforcement")
}
