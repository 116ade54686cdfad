package bid

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/trade"
)

// Working is how a figure of a bid is worked out, as a pencil does it: terms that add
// up, each a product. What simulated jobs came to beside that is a term of its own.
type Working struct {
	Figure  Worked
	Section Section
	Of      string   // the placement, the task or the item; "" for the job
	Item    CostItem // of [WorkCost]
	Terms   [][]Input
	Is      Input // what they come to
}

// Input is a number that goes into a figure.
type Input struct {
	Name  InputName
	Set   Setting // it is this setting, where Set.Name is given
	Value float64
	Unit  string // "" for a bare number
	Over  bool   // what stands before it is divided by it
	Piece Piece  // of [InPiece]
	Basis Basis
}

// Comes is what the terms of a working come to.
func (w *Working) Comes() float64 {
	sum := 0.0
	for _, term := range w.Terms {
		sum += product(term)
	}
	return sum
}

func product(term []Input) float64 {
	p := 1.0
	for _, in := range term {
		if in.Over {
			p /= in.Value
		} else {
			p *= in.Value
		}
	}
	return p
}

// explainer works a bid's figures out again.
type explainer struct {
	b     *Bid
	slabs []Placement // of the spec, in our words
	all   []Working
}

// Explain is how each number of a bid came about, in the order in which one follows
// from another: concrete, hours, waiting, callbacks, each line of cost, the price. A
// working whose terms have a rest closes it in a term named [InRest].
func Explain(b *Bid) []Working {
	e := &explainer{b: b}
	for i, p := range b.Spec.Placements {
		e.slabs = append(e.slabs, p.filled(i))
	}
	for i := range b.Placements {
		e.concrete(&b.Placements[i], len(b.Placements) > 1)
	}
	for i := range b.Days {
		e.order(&b.Days[i], len(b.Days) > 1)
	}
	e.hours()
	e.waiting()
	e.callbacks()
	for _, item := range b.Cost.Items {
		e.line(item)
	}
	e.total()
	e.price()
	return e.all
}

// add keeps a working, its rest named after what it is. A bid that an earlier program
// kept may lack a number: then the figure stands as it was kept.
func (e *explainer) add(w Working, rest InputName) {
	if !w.known() {
		w.Terms = [][]Input{{in(InAsKept, w.Is.Value, w.Is.Unit, w.Is.Basis)}}
	}
	if rest == InRest && e.b.Bare() { // parts of it were not kept
		rest = InOther
	}
	if left := w.Is.Value - w.Comes(); math.Abs(left) >= leastRest(w.Is.Unit) {
		w.Terms = append(w.Terms, []Input{{Name: rest, Value: left, Unit: w.Is.Unit, Basis: w.Is.Basis}})
	}
	e.all = append(e.all, w)
}

// known says whether every number that goes into it is.
func (w *Working) known() bool {
	for _, term := range w.Terms {
		for _, in := range term {
			if math.IsNaN(in.Value) || math.IsInf(in.Value, 0) || in.Over && in.Value == 0 {
				return false
			}
		}
	}
	return true
}

// leastRest is what shows in a figure of a unit.
func leastRest(unit string) float64 {
	switch unit {
	case "share", "$/ft²":
		return 5e-5
	}
	return 5e-3
}

func in(name InputName, v float64, unit string, b Basis) Input {
	return Input{Name: name, Value: v, Unit: unit, Basis: b}
}

func over(v float64, name InputName) Input { return Input{Name: name, Value: v, Over: true} }

// set is a setting of the bid, no number where the bid has none of that name.
func (e *explainer) set(name SettingName) Input { return e.setOf(name, "") }

func (e *explainer) setOf(name SettingName, of string) Input {
	for _, s := range e.b.Settings {
		if s.Name == name && s.Of == of {
			return Input{Set: s, Value: s.Value, Unit: s.Unit, Basis: s.Basis}
		}
	}
	return Input{Set: Setting{Name: name, Of: of}, Value: math.NaN()}
}

func (e *explainer) concrete(p *Part, several bool) {
	of := ""
	if several {
		of = p.Name
	}
	neat, area := p.NeatYd.Figure.Value, in(InArea, p.AreaSqft, "ft²", inSpec)
	terms := [][]Input{{area, in(InThickness, p.ThicknessIn, "in", inSpec), over(trade.FootSquareInchesPerYd3, InPerYd)}}
	if flat := product(terms[0]); math.Abs(flat-neat) > 1e-6*neat || len(p.Pieces) > 1 {
		terms = nil
		for _, piece := range p.Pieces {
			terms = append(terms, []Input{{Name: InPiece, Piece: piece, Value: piece.Yd, Unit: "yd", Basis: drawing}})
		}
	}
	e.add(Working{Figure: WorkNeat, Section: SectionConcrete, Of: of, Terms: terms, Is: in(InNeat, neat, "yd", drawing)}, InOther)
	used := p.UsedYd
	e.add(Working{Figure: WorkUsed, Section: SectionConcrete, Of: of, Is: in(InUsed, used.Mean, "yd", used.Basis),
		Terms: [][]Input{{in(InNeat, neat, "yd", drawing)}, {in(InNeat, neat, "yd", drawing), in(InWaste, used.Mean/neat-1, "share", used.Basis)}}}, InOther)
}

func (e *explainer) order(d *Day, several bool) {
	of, o := "", d.Order
	if several {
		of = dayName(d.Day)
	}
	b := o.ChanceShort.Basis
	neat := in(InNeat, d.NeatYd, "yd", drawing)
	e.add(Working{Figure: WorkOrder, Section: SectionConcrete, Of: of, Is: in(InOrder, o.Yd, "yd", b),
		Terms: [][]Input{{neat}, {in(InWasteYd, d.UsedYd.Mean-d.NeatYd, "yd", d.UsedYd.Basis)}, {in(InSafetyYd, o.Yd-d.UsedYd.Mean, "yd", b)}}}, InOther)
	e.add(Working{Figure: WorkAllowance, Section: SectionConcrete, Of: of, Is: in(InAllowance, o.Allowance, "share", b),
		Terms: [][]Input{{in(InOverNeat, o.Yd-d.NeatYd, "yd", b), {Name: InNeat, Value: d.NeatYd, Unit: "yd", Over: true, Basis: drawing}}}}, InOther)
}

func (e *explainer) hours() {
	l, area := e.b.Labor, 0.0
	for i := range e.b.Placements {
		p := &e.b.Placements[i]
		area += p.AreaSqft
		if len(e.b.Placements) > 1 {
			e.paced(p.Name, p.AreaSqft, p.Hours)
		}
	}
	if len(e.b.Placements) > 1 {
		terms := [][]Input{}
		for _, p := range e.b.Placements {
			terms = append(terms, []Input{{Name: InPlacement + InputName(p.Name), Value: p.Hours.Figure.Value, Unit: "person-hours", Basis: p.Hours.Basis}})
		}
		e.add(Working{Figure: WorkHours, Section: SectionHours, Terms: terms, Is: in(InHours, l.Mean.Figure.Value, "person-hours", l.Mean.Basis)}, InOther)
	} else {
		e.paced("", area, l.Mean)
	}
	for _, t := range l.Tasks {
		e.add(Working{Figure: WorkTask, Section: SectionHours, Of: t.Task, Is: in(InHours, t.Hours.Figure.Value, "person-hours", t.Hours.Basis),
			Terms: [][]Input{{in(InHours, l.Mean.Figure.Value, "person-hours", l.Mean.Basis), in(InTaskShare, t.Share, "share", t.Hours.Basis)}}}, InOther)
	}
}

// paced is hours by the pace that the model has for such a placement.
func (e *explainer) paced(of string, area float64, hours Number) {
	h := hours.Figure.Value
	e.add(Working{Figure: WorkHours, Section: SectionHours, Of: of, Is: in(InHours, h, "person-hours", hours.Basis),
		Terms: [][]Input{{in(InArea, area, "ft²", inSpec), over(100, InHundred), in(InPace, 100*h/area, "person-hours/100 ft²", hours.Basis)}}}, InOther)
}

func (e *explainer) waiting() {
	d := e.b.Delay
	if d.Clogs > 0 {
		pumped := 0.0
		for _, p := range e.b.Placements {
			if p.Method == "pump" {
				pumped += p.UsedYd.Mean
			}
		}
		clogs := in(InClogs, d.Clogs, "", d.ClogChance.Basis)
		e.add(Working{Figure: WorkClogs, Section: SectionRisk, Is: clogs,
			Terms: [][]Input{{in(InPumped, pumped, "yd", e.b.UsedYd.Basis), over(100, InHundred), in(InClogRate, 100*d.Clogs/pumped, "clogs/100 yd", d.ClogChance.Basis)}}}, InOther)
		e.add(Working{Figure: WorkClogMin, Section: SectionRisk, Is: in(InClogMin, d.ClogMin.Figure.Value, "min", d.ClogMin.Basis),
			Terms: [][]Input{{clogs, in(InEachClog, d.ClogMin.Figure.Value/d.Clogs, "min", d.ClogMin.Basis)}}}, InOther)
	}
	e.add(Working{Figure: WorkWaiting, Section: SectionRisk, Is: in(InMinutes, e.minutes(), "min", d.OtherMin.Basis), Terms: [][]Input{
		{in(InClogMin, d.ClogMin.Figure.Value, "min", d.ClogMin.Basis)}, {in(InOtherMin, d.OtherMin.Figure.Value, "min", d.OtherMin.Basis)}}}, InOther)
	e.add(Working{Figure: WorkWaitCost, Section: SectionRisk, Is: in(InWaitCost, d.CrewCost.Figure.Value, "$", d.CrewCost.Basis), Terms: [][]Input{e.waitCost()}}, InOther)
}

func (e *explainer) minutes() float64 {
	return e.b.Delay.ClogMin.Figure.Value + e.b.Delay.OtherMin.Figure.Value
}

func (e *explainer) waitCost() []Input {
	d := e.b.Delay
	return []Input{in(InMinutes, e.minutes(), "min", d.OtherMin.Basis), over(60, InMinPerHour), e.set(SetCrew), e.set(SetWage)}
}

func (e *explainer) callbacks() {
	r := e.b.Reserve
	months, calls := r.Months.Figure.Value, r.Callbacks.Figure.Value
	if months > 0 {
		e.add(Working{Figure: WorkCallbacks, Section: SectionRisk, Is: in(InCallbacks, calls, "", r.Callbacks.Basis), Terms: [][]Input{
			{in(InCallRate, calls/(months/12), "", r.Callbacks.Basis), e.set(SetWarranty), over(12, InMonthsPerYear)}}}, InOther)
	}
	goodwill := e.set(SetGoodwill)
	e.add(Working{Figure: WorkEachCall, Section: SectionRisk, Is: in(InEachCall, r.EachCost.Figure.Value, "$", r.EachCost.Basis), Terms: [][]Input{{e.set(SetCallback)}, {goodwill}}}, InOther)
	e.add(Working{Figure: WorkReserve, Section: SectionRisk, Is: in(InReserve, r.Cost.Figure.Value, "$", r.Cost.Basis), Terms: [][]Input{e.reserve()}}, InOther)
}

func (e *explainer) reserve() []Input {
	r := e.b.Reserve
	return []Input{in(InCallbacks, r.Callbacks.Figure.Value, "", r.Callbacks.Basis), in(InEachCall, r.EachCost.Figure.Value, "$", r.EachCost.Basis)}
}

// PlacementName is the name behind [InPlacement].
func (n InputName) PlacementName() (string, bool) { return behind(n, InPlacement) }

// LineOf is the line of cost behind [InLine].
func (n InputName) LineOf() (string, bool) { return behind(n, InLine) }

// CostAt is the share of jobs behind [InCostAt].
func (n InputName) CostAt() (share float64, ok bool) {
	text, ok := behind(n, InCostAt)
	share, err := strconv.ParseFloat(text, 64)
	return share, ok && err == nil
}

// behind is what stands behind a prefix of a name.
func behind(n, prefix InputName) (string, bool) {
	return strings.CutPrefix(string(n), string(prefix))
}

// workedOut are inputs that are figures themselves.
var workedOut = []InputName{InNeat, InUsed, InWasteYd, InOverNeat, InOrder, InAllowance, InHours, InClogs, InClogMin, InMinutes, InWaitCost, InCallbacks, InEachCall, InReserve,
	InBeforeLean, InTotal, InLoaded, InThePrice, InLeft, InPumped, InRest, InRoundedUp, InOther, InAsKept}

// Inputs are the numbers that go into workings and are not worked out themselves, in
// the order in which they are met.
func Inputs(all []Working) (inputs []Input) {
	for _, w := range all {
		for _, term := range w.Terms {
			for _, in := range term {
				_, placement := in.Name.PlacementName()
				_, line := in.Name.LineOf()
				if in.Basis.From != "" && !placement && !line && !slices.Contains(workedOut, in.Name) {
					inputs = append(inputs, in)
				}
			}
		}
	}
	return inputs
}

// sawn are the placements whose joints are sawn.
func (e *explainer) sawn(i int) bool {
	return i < len(e.slabs) && !slices.Contains([]string{"none", "tooled"}, e.slabs[i].JointCut)
}

// all other costs of a bid before how past bids turned out.
func (e *explainer) beforeLean() float64 {
	var sums []float64
	for _, item := range e.b.Cost.Items {
		if item.Item != CostLean {
			sums = append(sums, item.Cost.Mean)
		}
	}
	return figure.SumOf(sums)
}
