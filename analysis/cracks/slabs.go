package cracks

import (
	"math"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/resample"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Slabs are the placements as the questions about cracks see them, a column
// each. Days are whole; a number that was not recorded is NaN.
type Slabs struct {
	Event   string
	seed    uint64    // of what is drawn by chance
	Days    []float64 // watched, to the crack or to the end of the watch
	Cracked []bool
	Alone   []float64 // the same, with another kind of callback ending the watch
	First   []bool    // cracked within alone
	Old     []bool    // watched, or could have been, for a full year
	job     []int
	looks   []Look // by event seen, at the slabs that somebody went to look at
	looked  []int  // the place of each slab's among them, −1 where nobody went

	Steel, cut, curing figure.Words
	band               []int // of joint spacings, −1 where unknown

	Age             []float64 // days from the pour to the data date
	season          []float64 // days into the year
	Area            []float64 // ft²
	Cars            []float64 // 1 where cars drive on it
	Air, Thick      []float64 // °F, in
	ratio           []float64 // joint spacing over thickness, both in inches
	Drying          []float64 // evaporation in lb/ft²/h
	saw             []float64 // hours from finishing to the saw
	callbackDollars []float64 // of those called back for a crack
}

func SlabsOf(h *record.History, opt setting.Options) *Slabs {
	n := h.Placements.Len()
	s := &Slabs{Event: opt.Event, seed: opt.Seed, Cracked: make([]bool, n), First: make([]bool, n), Old: make([]bool, n), job: make([]int, n), band: make([]int, n)}
	for _, column := range s.numbers() {
		*column = make([]float64, n)
	}
	for _, w := range []*figure.Words{&s.Steel, &s.cut, &s.curing} {
		w.Code = make([]int, n)
	}
	resample.Blocks(n, func() func(block, lo, hi int) {
		steel, cut, curing := s.Steel.Reader(), s.cut.Reader(), s.curing.Reader()
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				p := h.Placements.At(i)
				s.watch(h, i)
				s.measure(p, i, opt.Bands)
				s.Steel.Code[i], s.cut.Code[i], s.curing.Code[i] = steel(p.Reinforcement()), cut(p.JointCut()), curing(p.Curing())
			}
		}
	})
	if opt.Event == setting.EventSeen {
		s.look(h, opt.Visits.Plan.Days)
	}
	s.Steel.Sort(wordOrder("reinforcement"))
	s.cut.Sort(wordOrder("joint_cut"))
	s.curing.Sort(wordOrder("curing"))
	return s
}

func (s *Slabs) numbers() []*[]float64 {
	return []*[]float64{&s.Days, &s.Alone, &s.Age, &s.season, &s.Area, &s.Cars, &s.Air, &s.Thick, &s.ratio, &s.Drying, &s.saw, &s.callbackDollars}
}

func (s *Slabs) N() int { return len(s.Days) }

// watch fills in the follow-up of row i.
func (s *Slabs) watch(h *record.History, i int) {
	p := h.Placements.At(i)
	f := watch(h, i, s.Event)
	u := f.unmixed(p)
	s.Days[i], s.Cracked[i] = max(0, f.days), f.cracked
	s.Alone[i], s.First[i] = max(0, u.days), u.cracked
	s.Old[i] = h.AsOf-p.PlacedOn() >= OneYear && (f.cracked || lastLook(h, i, s.Event)-p.PlacedOn() >= OneYear)
	s.job[i], s.Age[i] = h.JobIndex(i), float64(h.AsOf-p.PlacedOn())
	s.season[i] = math.Mod(float64(p.PlacedOn()), DaysPerYear) // to a day, which is all a fortnight asks
	s.callbackDollars[i] = math.NaN()
	if p.CallbackKind() == "crack" && p.CallbackCost().OK {
		s.callbackDollars[i] = p.CallbackCost().V.Dollars()
	}
}

// look follows slabs by the planned looks at them: a crack arose by the one that
// found it, and a slab is known to be sound up to the last one. Those that nobody
// went to look at keep what was called about.
func (s *Slabs) look(h *record.History, plan []int) {
	s.looked = make([]int, s.N())
	for i := range s.looked {
		s.looked[i], s.Old[i] = -1, false
		l, looked := LookAt(h, i, CrackOn(h, i, s.Event), plan)
		if !looked {
			continue
		}
		s.looked[i] = len(s.looks)
		s.looks = append(s.looks, l)
		f := followUp{l.Left, false}
		if !math.IsInf(l.Right, 1) {
			f = followUp{l.Right, true}
		}
		u := f.unmixed(h.Placements.At(i))
		s.Days[i], s.Cracked[i], s.Alone[i], s.First[i] = f.days, f.cracked, max(0, u.days), u.cracked
		s.Old[i] = l.near(OneYear) && (l.Right <= OneYear || l.Left >= OneYear)
	}
}

// Watches says whether slab i can be compared: where cracks are seen at visits,
// that somebody went to look at it.
func (s *Slabs) Watches(i int) bool { return s.Event != setting.EventSeen || s.looked[i] >= 0 }

// looksOf are the planned looks at the slabs that are wanted.
func (s *Slabs) looksOf(want func(i int) bool) []Look {
	var of []Look
	for i, at := range s.looked {
		if at >= 0 && want(i) {
			of = append(of, s.looks[at])
		}
	}
	return of
}

// measure fills in what row i was like.
func (s *Slabs) measure(p record.PlacementRow, i int, bands []float64) {
	s.band[i], s.Area[i] = Band(p.JointSpacingFt(), bands), orNaN(p.AreaSqft())
	s.Cars[i] = Indicator(p.Use() == "driveway" || p.Use() == "garage slab" || p.Use() == "apron")
	s.Air[i], s.Thick[i], s.saw[i] = orNaN(p.AirTempF()), orNaN(p.ThicknessIn()), orNaN(p.SawHours())
	s.ratio[i] = math.NaN()
	if s.Thick[i] > 0 {
		s.ratio[i] = 12 * orNaN(p.JointSpacingFt()) / s.Thick[i]
	}
	s.Drying[i] = math.NaN()
	if p.ConcreteTempF().OK && p.AirTempF().OK && p.HumidityPct().OK && p.WindMPH().OK {
		if rate, err := trade.Evaporation(p.ConcreteTempF().V, p.AirTempF().V, p.HumidityPct().V, p.WindMPH().V); err == nil {
			s.Drying[i] = rate
		}
	}
}

func orNaN(v record.Number) float64 {
	if !v.OK {
		return math.NaN()
	}
	return v.V
}
