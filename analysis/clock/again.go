package clock

// Again is the rest of a day planned anew, as it stands at now, in minutes of the
// wall clock after midnight: so many yd³ are out of the trucks, and work goes on
// after stopMin more minutes. Trucks that the day has batched by now are on their
// way; the others are put off as far as that helps. callYd is what the load held
// back is to bring, 0 where it is no more needed. It plans trucks and the call, not
// the slab.
func (d *Day) Again(now, stopMin int, downYd, callYd float64) *Day {
	const slip = 0.125 // yd³: nobody measures closer than that
	now -= d.shiftAt(now)
	p := Plan{StartMin: now + stopMin, NowMin: now, DownYd: downYd, Going: d.Going, EdgeMin: d.EdgeMin}
	before := 0.0
	for _, t := range d.Trucks {
		switch {
		case t.DownYd <= downYd+slip:
			p.Done++
		case t.Held && callYd <= 0:
		case t.Held:
			p.Held = &Held{Yd: callYd, CallAtYd: d.Call.DownYd, LeadMin: d.Call.LeadMin}
		default:
			p.Loads = append(p.Loads, t.Yd-max(0, downYd-before))
			if t.Batched.Min <= now {
				p.Out = append(p.Out, t.Batched.Min)
			}
		}
		before = t.DownYd
	}
	if p.Going.PrimeMin > 0 && (downYd > 0 || now > d.Start.Min) {
		p.Going.PrimeMin = 0 // the line is full
	}
	p.PrimeYd = d.PrimedYd
	again := on(p, face{kept: d})
	again.Date, again.Zone, again.Air = d.Date, d.Zone, d.Air
	return again
}

// shiftAt is by how many minutes a clock on site is ahead of the minutes passed.
func (d *Day) shiftAt(wall int) int {
	t := d.Wall(wall)
	h, m := t.hands()
	return 60*h + m + t.Day*dayMin - wall
}
