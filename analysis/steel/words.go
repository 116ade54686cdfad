package steel

import (
	"fmt"
	"math"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
)

// steelNotes are the reservations that go with the comparison.
func steelNotes() []string {
	return []string{
		"Slabs are made alike in what is recorded only. What is not (soil, shade, how the subgrade was wetted) may still stand behind a difference.",
		"One company's callbacks rarely settle mesh against rebar. Alternating them within a season does, since then nothing but the steel differs.",
		"The belief held before the records is that neither is likely to crack more than 2.7 times as often as the other; it is a setting.",
		"Reinforcement holds cracks tight, it does not prevent them: a slab may crack as often with rebar and still be called about less.",
		"Where steel carries load, local codes and a licensed engineer decide, not this page.",
	}
}

// answer is what the owner should take from the page on reinforcement.
func (r *Reinforcement) answer(why string) string {
	m := r.MeshVsRebar
	if why != "" {
		return r.refusal(why)
	}
	alike := fmt.Sprintf("Like for like, %s and %s %s within a year", cracks.Of100(m.AdjustedMesh, "slabs with mesh"), cracks.Of100(m.AdjustedRebar, "with rebar"), cracks.WhatCracksDo(r.event))
	if !m.MeshCheaper.Known() {
		return alike + ". In money: " + figure.Text(m.MeshCheaper.Why) + "."
	}
	p := 100 * m.MeshCheaper.Value
	extra := fmt.Sprintf("rebar costs about %s %s a placement to put in", figure.RoughDollars(math.Abs(m.ExtraRebar.Value)), moreOrLess(m.ExtraRebar.Value))
	switch m.Verdict {
	case ForMesh:
		return fmt.Sprintf("Mesh is the cheaper choice, %s. %s, and %s.%s", Chances(p), alike, extra, m.turns())
	case ForRebar:
		return fmt.Sprintf("Rebar is the cheaper choice, %s. %s, and %s.%s", Chances(100-p), alike, extra, m.turns())
	}
	return fmt.Sprintf("Not settled: mesh comes out cheaper %s. %s, and %s.%s", m.between(p), alike, extra, m.settles())
}

// evidence says what so many cracks can show, and what there would have to be
// to see for rebar to pay.
func (m MeshVsRebar) evidence() string {
	said := fmt.Sprintf("%s among %s with mesh or rebar.", figure.CountOf(m.Events, "crack event"), figure.CountOf(m.Mesh+m.Rebar, "slab"))
	if m.Detectable.Known() {
		said += fmt.Sprintf(" So few can show no smaller difference than one kind cracking %s times as often as the other.", cracks.Signed(m.Detectable.Value, 1))
	}
	if m.BreakEven.Known() && m.BreakEven.Value > 1 {
		said += fmt.Sprintf(" Rebar pays for itself if mesh is called about more than %s times as often.", cracks.Signed(m.BreakEven.Value, 1))
	}
	if m.PlacementsNeeded.Known() {
		said += m.takes("that")
	}
	return said
}

// Missing says how many more placements, and years at the present pace, it takes
// until the records can show a difference that would just pay for rebar. None,
// and not enough: the slabs are there and have to grow older.
func (m MeshVsRebar) Missing() (placements, years float64, enough bool) {
	if enough = m.Detectable.Known() && math.Abs(math.Log(m.BreakEven.Value)) >= math.Log(m.Detectable.Value); enough {
		return 0, 0, true
	}
	placements = max(0, m.PlacementsNeeded.Value-float64(m.Mesh+m.Rebar))
	return placements, m.YearsNeeded.Value * placements / m.PlacementsNeeded.Value, false
}

// takes says what it takes to see the difference that would just pay.
func (m MeshVsRebar) takes(it string) string {
	more, years, enough := m.Missing()
	switch {
	case enough:
		return fmt.Sprintf(" There are cracks enough to see %s.", it)
	case more == 0:
		return fmt.Sprintf(" To see %s takes no more slabs: these will have brought cracks enough once they are older.", it)
	}
	s := fmt.Sprintf(" To see %s takes about %s, each watched for a year: %s more than there are", it, figure.CountOf(int(min(1e9, m.PlacementsNeeded.Value)), "placement"), figure.Grouped(int64(min(1e9, more))))
	if m.YearsNeeded.Known() {
		s += fmt.Sprintf(", %s at the present pace", figure.CountOf(int(min(1e6, math.Ceil(years))), "year"))
	}
	return s + "."
}

// Chances are said in whole numbers, and never as certain.
func Chances(p float64) string {
	return fmt.Sprintf("%.0f times in 100", min(99, max(1, math.Round(p))))
}

func moreOrLess(v float64) string {
	if v < 0 {
		return "less"
	}
	return "more"
}

// between says how far the chance that mesh is cheaper moves with the way of
// looking at it.
func (m MeshVsRebar) between(p float64) string {
	low, high := p, p
	for _, c := range m.Sensitivity {
		if c.Heeded && c.MeshCheaper.Known() {
			low, high = min(low, 100*c.MeshCheaper.Value), max(high, 100*c.MeshCheaper.Value)
		}
	}
	if math.Round(low) == math.Round(high) {
		return Chances(p)
	}
	return fmt.Sprintf("between %.0f and %.0f times in 100, as heat, callbacks and what was believed before are allowed for", max(1, math.Round(low)), min(99, math.Round(high)))
}

// turns says at which cost of a callback the choice would be another.
func (m MeshVsRebar) turns() string {
	if !m.TurningCost.Known() {
		return ""
	}
	return fmt.Sprintf(" That would turn at %s a callback.", figure.RoughDollars(m.TurningCost.Value))
}

// settles says what it would take to know.
func (m MeshVsRebar) settles() string {
	if !m.PlacementsNeeded.Known() {
		return " Alternate mesh and rebar within a season to find out."
	}
	return m.takes("a difference that would just pay for rebar") + " Alternate mesh and rebar within each season to find out."
}

// refusal says why there is no answer and what would give one.
func (r *Reinforcement) refusal(why string) string {
	m := r.MeshVsRebar
	const until = " Until then the one that is cheaper to place is the better bet."
	if m.Verdict != cannotTell {
		return "Not settled: " + why + "." + m.settles() + until
	}
	said := "The records cannot say whether mesh or rebar is better: " + why + "."
	if m.Mesh == 0 || m.Rebar == 0 {
		for _, p := range r.InShort {
			said += fmt.Sprintf(" As to %s against %s: %s.", p.Of, p.Against, p.says())
		}
	}
	return said + " Record joint spacing and air temperature with every pour, and alternate mesh and rebar within a season." + until
}

// says puts a comparison in short in words.
func (p Compared) says() string {
	if !p.Ratio.Known() {
		return figure.Text(p.Ratio.Why)
	}
	return "on days alike in temperature " + cracks.ManyTimes(p.Ratio) + " as many cracks"
}
