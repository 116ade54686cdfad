package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"
)

// A job is what really happened, before any owner wrote it down.
type job struct {
	no, customer, site string
	slabs              []*slab
	quoted             time.Time
	price, change      float64 // contract and what was added to it
	bid                float64 // cost carried in the bid
	parts              []part  // what it cost, callback apart
	back               *callback
	note               string
	fate               string // "" poured, "cancelled", "no size", "no date", "repeat" (a number typed twice)
}

// A part is one cost of a job, in dollars.
type part struct {
	item   string
	amount float64
}

// A slab is one stretch of concrete: a row of the log.
type slab struct {
	day                      time.Time
	use                      string
	length, width            float64 // ft
	length2, width2          float64 // ft, a second rectangle, or zero
	thick                    float64 // in
	steel, bar               string
	barAt                    float64 // in on centre, or zero
	joint                    float64 // ft, the longer side
	cut                      string
	planned, delivered, left float64 // yd³
	loads                    []load
	method, outfit           string
	temp, humidity           int // °F, %
	crew                     string
	people                   int
	each                     float64 // hours of each
	psi                      int
	finish, base             string
}

// A load is one truck of ready-mix.
type load struct {
	ticket  int
	batched time.Time
	yards   float64
	waited  int // minutes charged beyond the free time
}

type callback struct {
	on   time.Time
	kind string
	cost float64
}

func (s *slab) area() float64  { return s.length*s.width + s.length2*s.width2 }
func (s *slab) neat() float64  { return s.area() * s.thick / 324 }
func (s *slab) hours() float64 { return float64(s.people) * s.each }

// cost is what the job cost in whole dollars, callback apart.
func (j *job) cost() float64 {
	sum := 0.0
	for _, p := range j.parts {
		sum += p.amount
	}
	return math.Round(sum)
}

// A firm is what the jobs of one owner have in common.
type firm struct {
	first, last time.Time
	number      func(i int, day time.Time) string
	customers   []string
	streets     []string
	crews       []string
	outfits     []string
	notes       []string
	ticket      int  // of the first load
	oneRect     bool // sizes in two columns hold one rectangle only
}

func quarter(x float64) float64            { return math.Round(x*4) / 4 }
func to(x, step float64) float64           { return math.Round(x/step) * step }
func cents(x float64) float64              { return math.Round(x*100) / 100 }
func date(y, m, d int) time.Time           { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }
func oneOf[T any](r *rand.Rand, of ...T) T { return of[r.IntN(len(of))] }

func between(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// invent makes n jobs of a firm over its season, in the order of their days.
func invent(r *rand.Rand, f firm, n int) []*job {
	days := f.last.Sub(f.first).Hours() / 24
	var jobs []*job
	for i := range n {
		day := f.first.AddDate(0, 0, int(days*float64(i)/float64(n))+r.IntN(2))
		if day.Weekday() == time.Sunday {
			day = day.AddDate(0, 0, 1)
		}
		j := &job{no: f.number(i, day), customer: f.customers[(i*7+3)%len(f.customers)],
			site: fmt.Sprintf("%d %s", 100+r.IntN(899), oneOf(r, f.streets...)), note: oneOf(r, f.notes...)}
		j.quoted = day.AddDate(0, 0, -9-r.IntN(25))
		j.slabs = []*slab{newSlab(r, f, day)}
		jobs = append(jobs, j)
	}
	for i := 12; i < n; i += 15 {
		jobs[i].slabs = append(jobs[i].slabs, besides(r, f, jobs[i].slabs[0]))
	}
	for _, j := range jobs {
		deliver(r, &f, j)
		settle(r, j)
	}
	return jobs
}

// onePair leaves a second slab to one job only, and settles the others again.
func onePair(r *rand.Rand, jobs []*job, no string) {
	for _, j := range jobs {
		if len(j.slabs) > 1 && j.no != no {
			j.slabs, j.back = j.slabs[:1], nil
			settle(r, j)
		}
	}
}

// besides is another slab poured with the first, by the same crew on the same day.
func besides(r *rand.Rand, f firm, first *slab) *slab {
	s := newSlab(r, f, first.day)
	for s.use == first.use || math.Abs(s.area()-first.area()) < 60 {
		s = newSlab(r, f, first.day)
	}
	s.crew, s.temp, s.humidity, s.psi = first.crew, first.temp, first.humidity, first.psi
	people := max(s.people, first.people)
	for _, one := range []*slab{first, s} {
		one.people, one.each = people, max(1, to((4+one.area()/24)/float64(people), .5))
	}
	return s
}

// sizes are lengths and widths (ft) and thicknesses (in) of each use; common practice, no published source.
var sizes = map[string]struct{ l, w, t []float64 }{
	"driveway":    {[]float64{32, 40, 44, 50, 56}, []float64{12, 16, 18, 20}, []float64{4, 4, 5, 6}},
	"walkway":     {[]float64{24, 30, 36, 42, 55}, []float64{3.5, 4, 4.5, 5}, []float64{4, 4, 4, 3.5}},
	"patio":       {[]float64{14, 16, 20, 24, 28}, []float64{12, 14, 15, 18}, []float64{4, 4, 4, 5}},
	"shed slab":   {[]float64{12, 14, 16, 20}, []float64{10, 12}, []float64{4, 4, 5}},
	"garage slab": {[]float64{22, 24, 28, 30}, []float64{20, 22, 24}, []float64{4, 4.5, 5, 6}},
	"apron":       {[]float64{14, 16, 18, 20}, []float64{6, 8, 10}, []float64{5, 6, 6}},
}

func newSlab(r *rand.Rand, f firm, day time.Time) *slab {
	use := oneOf(r, "driveway", "driveway", "walkway", "patio", "patio", "shed slab", "garage slab", "apron")
	z := sizes[use]
	s := &slab{day: day, use: use, length: oneOf(r, z.l...), width: oneOf(r, z.w...), thick: oneOf(r, z.t...)}
	switch more := !f.oneRect && r.IntN(6) == 0; {
	case more && (use == "patio" || use == "driveway"):
		s.length2, s.width2 = oneOf(r, 6.0, 8, 10), oneOf(r, 4.0, 5, 6)
	case more && use == "shed slab":
		s.length2, s.width2 = s.length, s.width // two pads alike
	}
	s.steel = oneOf(r, "mesh", "mesh", "rebar", "rebar", "rebar", "fiber", "none", "mesh+fiber")
	if s.steel == "rebar" {
		s.bar, s.barAt = oneOf(r, "#3", "#4", "#4"), oneOf(r, 16.0, 18, 18, 24)
	}
	s.joint, s.cut = oneOf(r, 8.0, 10, 10, 12), oneOf(r, "", "", "saw", "tooled")
	if use == "walkway" {
		s.joint = oneOf(r, 4.0, 5, 5)
	}
	s.method = oneOf(r, "chute", "chute", "pump", "buggy", "barrow")
	if s.method == "pump" {
		s.outfit = oneOf(r, f.outfits...)
	}
	season := math.Sin((float64(day.YearDay()) - 105) / 365 * 2 * math.Pi)
	s.temp, s.humidity = int(64+19*season+between(r, -6, 6)), 30+r.IntN(45)
	s.crew, s.psi = oneOf(r, f.crews...), oneOf(r, 3000, 3500, 3500, 4000)
	s.finish, s.base = oneOf(r, "broom", "broom", "trowel", "exposed"), oneOf(r, "native", "compacted", "crushed base")
	s.people = min(6, 3+int(s.area()/330))
	s.each = max(2.5, to((9+s.area()/between(r, 20, 28))/float64(s.people), .5))
	return s
}

// deliver orders the concrete and sends it out by truck, ten yards at most in each.
func deliver(r *rand.Rand, f *firm, j *job) {
	at := j.slabs[0].day.Add(time.Duration(6*60+40+r.IntN(150)) * time.Minute)
	for _, s := range j.slabs {
		s.planned = quarter(s.neat()*between(r, 1.05, 1.07) + .05)
		s.delivered = quarter(s.neat()*between(r, 1.04, 1.1) + .05)
		s.left = max(0, math.Floor((s.delivered-s.neat()*between(r, 1.01, 1.04))*4)/4)
		for rest := s.delivered; rest > 0; at = at.Add(time.Duration(35+r.IntN(15)) * time.Minute) {
			yards := min(10, rest)
			if rest > 10 && rest < 11.5 {
				yards = rest - 2 // no plant likes to send less
			}
			if rest == s.delivered && s.planned < rest && rest <= 10 && rest-s.planned >= .5 {
				yards = s.planned // came up short and called for the rest
			}
			f.ticket += 3 + r.IntN(40)
			s.loads = append(s.loads, load{f.ticket, at, yards, oneOf(r, 0, 0, 0, 0, 12, 25)})
			rest -= yards
		}
	}
}

// Prices of the invented plant, in dollars; within the range of common practice, no published source.
func perYard(psi int) float64      { return map[int]float64{3000: 158, 3500: 164, 4000: 171}[psi] }
func (l load) fuel() float64       { return 22.50 }
func (l load) waitCharge() float64 { return cents(float64(l.waited) * 2.25) }

func (l load) total(psi int) float64 {
	return cents(l.yards*perYard(psi) + l.fuel() + l.waitCharge())
}

// settle adds up what the job cost, and prices it.
func settle(r *rand.Rand, j *job) {
	var concrete, pump, labor, steel, base, sold, thought float64
	for _, s := range j.slabs {
		for _, l := range s.loads {
			concrete += l.total(s.psi)
		}
		if s.method == "pump" {
			pump += 340 + 7*s.delivered
		}
		labor += 36 * s.hours()
		steel += s.area() * map[string]float64{"mesh": .29, "rebar": .52, "fiber": .17, "none": 0, "mesh+fiber": .46}[s.steel]
		base += s.area() * .38
		sold += s.area() * (5.1 + .5*s.thick)
		thought += s.planned * (perYard(s.psi) + 3)
	}
	j.parts = []part{{"concrete", cents(concrete)}, {"pump", cents(pump)}, {"labor", cents(labor)},
		{"reinforcement", cents(steel)}, {"base", cents(base)}}
	j.price = to(450+sold+pump, 50)
	j.bid = to((thought+pump+labor+steel+base)*between(r, .93, 1.04), 10)
	if r.IntN(9) == 0 {
		j.change = oneOf(r, 200.0, 350, 450)
	}
	if r.IntN(5) == 0 {
		j.back = &callback{j.slabs[0].day.AddDate(0, 0, 20+r.IntN(110)),
			oneOf(r, "crack", "crack", "crack", "scaling", "settlement", "ponding"), oneOf(r, 120.0, 150, 240, 400, 575)}
	}
}
