package bid

// Spec is the job to bid on, as an owner would say it. A number left at 0
// and a word left empty are not given: what then stands for them is among the
// bid's settings. Money is in the currency's unit.
type Spec struct {
	Name              string   `json:"name,omitempty" mapstructure:"name"`
	Site              string   `json:"site,omitempty" mapstructure:"site"`           // where it is poured
	JobNo             string   `json:"job_no,omitempty" mapstructure:"job_no"`       // under which the records will come
	On                string   `json:"on,omitempty" mapstructure:"on"`               // day or month of the pour: 2026-07-14, 2026-07, or 7
	Crew              string   `json:"crew,omitempty" mapstructure:"crew"`           // an average one where empty
	CrewSize          float64  `json:"crew_size,omitempty" mapstructure:"crew_size"` // people
	HaulMin           float64  `json:"haul_min,omitempty" mapstructure:"haul_min"`   // plant to site
	WarrantyMonths    float64  `json:"warranty_months,omitempty" mapstructure:"warranty_months"`
	TargetMargin      float64  `json:"target_margin,omitempty" mapstructure:"target_margin"`             // share of the price: 0.25
	Certainty         float64  `json:"certainty,omitempty" mapstructure:"certainty"`                     // chance to earn it: 0.8
	Overhead          float64  `json:"overhead,omitempty" mapstructure:"overhead"`                       // share of the job's cost
	Contingency       float64  `json:"contingency,omitempty" mapstructure:"contingency"`                 // the same
	NoneNeeded        []string `json:"none_needed,omitempty" mapstructure:"none_needed"`                 // lines of cost that this job does not have
	Start             string   `json:"start,omitempty" mapstructure:"start"`                             // 06:30, the first truck on site
	TruckYd           float64  `json:"truck_yd,omitempty" mapstructure:"truck_yd"`                       // what a truck holds
	PlantSpacingMin   float64  `json:"plant_spacing_min,omitempty" mapstructure:"plant_spacing_min"`     // between trucks
	DischargeLimitMin float64  `json:"discharge_limit_min,omitempty" mapstructure:"discharge_limit_min"` // from batching to empty, as agreed with the plant
	Forecast          []Hour   `json:"forecast,omitempty" mapstructure:"forecast"`                       // of the first day of pouring
	ConcreteTempF     float64  `json:"concrete_temp_f,omitempty" mapstructure:"concrete_temp_f"`         // as delivered

	Draws      int         `json:"draws,omitempty" mapstructure:"draws"` // of the cost; 10,000 where 0
	Prices     Prices      `json:"prices,omitzero" mapstructure:"prices"`
	Placements []Placement `json:"placements" mapstructure:"placements"`
	Items      []Item      `json:"items,omitempty" mapstructure:"items"` // other costs, fixed
}

// Placement is one stretch of concrete of the bid. Its shape is a rectangle
// LengthFt × WidthFt; the same less a corner NotchLengthFt × NotchWidthFt, an
// L; an Outline; Steps alone; or AreaSqft alone, with WidthFt where it is known.
type Placement struct {
	Name           string   `json:"name,omitempty" mapstructure:"name"` // A, B … where empty
	Use            string   `json:"use,omitempty" mapstructure:"use"`
	LengthFt       float64  `json:"length_ft,omitempty" mapstructure:"length_ft"`
	WidthFt        float64  `json:"width_ft,omitempty" mapstructure:"width_ft"`
	NotchLengthFt  float64  `json:"notch_length_ft,omitempty" mapstructure:"notch_length_ft"` // along the length
	NotchWidthFt   float64  `json:"notch_width_ft,omitempty" mapstructure:"notch_width_ft"`   // along the width
	AreaSqft       float64  `json:"area_sqft,omitempty" mapstructure:"area_sqft"`
	ThicknessIn    float64  `json:"thickness_in,omitempty" mapstructure:"thickness_in"`
	Day            int      `json:"day,omitempty" mapstructure:"day"`       // those of one day share trucks; 1 where 0
	Method         string   `json:"method,omitempty" mapstructure:"method"` // chute where empty
	PumpOutfit     string   `json:"pump_outfit,omitempty" mapstructure:"pump_outfit"`
	HoseIn         float64  `json:"hose_in,omitempty" mapstructure:"hose_in"`
	Mix            string   `json:"mix,omitempty" mapstructure:"mix"`
	MixPSI         float64  `json:"mix_psi,omitempty" mapstructure:"mix_psi"`
	MaxAggregateIn float64  `json:"max_aggregate_in,omitempty" mapstructure:"max_aggregate_in"`
	SlumpIn        float64  `json:"slump_in,omitempty" mapstructure:"slump_in"`
	AirPct         *float64 `json:"air_pct,omitempty" mapstructure:"air_pct"`       // of the concrete; 0 for none asked for
	Admixtures     []string `json:"admixtures,omitempty" mapstructure:"admixtures"` // by the trade's words, with doses
	Retarder       string   `json:"retarder,omitempty" mapstructure:"retarder"`     // yes, or its dose
	FiberLbPerYd   float64  `json:"fiber_lb_per_yd,omitempty" mapstructure:"fiber_lb_per_yd"`
	Base           string   `json:"base,omitempty" mapstructure:"base"`
	Reinforcement  string   `json:"reinforcement,omitempty" mapstructure:"reinforcement"`       // none, mesh, rebar, fiber; two joined by +
	Bar            string   `json:"bar,omitempty" mapstructure:"bar"`                           // #3, #4 …, or the mesh designation
	BarSpacingIn   float64  `json:"bar_spacing_in,omitempty" mapstructure:"bar_spacing_in"`     // both ways
	JointSpacingFt float64  `json:"joint_spacing_ft,omitempty" mapstructure:"joint_spacing_ft"` // the most that is wanted
	JointCut       string   `json:"joint_cut,omitempty" mapstructure:"joint_cut"`               // tooled, saw, early-entry, none
	Finish         string   `json:"finish,omitempty" mapstructure:"finish"`
	Curing         string   `json:"curing,omitempty" mapstructure:"curing"`

	// Shapes beside a rectangle. Corners are x and y in ft, with the radius of the
	// side from there where that is an arc; sides are counted from 1.
	Outline        [][]float64   `json:"outline,omitempty" mapstructure:"outline"`
	Holes          [][][]float64 `json:"holes,omitempty" mapstructure:"holes"`
	Depths         []float64     `json:"depths,omitempty" mapstructure:"depths"`               // in inches, one a corner
	EdgeWidthIn    float64       `json:"edge_width_in,omitempty" mapstructure:"edge_width_in"` // of a thickened edge
	EdgeDepthIn    float64       `json:"edge_depth_in,omitempty" mapstructure:"edge_depth_in"` // of it, the whole depth
	EdgeTaperIn    float64       `json:"edge_taper_in,omitempty" mapstructure:"edge_taper_in"` // over which it rises to the slab; square where 0
	EdgeSides      []int         `json:"edge_sides,omitempty" mapstructure:"edge_sides"`       // all where there are none
	Steps          Steps         `json:"steps,omitzero" mapstructure:"steps"`
	Curb           Curb          `json:"curb,omitzero" mapstructure:"curb"`
	Against        []int         `json:"against,omitempty" mapstructure:"against"`                 // sides at a house or at existing concrete
	ExistingJoints [][]float64   `json:"existing_joints,omitempty" mapstructure:"existing_joints"` // where joints of the slab beside it come in
}

// Prices are the prices of this job. Those left at 0 come from the records
// where they tell, else from the settings.
type Prices struct {
	ConcretePerYd float64 `json:"concrete_per_yd,omitempty" mapstructure:"concrete_per_yd"`
	LaborPerHour  float64 `json:"labor_per_hour,omitempty" mapstructure:"labor_per_hour"` // with its burden
	PumpHire      float64 `json:"pump_hire,omitempty" mapstructure:"pump_hire"`           // a pour, whatever its size
	PumpPerYd     float64 `json:"pump_per_yd,omitempty" mapstructure:"pump_per_yd"`
	MeshPerSqft   float64 `json:"mesh_per_sqft,omitempty" mapstructure:"mesh_per_sqft"` // material
	RebarPerSqft  float64 `json:"rebar_per_sqft,omitempty" mapstructure:"rebar_per_sqft"`
	FiberPerYd    float64 `json:"fiber_per_yd,omitempty" mapstructure:"fiber_per_yd"`
	CutPerFt      float64 `json:"cut_per_ft,omitempty" mapstructure:"cut_per_ft"` // blade and water of a sawn joint; its labor is in the hours
	BasePerSqft   float64 `json:"base_per_sqft,omitempty" mapstructure:"base_per_sqft"`

	PumpPerHour       float64 `json:"pump_per_hour,omitempty" mapstructure:"pump_per_hour"`   // on site, stand-by and all
	PumpMinHours      float64 `json:"pump_min_hours,omitempty" mapstructure:"pump_min_hours"` // that are charged at least
	ExcavationPerSqft float64 `json:"excavation_per_sqft,omitempty" mapstructure:"excavation_per_sqft"`
	FormsPerFt        float64 `json:"forms_per_ft,omitempty" mapstructure:"forms_per_ft"` // material; the labor is in the hours
	HaulOff           float64 `json:"haul_off,omitempty" mapstructure:"haul_off"`         // for the job, as all below it
	CurePerSqft       float64 `json:"cure_per_sqft,omitempty" mapstructure:"cure_per_sqft"`
	SealPerSqft       float64 `json:"seal_per_sqft,omitempty" mapstructure:"seal_per_sqft"`
	ColdPerYd         float64 `json:"cold_per_yd,omitempty" mapstructure:"cold_per_yd"` // heated water, accelerator
	BlanketsPerSqft   float64 `json:"blankets_per_sqft,omitempty" mapstructure:"blankets_per_sqft"`
	Equipment         float64 `json:"equipment,omitempty" mapstructure:"equipment"`
	Subcontract       float64 `json:"subcontract,omitempty" mapstructure:"subcontract"`
	Permits           float64 `json:"permits,omitempty" mapstructure:"permits"`
	Travel            float64 `json:"travel,omitempty" mapstructure:"travel"`
	CleanUp           float64 `json:"clean_up,omitempty" mapstructure:"clean_up"`
}

// Hour is the air forecast for a time of the day.
type Hour struct {
	At          string   `json:"at" mapstructure:"at"` // 06:30
	AirF        float64  `json:"air_f" mapstructure:"air_f"`
	HumidityPct *float64 `json:"humidity_pct,omitempty" mapstructure:"humidity_pct"`
	WindMph     *float64 `json:"wind_mph,omitempty" mapstructure:"wind_mph"` // of a weather station
}

// Item is a cost beside those that the bid works out.
type Item struct {
	Item   string  `json:"item" mapstructure:"item"`
	Amount float64 `json:"amount" mapstructure:"amount"`
}
