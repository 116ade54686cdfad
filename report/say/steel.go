package say

import (
	"math"
	"slices"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
)

// Steel says whether mesh or rebar costs less once callbacks are counted.
type Steel struct{ *Voice }

// Title names the page.
func (s Steel) Title() string { return s.text("Mesh or rebar") }

// Will is what the page will say once there are records, Takes what it takes.
func (s Steel) Will() string {
	return s.text("whether mesh or rebar costs less once callbacks are counted")
}

// Takes says which records it takes.
func (s Steel) Takes() string {
	return s.text("placements with mesh and placements with rebar, their joint spacing and air temperature, and callbacks with their dates and kinds")
}

// Answer says which to use, and how sure that is.
func (s Steel) Answer(r *steel.Reinforcement) string {
	m := &r.MeshVsRebar
	meanwhile := s.say("Until then use what costs less to place: {steel}.", with{"steel": s.Made(m.CheaperToPlace())})
	switch {
	case m.Verdict == steel.CannotTell:
		return s.sentences(s.text("The records cannot say whether mesh or rebar is better."), s.because(r.Why), meanwhile)
	case r.Why != nil:
		return s.sentences(s.text("Not settled."), s.because(r.Why), meanwhile)
	case !m.MeshCheaper.Known():
		return s.sentences(s.alike(r), s.say("What that comes to in money is not known: {why}.", with{"why": s.Reason(m.MeshCheaper.Why)}))
	}
	sure := m.MeshCheaper.Value
	switch m.Verdict {
	case steel.ForMesh:
		return s.sentences(s.say("Use mesh where codes and the engineer leave the choice to you. Callbacks counted, it costs {mesh} against {rebar} for rebar.", with{"mesh": s.perArea(m.CostMesh.Value), "rebar": s.areaCost(m.CostRebar.Value)}), s.sure(sure))
	case steel.ForRebar:
		return s.sentences(s.say("Use rebar where codes and the engineer leave the choice to you. Callbacks counted, it costs {rebar} against {mesh} for mesh.", with{"rebar": s.perArea(m.CostRebar.Value), "mesh": s.areaCost(m.CostMesh.Value)}), s.sure(1-sure))
	}
	return s.sentences(s.text("Not settled: mesh or rebar, either is fine."), s.spread(m), meanwhile)
}

// because is a reason as a sentence.
func (s Steel) because(why figure.Reason) string {
	return Capital(s.say("{why}.", with{"why": s.Reason(why)}))
}

func (s Steel) sure(p float64) string {
	return s.say("That is {sure}: {chance}.", with{"sure": s.Sure(p), "chance": s.InHundred(p)})
}

// spread says how far the chance that mesh is cheaper moves with the way of
// looking at it.
func (s Steel) spread(m *steel.MeshVsRebar) string {
	low, high := m.Spread()
	if math.Round(100*low) == math.Round(100*high) {
		return s.say("Mesh comes out cheaper {often}.", with{"often": s.often(m.MeshCheaper.Value)})
	}
	return s.say("Mesh comes out cheaper {low} to {high} times in 100, depending on how it is figured.",
		with{"low": Grouped(max(1, 100*low), 0), "high": Grouped(min(99, 100*high), 0)})
}

// alike sets the risks of the two side by side, like for like.
func (s Steel) alike(r *steel.Reinforcement) string {
	risks := with{"mesh": s.inHundredSlabs(r.MeshVsRebar.AdjustedMesh), "rebar": s.inHundredSlabs(r.MeshVsRebar.AdjustedRebar)}
	if r.Event == setting.EventSeen {
		return filled(s.text("Like for like, {mesh} with mesh and {rebar} with rebar are seen with a crack within a year."), risks)
	}
	return filled(s.text("Like for like, {mesh} with mesh and {rebar} with rebar bring a crack callback within a year."), risks)
}

func (s Steel) inHundredSlabs(f figure.Figure) string {
	return s.Long(ShareOf(f, "{value} in 100 slabs", "{value} in 1,000 slabs"), f)
}

// Meanwhile says what to do until more is known, or now that it is.
func (s Steel) Meanwhile(m *steel.MeshVsRebar) string {
	switch m.Verdict {
	case steel.ForMesh, steel.ForRebar:
		return s.sentences(s.say("What to do: use {steel} where the choice is yours, and the other where an engineer or a code asks for it.", with{"steel": s.Made(string(m.Verdict))}),
			s.text("Look again when the price of steel or of a callback changes."))
	}
	return s.sentences(s.say("What to do until it is settled: use what costs less to place, which is {steel}, where codes leave the choice.", with{"steel": s.Made(m.CheaperToPlace())}),
		s.text("Alternate mesh and rebar within each season, and write down joint spacing and air temperature at every pour."),
		s.text("That settles it soonest, since then little but the steel differs."))
}

// Evidence says what so many cracks can and cannot show, and what it would take
// to tell whether rebar pays.
func (s Steel) Evidence(r *steel.Reinforcement) string {
	m := &r.MeshVsRebar
	slabs := with{"slabs": s.slabs(m.Mesh + m.Rebar)}
	said := s.plural(m.Events, "1 crack callback among {slabs} with mesh or rebar.|{n} crack callbacks among {slabs} with mesh or rebar.", slabs)
	if r.Event == setting.EventSeen {
		said = s.plural(m.Events, "1 crack seen among {slabs} with mesh or rebar.|{n} cracks seen among {slabs} with mesh or rebar.", slabs)
	}
	if m.Detectable.Known() {
		said = s.sentences(said, s.say("With that many, only a difference of {times} or more would show.", with{"times": s.Value(Times, m.Detectable)}))
	}
	if m.BreakEven.Known() && m.BreakEven.Value > 1 {
		said = s.sentences(said, s.say("Rebar pays only if mesh is called about more than {times} as often as rebar.", with{"times": s.Value(Times, m.BreakEven)}))
	}
	return s.sentences(said, s.Settling(m))
}

// Settling says what it takes to tell whether rebar pays, "" where that is not
// known.
func (s Steel) Settling(m *steel.MeshVsRebar) string {
	if !m.PlacementsNeeded.Known() {
		return ""
	}
	more, years, enough := m.Missing()
	switch {
	case enough:
		return s.text("Enough callbacks to tell whether rebar pays.")
	case more == 0:
		return s.text("No more slabs are needed to tell whether rebar pays: these should bring enough callbacks as they get older.")
	}
	said := s.say("It takes about {placements}, each watched for a year, to tell whether rebar pays: {more} more than you have.",
		with{"placements": s.placements(wholesUpTo(m.PlacementsNeeded.Value, 1e9)), "more": Count(wholesUpTo(more, 1e9))})
	if m.YearsNeeded.Known() {
		said = s.sentences(said, s.plural(wholesUpTo(years, 1e6), "At the present pace that is 1 year.|At the present pace that is {n} years.", nil))
	}
	return said
}

// wholesUpTo rounds up, and bounds what no reader counts.
func wholesUpTo(v, most float64) int { return int(min(most, math.Ceil(v))) }

// Turns says at which cost of a callback the choice would be the other, "" where
// too little is known.
func (s Steel) Turns(m *steel.Money) string {
	if !m.ExtraRebar.Known() {
		return ""
	}
	mesh := m.ExtraRebar.Value < 0 // costs more to place
	_, never := m.TurningCost.Why.(steel.NothingTurns)
	cost := with{"cost": s.Dollars(m.TurningCost.Value)}
	switch {
	case m.TurningCost.Known() && mesh:
		return filled(s.text("Mesh would pay only if a callback cost over {cost}."), cost)
	case m.TurningCost.Known():
		return filled(s.text("Rebar would pay only if a callback cost over {cost}."), cost)
	case never && mesh:
		return s.text("Nothing in your records makes mesh pay.")
	case never:
		return s.text("Nothing in your records makes rebar pay.")
	}
	return ""
}

// Notes are what to do, what the records can show, and the reservations.
func (s Steel) Notes(r *steel.Reinforcement) []string {
	m := &r.MeshVsRebar
	notes := []string{s.Meanwhile(m), s.Evidence(r)}
	if m.Mesh == 0 || m.Rebar == 0 {
		for _, p := range r.InShort {
			notes = append(notes, s.inShort(p))
		}
	}
	notes = append(notes,
		s.text("Slabs are compared like for like only in what is on record. The rest (soil, shade, how the subgrade was wetted) may still explain a difference."),
		s.text("One company's callbacks rarely show which of the two cracks less. Alternating them within a season shows it soonest."))
	if i := slices.IndexFunc(r.Assumptions, func(a figure.Assumption) bool { return a.What == steel.RatioBelief }); i >= 0 {
		twoSD := r.Assumptions[i].Value * r.Assumptions[i].Value
		notes = append(notes, s.say("The comparison starts from a setting: neither is likely to crack more than {n} times as often as the other. The more callbacks, the less that counts.", with{"n": Grouped(twoSD, 1)}))
	}
	notes = append(notes,
		s.text("Steel holds cracks tight, it does not prevent them: a slab may crack as often with rebar and still be called about less."),
		s.text("Where steel carries load, local codes and a licensed engineer decide, not this page."))
	if alike := s.MadeAlike(m.MadeAlike); alike != "" {
		notes = append(notes, s.say("The slabs were compared {alike}.", with{"alike": alike}))
	}
	return notes
}

// MadeAlike says what the fair comparison holds alike, "" where there is none.
func (s Steel) MadeAlike(a steel.Alike) string {
	if len(a.In) == 0 && !a.InBands {
		return ""
	}
	in := make([]string, len(a.In))
	for i, t := range a.In {
		in[i] = s.thing(t)
	}
	things := with{"things": s.List(in)}
	switch {
	case len(a.In) == 0:
		return s.text("like for like within five bands of temperature")
	case a.InBands:
		return filled(s.text("like for like in {things}, within five bands of temperature"), things)
	}
	return filled(s.text("like for like in {things}, leaning on a starting assumption"), things)
}

// inShort is a comparison with fiber or with no reinforcement.
func (s Steel) inShort(p steel.Compared) string {
	pair := with{"one": s.Made(p.Of), "other": s.Made(p.Against)}
	if !p.Ratio.Known() {
		pair["why"] = s.Reason(p.Ratio.Why)
		return filled(s.text("As to {one} against {other}: {why}."), pair)
	}
	pair["times"] = s.Long(Times, p.Ratio)
	return filled(s.text("On days of similar temperature {one} brought {times} as many cracks as {other}."), pair)
}
