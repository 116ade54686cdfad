package invented

import (
	"fmt"
	"math"

	"pourback/ingest/record"
)

// leastBalanceYd is the smallest load a plant sends out when a pour runs short.
const leastBalanceYd = 1

// stretchYd is the shortage that is raked thin rather than sent for.
const stretchYd = 0.08

// pour decides what the placement took and how it came: the loads with their
// times, what was left over, what was probed, what went wrong.
func (c *company) pour(p *pour) {
	d := c.dice.cast(forPour, p)
	proportional := c.use(d, p)
	if d.chance(0.8) { // where it was probed in more than one place
		thick := p.ThicknessIn.V * (1 + c.truth.Loss.ThickShare*proportional)
		p.MeasuredThicknessIn = record.Some(round(d.normal(thick, 0.06), 20))
	}
	ordered := p.PlannedYd.V
	yards := truckloads(ordered)
	planned := len(yards)
	if short := p.slab.UsedYd - ordered; short > stretchYd {
		yards = append(yards, truckloads(roundUp(max(leastBalanceYd, short+0.15), 4))...)
	}
	delivered := 0.0
	for _, yd := range yards {
		delivered += yd
	}
	p.LeftoverYd = record.Some(max(0, round(delivered-p.slab.UsedYd, 10)))
	c.delay(p, yards, planned)
	c.deliver(d, p, yards, planned)
}

// use draws what the placement takes, and returns its proportional loss.
func (c *company) use(d *dice, p *pour) float64 {
	l, v := &c.truth.Loss, p.NeatYd.V
	loss := d.normal(l.ByUse[p.Use]+l.ByBase[p.Base], c.truth.OverageSD(v))
	botch := l.BotchedFrom + (l.BotchedTo-l.BotchedFrom)*d.Float64()
	if p.slab.Botched = d.chance(l.Botched); p.slab.Botched {
		loss += botch
	}
	p.slab.UsedYd = v*(1+loss) + l.FixedYd[p.Method]
	return loss
}

// truckloads splits an order into full trucks and a rest.
func truckloads(yd float64) []float64 {
	var loads []float64
	for ; yd > truckYd; yd -= truckYd {
		loads = append(loads, truckYd)
	}
	return append(loads, yd)
}

// deliver writes the loads, of which so many were planned. Times are minutes of
// the day; each truck is sent so as to arrive when the one before is done,
// unless something holds it.
func (c *company) deliver(d *dice, p *pour, yards []float64, planned int) {
	ready := 7*60 + 30 + d.IntN(150)
	if p.AirTempF.V >= 80 {
		ready = 6*60 + d.IntN(75)
	}
	for i, yd := range yards {
		held := p.heldBy(i)
		arrived := ready - d.IntN(12) + held.truck
		batched := arrived - int(max(8, d.normal(p.job.plant.travel, p.job.plant.spread)))
		start := max(arrived+2+d.IntN(5), ready) + held.start
		end := start + int(math.Ceil(yd*paceMin[p.Method]*d.spread(0.15))) + held.pouring
		c.tickets++
		load := record.Load{JobNo: p.JobNo, Placement: p.Placement.Placement,
			TicketNo: fmt.Sprintf("%s-%d", p.job.plant.prefix, c.tickets), Yards: record.Some(yd),
			BatchedAt: record.MomentOf(p.PlacedOn, batched*60), ArrivedAt: record.MomentOf(p.PlacedOn, arrived*60),
			PourStart: record.MomentOf(p.PlacedOn, start*60), PourEnd: record.MomentOf(p.PlacedOn, end*60)}
		if i >= planned {
			load.Note = "extra load"
		}
		p.test(d, &load)
		p.loads = append(p.loads, load)
		ready = end + 2 + d.IntN(4)
	}
}

// test writes what was measured and added at the truck: water more often in the
// heat and for the pump. It does nothing to cracks.
func (p *pour) test(d *dice, l *record.Load) {
	slump := d.normal(4.25, 0.6)
	if p.Method == "pump" {
		slump += 0.75
	}
	water := 0.0
	if d.chance(within(0.2+0.01*(p.AirTempF.V-60), 0.1, 0.6)) {
		water = math.Ceil(l.Yards.V * (0.4 + 0.8*d.Float64()))
		slump += water / l.Yards.V // an inch for a gallon a yard, common practice
	}
	l.WaterAddedGal = record.Some(water)
	l.SlumpIn = record.Some(within(round(slump, 4), 2, 8.5))
	l.ConcreteTempF = record.Some(within(round(d.normal(p.ConcreteTempF.V, 1.2), 1), 45, 104))
}

// holds are the minutes by which delays hold up one load, by stage.
type holds struct{ truck, start, pouring int }

// heldBy is what holds load i.
func (p *pour) heldBy(i int) holds {
	var h holds
	for n := range p.delays {
		if p.delayOn[n] != i {
			continue
		}
		minutes := int(p.delays[n].Minutes.V)
		switch p.delays[n].Cause {
		case "truck late", "plant", "other":
			h.truck += minutes
		case "inspection", "crew":
			h.start += minutes
		default:
			h.pouring += minutes
		}
	}
	return h
}
