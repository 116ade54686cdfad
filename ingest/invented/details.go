package invented

import (
	"math"
	"strings"

	"pourback/ingest/record"
)

// customers are trees; nobody is meant.
var customers = []string{"Alder", "Ash", "Aspen", "Beech", "Birch", "Cedar", "Cypress", "Elm", "Fir", "Hawthorn", "Hazel", "Hemlock",
	"Hickory", "Juniper", "Larch", "Linden", "Maple", "Mesquite", "Mulberry", "Oak", "Pecan", "Pine", "Rowan", "Spruce", "Sycamore", "Willow"}

// remarks are what a foreman writes beside a placement. They do nothing.
var remarks = []string{"fence close to the north side", "customer wants the joints to line up with the door", "truck had to stay in the street",
	"dog in the yard", "sprinkler line moved before the forms", "gate 36 in wide", "shade all morning", "match the old slab's finish"}

// detail fills in what says more about a job without changing anything else in
// the records: it draws from a stream of its own, and nothing follows from it.
func (c *company) detail(j *job) {
	d := c.dice.of(forDetails, j.index)
	j.Customer = customers[d.IntN(len(customers))]
	m := &c.truth.Money
	if changed, lowered := d.chance(m.Changed), d.chance(1.0/6); changed {
		by := max(50, math.Round(j.ContractPrice.V.Dollars()*d.about(m.ChangedBy, 0.6)/10)*10)
		if lowered {
			by = -by
		}
		j.ChangeOrders = record.Some(record.Cents(by * 100))
	}
	for _, p := range j.pours {
		p.steelDetail(d)
		if p.Use == "shed slab" && d.chance(0.6) || p.Use == "garage slab" && d.chance(0.4) {
			p.EdgeIn = record.Some(choose(d, []option[float64]{{8, 0.3}, {10, 0.3}, {12, 0.4}}))
		}
		if d.chance(0.12) {
			p.Note = remarks[d.IntN(len(remarks))]
		}
		p.startDelays(d)
		p.mark(d)
	}
}

// extras is what the work of a change order costs, or saves where it took work
// off: about the share of its pay that is cost in a bid (common practice, no
// published source).
func (c *company) extras(j *job) {
	if !j.ChangeOrders.OK {
		return
	}
	m, d := &c.truth.Money, c.dice.of(forExtras, j.index)
	spent := record.Cents(math.Round(float64(j.ChangeOrders.V) / (1 + m.Markup) * d.spread(m.ChangedCost)))
	j.costs = append(j.costs, record.Cost{JobNo: j.JobNo, Item: "extra work", Unit: "lump", ActualAmount: record.Some(spent)})
}

// steelDetail is how far apart the bars lie; mesh is called by its own spacing.
func (p *pour) steelDetail(d *dice) {
	apart := choose(d, []option[float64]{{12, 0.25}, {16, 0.15}, {18, 0.35}, {24, 0.25}})
	switch {
	case strings.HasPrefix(p.Bar, "#"):
		p.BarSpacingIn = record.Some(apart)
	case p.Bar != "":
		p.BarSpacingIn = record.Some(6.0)
	}
}

// startDelays says of most delays when they began: those that kept a truck away
// end with its arrival, those before the pour with its start, the others lie
// within the pour of the load that they held.
func (p *pour) startDelays(d *dice) {
	for i := range p.delays {
		written, share := d.chance(0.7), d.Float64()
		delay, load := &p.delays[i], &p.loads[p.delayOn[i]]
		if !written {
			continue
		}
		lasted := record.Moment(60 * delay.Minutes.V)
		switch delay.Cause {
		case "truck late", "plant", "other":
			delay.StartedAt = load.ArrivedAt - lasted
		case "inspection", "crew":
			delay.StartedAt = load.PourStart - lasted
		default:
			room := max(0, load.PourEnd-load.PourStart-lasted)
			delay.StartedAt = load.PourStart + record.Moment(share*float64(room/60))*60
		}
	}
}

// mark says of most cracks where on the drawing they lie. A crack is known
// again by its length.
func (p *pour) mark(d *dice) {
	spots := map[float64][2]record.Number{}
	for i := range p.visits {
		v := &p.visits[i]
		if v.Finding != "crack" || !v.LengthFt.OK {
			continue
		}
		if _, known := spots[v.LengthFt.V]; !known {
			spot := [2]record.Number{record.Some(round(d.Float64(), 100)), record.Some(round(d.Float64(), 100))}
			if d.chance(0.2) {
				spot = [2]record.Number{}
			}
			spots[v.LengthFt.V] = spot
		}
		v.SpotX, v.SpotY = spots[v.LengthFt.V][0], spots[v.LengthFt.V][1]
	}
}
