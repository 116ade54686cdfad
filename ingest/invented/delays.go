package invented

import (
	"math"

	"pourback/ingest/record"
)

// extraWait is the note on the wait for a load nobody had planned.
const extraWait = "waiting for an extra load"

// delay draws the placement's delays: clogs by the yard, other causes by the
// placement, and the wait for each load beyond those planned. Each falls on one
// of the loads.
func (c *company) delay(p *pour, yards []float64, planned int) {
	d := c.dice.cast(forDelays, p)
	if p.Pumped() {
		for i, yd := range yards {
			c.clog(d, p, yd, i)
		}
	}
	for _, cause := range c.truth.Delays {
		if d.chance(cause.Chance) {
			p.held(record.Delay{Cause: cause.Name}, d.minutes(cause.MeanMin, cause.SD), d.IntN(planned))
		}
	}
	if p.slab.Botched {
		p.held(record.Delay{Cause: "form", Note: "form blew out"}, 20+20*d.Float64(), 0)
	}
	for i := planned; i < len(yards); i++ {
		p.held(record.Delay{Cause: "other", Note: extraWait}, within(d.normal(45, 10), 20, 90), i)
	}
}

// clog draws the clogs of one load, a Poisson process in its yards.
func (c *company) clog(d *dice, p *pour, yd float64, load int) {
	pump := &c.truth.Pump
	rate := c.truth.ClogRate(p.PumpOutfit) / 100
	for at := d.ExpFloat64() / rate; at < yd; at += d.ExpFloat64() / rate {
		spot := pump.Spots[d.pick(len(pump.Spots), func(i int) float64 { return pump.Spots[i].Share })]
		p.held(record.Delay{Cause: "clog", Spot: spot.Name}, d.minutes(spot.MeanMin, pump.SpotSD), load)
	}
}

// minutes draws a lognormal delay.
func (d *dice) minutes(mean, sd float64) float64 { return within(d.about(mean, sd), 3, 150) }

// held notes a delay of so many minutes on a load.
func (p *pour) held(delay record.Delay, minutes float64, load int) {
	delay.JobNo, delay.Placement = p.JobNo, p.Placement.Placement
	delay.Seq = record.Some(int64(len(p.delays) + 1))
	delay.Minutes = record.Some(int64(math.Round(minutes)))
	p.delays = append(p.delays, delay)
	p.delayOn = append(p.delayOn, load)
}
