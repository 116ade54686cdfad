package invented

import (
	"math"

	"pourback/ingest/record"
)

// work draws the placement's hours and books them.
func (c *company) work(p *pour) {
	d := c.dice.cast(forWork, p)
	c.poured[p.Crew]++
	p.slab.CrewPlacement = c.poured[p.Crew]
	hours := c.truth.Hours(p.AreaSqft.V, p.ThicknessIn.V, p.Method, p.Reinforcement, p.Crew, p.slab.CrewPlacement) *
		d.spread(c.truth.Labor.Noise)
	waited := 0.0
	for i := range p.delays {
		waited += float64(p.delays[i].Minutes.V) / 60
	}
	p.slab.WaitHours = waited * c.truth.Labor.WaitShare * float64(p.job.crew.Size)
	c.book(p, hours)
}

// duty is a task's share of the hours and the day it falls on, against the pour.
type duty struct {
	task  string
	share float64
	on    record.Date
}

// book spreads the hours over tasks and days, in quarter hours that add up to
// the whole; the waiting belongs to placing.
func (c *company) book(p *pour, hours float64) {
	duties := c.duties(p)
	shares := 0.0
	for _, t := range duties {
		shares += t.share
	}
	worked, booked := 0.0, 0.0
	p.labor = make([]record.Labor, 0, len(duties))
	for _, t := range duties {
		worked += hours * t.share / shares
		if t.task == "place" {
			worked += p.slab.WaitHours
		}
		upTo := round(worked, 4)
		if upTo > booked {
			p.labor = append(p.labor, record.Labor{JobNo: p.JobNo, Placement: p.Placement.Placement, WorkedOn: t.on, Crew: p.Crew,
				Task: t.task, Hours: record.Some(upTo - booked), Rate: record.Some(c.wage(p.job.crew.Wage, p.job.start))})
		}
		booked = upTo
	}
}

func (c *company) duties(p *pour) []duty {
	before, after := workday(p.PlacedOn-1, -1), min(workday(p.PlacedOn+1, 1), c.last)
	jointing := p.PlacedOn
	if p.SawHours.V > 8 {
		jointing = after
	}
	duties := append(make([]duty, 0, 7), duty{"set up", 0.10, before}, duty{"form", 0.22, before})
	if p.Bar != "" {
		duties = append(duties, duty{"reinforce", 0.10, before})
	}
	return append(duties, duty{"place", 0.22, p.PlacedOn}, duty{"finish", 0.25, p.PlacedOn},
		duty{"joint", 0.06, jointing}, duty{"strip", 0.05, after})
}

// wage is a first-year wage after the yearly raises.
func (c *company) wage(first record.Cents, on record.Date) record.Cents {
	years := math.Floor(max(0, float64(on-c.first)) / 365.25)
	return record.Cents(math.Round(float64(first) * math.Pow(1+c.truth.Money.WageRise, years)))
}
