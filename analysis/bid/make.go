package bid

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/layout"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/analysis/steel"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Make is the bid for a job, from the records as they stand and, where they
// are too few, from common practice: every number says which. The same history,
// spec and options give the same bid. A spec that makes no sense is refused with
// [Problems], all of them at once; what is only unwise stands in Cautions.
func Make(h *record.History, spec Spec, opt setting.Options) (*Bid, error) {
	return MakeLeaning(h, spec, opt, Lean{Share: figure.Unknown(TooFewRebid{Least: figure.LeastForRate})})
}

// MakeLeaning is the same, its cost leaning by how past bids turned out.
func MakeLeaning(h *record.History, spec Spec, opt setting.Options, lean Lean) (*Bid, error) {
	return makeBid(h, spec, opt, lean, false)
}

func makeBid(h *record.History, spec Spec, opt setting.Options, lean Lean, light bool) (*Bid, error) {
	g, err := GroundOf(h, opt)
	if err != nil {
		return nil, err
	}
	return g.make(spec, lean, light)
}

// bidWork is what the parts of a bid are made from.
type bidWork struct {
	h      *record.History
	opt    setting.Options
	spec   Spec
	ground *Ground
	b      *Bid
	month  int // 0 where nobody knows

	slabs    []*bidSlab
	days     []*bidDay
	overage  *concrete.Model
	hours    *work.HoursModel
	watched  *cracks.Slabs
	settings []Setting

	costs    setting.OrderCosts // without what running short costs: see costsOf
	trucks   truckTimes
	wage     sourced
	size     sourced
	prices   map[string]sourced
	waiting  float64   // share of the hours on record that was waiting
	clogs    []float64 // minutes of each clog on record
	others   []float64 // minutes of all other delays of each placement on record
	callback callbackCost
	paced    map[string]float64 // minutes to place a yard, by method
	aired    *clock.Weather     // of a day without forecast
	draws    bidDraws
	unsure   []driver // what is not known, with its quantiles

	fixedLines []fixedLine
	compared   steel.MeshVsRebar
	light      bool                          // only what the cost needs
	like       map[string]map[string]float64 // shares of uses on record, by use that is not
}

// bidSlab is one placement with the laws of what it will take.
type bidSlab struct {
	Placement
	part     *Part
	neatYd   float64
	leastIn  float64 // thickness where it is thinnest; ThicknessIn is the mean
	overage  concrete.Job
	hours    work.HoursJob
	beside   float64 // expected hours of steps and curb, on top of those of flatwork
	clogs    rateLaw // a 100 yd
	calls    rateLaw // a year
	layout   layout.Plan
	cells    []cracks.Cell // the company's slabs by spacing and reinforcement
	material float64       // of the chosen reinforcement
}

// sourced is a number with what it stands on.
type sourced struct {
	value float64
	basis Basis
}

// work begins a bid: what is asked for, with the prices and models that it goes by.
func (g *Ground) work(spec Spec) (*bidWork, error) {
	w := &bidWork{h: g.h, opt: g.opt, ground: g, spec: spec, prices: map[string]sourced{}, paced: map[string]float64{}, watched: g.watched}
	w.month, _ = bidMonth(spec.On)
	if w.month == 0 && g.h.AsOf != 0 {
		w.month = int(g.h.AsOf.Time().Month())
	}
	w.b = &Bid{Name: cmp.Or(spec.Name, spec.JobNo, "bid"), JobNo: spec.JobNo, AsOf: g.h.AsOf.String(), On: spec.On, Month: w.month,
		Seed: g.opt.Seed, Draws: cmp.Or(spec.Draws, usualDraws), Spec: spec, Records: g.records}
	w.b.Placements = make([]Part, len(spec.Placements))
	for i, p := range spec.Placements {
		p = p.filled(i)
		whole, wrong := p.workOut()
		if wrong != nil {
			return nil, wrong
		}
		if p.shaped() {
			p.ThicknessIn = meanIn(whole)
		}
		w.b.Placements[i] = Part{Name: p.Name, Use: p.Use, Day: p.Day, Method: p.Method, AreaSqft: whole.AreaFt2, ThicknessIn: p.ThicknessIn, Pieces: piecesOf(whole)}
		w.slabs = append(w.slabs, &bidSlab{Placement: p, part: &w.b.Placements[i], neatYd: whole.Yd3(), leastIn: cmp.Or(spec.Placements[i].leastIn(), p.ThicknessIn),
			overage: concrete.Job{Use: p.Use, Method: p.Method, Base: p.Base, NeatYd: whole.Yd3()}})
	}
	w.b.Weather = w.weather()
	w.priceList()
	w.beliefs()
	if err := w.models(); err != nil {
		return nil, err
	}
	w.newKinds()
	return w, nil
}

// recordsUsed counts the records that a bid can use.
func recordsUsed(h *record.History) RecordsUsed {
	n := RecordsUsed{Placements: h.Placements.Len(), Volumes: len(concrete.RowsOf(h).Points)}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if work.Timed(p) {
			n.Hours++
		}
		if work.Counted(p) {
			n.Pumped++
		}
		if p.Pumped() {
			n.AllPumped++
		}
		if p.CallbackOn() != 0 {
			n.Callbacks++
		}
	}
	return n
}

// models are fitted to what the records can fit; before any, or before enough of them,
// beliefs stand in.
type models struct {
	overage *concrete.Model
	hours   *work.HoursModel
}

func (g *Ground) fit() (m models, err error) {
	believed := overageOf(g.opt.Overage, g.records.Volumes)
	if g.records.Volumes > 0 {
		m.overage, err = concrete.Fit(g.h, believed)
	} else {
		m.overage, err = concrete.Before(believed)
	}
	if err != nil {
		return m, fmt.Errorf("overage: %w", err)
	}
	switch n := g.records.Hours; {
	case n == 0:
		m.hours, err = work.HoursBefore(hoursOf(g.opt.Bid))
	case n < figure.LeastForRate:
		m.hours, err = work.FitHours(g.h, hoursOf(g.opt.Bid))
	default:
		m.hours, err = work.FitHours(g.h, work.DefaultHoursPriors())
	}
	if err != nil {
		return m, fmt.Errorf("hours: %w", err)
	}
	return m, nil
}

func (g *Ground) fitClogs() (*work.ClogRates, error) {
	return work.ClogRatesOf(g.h, pool.RateBelief{Rate: g.opt.Bid.ClogsPer100Yd, Events: practiceWeight})
}

// models takes those of the ground, to borrow in for this bid alone.
func (w *bidWork) models() error {
	m, err := w.ground.models()
	if err != nil {
		return err
	}
	overage, hours := *m.overage, *m.hours
	w.overage, w.hours = &overage, &hours
	return nil
}

// beliefs keeps those that stand in for records among the bid's settings.
func (w *bidWork) beliefs() {
	o, usualO := overageOf(w.opt.Overage, w.b.Records.Volumes), overageOf(setting.OveragePriors{}, w.b.Records.Volumes)
	p, usualP := w.opt.Bid, setting.DefaultBidPractice()
	type belief struct {
		name         SettingName
		unit         string
		value, usual float64
	}
	var all []belief
	if w.b.Records.Volumes < figure.LeastForRate {
		all = append(all, belief{SetOverage, "share", o.Share.Mean, usualO.Share.Mean}, belief{SetOverageApart, "share", o.Share.SD, usualO.Share.SD},
			belief{SetChuteYd, "yd", o.FixedYd.Mean, usualO.FixedYd.Mean}, belief{SetPumpYd, "yd", o.PumpYd.Mean, usualO.PumpYd.Mean},
			belief{SetOverageScatter, "share", o.Sigma, usualO.Sigma})
	}
	if w.b.Records.Hours < figure.LeastForRate {
		all = append(all, belief{SetHours, "person-hours", p.HoursPer400, usualP.HoursPer400}, belief{SetHoursApart, "share", p.HoursSD, usualP.HoursSD})
	}
	if w.b.Records.Pumped < figure.LeastForRate {
		all = append(all, belief{SetClogs, "", p.ClogsPer100Yd, usualP.ClogsPer100Yd}, belief{SetClogMin, "min", p.ClogMin, usualP.ClogMin})
	}
	if w.b.Records.Callbacks < figure.LeastEvents {
		all = append(all, belief{SetCallbacks, "a year", p.CallbacksPerYear, usualP.CallbacksPerYear})
	}
	for _, v := range all {
		w.setting(v.name, v.unit, sourced{v.value, asSet(v.value, v.usual)})
	}
}

// number is an exact figure with its unit and basis.
func number(value float64, unit string, b Basis, method string) Number {
	return Number{figure.Total(value, b.N, method), unit, b}
}

// volumes fills neat volumes, what they will use, and the orders.
func (w *bidWork) volumes() error {
	neat, area := 0.0, 0.0
	for _, s := range w.slabs {
		s.part.NeatYd = number(s.neatYd, "yd", drawing, "sum of the pieces")
		neat, area = neat+s.neatYd, area+s.part.AreaSqft
	}
	w.b.NeatYd = number(neat, "yd", drawing, "sum of the pieces")
	w.b.AreaSqft = number(area, "ft²", drawing, "sum of the areas")
	return w.orders()
}

// setting keeps a number among those the bid stands on.
func (w *bidWork) setting(name SettingName, unit string, s sourced) sourced {
	return w.settingOf(name, "", unit, s)
}

// settingOf is the same of one of several things.
func (w *bidWork) settingOf(name SettingName, of, unit string, s sourced) sourced {
	if !slices.ContainsFunc(w.settings, func(t Setting) bool { return t.Name == name && t.Of == of }) {
		w.settings = append(w.settings, Setting{name, of, s.value, unit, s.basis})
	}
	return s
}
