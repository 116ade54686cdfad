package analysis

import (
	"math"

	"pourback/analysis/stat/resample"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// slabs are the placements as the questions about cracks see them, a column
// each. Days are whole; a number that was not recorded is NaN.
type slabs struct {
	event   string
	days    []float64 // watched, to the crack or to the end of the watch
	cracked []bool
	alone   []float64 // the same, with another kind of callback ending the watch
	first   []bool    // cracked within alone
	old     []bool    // watched, or could have been, for a full year
	job     []int

	steel, cut, curing words
	band               []int // of joint spacings, −1 where unknown

	age             []float64 // days from the pour to the data date
	season          []float64 // days into the year
	area            []float64 // ft²
	cars            []float64 // 1 where cars drive on it
	air, thick      []float64 // °F, in
	ratio           []float64 // joint spacing over thickness, both in inches
	drying          []float64 // evaporation in lb/ft²/h
	saw             []float64 // hours from finishing to the saw
	callbackDollars []float64 // of those called back for a crack
}

func slabsOf(h *record.History, opt Options) *slabs {
	n := len(h.Placements)
	s := &slabs{event: opt.Event, cracked: make([]bool, n), first: make([]bool, n), old: make([]bool, n), job: make([]int, n), band: make([]int, n)}
	for _, column := range s.numbers() {
		*column = make([]float64, n)
	}
	for _, w := range []*words{&s.steel, &s.cut, &s.curing} {
		w.code = make([]int, n)
	}
	resample.Blocks(n, func() func(block, lo, hi int) {
		steel, cut, curing := s.steel.reader(), s.cut.reader(), s.curing.reader()
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				p := &h.Placements[i]
				s.watch(h, i)
				s.measure(p, i, opt.Bands)
				s.steel.code[i], s.cut.code[i], s.curing.code[i] = steel(p.Reinforcement), cut(p.JointCut), curing(p.Curing)
			}
		}
	})
	s.steel.sort(wordOrder("reinforcement"))
	s.cut.sort(wordOrder("joint_cut"))
	s.curing.sort(wordOrder("curing"))
	return s
}

func (s *slabs) numbers() []*[]float64 {
	return []*[]float64{&s.days, &s.alone, &s.age, &s.season, &s.area, &s.cars, &s.air, &s.thick, &s.ratio, &s.drying, &s.saw, &s.callbackDollars}
}

func (s *slabs) n() int { return len(s.days) }

// watch fills in the follow-up of row i.
func (s *slabs) watch(h *record.History, i int) {
	p := &h.Placements[i]
	f := watch(h, i, s.event)
	u := f.unmixed(p)
	s.days[i], s.cracked[i] = max(0, f.days), f.cracked
	s.alone[i], s.first[i] = max(0, u.days), u.cracked
	s.old[i] = h.AsOf-p.PlacedOn >= oneYear && (f.cracked || lastLook(h, i, s.event)-p.PlacedOn >= oneYear)
	s.job[i], s.age[i] = h.JobIndex(i), float64(h.AsOf-p.PlacedOn)
	s.season[i] = math.Mod(float64(p.PlacedOn), daysPerYear) // to a day, which is all a fortnight asks
	s.callbackDollars[i] = math.NaN()
	if p.CallbackKind == "crack" && p.CallbackCost.OK {
		s.callbackDollars[i] = p.CallbackCost.V.Dollars()
	}
}

// measure fills in what row i was like.
func (s *slabs) measure(p *record.Placement, i int, bands []float64) {
	s.band[i], s.area[i] = band(p.JointSpacingFt, bands), orNaN(p.AreaSqft)
	s.cars[i] = indicator(p.Use == "driveway" || p.Use == "garage slab" || p.Use == "apron")
	s.air[i], s.thick[i], s.saw[i] = orNaN(p.AirTempF), orNaN(p.ThicknessIn), orNaN(p.SawHours)
	s.ratio[i] = math.NaN()
	if s.thick[i] > 0 {
		s.ratio[i] = 12 * orNaN(p.JointSpacingFt) / s.thick[i]
	}
	s.drying[i] = math.NaN()
	if p.ConcreteTempF.OK && p.AirTempF.OK && p.HumidityPct.OK && p.WindMPH.OK {
		if rate, err := trade.Evaporation(p.ConcreteTempF.V, p.AirTempF.V, p.HumidityPct.V, p.WindMPH.V); err == nil {
			s.drying[i] = rate
		}
	}
}

func orNaN(v record.Number) float64 {
	if !v.OK {
		return math.NaN()
	}
	return v.V
}
