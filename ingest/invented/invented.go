// Package invented makes up the completed-job records of a company that does
// not exist: Saltgrass Flatwork, eight people in the invented town of Low Mesa
// on dry southern plains. Nothing in it is measured. The streets, crews, pump
// outfits, plants, prices and rates are all made up, and none of them should be
// used as a prior for anybody's work.
//
// What it is good for: the process that makes the records is written down as a
// [Truth], number by number, so a test can ask whether an analysis of the
// records finds it. Some of the truth is meant to mislead a careless reader:
//
//   - part of the overage is a fixed loss in yards, so the ratio falls with size;
//   - mesh goes into the hot months and rebar into the cool ones, and heat
//     cracks slabs, so mesh looks much worse than it is;
//   - one crew is new and learns inside the records;
//   - hose size, added water, plant, finish and base (except for settlement)
//     do nothing to clogs or cracks: what a page shows for them is chance;
//   - customers call about only some cracks, late, and in a bunch before the
//     warranty ends.
//
// The same options give the same records. Every purpose draws from a stream of
// its own, keyed by seed, job and placement; nothing follows the order of a
// map; every value is rounded before it is written, so that the last bits of
// floating point, which differ between processors, do not show.
package invented

import (
	"fmt"

	"pourback/ingest/record"
)

// Options say how much to invent.
type Options struct {
	Jobs  int         // jobs completed by Until; 0 is 430, which give about 600 placements
	Seed  uint64      // the same seed gives the same records
	Until record.Date // the last day of the records; required
	Years float64     // how far the records reach back; 0 is 3.5

	// Adjust changes the truth before anything is drawn: a test that wants no
	// confounding sets Choice.MeshPerF to zero. It may be nil, and must not
	// touch Slabs, which are filled in afterwards.
	Adjust func(*Truth)
}

const (
	usualJobs  = 430
	usualYears = 3.5
	mostJobs   = 500_000
	mostYears  = 50
)

// Generate invents a company's records in their full form: seven tables, with
// no summary filled in on placements or jobs. Jobs stand in the order of their
// numbers and everything else in the order of job and placement, as does
// [Truth.Slabs]. Only jobs whose last work was done by Until are in them.
func Generate(opt Options) (record.Set, Truth, error) {
	opt, err := opt.filled()
	if err != nil {
		return record.Set{}, Truth{}, err
	}
	c := newCompany(opt)
	c.plan()
	for _, p := range c.inOrder() {
		c.pour(p)
		c.work(p)
		c.follow(p)
	}
	for _, j := range c.jobs {
		c.settle(j)
		c.detail(j)
		c.extras(j)
	}
	return c.records(), c.truth, nil
}

// filled is the options with their defaults, or says which of them cannot be.
func (opt Options) filled() (Options, error) {
	if opt.Jobs == 0 {
		opt.Jobs = usualJobs
	}
	if opt.Years == 0 {
		opt.Years = usualYears
	}
	switch {
	case opt.Until == 0:
		return opt, fmt.Errorf("invented records need their last day")
	case opt.Until < record.DateOf(1900, 1, 1) || opt.Until > record.DateOf(9999, 12, 31):
		return opt, fmt.Errorf("the last day can be between 1900 and 9999, not %d days after year 0", opt.Until)
	case opt.Jobs < 0 || opt.Jobs > mostJobs:
		return opt, fmt.Errorf("%d jobs: between 1 and %d can be invented", opt.Jobs, mostJobs)
	case !(opt.Years >= 0.1 && opt.Years <= mostYears):
		return opt, fmt.Errorf("%v years of records: between 0.1 and %d can be invented", opt.Years, mostYears)
	}
	return opt, nil
}

// company is the state of the invention.
type company struct {
	truth       Truth
	first, last record.Date // days of the records
	dice        dice
	climate     climate
	jobs        []*job
	tickets     int            // delivery tickets written so far
	poured      map[string]int // placements by crew so far
}

// job is a job on its way into the records.
type job struct {
	record.Job
	index int
	start record.Date // first pour
	crew  *Crew
	pump  *Outfit
	plant *plant
	psi   int
	pours []*pour
	costs []record.Cost
}

// pour is a placement on its way into the records.
type pour struct {
	record.Placement
	job    *job
	index  int
	slab   Slab
	loads  []record.Load
	delays []record.Delay
	labor  []record.Labor
	visits []record.Visit

	delayOn []int // for each delay, the load it held up
}

func newCompany(opt Options) *company {
	c := &company{last: opt.Until, dice: newDice(opt.Seed), poured: map[string]int{}, tickets: 100_000}
	c.first = opt.Until - record.Date(opt.Years*365.25)
	c.truth = usualTruth(c.first, opt.Until)
	if opt.Adjust != nil {
		opt.Adjust(&c.truth)
	}
	c.climate = newClimate(&c.dice, c.first, c.last)
	c.jobs = make([]*job, opt.Jobs)
	return c
}

// records gathers the rows of all jobs, with a few gaps as real records have.
func (c *company) records() record.Set {
	s := c.room()
	for _, j := range c.jobs {
		s.Jobs = append(s.Jobs, j.Job)
		s.Costs = append(s.Costs, j.costs...)
		for _, p := range j.pours {
			c.forget(p)
			s.Placements = append(s.Placements, p.Placement)
			s.Loads = append(s.Loads, p.loads...)
			s.Delays = append(s.Delays, p.delays...)
			s.Labor = append(s.Labor, p.labor...)
			s.Visits = append(s.Visits, p.visits...)
			c.truth.Slabs = append(c.truth.Slabs, p.slab)
		}
	}
	return s
}

// room is an empty set that holds all there is without growing.
func (c *company) room() (s record.Set) {
	var placements, loads, delays, labor, costs, visits int
	for _, j := range c.jobs {
		costs += len(j.costs)
		placements += len(j.pours)
		for _, p := range j.pours {
			loads, delays, labor, visits = loads+len(p.loads), delays+len(p.delays), labor+len(p.labor), visits+len(p.visits)
		}
	}
	s.Jobs = make([]record.Job, 0, len(c.jobs))
	s.Placements = make([]record.Placement, 0, placements)
	s.Loads = make([]record.Load, 0, loads)
	s.Delays = make([]record.Delay, 0, delays)
	s.Labor = make([]record.Labor, 0, labor)
	s.Costs = make([]record.Cost, 0, costs)
	s.Visits = make([]record.Visit, 0, visits)
	c.truth.Slabs = make([]Slab, 0, placements)
	return s
}

// forget leaves out what nobody wrote down that day.
func (c *company) forget(p *pour) {
	d := c.dice.cast(forGaps, p)
	for _, gap := range []struct {
		value *record.Number
		share float64
	}{
		{&p.MeasuredThicknessIn, 0.45}, {&p.NeatYd, 0.10}, {&p.LeftoverYd, 0.015},
		{&p.AirTempF, 0.01}, {&p.HumidityPct, 0.04}, {&p.WindMPH, 0.03}, {&p.JointSpacingFt, 0.02},
	} {
		if d.chance(gap.share) {
			*gap.value = record.Number{}
		}
	}
	if d.chance(0.03) {
		p.Curing = ""
	}
	if d.chance(0.02) {
		p.CrewSize = record.Count{}
	}
	for i := range p.loads {
		if d.chance(0.15) {
			p.loads[i].SlumpIn = record.Number{}
		}
		if d.chance(0.20) {
			p.loads[i].WaterAddedGal = record.Number{}
		}
	}
}
