package bid

// CostName is an item of cost: one of ours, or a name that the spec gives.
type CostName string

// The items of cost that a bid works out.
const (
	CostConcrete    CostName = "concrete"
	CostPump        CostName = "pump"
	CostLabor       CostName = "labor"
	CostDelay       CostName = "delay"
	CostSteel       CostName = "reinforcement"
	CostJoints      CostName = "joints"
	CostBase        CostName = "base"
	CostExcavation  CostName = "excavation"
	CostForms       CostName = "forms"
	CostHaulOff     CostName = "haul-off"
	CostShortLoads  CostName = "short loads"
	CostCure        CostName = "curing"
	CostSeal        CostName = "sealing"
	CostEquipment   CostName = "equipment"
	CostSubcontract CostName = "subcontract"
	CostPermits     CostName = "permits"
	CostTravel      CostName = "travel"
	CostCleanUp     CostName = "clean-up"
	CostCold        CostName = "cold weather"
	CostOverhead    CostName = "overhead"
	CostContingency CostName = "contingency"
	CostCallbacks   CostName = "callback reserve"
	CostLean        CostName = "how past bids turned out"
)

// Unsure is a thing that is not known beforehand and moves the cost.
type Unsure string

// What moves the cost.
const (
	UnsureYards     Unsure = "yards used"
	UnsureHours     Unsure = "labor hours"
	UnsureClogs     Unsure = "minutes lost to clogs"
	UnsureDelays    Unsure = "minutes of other delays"
	UnsureCallbacks Unsure = "callbacks"
	UnsureLean      Unsure = "how past bids turned out"
)

// SettingName is a rate, price or belief that a bid goes by.
type SettingName string

// What a bid goes by.
const (
	SetTarget         SettingName = "target_margin"
	SetCertainty      SettingName = "certainty"
	SetConcrete       SettingName = "concrete"
	SetDisposal       SettingName = "disposal"
	SetExtraLoad      SettingName = "balance_load" // as a whole, where the owner set it
	SetExtraFee       SettingName = "extra_load_fee"
	SetColdJoint      SettingName = "cold_joint"
	SetHaul           SettingName = "haul_min"
	SetBatch          SettingName = "batch_min"
	SetPlaceMin       SettingName = "place_min_per_yd"
	SetStart          SettingName = "start"
	SetLoadMin        SettingName = "load_min"
	SetWashOut        SettingName = "wash_out_min"
	SetSpacing        SettingName = "plant_spacing_min"
	SetLimit          SettingName = "discharge_limit_min"
	SetPrimeMin       SettingName = "prime_min"
	SetPrimeYd        SettingName = "prime_yd"
	SetEdge           SettingName = "edge_open_min"
	SetEdgeHot        SettingName = "edge_open_hot_min"
	SetLeanSD         SettingName = "lean_sd"
	SetHoldFrom       SettingName = "hold_back_from"
	SetMostShort      SettingName = "most_short"
	SetLeastBalance   SettingName = "least_balance_yd"
	SetStep           SettingName = "increment_yd"
	SetTruck          SettingName = "truck_yd"
	SetShortLoad      SettingName = "short_load_yd"
	SetShortLoadPerYd SettingName = "short_load_per_yd"
	SetWage           SettingName = "wage"
	SetCrew           SettingName = "crew"
	SetPumpHire       SettingName = "pump_hire"
	SetPumpPerYd      SettingName = "pump_per_yd"
	SetPumpWait       SettingName = "pump_wait_per_hour"
	SetMesh           SettingName = "mesh"
	SetRebar          SettingName = "rebar"
	SetFiber          SettingName = "fiber"
	SetMeshHours      SettingName = "mesh_hours"
	SetRebarHours     SettingName = "rebar_hours"
	SetCut            SettingName = "cut"
	SetForms          SettingName = "forms"
	SetStepHours      SettingName = "step_hours"
	SetCurbHours      SettingName = "curb_hours"
	SetCure           SettingName = "cure"
	SetCold           SettingName = "cold_mix"
	SetBlankets       SettingName = "blankets"
	SetBlanketHours   SettingName = "blanket_hours"
	SetPumpHour       SettingName = "pump_per_hour"
	SetPumpMinimum    SettingName = "pump_min_hours"
	SetOverhead       SettingName = "overhead"
	SetContingency    SettingName = "contingency"
	SetBase           SettingName = "base" // of [Setting.Of]
	SetWarranty       SettingName = "warranty"
	SetCallback       SettingName = "callback"
	SetGoodwill       SettingName = "goodwill"
	SetOverage        SettingName = "overage"
	SetOverageApart   SettingName = "overage_apart"   // from company to company
	SetChuteYd        SettingName = "overage_chute"   // fixed yards
	SetPumpYd         SettingName = "overage_pump"    // fixed yards
	SetOverageScatter SettingName = "overage_scatter" // from pour to pour
	SetHours          SettingName = "hours"           // for 400 ft² at 4 in
	SetHoursApart     SettingName = "hours_apart"     // from company to company
	SetClogs          SettingName = "clogs"           // in 100 pumped yards
	SetClogMin        SettingName = "clog_min"
	SetCallbacks      SettingName = "callbacks" // of a placement
)

// Note is what is to be said about a bid as a whole.
type Note struct {
	Kind NoteKind
	Name string  // the crew, or the item
	N    int     // records that have it
	Each float64 // money, on average

	Like, AndLike string // uses that Name borrows from, the most like it first
}

// NoteKind is what a [Note] is about.
type NoteKind string

// The notes.
const (
	NoteWaitingInHours NoteKind = "waiting in hours" // the usual share of waiting was taken out of the hours
	NoteUnknownCrew    NoteKind = "unknown crew"     // no hours of Name are on record
	NoteUnpriced       NoteKind = "unpriced"         // N jobs on record have costs of Name, Each on average
	NoteNoBasePrice    NoteKind = "no base price"
	NoteCold           NoteKind = "cold"     // it may be cold in month N; Each °F on record, 0 where nothing tells
	NoteBare           NoteKind = "bare"     // kept without codes, by an earlier program
	NoteNewKind        NoteKind = "new kind" // none of Name is on record: it borrows from Like and AndLike
)

// note keeps a note, each once.
func (w *bidWork) note(n Note) {
	for _, kept := range w.b.Notes {
		if n == kept {
			return
		}
	}
	w.b.Notes = append(w.b.Notes, n)
}

// Takeoff is what a way of reinforcing takes, by the fields that go with it.
type Takeoff struct {
	SheetWidthFt, SheetLengthFt float64 // of mesh
	WireSpacingIn, Wire, LapIn  float64 // of mesh: both ways, W-number
	Grid                        Grid    // of rebar
	Lines, Laps                 int     // of rebar
	LapDiameters, StockFt       float64 // of rebar
	Waste                       float64 // share cut off, of mesh and rebar
	LbPerYd                     float64 // of fiber
}

// Sawing is when to saw the joints.
type Sawing struct {
	When     SawWhen // "" where nothing is sawn
	From, To float64 // hours after placing
}

// SawWhen is the guide that the hours are of.
type SawWhen string

// The guides to when to saw.
const (
	SawEarly   SawWhen = "early-entry"
	SawWarm    SawWhen = "warm"
	SawCold    SawWhen = "cold"
	SawGeneral SawWhen = "general"
)

// Guidance is what is published of the spacing of joints, for a thickness.
type Guidance struct{ ThicknessIn, FromFt, ToFt float64 }

// OwnSlabs are the slabs on record of the same reinforcement with joints as far
// apart.
type OwnSlabs struct {
	N             int
	Reinforcement string
	FromFt        float64
	ToFt          float64 // 0 where there is no end to it
	Years         float64 // watched, all together
	Callbacks     int     // for cracks
	TooFew        bool    // to say anything
}

// JointNote is what is to be said about a layout.
type JointNote struct {
	Kind              JointKind
	LengthFt, WidthFt float64 // of the slab that stands for an area; LengthFt of the first joint
	Ratio             float64 // of the longest panel
	N                 int     // panels, bars or joints
}

// JointKind is what a [JointNote] is about.
type JointKind string

// The notes on a layout.
const (
	JointAssumed JointKind = "assumed" // a slab of LengthFt × WidthFt stands for the area
	JointStrip   JointKind = "strip"   // a narrow strip keeps the spacing alone
	JointLong    JointKind = "long"    // a panel of Ratio, which holds for slabs with steel
	JointThrough JointKind = "through" // joints run from the inside corner through to an edge
	JointBeyond  JointKind = "beyond"  // N panels are longer than the guide, the longest of Ratio
	JointBars    JointKind = "bars"    // N bars lie across inside corners
	JointMissed  JointKind = "missed"  // N existing joints are not met
	JointFirst   JointKind = "first"   // the first to cut, of LengthFt

	JointFirstCorner JointKind = "first from the corner"
	JointIsolated    JointKind = "isolated" // the slab is held apart from what stands beside it
	JointTooled      JointKind = "tooled"
)

// Setting is what the bid goes by under a name; its value is 0 where it is not
// told.
func (b *Bid) Setting(name SettingName) Setting {
	for _, s := range b.Settings {
		if s.Name == name {
			return s
		}
	}
	return Setting{}
}
