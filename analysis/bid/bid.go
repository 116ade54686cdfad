package bid

import (
	"pourback/analysis/clock"
	"pourback/analysis/concrete"
	"pourback/analysis/figure"
	"pourback/analysis/shape"
	"pourback/analysis/steel"
)

// Bid is what the records, and where they are too few common practice, say of a
// job to come. Money is in the currency's unit, volumes in yd³, areas in ft²,
// times as each field's unit says.
type Bid struct {
	Name  string `json:"name"`
	JobNo string `json:"job_no"`
	AsOf  string `json:"as_of"` // the data date
	On    string `json:"on"`    // the day or month of the pour as the spec has it, "" where it has none
	Month int    `json:"month"` // 1 to 12: of On, or of the data date where there is none
	Seed  uint64 `json:"seed"`
	Draws int    `json:"draws"` // of the cost

	Spec     Spec      `json:"spec"`     // as handed in
	Cautions []Problem `json:"cautions"` // none of them fatal

	NeatYd     Number      `json:"neat_yd"`
	AreaSqft   Number      `json:"area_sqft"`
	UsedYd     Spread      `json:"used_yd"` // of all placements together
	Placements []Part      `json:"placements"`
	Days       []Day       `json:"days"` // orders: placements of one day share trucks
	Labor      Labor       `json:"labor"`
	Delay      Delay       `json:"delay"`
	Weather    Weather     `json:"weather"`
	Reserve    Reserve     `json:"reserve"`
	Cost       Cost        `json:"cost"`
	Lean       Lean        `json:"lean"`
	Price      Price       `json:"price"`
	Winning    Winning     `json:"winning"`  // beside the price; nothing of it moves the bid
	Settings   []Setting   `json:"settings"` // every rate, price and belief the bid stands on
	Notes      []Note      `json:"-"`
	Records    RecordsUsed `json:"records"`
}

// RecordsUsed counts what the company's records hold for a bid.
type RecordsUsed struct {
	Placements int `json:"placements"`
	Volumes    int `json:"with_volumes"` // neat, delivered and left over
	Hours      int `json:"with_hours"`
	Pumped     int `json:"pumped_with_clogs"`
	AllPumped  int `json:"pumped"` // their clogs counted or not
	Callbacks  int `json:"callbacks"`
}

// Number is a figure with its unit and what it stands on.
type Number struct {
	Figure figure.Figure `json:"figure"`
	Unit   string        `json:"unit"`
	Basis  Basis         `json:"basis"`
}

// Part is one placement of the bid.
type Part struct {
	Name        string        `json:"name"`
	Use         string        `json:"use"`
	Day         int           `json:"day"`
	Method      string        `json:"method"`
	AreaSqft    float64       `json:"area_sqft"`
	ThicknessIn float64       `json:"thickness_in"`
	NeatYd      Number        `json:"neat_yd"`
	Pieces      []Piece       `json:"pieces"`  // of the neat volume, adding up to it
	UsedYd      Spread        `json:"used_yd"` // what it will use
	Alone       Order         `json:"alone"`   // its order if it were poured on its own
	Hours       Number        `json:"hours"`   // person-hours, expected, with the interval of this one job
	Delay       Delay         `json:"delay"`
	Steel       []SteelWay    `json:"reinforcement"` // each way, the chosen one marked
	Settled     steel.Verdict `json:"mesh_or_rebar"` // what the company's records say of the two; "" without records
	Joints      JointPlan     `json:"joints"`
}

// Piece is a piece of a placement's neat volume, as a pencil works it out.
type Piece struct {
	shape.Piece `json:"-"`
	Kind        shape.Kind `json:"kind"`
	Yd          float64    `json:"yd"` // below 0 where it is taken away
}

func piecesOf(w shape.Whole) []Piece {
	out := make([]Piece, len(w.Pieces))
	for i, p := range w.Pieces {
		out[i] = Piece{p, p.Kind, p.Ft3 / 27}
	}
	return out
}

// Spread is four points of what may come, with the mean.
type Spread struct {
	Mean  float64 `json:"mean"`
	P10   float64 `json:"p10"`
	P50   float64 `json:"p50"`
	P80   float64 `json:"p80"`
	P90   float64 `json:"p90"`
	Unit  string  `json:"unit"`
	Basis Basis   `json:"basis"`
}

// Day is the order for all that is poured on one day.
type Day struct {
	Day        int      `json:"day"`
	Placements []string `json:"placements"`
	NeatYd     float64  `json:"neat_yd"`
	UsedYd     Spread   `json:"used_yd"` // of all together: exact, the model's errors shared
	Order      Order    `json:"order"`
	Hold       Hold     `json:"hold"`

	RunningShort RunningShort `json:"running_short"`

	Safer []SaferOrder `json:"safer_orders"` // larger ones at once, by less and less chance to run short

	Asked []Mix      `json:"asked"` // of the plant: each mix of the day
	Clock *clock.Day `json:"clock"` // trucks, call and finishing by the clock
}

// SaferOrder is an order that runs short less often than the one of least cost.
type SaferOrder struct {
	Yd          float64 `json:"yd"`
	ChanceShort float64 `json:"chance_short"`
	LeftoverYd  float64 `json:"leftover_yd"` // expected
	CostsMore   float64 `json:"costs_more"`  // expected, than the order of least cost
}

// Order is an order and what comes of it.
type Order struct {
	Yd          float64   `json:"yd"`
	Allowance   float64   `json:"allowance"`    // Yd/neat − 1
	ChanceShort Number    `json:"chance_short"` // of having to call for an unplanned load
	BalanceYd   float64   `json:"balance_yd"`   // expected by that load
	LeftoverYd  float64   `json:"leftover_yd"`  // expected
	Cost        float64   `json:"cost"`         // expected: concrete, disposal, extra load, short-load fees
	Loads       []float64 `json:"loads"`        // yd³, in the order of the trucks
	ShortFee    float64   `json:"short_load_fee"`
	ShortestYd  float64   `json:"shortest_load_yd"`
	CapCosts    float64   `json:"cap_costs"` // expected, of a cap on ChanceShort where one is set
}

// Hold is the same order in two steps: so much first, and the last load
// called in by what the pour has used by then.
type Hold struct {
	Worth    bool      `json:"worth"` // it costs enough less than the one order
	FirstYd  float64   `json:"first_yd"`
	Loads    []float64 `json:"loads"` // of the first order
	HoldYd   float64   `json:"hold_yd"`
	CallAtYd float64   `json:"call_at_yd"`   // placed when the last load is called
	CallAt   float64   `json:"call_at"`      // share of the neat volume then covered
	Short    float64   `json:"chance_short"` // of running short after all, with the last load called in
	Saves    float64   `json:"saves"`        // expected money
	WaitMin  float64   `json:"wait_min"`     // of the crew for the last load

	Not       concrete.NotStaged `json:"not"`        // why nothing is held back, "" where something is
	WouldSave float64            `json:"would_save"` // where that is too little
}

// Labor is the person-hours of the job.
type Labor struct {
	Hours Spread `json:"hours"`
	Mean  Number `json:"mean"`
	Crew  string `json:"crew"`  // "" for an average one
	Size  Number `json:"size"`  // people
	Wage  Number `json:"wage"`  // money a person-hour
	Tasks []Task `json:"tasks"` // add up to the mean

	Waiting float64 `json:"waiting_share"` // of the hours on record that was waiting: its cost stands under delays
}

// Task is one task's share of the hours.
type Task struct {
	Task  string  `json:"task"`
	Share float64 `json:"share"`
	Hours Number  `json:"hours"`
}

// Delay is what waiting may cost.
type Delay struct {
	ClogChance Number  `json:"clog_chance"` // of one clog or more; no value where nothing is pumped
	Clogs      float64 `json:"clogs"`       // expected
	ClogMin    Number  `json:"clog_min"`    // expected minutes, all clogs together
	OtherMin   Number  `json:"other_min"`   // expected minutes of all other causes
	CrewCost   Number  `json:"crew_cost"`   // minutes × people × wage
	InHours    bool    `json:"in_hours"`    // the usual waiting was taken out of the hours on record before it was added here
}

// Weather is the evaporation to expect in the month of the pour.
type Weather struct {
	Month int     `json:"month"`
	Pours int     `json:"pours"` // of that month on record with their weather
	Rate  Spread  `json:"rate"`  // lb/ft²/h; all 0 where there are no records
	Share Number  `json:"share_above_limit"`
	Limit float64 `json:"limit"`    // lb/ft²/h
	Accy  float64 `json:"accuracy"` // relative
}

// Reserve is what is set aside for callbacks within the warranty.
type Reserve struct {
	Months    Number `json:"warranty_months"`
	Callbacks Number `json:"callbacks"` // expected, all placements
	EachCost  Number `json:"cost_each"` // with goodwill
	Cost      Number `json:"cost"`
}

// SteelWay is one way to reinforce a placement.
type SteelWay struct {
	Way      string  `json:"way"` // none, mesh, rebar, fiber
	Chosen   bool    `json:"chosen"`
	Quantity float64 `json:"quantity"` // in Unit
	Unit     string  `json:"unit"`     // "sheets", "lb", "ft"
	Takeoff  Takeoff `json:"-"`        // what the quantity is made of
	WeightLb float64 `json:"weight_lb"`
	Sticks   int     `json:"sticks"` // of stock to buy
	Rolls    int     `json:"rolls"`  // instead of sheets
	Chairs   int     `json:"chairs"`
	Ties     int     `json:"ties"`
	Risk     Number  `json:"own_risk"` // crack callbacks with it within a year, as the company's records have them
	Material Number  `json:"material"`
	Hours    Number  `json:"hours"` // person-hours to place it; they are within the labor hours
	Cost     Number  `json:"cost"`  // material and placing
}

// TooFewSlabs says whether the risk rests on too few slabs to be told: none called
// about of a few is no sign that none will be.
func (s SteelWay) TooFewSlabs() bool {
	const widest = 0.12
	f := s.Risk.Figure
	return f.Known() && f.Bounded && f.High-f.Low > widest
}

// JointPlan is where the joints of a placement go.
type JointPlan struct {
	Drawn      bool          `json:"drawn"`   // false where the spec gives an area alone and a near-square stands for it
	Outline    []PlanRect    `json:"outline"` // what bounds the slab, in ft
	Shape      []PlanPoint   `json:"shape"`   // the slab's outline, arcs as fine lines
	Holes      [][]PlanPoint `json:"holes"`
	Panels     []PlanRect    `json:"panels"`    // what bounds each, in ft, from the lower left corner of the whole
	Cuts       []PlanCut     `json:"cuts"`      // joints to make, the first to cut first
	Isolation  []PlanCut     `json:"isolation"` // joints against what the slab is poured to
	Bars       []PlanCut     `json:"bars"`      // across inside corners without a joint both ways
	Tooled     bool          `json:"tooled"`    // the joints are; else they are sawn
	CutFt      Number        `json:"cut_ft"`    // all cuts together
	LongestFt  float64       `json:"longest"`   // the longest side of any panel
	WorstRatio float64       `json:"ratio"`     // longer side over shorter, the worst panel
	MaxFt      Number        `json:"max_ft"`    // the spacing kept to
	DepthIn    Number        `json:"depth_in"`  // of a conventional cut, from a quarter to a third of the thickness
	EarlyIn    Number        `json:"early_in"`  // of an early-entry cut
	Saw        Sawing        `json:"-"`         // when to saw
	Guide      Guidance      `json:"-"`         // what is published of the spacing
	Own        Number        `json:"own_risk"`  // the company's crack risk within the warranty at that spacing and reinforcement
	Slabs      *OwnSlabs     `json:"-"`         // those on record that it stands on, nil where there are none
	Notes      []JointNote   `json:"-"`
}

// PlanRect is a rectangle in ft by its lower left corner.
type PlanRect struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	W float64 `json:"w"`
	H float64 `json:"h"`
}

// PlanPoint is a place in ft.
type PlanPoint struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// PlanCut is a straight joint in ft.
type PlanCut struct {
	X1 float64 `json:"x1"`
	Y1 float64 `json:"y1"`
	X2 float64 `json:"x2"`
	Y2 float64 `json:"y2"`
}

// Cost is the distribution of the job's cost.
type Cost struct {
	Total Spread     `json:"total"` // of the job, as its records will have it
	Items []CostItem `json:"items"` // their means add up to that of the total

	Overhead    Number     `json:"overhead"`      // on top of the mean; 0 where the margin has to pay it
	Contingency Number     `json:"contingency"`   // the same
	Loaded      Spread     `json:"with_overhead"` // the total with both: what the margin is on
	NotIncluded []CostName `json:"not_included"`  // lines that nobody priced
	NoneNeeded  []CostName `json:"none_needed"`   // lines that this job does not have

	Drivers []Driver `json:"drivers"`
}

// CostItem is one line of the cost.
type CostItem struct {
	Item  CostName `json:"item"` // one of ours, such as [CostConcrete], or a name of the spec
	Named bool     `json:"-"`    // by the spec
	Cost  Spread   `json:"cost"`
}

// Driver is how far the cost swings with one thing that is not known, the
// others at their median: a bar of the tornado. The widest comes first.
type Driver struct {
	Name  Unsure  `json:"name"`
	AtP10 float64 `json:"at_p10"` // the driver there, in Unit
	AtP90 float64 `json:"at_p90"`
	Unit  string  `json:"unit"`
	Low   float64 `json:"cost_at_p10"`
	Mid   float64 `json:"cost_at_medians"`
	High  float64 `json:"cost_at_p90"`
	Basis Basis   `json:"basis"`
}

// Price is the price for the target margin.
type Price struct {
	Target         float64        `json:"target_margin"` // share of the price
	Certainty      float64        `json:"certainty"`     // chance to earn it
	Price          float64        `json:"price"`         // to the cent
	Asked          float64        `json:"asked"`         // the same, up to the step in which prices are quoted
	Step           float64        `json:"step"`
	ExpectedMargin float64        `json:"expected_margin"`
	ChanceOfLoss   float64        `json:"chance_of_loss"`
	ByCertainty    []PricePair    `json:"by_certainty"`
	PerSqft        float64        `json:"per_sqft"`
	Basis          Basis          `json:"basis"`
	TurnedBy       []figure.Lever `json:"turned_by"` // the two unknowns that most easily bring the margin under its target; what it comes to is $ above that
}

// PricePair is the price at one certainty.
type PricePair struct {
	Certainty float64 `json:"certainty"`
	Price     float64 `json:"price"`
}

// Setting is a number that the bid stands on, with its source.
type Setting struct {
	Name  SettingName `json:"-"`
	Of    string      `json:"-"` // the base, of [SetBase]
	Value float64     `json:"value"`
	Unit  string      `json:"unit"`
	Basis Basis       `json:"basis"`
}
