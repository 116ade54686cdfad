package clock

import (
	"math"
	"time"
)

// Plan is what a pour day is put on the clock from: a day to come, or the rest of
// one under way. Times are minutes of the wall clock after midnight.
type Plan struct {
	Day      time.Time      // of the pour; zero where it is not known
	Place    *time.Location // of the site
	StartMin int            // the first truck is to be on site, or work goes on

	Loads   []float64 // yd³, in the order of the trucks; of a day under way, what they still hold
	Held    *Held     // a further load, until it is called in; nil where there is none
	Going   Going
	EdgeMin int     // that a fresh edge may wait
	PrimeYd float64 // of the first load, that the pump's line takes in Going.PrimeMin

	// Of a day under way: what is down, when the first of Loads were batched, and
	// now, before which no other can be.
	DownYd float64
	Done   int // trucks that are empty
	Out    []int
	NowMin int

	Slabs []Slab // in the order in which they are placed
	Air   Weather
	Hours StageHours
}

// Held is a load held back.
type Held struct {
	Yd       float64 // expected
	CallAtYd float64 // called in once so much is out of the trucks
	LeadMin  int     // from the call to its arrival
}

// Slab is a placement of the day.
type Slab struct {
	Name       string
	NeatYd     float64
	SlowerHour float64 // hours at 70 °F by which an admixture makes it set later; below 0 earlier
	Saw, Early bool    // its joints are cut so
}

// Make puts a plan on the clock. The trucks come so that none waits and the crew
// does not either, as far as the plant's spacing allows. The same plan gives the
// same day.
func Make(p Plan) *Day {
	return on(p, faceOf(p.Day, p.Place))
}

// on puts a plan on a clock's face.
func on(p Plan, f face) *Day {
	w := &working{Plan: p, face: f}
	w.start = w.since(p.StartMin)
	w.now = w.since(p.NowMin)
	d := &Day{Going: p.Going, EdgeMin: p.EdgeMin, Start: w.at(w.start), Trucks: []Truck{}, Line: []Span{}, Saw: []Saw{}, Notes: []Note{}}
	if !w.midnight.IsZero() {
		d.Date = w.midnight.Format(time.DateOnly)
		if zone := p.Place.String(); zone != "Local" {
			d.Zone = zone
		}
	}
	w.day = d
	w.trucks()
	w.call()
	w.truckNotes()
	w.air()
	w.line()
	w.clockNotes()
	return d
}

// working is a day in the making.
type working struct {
	Plan
	face
	day        *Day
	start, now int
	runs       []run // of the trucks
}

// run is a truck in minutes of the day.
type run struct {
	yd                                                 float64
	batched, arrives, starts, flows, empty, free, gone int // flows is when the slab gets its concrete, behind the primer
}

// road is the minutes from batching to the site.
func (p Plan) road() int { return p.Going.LoadMin + p.Going.HaulMin }

// emptying is the whole minutes that yards take to place.
func (g Going) emptying(yd float64) int { return int(math.Ceil(max(0, yd)*g.PlaceMinPerYd - 1e-9)) }

// trucks sends each truck so that it comes when the one before is out of its way.
func (w *working) trucks() {
	free := w.start
	for i, yd := range w.Loads {
		batched := free - w.road()
		if i < len(w.Out) {
			batched = w.since(w.Out[i])
		} else {
			if i > 0 {
				batched = max(batched, w.runs[i-1].batched+w.Going.SpacingMin)
			}
			if w.NowMin > 0 {
				batched = max(batched, w.now)
			}
		}
		free = w.send(yd, batched, free, false)
	}
}

// send is a truck batched at a minute, whose place is free from another on. It
// says when its own is.
func (w *working) send(yd float64, batched, free int, held bool) int {
	g := w.Going
	r := run{yd: yd, batched: batched, arrives: batched + w.road()}
	r.starts = max(r.arrives, free)
	r.flows = r.starts
	primed := 0.0
	if first := len(w.runs) == 0; first && g.PrimeMin > 0 {
		r.flows, primed = r.starts+g.PrimeMin, min(yd, w.PrimeYd)
		w.day.PrimedYd = primed
	}
	r.empty = r.flows + g.emptying(yd-primed)
	r.gone, r.free = r.empty+g.WashMin, r.empty
	if g.WashesOnSpot {
		r.free = r.gone
	}
	t := Truck{N: w.Done + len(w.runs) + 1, Yd: yd, Held: held, Batched: w.at(r.batched), Leaves: w.at(r.batched + g.LoadMin), Arrives: w.at(r.arrives),
		Starts: w.at(r.starts), Empty: w.at(r.empty), Gone: w.at(r.gone), LimitEnds: w.at(r.batched + g.LimitMin), SlackMin: r.batched + g.LimitMin - r.empty,
		WaitsMin: r.starts - r.arrives, DownYd: w.DownYd + yd}
	if n := len(w.runs); n > 0 {
		t.CrewWaits, t.DownYd = r.starts-w.runs[n-1].empty, w.day.Trucks[n-1].DownYd+yd
	}
	w.runs = append(w.runs, r)
	d := w.day
	d.Trucks, d.LastEmpty = append(d.Trucks, t), t.Empty
	d.PlacedYd, d.IdleMin = t.DownYd-d.PrimedYd, d.IdleMin+t.CrewWaits
	return r.free
}

// downAt is the first minute at which so much is out of the trucks; the last
// one's end where that is never.
func (w *working) downAt(yd float64) int {
	down := w.DownYd
	for i, r := range w.runs {
		if down+r.yd < yd-1e-9 {
			down += r.yd
			continue
		}
		primed := 0.0
		if i == 0 {
			primed = w.day.PrimedYd
		}
		return min(r.empty, r.flows+w.Going.emptying(yd-down-primed))
	}
	return w.runs[len(w.runs)-1].empty
}

// call sends for the load held back once enough is down to tell how much it takes.
func (w *working) call() {
	h := w.Held
	if h == nil || len(w.runs) == 0 {
		return
	}
	last := w.runs[len(w.runs)-1]
	by := w.downAt(h.CallAtYd)
	if w.NowMin > 0 { // of a day under way it is never called in the past, nor put off where enough is down
		if by = max(by, w.now); h.CallAtYd <= w.DownYd {
			by = w.now
		}
	}
	batched := max(by+h.LeadMin-w.road(), last.batched+w.Going.SpacingMin, last.free-w.road())
	w.send(h.Yd, batched, last.free, true)
	held := w.runs[len(w.runs)-1]
	idle := held.starts - last.empty
	w.day.Call = &Call{By: w.at(by), DownYd: h.CallAtYd, Yd: h.Yd, LeadMin: h.LeadMin, Arrives: w.at(held.arrives), IdleMin: idle,
		EdgeMin: w.EdgeMin, Latest: w.at(last.empty + w.EdgeMin - h.LeadMin), InTime: idle <= w.EdgeMin}
}

// worthSending is the least load to send a truck with, in yd³ (common practice, no
// published source).
const worthSending = 2

// step is what plants batch by, in yd³.
const step = 0.25

// mostYd is the largest load that is empty within its time, 0 where none is.
func (w *working) mostYd(i int) float64 {
	r, room := w.runs[i], w.Going.LimitMin-w.road()
	room -= r.starts - r.arrives
	yd := 0.0
	if i == 0 {
		room -= r.flows - r.starts
		yd = w.day.PrimedYd
	}
	if room <= 0 {
		return 0
	}
	return math.Floor((float64(room)/w.Going.PlaceMinPerYd+yd)/step+1e-9) * step
}

// truckNotes are what the trucks' times do not allow.
func (w *working) truckNotes() {
	d, g := w.day, w.Going
	waits, worst := 0, -1
	for i, t := range d.Trucks {
		if t.SlackMin < 0 && i < len(w.Out) { // on its way: no other load is any use
			w.note(Note{Kind: Late, Truck: t.N, Min: -t.SlackMin, Limit: g.LimitMin})
			continue
		}
		if t.SlackMin < 0 && w.road() < g.LimitMin && (worst < 0 || t.SlackMin < d.Trucks[worst].SlackMin) {
			worst = i
		}
		if i == 0 || t.Held {
			continue
		}
		if free := w.runs[i-1].free; w.runs[i].starts > free {
			waits += w.runs[i].starts - free
		}
		if w.EdgeMin > 0 && t.CrewWaits > w.EdgeMin {
			w.note(Note{Kind: BetweenTrucks, Truck: t.N, Min: t.CrewWaits, Limit: w.EdgeMin})
		}
	}
	switch {
	case w.road() >= g.LimitMin && len(w.runs) > 0, worst >= 0 && w.mostYd(worst) < worthSending && w.mostYd(worst) > 0:
		w.note(Note{Kind: TooFar, Min: w.road(), Limit: g.LimitMin})
	case worst >= 0:
		w.note(Note{Kind: TooSlow, Truck: d.Trucks[worst].N, Min: -d.Trucks[worst].SlackMin, Limit: g.LimitMin, Yd: w.mostYd(worst)})
	}
	if waits > 0 {
		w.note(Note{Kind: SlowPlant, Min: waits, Limit: g.SpacingMin})
	}
	if c := d.Call; c != nil && !c.InTime {
		w.note(Note{Kind: ColdCall, Truck: d.Trucks[len(d.Trucks)-1].N, Min: c.IdleMin, Limit: c.EdgeMin})
	}
}

func (w *working) note(n Note) { w.day.Notes = append(w.day.Notes, n) }
