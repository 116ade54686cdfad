package record

// Placement is one stretch of concrete of one use, thickness, reinforcement
// and joint layout: the unit of every rate.
type Placement struct {
	JobNo     string
	Placement string
	PlacedOn  Date
	Use       string

	AreaSqft            Number
	ThicknessIn         Number // as bid
	MeasuredThicknessIn Number // mean of probes
	NeatYd              Number // on the drawing
	PlannedYd           Number // carried in the bid or ordered first
	DeliveredYd         Number // summary of loads
	LeftoverYd          Number // did not go into this placement

	Method         string
	PumpOutfit     string
	HoseIn         Number
	Mix            string
	MixPSI         Number
	MaxAggregateIn Number
	AcceleratorPct Number // % by mass of cement
	Retarder       Flag
	Base           string
	Reinforcement  string // words joined by +
	Bar            string
	BarSpacingIn   Number
	EdgeIn         Number // depth of a thickened edge
	JointSpacingFt Number // longer side of the largest panel
	JointCut       string // words joined by +
	JointDepthIn   Number
	SawHours       Number // after finishing
	Finish         string
	Curing         string

	AirTempF      Number
	ConcreteTempF Number
	HumidityPct   Number
	WindMPH       Number

	Crew       string
	CrewSize   Count
	LaborHours Number // person-hours, summary of labor
	Clogs      Count  // summary of delays
	ClogMin    Count  // summary of delays
	DelayMin   Count  // all causes, summary of delays

	CallbackOn   Date // first callback, summary of visits
	CallbackKind string
	CallbackCost Money
	Note         string
	SaidRight    string // see [SayRight]

	Log Job // the columns of jobs that a job log's row may bear; those that are no log columns stay empty
}

// Placements is the table of [Placement]. Behind its own columns stand those of
// jobs that a job log kept on a single sheet bears on each row.
var Placements = &Table{
	Name:     "placements",
	Synonyms: []string{"placement", "pours", "pour log", "job log", "joblog", "slabs"},
	New:      func() Record { return &Placement{} },
	Doc:      "One row per placement: a stretch of concrete of one use, thickness, reinforcement and joint layout. This table alone is a job log.",
	Columns: append([]Column{ // ends of ranges: common practice, no published source
		{Name: "job_no", Key: true, Required: true, MaxChars: 40, Synonyms: jobNoWords, Doc: "the job's number"},
		{Name: "placement", Key: true, Default: "A", MaxChars: 40, Synonyms: placementWords, Doc: "which placement of the job; A where nothing is written"},
		{Name: "placed_on", Kind: KindDate, Required: true, Synonyms: []string{"date", "pour date", "poured on", "date placed", "date poured", "placed"}, Doc: "day of the pour"},
		{Name: "use", Kind: KindWord, Words: uses, Required: true, Synonyms: []string{"type", "kind", "slab type", "job type"}, Doc: "what the slab is for"},
		{Name: "area_sqft", Kind: KindNumber, Unit: SquareFoot, Required: true, Hard: above(0, 1e6), Soft: between(4, 50000), Synonyms: []string{"square feet", "sq ft"}, Doc: "area"},
		{Name: "thickness_in", Kind: KindNumber, Unit: Inch, Required: true, Hard: above(0, 24), Soft: between(2, 16), Over: "thicker than", Synonyms: []string{"depth in", "depth"}, Doc: "thickness as bid"},
		{Name: "measured_thickness_in", Kind: KindNumber, Unit: Inch, Hard: above(0, 24), Soft: between(2, 16), Over: "thicker than", Synonyms: []string{"probed thickness in"}, Doc: "mean of probes"},
		{Name: "neat_yd", Kind: KindNumber, Unit: CubicYard, Hard: above(0, 20000), Synonyms: []string{"net yd", "drawing yd"}, Doc: "volume on the drawing; area × thickness where missing"},
		{Name: "planned_yd", Kind: KindNumber, Unit: CubicYard, Hard: above(0, 20000), Synonyms: []string{"ordered yd", "bid yd"}, Doc: "carried in the bid or ordered first"},
		{Name: "delivered_yd", Kind: KindNumber, Unit: CubicYard, Hard: above(0, 20000), Synonyms: []string{"actual yd", "delivered"}, Doc: "delivered; the sum of loads where they are given"},
		{Name: "leftover_yd", Kind: KindNumber, Unit: CubicYard, Hard: between(0, 20000), Synonyms: []string{"returned yd", "left over yd"}, Doc: "delivered but not placed here"},
		{Name: "method", Kind: KindWord, Words: methods, Synonyms: []string{"placing method", "placed by"}, Doc: "how it was placed"},
		{Name: "pump_outfit", Synonyms: []string{"pump", "pumper", "pump company"}, Doc: "who pumped"},
		{Name: "hose_in", Kind: KindNumber, Unit: Inch, Hard: above(0, 12), Soft: between(1.5, 6), Synonyms: []string{"hose", "hose size in", "line in"}, Doc: "inside diameter of the hose"},
		{Name: "mix", Synonyms: []string{"mix design", "mix code"}, Doc: "the mix by its plant and name"},
		{Name: "mix_psi", Kind: KindNumber, Unit: PSI, Hard: above(0, 30000), Soft: between(1500, 10000), Synonyms: []string{"psi", "strength psi"}, Doc: "specified strength"},
		{Name: "max_aggregate_in", Kind: KindNumber, Unit: Inch, Hard: above(0, 6), Soft: between(0.1, 2), Synonyms: []string{"aggregate in", "rock size in"}, Doc: "largest aggregate"},
		{Name: "accelerator_pct", Kind: KindNumber, Unit: Percent, Hard: between(0, 20), Soft: between(0, 4), Synonyms: []string{"accelerator"}, Doc: "by mass of cement"},
		{Name: "retarder", Kind: KindFlag, Doc: "whether a retarder was used"},
		{Name: "base", Kind: KindWord, Words: bases, Synonyms: []string{"subbase", "sub base"}, Doc: "what it was placed on"},
		{Name: "reinforcement", Kind: KindWord, Words: reinforcements, Synonyms: []string{"reinforcing", "steel"}, Doc: "what is in it; two joined by +"},
		{Name: "bar", Synonyms: []string{"bar size"}, Doc: "#3, #4 … or the mesh designation"},
		{Name: "bar_spacing_in", Kind: KindNumber, Unit: Inch, Later: true, Hard: above(0, 120), Soft: between(4, 48), Synonyms: []string{"bar spacing", "rebar spacing in"}, Doc: "from bar to bar, or wire to wire"},
		{Name: "edge_in", Kind: KindNumber, Unit: Inch, Later: true, Hard: above(0, 120), Soft: between(3, 36), Synonyms: []string{"thickened edge in", "edge depth in"}, Doc: "whole depth of a thickened edge"},
		{Name: "joint_spacing_ft", Kind: KindNumber, Unit: Foot, Hard: above(0, 500), Soft: between(2, 30), Synonyms: []string{"joint spacing", "panel size ft"}, Doc: "the longer side of the largest panel"},
		{Name: "joint_cut", Kind: KindWord, Words: jointCuts, Synonyms: []string{"joint type"}, Doc: "how joints were made; two joined by +"},
		{Name: "joint_depth_in", Kind: KindNumber, Unit: Inch, Hard: between(0, 24), Soft: between(0.25, 4), Synonyms: []string{"cut depth in"}, Doc: "depth of the cut"},
		{Name: "saw_hours", Kind: KindNumber, Unit: Hour, Hard: between(0, 2000), Soft: between(0.5, 72), Synonyms: []string{"saw delay hours", "saw delay"}, Doc: "hours from finishing to sawing"},
		{Name: "finish", Synonyms: []string{"surface finish"}, Doc: "the surface"},
		{Name: "curing", Kind: KindWord, Words: curings, Synonyms: []string{"cure", "curing method"}, Doc: "how it was cured"},
		{Name: "air_temp_f", Kind: KindNumber, Unit: Fahrenheit, Hard: between(-60, 150), Soft: between(10, 125), Synonyms: []string{"air temp", "temp f", "temperature f"}, Doc: "air, at placing"},
		{Name: "concrete_temp_f", Kind: KindNumber, Unit: Fahrenheit, Hard: between(20, 150), Soft: between(40, 110), Synonyms: []string{"concrete temp", "mix temp f"}, Doc: "concrete, at placing"},
		{Name: "humidity_pct", Kind: KindNumber, Unit: Percent, Hard: between(0, 100), Soft: between(1, 100), Synonyms: []string{"rh", "rh pct", "humidity"}, Doc: "relative humidity, at placing"},
		{Name: "wind_mph", Kind: KindNumber, Unit: MilesPerHour, Hard: between(0, 200), Soft: between(0, 60), Synonyms: []string{"wind", "wind speed mph"}, Doc: "wind, at placing"},
		{Name: "crew", Synonyms: []string{"crew name", "foreman"}, Doc: "which crew"},
		{Name: "crew_size", Kind: KindCount, Hard: between(1, 200), Soft: between(1, 20), Synonyms: []string{"crew count", "men"}, Doc: "how many people"},
		{Name: "labor_hours", Kind: KindNumber, Unit: Hour, Hard: between(0, 100000), Synonyms: []string{"labour hours", "man hours", "person hours"}, Doc: "person-hours; the sum of labor where it is given"},
		{Name: "clogs", Kind: KindCount, Hard: between(0, 1000), Soft: between(0, 10), Synonyms: []string{"plugs", "pump clogs"}, Doc: "times the pump line plugged; counted from delays where they are given"},
		{Name: "clog_min", Kind: KindCount, Unit: Minute, Hard: between(0, 20000), Synonyms: []string{"clog minutes"}, Doc: "minutes lost to clogs"},
		{Name: "delay_min", Kind: KindCount, Unit: Minute, Hard: between(0, 20000), Synonyms: []string{"delay", "delay minutes", "delays min"}, Doc: "minutes lost, all causes"},
		{Name: "callback_on", Kind: KindDate, Synonyms: []string{"callback date", "callback"}, Doc: "day of the first callback; from visits where they are given"},
		{Name: "callback_kind", Kind: KindWord, Words: findings, Synonyms: []string{"callback type", "callback reason"}, Doc: "what it was about"},
		{Name: "callback_cost", Kind: KindMoney, Hard: atLeast(0), Doc: "what the callbacks cost"},
		{Name: "note", Later: true, Synonyms: noteWords, Doc: "anything else"},
		{Name: "said_right", Later: true, Doc: saidRightDoc},
	}, logColumns()...),
}

// logColumns are the columns of jobs that may stand on a placements row.
func logColumns() []Column {
	var cs []Column
	for _, c := range Jobs.Columns {
		if c.Log {
			cs = append(cs, c)
		}
	}
	return cs
}

// Table is [Placements].
func (p *Placement) Table() *Table { return Placements }

// Fields points at the values in the order of the table's columns.
func (p *Placement) Fields() []any {
	return append([]any{&p.JobNo, &p.Placement, &p.PlacedOn, &p.Use,
		&p.AreaSqft, &p.ThicknessIn, &p.MeasuredThicknessIn, &p.NeatYd, &p.PlannedYd, &p.DeliveredYd, &p.LeftoverYd,
		&p.Method, &p.PumpOutfit, &p.HoseIn, &p.Mix, &p.MixPSI, &p.MaxAggregateIn, &p.AcceleratorPct, &p.Retarder,
		&p.Base, &p.Reinforcement, &p.Bar, &p.BarSpacingIn, &p.EdgeIn, &p.JointSpacingFt, &p.JointCut, &p.JointDepthIn, &p.SawHours, &p.Finish, &p.Curing,
		&p.AirTempF, &p.ConcreteTempF, &p.HumidityPct, &p.WindMPH,
		&p.Crew, &p.CrewSize, &p.LaborHours, &p.Clogs, &p.ClogMin, &p.DelayMin,
		&p.CallbackOn, &p.CallbackKind, &p.CallbackCost, &p.Note, &p.SaidRight}, p.Log.logFields()...)
}

// Neat is the neat volume in yd³: as drawn, or area × thickness / 324.
func (p *Placement) Neat() Number { return neat(p.NeatYd, p.AreaSqft, p.ThicknessIn) }

func neat(drawn, area, thickness Number) Number {
	if drawn.OK || !area.OK || !thickness.OK {
		return drawn
	}
	return Some(NeatYd(area.V, thickness.V))
}

// Used is delivered less leftover in yd³, where both are recorded.
func (p *Placement) Used() Number { return used(p.DeliveredYd, p.LeftoverYd) }

func used(delivered, leftover Number) Number {
	if !delivered.OK || !leftover.OK {
		return Number{}
	}
	return Some(delivered.V - leftover.V)
}

// Pumped says whether the placement was pumped.
func (p *Placement) Pumped() bool { return p.Method == "pump" }

// PlacementRules are the columns that [Placement.Check] is about.
var PlacementRules = []string{"job_no", "placement", "placed_on", "area_sqft", "thickness_in", "neat_yd", "planned_yd", "delivered_yd", "leftover_yd",
	"method", "joint_depth_in", "labor_hours", "clogs", "clog_min", "delay_min", "callback_on", "callback_kind", "callback_cost", "said_right",
	"contract_price", "change_orders", "bid_cost", "actual_cost", "won_from"}

// Check applies the rules that span columns of one placement.
func (p *Placement) Check(today Date) []Problem {
	var c checks
	if p.PlacedOn > today {
		c.fail("future-pour", "placed_on", p.PlacedOn.String(), "a pour in the future", "today is "+today.String())
	}
	if !p.Neat().OK {
		c.fail("amount-unknown", "area_sqft", FieldText(&p.AreaSqft), "how much work it is cannot be told", "area and thickness, or neat_yd")
	}
	p.checkCallback(&c, today)
	p.checkVolumes(&c)
	if p.ClogMin.OK && p.DelayMin.OK && p.ClogMin.V > p.DelayMin.V {
		c.warn("clog-over-delay", "clog_min", FieldText(&p.ClogMin), "more minutes lost to clogs than to all delays", "the minutes of all delays count clogs too")
	}
	if p.Clogs.Or(0) > 0 && p.Method != "" && !p.Pumped() {
		c.warn("clog-without-pump", "clogs", FieldText(&p.Clogs), "a clog where nothing was pumped", "method pump, or no clogs")
	}
	if p.JointDepthIn.OK && p.ThicknessIn.OK && p.JointDepthIn.V > p.ThicknessIn.V {
		c.fail("cut-through", "joint_depth_in", FieldText(&p.JointDepthIn), "deeper than the slab is thick", "at most "+FieldText(&p.ThicknessIn))
	}
	c.found = append(c.found, p.Impossible()...)
	c.found = append(c.found, p.Log.impossible(p.JobNo, p.SaidRight)...)
	if p.Log.WonFrom != "" && p.Log.WonFrom == p.JobNo {
		c.warn("won-from-itself", "won_from", p.Log.WonFrom, "a job cannot lead to itself", "name the earlier job")
	}
	return c.found
}

func (p *Placement) checkCallback(c *checks, today Date) {
	switch on := p.CallbackOn; {
	case on == 0:
		if p.CallbackKind != "" || p.CallbackCost.Or(0) != 0 {
			c.warn("callback-undated", "callback_on", "", "a callback without its date counts nowhere", "give the day of the first callback")
		}
	case on < p.PlacedOn:
		c.fail("callback-before-pour", "callback_on", on.String(), "before the pour on "+p.PlacedOn.String(), "a later day")
	case on > today:
		c.fail("future-callback", "callback_on", on.String(), "a callback in the future", "today is "+today.String())
	case p.CallbackKind == "":
		c.warn("callback-without-kind", "callback_kind", "", "a callback without its kind is not counted as a crack", "crack, scaling, settlement, ponding, finish or other")
	}
}

func (p *Placement) checkVolumes(c *checks) {
	neat, del := p.Neat(), p.DeliveredYd // what is too far apart: common practice, no published source
	if del.OK && p.LeftoverYd.OK && p.LeftoverYd.V > del.V {
		c.fail("leftover-over-delivered", "leftover_yd", FieldText(&p.LeftoverYd), "more left over than was delivered", "at most "+FieldText(&p.DeliveredYd))
	}
	if p.NeatYd.OK && p.AreaSqft.OK && p.ThicknessIn.OK {
		byArea := NeatYd(p.AreaSqft.V, p.ThicknessIn.V)
		if r := p.NeatYd.V / byArea; r < 0.75 || r > 1.34 {
			c.warn("neat-unlike-area", "neat_yd", FieldText(&p.NeatYd), "far from area × thickness", "that gives "+tidy(byArea)+" yd³")
		}
	}
	if !neat.OK || !del.OK {
		return
	}
	if del.V >= 0.8*neat.V && del.V <= 2*neat.V || p.settled("delivered_yd", &p.DeliveredYd) {
		return
	}
	if del.V < 0.8*neat.V {
		c.warn("under-delivered", "delivered_yd", FieldText(&p.DeliveredYd), "less than 0.8 of the neat volume", "neat is "+tidy(neat.V)+" yd³")
	}
	if del.V > 2*neat.V {
		c.warn("over-delivered", "delivered_yd", FieldText(&p.DeliveredYd), "more than twice the neat volume", "neat is "+tidy(neat.V)+" yd³")
	}
}
