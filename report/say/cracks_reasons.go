package say

import (
	"slices"
	"strings"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
)

// cracksReason says the reasons of the answers about cracks.
func (v *Voice) cracksReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case cracks.NoPlacements:
		return v.text("no placements"), true
	case cracks.NoOldSlab:
		return v.chosen(r.Seen, v.text("no slab of this kind was looked at as its first year ended"), v.text("no slab of this kind is a year old")), true
	case cracks.NotLookedAt:
		return v.text("nobody has looked at these slabs since the pour"), true
	case cracks.OneRow:
		return v.text("there is only one row"), true
	case cracks.NoHazardModel:
		return v.text("too little is on record of these slabs to look at all of it at once"), true
	case cracks.LeansOnBelief:
		return v.text("with so few cracks the ratio leans on a starting assumption, so the odds of luck cannot be figured"), true
	case cracks.SeenNotCalled:
		return v.text("what is still to come goes by callbacks, not by cracks seen at visits"), true
	case cracks.FewerThanARate:
		return v.say("fewer than {n} placements", with{"n": Count(figure.LeastForRate)}), true
	case cracks.FewWatched:
		return v.say("fewer than {n} slabs have been watched for so long", with{"n": Count(cracks.FewestWatched)}), true
	case cracks.TooFewPlacements:
		return v.plural(r.N, "1 placement of this kind: too few for a rate|{n} placements of this kind: too few for a rate", nil), true
	case cracks.TooFewCracks:
		return v.tooFewCracks(r), true
	case cracks.WatchedTooShort:
		return v.watchedTooShort(r), true
	case cracks.NoneRecords:
		return v.say("no placement records its {factor}", with{"factor": Cracks{v}.Factor(r.Factor)}), true
	case cracks.Incomparable:
		return v.incomparable(r), true
	}
	return v.looksReason(r)
}

// looksReason says the reasons of figures that rest on looks at slabs.
func (v *Voice) looksReason(r figure.Reason) (string, bool) {
	switch r := r.(type) {
	case cracks.NobodyLooked:
		return v.text("nobody went to look at such a slab without being called"), true
	case cracks.FewLooked:
		return v.say("{n} of {slabs} looked at were seen about day {day}: too few to say", with{"n": Count(r.N), "slabs": v.slabs(r.Of), "day": Count(r.Days)}), true
	case cracks.LeftOpen:
		return v.say("the looks leave open anything from {low} to {high} in 100 by day {day}", with{"low": Grouped(100*r.Least, 0), "high": Grouped(100*r.Most, 0), "day": Count(r.Days)}), true
	case cracks.NoEstimate:
		return v.say("the estimate between two looks has no answer: {why}", with{"why": v.Reason(r.Why)}), true
	case cracks.ManySlabs:
		return v.say("no range is figured for more than {n} slabs: luck is the least of what is unsure there", with{"n": Count(r.Most)}), true
	case cracks.NotCheckedOfLooks:
		return v.text("whether ratios hold at all ages is not checked between looks"), true
	}
	return "", false
}

func (v *Voice) tooFewCracks(r cracks.TooFewCracks) string {
	switch r.Within {
	case cracks.ToSeeAge:
		return v.plural(r.N, "1 crack: too few to see a change with age|{n} cracks: too few to see a change with age", nil)
	case cracks.ToCompareKind:
		return v.plural(r.N, "1 crack among these slabs: too few to compare them|{n} cracks among these slabs: too few to compare them", nil)
	}
	return v.plural(r.N, "1 crack: too few to compare|{n} cracks: too few to compare", nil)
}

func (v *Voice) watchedTooShort(r cracks.WatchedTooShort) string {
	values := with{"days": v.Days(int(r.Days)), "longest": v.Days(int(r.Longest))}
	if r.Warranty {
		return v.filled(v.text("no slab has been watched for the whole warranty of {days}: the longest for {longest}"), values)
	}
	return v.filled(v.text("no slab of this kind has been watched for {days}: the longest for {longest}"), values)
}

// incomparable says why slabs of two kinds cannot be compared, and what the
// records cannot tell the steel from.
func (v *Voice) incomparable(r cracks.Incomparable) string {
	var why, causes []string
	if r.N[0] == 0 || r.N[1] == 0 {
		why = append(why, v.say("{slabs} with {one} and {others} with {other}, and a comparison needs both",
			with{"slabs": v.slabs(r.N[0]), "one": v.Made(r.Of), "others": Count(r.N[1]), "other": v.Made(r.Against)}))
	}
	for _, o := range r.By {
		why = append(why, v.obstacle(r, o))
		if cause := v.cause(o); !slices.Contains(causes, cause) {
			causes = append(causes, cause)
		}
	}
	said := strings.Join(why, "; ")
	if len(causes) == 0 {
		return said
	}
	return v.say("{reasons}: the records cannot tell the steel from {causes}", with{"reasons": said, "causes": v.Either(causes)})
}

// obstacle says what two kinds are not alike in.
func (v *Voice) obstacle(r cracks.Incomparable, o cracks.Obstacle) string {
	pair := with{"one": v.Made(r.Of), "other": v.Made(r.Against)}
	unknown := with{"n": Count(o.Unknown), "slabs": v.slabs(r.N[0] + r.N[1])}
	switch {
	case o.In == cracks.InSpacing && o.Unknown > 0:
		return v.filled(v.text("joint spacing is unknown for {n} of {slabs}"), unknown)
	case o.In == cracks.InAir && o.Unknown > 0:
		return v.filled(v.text("air temperature is unknown for {n} of {slabs}"), unknown)
	case o.In == cracks.InSpacing:
		pair["here"], pair["there"] = Grouped(o.Mean[0], 0), Grouped(o.Mean[1], 0)
		return v.filled(v.text("{one} and {other} were hardly ever poured at the same joint spacing (on average {here} thicknesses with {one}, {there} with {other})"), pair)
	case o.In == cracks.InAir:
		pair["here"], pair["there"] = v.Degrees(o.Mean[0]), v.Degrees(o.Mean[1])
		return v.filled(v.text("{one} and {other} were hardly ever poured in the same heat (on average {here} with {one}, {there} with {other})"), pair)
	}
	return v.filled(v.text("{one} and {other} were hardly ever poured at the same time of the year"), pair)
}

func (v *Voice) cause(o cracks.Obstacle) string {
	switch o.In {
	case cracks.InSpacing:
		return v.text("the spacing")
	case cracks.InAir:
		return v.text("the heat")
	}
	return v.text("the heat of the season")
}
