package invented

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"pourback/ingest/record"
)

// tooColdF is the air at which nobody starts a job.
const tooColdF = 26

// plan lays out every job: when, where, by whom, and what is to be poured.
func (c *company) plan() {
	starts := c.starts()
	wide := max(4, len(fmt.Sprint(1000+len(starts))))
	for i, start := range starts {
		d := c.dice.of(forJobs, i)
		j := &job{index: i, start: start}
		j.JobNo = fmt.Sprintf("SF-%0*d", wide, 1001+i)
		j.WarrantyMonths = record.Some[int64](12)
		j.Site = fmt.Sprintf("Lot %d, %s", d.days(1, 96), streets[d.IntN(len(streets))])
		j.WonOn = start - record.Date(d.days(4, 30))
		j.BidOn = j.WonOn - record.Date(d.days(2, 21))
		j.crew = c.crewFor(d, start)
		j.pump = &c.truth.Pump.Outfits[d.pick(len(c.truth.Pump.Outfits), func(i int) float64 { return c.truth.Pump.Outfits[i].Share })]
		j.plant = &plants[d.pick(len(plants), func(i int) float64 { return plants[i].share })]
		c.jobs[i] = j
		c.wonFrom(d, j)
		c.placements(d, j)
		for _, p := range j.pours {
			c.design(p)
		}
	}
}

// starts draws the days on which jobs start, in order: more in spring and fall,
// few in deep winter, none on a Sunday or in hard frost.
func (c *company) starts() []record.Date {
	last := c.lastPour()
	upTo := make([]float64, last-c.first+1)
	total := 0.0
	for i := range upTo {
		on := c.first + record.Date(i)
		if on.Time().Weekday() != time.Sunday && c.climate.on(on).airF >= tooColdF {
			total += byMonth[on.Time().Month()-1]
		}
		upTo[i] = total
	}
	d := c.dice.of(forYears, 1)
	starts := make([]record.Date, len(c.jobs))
	for i := range starts {
		if total == 0 { // a short stretch of frost: they pour all the same
			starts[i] = c.first + record.Date(d.IntN(len(upTo)))
			continue
		}
		at, _ := slices.BinarySearch(upTo, total*(1-d.Float64()))
		starts[i] = c.first + record.Date(min(at, len(upTo)-1))
	}
	slices.Sort(starts)
	return starts
}

// lastPour is the last day on which a slab can be poured and stripped in time.
func (c *company) lastPour() record.Date { return workday(c.last-1, -1) }

// workday is d, or the nearest day in that direction that is no Sunday.
func workday(d record.Date, step record.Date) record.Date {
	if d.Time().Weekday() == time.Sunday {
		return d + step
	}
	return d
}

func (c *company) crewFor(d *dice, on record.Date) *Crew {
	crews := c.truth.Labor.Crews
	return &crews[d.pick(len(crews), func(i int) float64 {
		if crews[i].Started > on {
			return 0
		}
		return crews[i].Share
	})]
}

// wonFrom lets one job in eight come from one of the year before it was bid,
// often in the same street.
func (c *company) wonFrom(d *dice, j *job) {
	byStart := func(other *job, on record.Date) int { return cmp.Compare(other.start, on) }
	from, _ := slices.BinarySearchFunc(c.jobs[:j.index], j.BidOn-400, byStart)
	to, _ := slices.BinarySearchFunc(c.jobs[:j.index], j.BidOn, byStart)
	if from >= to || !d.chance(0.125) {
		return
	}
	earlier := c.jobs[from+d.IntN(to-from)]
	j.WonFrom = earlier.JobNo
	if d.chance(0.5) {
		_, street, _ := strings.Cut(earlier.Site, ", ")
		j.Site = fmt.Sprintf("Lot %d, %s", d.days(1, 96), street)
	}
}

// placements decides what the job holds and on which days it is poured.
func (c *company) placements(d *dice, j *job) {
	main := works[d.pick(len(works), func(i int) float64 { return works[i].share })]
	on := j.start
	for i := range choose(d, poursInJob) {
		p := &pour{job: j, index: i}
		p.JobNo, p.Placement.Placement = j.JobNo, string(rune('A'+i))
		p.Use = main.use
		if i > 0 {
			p.Use = choose(d, main.companions)
			if d.chance(0.5) {
				on = min(workday(on+1, 1), c.lastPour())
			}
		}
		p.PlacedOn = on
		if main.use == "garage slab" || d.chance(0.2) {
			j.psi = max(j.psi, 4000)
		}
		j.pours = append(j.pours, p)
	}
	j.psi = max(j.psi, 3500)
}

// inOrder is every placement in the order of pouring, as the records tell it.
func (c *company) inOrder() []*pour {
	var all []*pour
	for _, j := range c.jobs {
		all = append(all, j.pours...)
	}
	slices.SortStableFunc(all, func(a, b *pour) int { return cmp.Compare(a.PlacedOn, b.PlacedOn) })
	return all
}

// areaFor draws an area in whole ft² that makes a placement of ordinary volume.
func areaFor(d *dice, w *kindOfWork, thicknessIn float64) float64 {
	lo, hi := math.Ceil(leastYd*record.SqftInPerYd/thicknessIn), math.Floor(mostYd*record.SqftInPerYd/thicknessIn)
	for range 20 {
		if area := math.Round(w.sqft * d.spread(w.spread)); area >= lo && area <= hi {
			return area
		}
	}
	return lo
}
