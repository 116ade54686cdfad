package invented

import (
	"fmt"
	"math"
	"strings"

	"pourback/ingest/record"
)

// design decides what a placement is: its size, how it is placed, what is in
// it, how it is jointed and cured, in the weather of its day.
func (c *company) design(p *pour) {
	d := c.dice.cast(forDesign, p)
	w := workOf(p.Use)
	thickness := choose(d, w.thickness)
	area := areaFor(d, w, thickness)
	p.ThicknessIn, p.AreaSqft = record.Some(thickness), record.Some(area)
	p.NeatYd = record.Some(round(record.NeatYd(area, thickness), 100))
	p.Base = choose(d, w.base)
	p.Crew, p.CrewSize = p.job.crew.Name, record.Some(int64(p.job.crew.Size))
	p.designPlacing(d, w)
	p.Reinforcement, p.Bar = c.reinforcement(d, w, p.PlacedOn)
	c.climate.observe(d, p)
	p.designJoints(d, w)
	p.Finish = choose(d, w.finish)
	p.designWeathering(d)
	p.PlannedYd = record.Some(c.ordered(d, p.NeatYd.V))
	p.slab = Slab{JobNo: p.JobNo, Placement: p.Placement.Placement, NeatYd: p.NeatYd.V}
	p.slab.Covariates, _ = CovariatesOf(&p.Placement)
	p.slab.EvaporationLb = evaporation(p.ConcreteTempF.V, p.AirTempF.V, p.HumidityPct.V, p.WindMPH.V)
}

func (p *pour) designPlacing(d *dice, w *kindOfWork) {
	method := choose(d, w.method)
	if method == "barrow" && p.NeatYd.V > barrowYd {
		method = "buggy"
	}
	if method == "buggy" && p.NeatYd.V > buggyYd {
		method = "pump"
	}
	p.Method = method
	p.Mix, p.MixPSI = fmt.Sprintf("%s %d", p.job.plant.name, p.job.psi), record.Some(float64(p.job.psi))
	p.MaxAggregateIn = record.Some(0.75)
	if method != "pump" {
		return
	}
	p.PumpOutfit = p.job.pump.Name
	p.HoseIn = record.Some(p.job.pump.HoseIn)
	if d.chance(0.15) {
		p.HoseIn = record.Some(2.5)
	}
	if p.HoseIn.V < 3 {
		p.MaxAggregateIn = record.Some(0.375)
	}
}

// reinforcement is the words and the bar or mesh: for most slabs steel, and
// which steel is the season's choice. That is the confounding.
func (c *company) reinforcement(d *dice, w *kindOfWork, on record.Date) (words, bar string) {
	words = choose(d, w.steel)
	if words == "steel" {
		words = "rebar"
		lean := c.truth.Choice.MeshPerF * (normalF(on) - c.truth.Choice.MeshEvenF)
		if d.chance(1 / (1 + math.Exp(-lean))) {
			words = "mesh"
		}
	}
	switch {
	case strings.HasPrefix(words, "mesh"):
		bar = choose(d, []option[string]{{"6x6 W1.4xW1.4", 0.6}, {"6x6 W2.9xW2.9", 0.4}})
	case words == "rebar":
		bar = choose(d, []option[string]{{"#3", 0.7}, {"#4", 0.3}})
	}
	return words, bar
}

func (p *pour) designJoints(d *dice, w *kindOfWork) {
	t := p.ThicknessIn.V
	p.JointSpacingFt = record.Some(within(round(t*d.normal(2.3, 0.45), 2), 6, 14))
	p.JointCut = choose(d, w.cut)
	switch {
	case p.JointCut == "early-entry":
		p.JointDepthIn = record.Some(1.25)
		p.SawHours = record.Some(within(round(3*d.spread(0.25), 2), 1, 6))
	case strings.Contains(p.JointCut, "saw"):
		p.JointDepthIn = record.Some(max(1, round(t/4, 8)))
		usual := 14 - 0.06*(p.AirTempF.V-50) // heat speeds the set
		p.SawHours = record.Some(within(round(usual*d.spread(0.3), 2), 4, 48))
	default:
		p.JointDepthIn = record.Some(round(t/5, 4))
	}
}

// designWeathering decides curing and admixtures by the day's heat.
func (p *pour) designWeathering(d *dice) {
	air := p.AirTempF.V
	p.AcceleratorPct, p.Retarder = record.Some(0.0), record.No
	switch {
	case air < 45 && d.chance(0.8):
		p.AcceleratorPct = record.Some(choose(d, []option[float64]{{1, 0.6}, {2, 0.4}}))
	case air >= 86 && d.chance(0.6):
		p.Retarder = record.Yes
	}
	p.Curing = choose(d, []option[string]{{"none", 0.40}, {"compound", 0.40}, {"water", 0.10}, {"sheet", 0.10}})
	if air < 42 && d.chance(0.7) {
		p.Curing = "blanket"
	}
}

// ordered is the owner's rule, whatever the job: 8 to 10 % on top of neat,
// rounded up to the quarter yard, from 5 yd on to the half.
func (c *company) ordered(d *dice, neatYd float64) float64 {
	want := neatYd * (1.08 + 0.01*float64(d.IntN(3)))
	if want < 5 {
		return roundUp(want, 4)
	}
	return roundUp(want, 2)
}
