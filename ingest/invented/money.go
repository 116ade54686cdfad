package invented

import (
	"math"
	"strings"

	"pourback/ingest/record"
)

// settle makes up the job's money: what the bid carried, what it came to, what
// the customer pays. Every amount is its quantity times its rate, to the cent.
func (c *company) settle(j *job) {
	d := c.dice.of(forMoney, j.index)
	b := &book{job: j, lines: make([]record.Cost, 0, 10)}
	c.concrete(b, j)
	c.pumping(b, j)
	c.labor(b, j)
	c.steel(d, b, j)
	c.groundwork(d, b, j)
	c.callbacks(b, j)
	j.costs = b.lines
	bid := record.Cents(0)
	for i := range b.lines {
		bid += b.lines[i].Planned().V
	}
	j.BidCost = record.Some(bid)
	price := float64(bid) * (1 + c.truth.Money.Markup) * d.spread(c.truth.Money.MarkupSpread)
	j.ContractPrice = record.Some(record.Cents(math.Round(price/10_00) * 10_00))
	if closed := j.done() + record.Date(d.days(1, 12)); closed <= c.last {
		j.ClosedOn = closed
	}
}

// done is the last day of work.
func (j *job) done() record.Date {
	last := record.Date(0)
	for _, p := range j.pours {
		for i := range p.labor {
			last = max(last, p.labor[i].WorkedOn)
		}
	}
	return last
}

// book gathers a job's lines of cost.
type book struct {
	job   *job
	lines []record.Cost
}

// add writes a line, unless there is nothing in it.
func (b *book) add(item, unit string, plannedQty float64, plannedRate record.Cents, qty float64, rate record.Cents) {
	planned, errPlanned := record.TimesRate(plannedQty, plannedRate)
	actual, errActual := record.TimesRate(qty, rate)
	if errPlanned != nil || errActual != nil || planned == 0 && actual == 0 {
		return // no price a test can adjust to makes a job of 30 yd cost trillions
	}
	b.lines = append(b.lines, record.Cost{JobNo: b.job.JobNo, Item: item, Unit: unit,
		PlannedQty: record.Some(plannedQty), PlannedRate: record.Some(plannedRate),
		ActualQty: record.Some(qty), ActualRate: record.Some(rate),
		PlannedAmount: record.Some(planned), ActualAmount: record.Some(actual)})
}

// concrete is the yards and what goes with them: fees for small loads and the
// disposal of what is left over.
func (c *company) concrete(b *book, j *job) {
	m := &c.truth.Money
	var planned, delivered, leftover float64
	var plannedSmall, small int
	for _, p := range j.pours {
		planned += p.PlannedYd.V
		leftover += p.LeftoverYd.V
		if p.PlannedYd.V < m.SmallLoadYd {
			plannedSmall++
		}
		for i := range p.loads {
			delivered += p.loads[i].Yards.V
		}
		small += smallLoads(p, m.SmallLoadYd)
	}
	b.add("concrete", "yd", planned, c.concretePrice(j, j.BidOn), delivered, c.concretePrice(j, j.start))
	b.add("other", "small load", float64(plannedSmall), m.SmallLoad, float64(small), m.SmallLoad)
	b.add("disposal", "yd", 0.5*float64(len(j.pours)), m.Disposal, round(leftover, 10), m.Disposal)
}

// smallLoads counts the loads of an order under the limit, and those sent for.
func smallLoads(p *pour, underYd float64) int {
	small := 0
	for i := range p.loads {
		if p.loads[i].Yards.V < underYd && (p.loads[i].Note != "" || p.PlannedYd.V < underYd) {
			small++
		}
	}
	return small
}

func (c *company) concretePrice(j *job, on record.Date) record.Cents {
	m := &c.truth.Money
	price := float64(m.ConcreteYd[j.plant.name] + m.Per500PSI*record.Cents((j.psi-3500)/500))
	if on >= m.RiseOn {
		price *= 1 + m.RiseBy
	}
	return record.Cents(math.Round(price/25) * 25)
}

// pumping is paid by the hour, three at least, from set-up to washout.
func (c *company) pumping(b *book, j *job) {
	const setUp, least = 1.5, 3
	planned, actual := 0.0, 0.0
	for _, p := range j.pours {
		if !p.Pumped() {
			continue
		}
		planned += max(least, roundUp(setUp+p.PlannedYd.V*paceMin["pump"]/60, 2))
		pouring := float64(p.loads[len(p.loads)-1].PourEnd-p.loads[0].PourStart) / 3600
		actual += max(least, roundUp(setUp+pouring, 4))
	}
	b.add("pump", "hour", planned, j.pump.HourRate, actual, j.pump.HourRate)
}

func (c *company) labor(b *book, j *job) {
	planned, worked := 0.0, 0.0
	for _, p := range j.pours {
		planned += round(p.AreaSqft.V/c.truth.Money.BidSqftHour, 2)
		for i := range p.labor {
			worked += p.labor[i].Hours.V
		}
	}
	b.add("labor", "hour", planned, c.wage(c.truth.Money.BidWage, j.BidOn), worked, c.wage(j.crew.Wage, j.start))
}

// steel is by the ft² where the whole job has one kind, else a lump.
func (c *company) steel(d *dice, b *book, j *job) {
	planned, actual, amount, spent := 0.0, 0.0, 0.0, 0.0
	rate, mixed := record.Cents(0), false
	for _, p := range j.pours {
		mine := c.steelRate(p.Reinforcement)
		if mine == 0 {
			continue
		}
		mixed = mixed || rate != 0 && rate != mine
		rate = mine
		laid := round(p.AreaSqft.V*d.spread(0.03), 1)
		planned, actual = planned+p.AreaSqft.V, actual+laid
		amount, spent = amount+p.AreaSqft.V*float64(mine), spent+laid*float64(mine)
	}
	if mixed {
		b.add("reinforcement", "lump", 1, record.Cents(math.Round(amount)), 1, record.Cents(math.Round(spent)))
		return
	}
	b.add("reinforcement", "ft²", planned, rate, actual, rate)
}

func (c *company) steelRate(words string) record.Cents {
	rate := record.Cents(0)
	for word := range strings.SplitSeq(words, "+") {
		rate += c.truth.Money.Reinforce[word]
	}
	return rate
}

// groundwork is the crushed base, the equipment by the day and, for a few jobs,
// somebody else's digger.
func (c *company) groundwork(d *dice, b *book, j *job) {
	m := &c.truth.Money
	planned, actual, days, last := 0.0, 0.0, 0.0, record.Date(0)
	for _, p := range j.pours {
		if p.PlacedOn != last {
			last = p.PlacedOn
			days++
		}
		if p.Base == "crushed base" {
			planned += p.AreaSqft.V
			actual += round(p.AreaSqft.V*d.spread(0.05), 1)
		}
	}
	b.add("base", "ft²", planned, m.CrushedBase, actual, m.CrushedBase)
	b.add("equipment", "day", days, m.Equipment, days, m.Equipment)
	if d.chance(0.07) {
		lump := record.Cents(d.days(12, 50)) * 50_00
		b.add("subcontract", "lump", 1, lump, 1, record.Cents(math.Round(float64(lump)*d.spread(0.08)/1_00)*1_00))
	}
}

// callbacks is what the visits to callbacks cost, which no bid carried.
func (c *company) callbacks(b *book, j *job) {
	spent := record.Cents(0)
	for _, p := range j.pours {
		for i := range p.visits {
			spent += p.visits[i].Cost.V
		}
	}
	b.add("callback", "lump", 0, 0, 1, spent)
}
