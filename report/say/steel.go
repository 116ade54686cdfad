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
	meanwhile := s.say("Until then use what costs less to place: {steel}.", with{"steel": s.Made(m.Advice)})
	switch {
	case m.Verdict == steel.CannotTell:
		return s.sentences(s.text("The records cannot say whether mesh or rebar is better."), s.because(r.Why), meanwhile)
	case r.Why != nil:
		return s.sentences(s.text("Not settled."), s.because(r.Why), meanwhile)
	case r.Event == setting.EventSeen:
		return s.sentences(s.seenRatio(m), s.say("What that comes to in money is not known: {why}.", with{"why": s.Reason(m.MeshCheaper.Why)}))
	case !m.MeshCheaper.Known():
		return s.sentences(s.alike(r), s.say("What that comes to in money is not known: {why}.", with{"why": s.Reason(m.MeshCheaper.Why)}))
	}
	sure := m.MeshCheaper.Value
	switch m.Verdict {
	case steel.ForMesh:
		return s.sentences(s.text("Use mesh where codes and the engineer leave the choice to you."), s.costsLess(r, m.CostMesh, m.CostRebar, "rebar"), s.sure(sure))
	case steel.ForRebar:
		return s.sentences(s.text("Use rebar where codes and the engineer leave the choice to you."), s.costsLess(r, m.CostRebar, m.CostMesh, "mesh"), s.sure(1-sure))
	}
	return s.unsettled(r)
}

// costsLess sets the cost of one beside that of the other.
func (s Steel) costsLess(r *steel.Reinforcement, one, other figure.Figure, named string) string {
	costs := with{"one": s.perArea(one.Value), "other": s.areaCost(other.Value), "steel": s.Made(named)}
	if costs["prices"] = s.decidingPrices(r); costs["prices"] != "" {
		return s.filled(s.text("Callbacks counted, it costs {one} against {other} for {steel}, which the prices in the settings decide ({prices})."), costs)
	}
	return s.filled(s.text("Callbacks counted, it costs {one} against {other} for {steel}."), costs)
}

// decidingPrices are the prices from the settings that decide the answer, ""
// where none does.
func (s Steel) decidingPrices(r *steel.Reinforcement) string {
	var named []string
	for _, a := range r.DecidingPrices() {
		price := with{"price": s.perArea(a.Value)}
		if a.What == steel.MeshMaterial {
			named = append(named, s.filled(s.text("{price} for mesh"), price))
		} else {
			named = append(named, s.filled(s.text("{price} for rebar"), price))
		}
	}
	if len(named) == 0 {
		return ""
	}
	return s.List(named)
}

// unsettled says what to use meanwhile, by what is expected, and what being
// wrong would cost either way.
func (s Steel) unsettled(r *steel.Reinforcement) string {
	m := &r.MeshVsRebar
	gain := math.Abs(m.RebarGain.Value)
	if math.Round(gain) == 0 {
		return s.sentences(s.text("Not settled: mesh or rebar, either is fine."), s.spread(m), s.wrong(m))
	}
	bet := with{"steel": s.Made(m.Advice), "gain": s.Exactly(gain)}
	said := s.filled(s.text("Not settled, but {steel} is the better bet: callbacks counted, it should save about {gain} a placement."), bet)
	if bet["prices"] = s.decidingPrices(r); bet["prices"] != "" {
		said = s.filled(s.text("Not settled, but {steel} is the better bet: it should save about {gain} a placement, which the prices in the settings decide ({prices})."), bet)
	}
	return s.sentences(said, s.spread(m), s.wrong(m))
}

// wrong says what being wrong costs either way, as far as either may be wrong.
func (s Steel) wrong(m *steel.MeshVsRebar) string {
	advised, other, one, two := "mesh", "rebar", m.WrongMesh, m.WrongRebar
	if m.Advice == "rebar" {
		advised, other, one, two = other, advised, two, one
	}
	costs := with{"steel": s.Made(advised), "loss": s.Exactly(one.Value), "other": s.Made(other), "more": s.Exactly(two.Value)}
	switch {
	case one.Known() && two.Known():
		return s.filled(s.text("Wrong with {steel}, you lose about {loss} a placement; wrong with {other}, about {more}."), costs)
	case two.Known():
		return s.filled(s.text("Wrong with {other}, you lose about {more} a placement."), costs)
	case one.Known():
		return s.filled(s.text("Wrong with {steel}, you lose about {loss} a placement."), costs)
	}
	return ""
}

// because is a reason as a sentence.
func (s Steel) because(why figure.Reason) string {
	return Capital(s.say("{why}.", with{"why": s.Reason(why)}))
}

func (s Steel) sure(p float64) string {
	return s.say("That is {sure}: {chance}.", with{"sure": s.Sure(p), "chance": s.TimesIn100(p)})
}

// spread says how far the chance that mesh is cheaper moves with the way of
// looking at it.
func (s Steel) spread(m *steel.MeshVsRebar) string {
	low, high := m.Spread()
	if math.Round(100*low) == math.Round(100*high) {
		return s.say("Mesh comes out cheaper {often}.", with{"often": s.TimesIn100(m.MeshCheaper.Value)})
	}
	return s.say("Mesh comes out cheaper {low} to {high} times in 100, depending on how it is figured.",
		with{"low": Grouped(max(1, 100*low), 0), "high": Grouped(min(99, 100*high), 0)})
}

// alike sets the risks of the two side by side, like for like.
func (s Steel) alike(r *steel.Reinforcement) string {
	risks := with{"mesh": s.inHundredSlabs(r.MeshVsRebar.AdjustedMesh), "rebar": s.inHundredSlabs(r.MeshVsRebar.AdjustedRebar)}
	return s.filled(s.text("Like for like, {mesh} with mesh and {rebar} with rebar bring a crack callback within a year."), risks)
}

// seenRatio sets the cracks seen with mesh beside those with rebar, like for like,
// with how easily luck makes such a difference.
func (s Steel) seenRatio(m *steel.MeshVsRebar) string {
	said := s.say("Like for like, mesh slabs are seen cracked {times} as often as rebar slabs.", with{"times": s.Long(Times, m.HazardRatio)})
	if !m.Luck.Known() {
		return said
	}
	odds := with{"odds": s.TimesIn100(m.Luck.Value)}
	if m.Luck.Value > couldBeLuck {
		return s.sentences(said, s.filled(s.text("That could easily be luck, which makes such a difference {odds}."), odds))
	}
	return s.sentences(said, s.filled(s.text("Luck alone makes such a difference {odds}."), odds))
}

// couldBeLuck is the chance of a difference from which it is called luck.
const couldBeLuck = 0.10

func (s Steel) inHundredSlabs(f figure.Figure) string {
	return s.Long(ShareOf(f, "{value} in 100 slabs", "{value} in 1,000 slabs"), f)
}

// Meanwhile says what to do until more is known, or now that it is.
func (s Steel) Meanwhile(m *steel.MeshVsRebar) string {
	switch m.Verdict {
	case steel.ForMesh, steel.ForRebar:
		return s.sentences(s.say("Use {steel} where the choice is yours, and the other where an engineer or a code asks for it.", with{"steel": s.Made(string(m.Verdict))}),
			s.text("Look again when the price of steel or of a callback changes."))
	}
	use := with{"steel": s.Made(m.Advice)}
	do := s.filled(s.text("Until it is settled, use what costs less to place, which is {steel}, where codes leave the choice."), use)
	if m.RebarGain.Known() {
		do = s.filled(s.text("Until it is settled, use {steel}, the better bet, where codes leave the choice."), use)
	}
	if m.Alternated {
		return s.sentences(do, s.text("Keep mesh and rebar taking turns: that settles it soonest."))
	}
	return s.sentences(do,
		s.text("Alternate mesh and rebar within each season, and write down joint spacing and air temperature at every pour."),
		s.text("That settles it soonest, since then little but the steel differs."),
		s.text("Once they take turns, set `alternated` under `steel` in the settings file."))
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
	const told = 10 // nobody looks for a larger difference
	switch {
	case m.Detectable.Known() && m.Detectable.Value > told:
		said = s.sentences(said, s.text("With that few, not even a tenfold difference would show."))
	case m.Detectable.Known():
		said = s.sentences(said, s.say("With that many, only a difference of {times} or more would show.", with{"times": s.Value(Times, m.Detectable)}))
	}
	if m.BreakEven.Known() && m.BreakEven.Value > 1 {
		said = s.sentences(said, s.say("Rebar pays only if mesh is called about more than {times} as often as rebar.", with{"times": s.Value(Times, m.BreakEven)}))
	}
	return s.sentences(said, s.Settling(m))
}

// Settling says what it takes to answer what is still open, "" where nothing is
// or that is not known.
func (s Steel) Settling(m *steel.MeshVsRebar) string {
	if m.Verdict == steel.ForMesh || m.Verdict == steel.ForRebar {
		return ""
	}
	switch m.PlacementsNeeded.Why.(type) {
	case steel.RangeAnswers:
		return s.sentences(s.text("Luck is all but ruled out. What is open is whether something not on record explains the difference."), s.takingTurns(m))
	case steel.OnlyTurnsTell:
		return s.sentences(s.text("More slabs chosen as before would not tell whether rebar pays: something not on record may matter as much."), s.takingTurns(m))
	}
	if !m.PlacementsNeeded.Known() {
		return ""
	}
	more, years, enough := m.Missing()
	switch {
	case enough:
		return s.text("There are callbacks enough for such a difference to show, and none shows clearly: the true one may lie near where rebar just pays.")
	case more == 0:
		return s.text("No more slabs are needed to tell whether rebar pays: these should bring enough callbacks as they get older.")
	}
	said := s.say("It takes about {placements}, each watched for a year, to tell whether rebar pays: {more} more than you have.",
		with{"placements": s.placements(wholesUpTo(m.PlacementsNeeded.Value, 1e9)), "more": Count(wholesUpTo(more, 1e9))})
	if m.YearsNeeded.Known() {
		said = s.sentences(said, s.pace(years))
	}
	return said
}

// takingTurns says how many placements would tell where mesh and rebar take
// turns, "" where that is not known.
func (s Steel) takingTurns(m *steel.MeshVsRebar) string {
	if !m.PlacementsInTurns.Known() {
		return ""
	}
	said := s.say("With mesh and rebar taking turns, about {placements}, each watched for a year, would tell.", with{"placements": s.placements(wholesUpTo(m.PlacementsInTurns.Value, 1e9))})
	if m.YearsInTurns.Known() {
		said = s.sentences(said, s.pace(m.YearsInTurns.Value))
	}
	return said
}

func (s Steel) pace(years float64) string {
	return s.plural(wholesUpTo(years, 1e6), "At the present pace that is 1 year.|At the present pace that is {n} years.", nil)
}

// wholesUpTo rounds up, and bounds what no reader counts.
func wholesUpTo(v, most float64) int { return int(min(most, math.Ceil(v))) }

// Turns says at which cost of a callback the choice would be the other, "" where
// that has no range that means something.
func (s Steel) Turns(m *steel.Money) string {
	if !m.ExtraRebar.Known() {
		return ""
	}
	mesh := m.ExtraRebar.Value < 0 // costs more to place
	_, never := m.TurningCost.Why.(steel.NothingTurns)
	cost := with{"cost": s.Dollars(m.TurningCost.Value), "low": s.Dollars(m.TurningCost.Low), "high": s.Dollars(m.TurningCost.High)}
	switch {
	case m.TurningCost.Known() && mesh:
		return s.filled(s.text("Mesh would pay only if a callback cost over {cost} ({low} to {high})."), cost)
	case m.TurningCost.Known():
		return s.filled(s.text("Rebar would pay only if a callback cost over {cost} ({low} to {high})."), cost)
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
	notes := []string{s.Evidence(r)}
	if m.Mesh == 0 || m.Rebar == 0 {
		for _, p := range r.InShort {
			notes = append(notes, s.inShort(p))
		}
	}
	notes = append(notes, s.unrecorded(m),
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

// unrecorded says what is allowed for that nobody wrote down.
func (s Steel) unrecorded(m *steel.MeshVsRebar) string {
	said := s.text("Slabs are compared like for like only in what is on record. The rest (soil, shade, how the subgrade was wetted) may still explain a difference.")
	switch {
	case m.Alternated:
		return s.text("By the settings mesh and rebar took turns, so nothing but the steel should go with either.")
	case m.BiasSD.Known():
		return s.sentences(said, s.say("The chance allows for that: it may move mesh callbacks against rebar's by {times} either way.", with{"times": s.biasTimes(m.BiasSD.Value)}))
	}
	return said
}

// biasTimes is how many times a bias may move a ratio, 9 times in 10.
func (s Steel) biasTimes(sd float64) string {
	const nineInTen = 1.6448536 // standard deviations
	return s.say("up to {n} times", with{"n": Grouped(math.Exp(nineInTen*sd), 1)})
}

// MadeAlike says what the fair comparison holds alike, "" where there is none.
func (s Steel) MadeAlike(a steel.Alike) string {
	in := make([]string, len(a.In))
	for i, t := range a.In {
		in[i] = s.thing(t)
	}
	things := with{"things": s.List(in), "bands": Count(a.Bands)}
	switch {
	case len(a.In) == 0 && a.Bands < 2:
		return ""
	case len(a.In) == 0:
		return s.filled(s.text("like for like within {bands} bands of temperature"), things)
	case a.Bands < 2:
		return s.filled(s.text("like for like in {things}"), things)
	case a.Leaning:
		return s.filled(s.text("like for like in {things}, within {bands} bands of temperature, leaning on a starting assumption"), things)
	}
	return s.filled(s.text("like for like in {things}, within {bands} bands of temperature"), things)
}

// inShort is a comparison with fiber or with no reinforcement.
func (s Steel) inShort(p steel.Compared) string {
	pair := with{"one": s.Made(p.Of), "other": s.Made(p.Against)}
	if !p.Ratio.Known() {
		pair["why"] = s.Reason(p.Ratio.Why)
		return s.filled(s.text("As to {one} against {other}: {why}."), pair)
	}
	pair["times"] = s.Long(Times, p.Ratio)
	return s.filled(s.text("On days of similar temperature {one} brought {times} as many cracks as {other}."), pair)
}
