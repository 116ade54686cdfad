package spec

import (
	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// The keys of a spec: what may be asked of the whole job, of its prices, and of
// each placement.
var (
	jobKeys = &record.Table{Name: "bid", Columns: []record.Column{
		{Name: "name", Synonyms: []string{"title", "customer"}, Doc: "what the bid is called"},
		{Name: "site", Synonyms: []string{"address", "site address"}, Doc: "where it is poured; the bid is called so where it has no name"},
		{Name: "job_no", MaxChars: 40, Synonyms: []string{"job", "job number"}, Doc: "the job's number, under which its records will come"},
		{Name: "on", Synonyms: []string{"month", "date", "pour date", "placed_on"}, Doc: "day or month of the pour: 2026-07-14, 2026-07, July"},
		ofPlacements("crew"),
		ofPlacements("crew_size"),
		{Name: "haul_min", Kind: record.KindCount, Unit: record.Minute, Hard: upTo(600), Synonyms: []string{"haul", "haul time"}, Doc: "minutes from plant to site"},
		{Name: "warranty_months", Kind: record.KindCount, Unit: record.Month, Hard: upTo(600), Synonyms: []string{"warranty"}, Doc: "months of warranty from the pour"},
		{Name: "target_margin", Kind: record.KindNumber, Unit: record.Percent, Hard: upTo(99), Synonyms: []string{"margin", "target margin pct"}, Doc: "share of the price to earn: 25 %"},
		{Name: "certainty", Kind: record.KindNumber, Unit: record.Percent, Hard: upTo(100), Synonyms: []string{"certainty pct"}, Doc: "chance to earn it: 80 %"},
		{Name: "overhead", Kind: record.KindNumber, Unit: record.Percent, Hard: upTo(300), Doc: "share of the job's cost: office, trucks, insurance"},
		{Name: "contingency", Kind: record.KindNumber, Unit: record.Percent, Hard: upTo(100), Doc: "share of the job's cost for what nobody foresees"},
		{Name: "none_needed", Doc: "lines of cost that this job does not have: excavation, permits …"},
		{Name: "start", Synonyms: []string{"start time", "first truck", "first truck at"}, Doc: "when the first truck is to be on site: 6:30, 6am"},
		{Name: "truck_yd", Kind: record.KindNumber, Unit: record.CubicYard, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(20.0), Above: true}, Synonyms: []string{"truck", "truck size"}, Doc: "what a truck of this plant holds"},
		{Name: "plant_spacing_min", Kind: record.KindCount, Unit: record.Minute, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(600.0)}, Synonyms: []string{"plant spacing", "truck spacing"}, Doc: "minutes between trucks that the plant keeps"},
		{Name: "discharge_limit_min", Kind: record.KindCount, Unit: record.Minute, Hard: record.Range{Min: record.Some(10.0), Max: record.Some(600.0)}, Synonyms: []string{"discharge limit", "time limit"}, Doc: "minutes from batching to empty that are agreed with the plant; 90 where not"},
		{Name: forecastKey, Synonyms: []string{"weather"}, Doc: "of the day: 6:00 78F 40% 5mph; 12:00 101F 18% 12mph"},
		{Name: "concrete_temp_f", Kind: record.KindNumber, Unit: record.Fahrenheit, Hard: record.Range{Min: record.Some(32.0), Max: record.Some(130.0)}, Synonyms: []string{"concrete temp", "mix temperature"}, Doc: "the concrete as delivered"},
		{Name: "draws", Kind: record.KindCount, Hard: upTo(1_000_000), Doc: "how often the job's cost is drawn by chance"},
	}}
	priceKeys = &record.Table{Name: "prices", Columns: []record.Column{
		price("concrete_per_yd", "a yard of concrete, delivered", "concrete"),
		price("labor_per_hour", "an hour of one person's work, with its burden", "labor", "labour per hour", "wage"),
		price("pump_hire", "the pump for a pour, whatever its size", "pump"),
		price("pump_per_yd", "the pump for each yard"),
		price("mesh_per_sqft", "mesh", "mesh"),
		price("rebar_per_sqft", "rebar", "rebar"),
		price("fiber_per_yd", "fiber in a yard of concrete", "fiber", "fibre"),
		price("cut_per_ft", "blade and water for a foot of sawn joint", "cut", "sawing per ft"),
		price("base_per_sqft", "the base", "base price"),
		price("pump_per_hour", "an hour of the pump on site, stand-by and all"),
		{Name: "pump_min_hours", Kind: record.KindNumber, Unit: record.Hour, Hard: upTo(24), Doc: "hours of the pump that are charged at least"},
		price("excavation_per_sqft", "digging", "excavation"),
		price("forms_per_ft", "lumber, stakes and oil for a foot of form", "forms"),
		price("haul_off", "hauling off, for the job"),
		price("cure_per_sqft", "curing compound", "cure", "curing"),
		price("seal_per_sqft", "sealer", "seal", "sealing"),
		price("cold_per_yd", "heated water and accelerator in a yard"),
		price("blankets_per_sqft", "blankets", "blankets"),
		price("equipment", "equipment, for the job"), price("subcontract", "subcontracts, for the job"), price("permits", "permits and inspections", "permit"),
		price("travel", "travel, for the job"), price("clean_up", "clean-up, for the job", "cleanup"),
	}}
	placementKeys = &record.Table{Name: "placement", Columns: []record.Column{
		{Name: "name", Synonyms: []string{"placement"}, MaxChars: 40, Doc: "what the placement is called; A, B … where nothing is written"},
		required("use"),
		length("length_ft", "the longer side", "long"),
		length("width_ft", "the shorter side", "wide"),
		length("notch_length_ft", "of the corner that makes an L of it, along the length"),
		length("notch_width_ft", "of the corner that makes an L of it, along the width"),
		ofPlacements("area_sqft"),
		required("thickness_in"),
		{Name: "day", Kind: record.KindCount, Hard: record.Range{Min: record.Some(1.0), Max: record.Some(60.0)}, Synonyms: []string{"pour day"}, Doc: "placements of one day share trucks; 1 where nothing is written"},
		ofPlacements("method"), ofPlacements("pump_outfit"), ofPlacements("hose_in"),
		ofPlacements("mix"), ofPlacements("mix_psi"), ofPlacements("max_aggregate_in"),
		{Name: "slump_in", Kind: record.KindNumber, Unit: record.Inch, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(11.0)}, Synonyms: []string{"slump"}, Doc: "asked of the plant"},
		{Name: "air_pct", Kind: record.KindNumber, Unit: record.Percent, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(12.0)}, Synonyms: []string{"air", "air content", "entrained air"}, Doc: "air in the concrete; 0 for none"},
		{Name: admixturesKey, Synonyms: []string{"admixture"}, Doc: "by the trade's words, with doses: water reducer 5 oz/cwt, accelerator 1%"},
		{Name: "retarder", Synonyms: []string{"retarder dose"}, Doc: "yes, or its dose: 3 oz/cwt"},
		{Name: "fiber_lb_per_yd", Kind: record.KindNumber, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(200.0)}, Synonyms: []string{"fiber dose"}, Doc: "lb of fiber in a yard"},
		ofPlacements("base"), ofPlacements("reinforcement"), ofPlacements("bar"),
		{Name: "bar_spacing_in", Kind: record.KindNumber, Unit: record.Inch, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(240.0), Above: true},
			Synonyms: []string{"bar spacing", "rebar spacing"}, Doc: "between bars, both ways"},
		{Name: "joint_spacing_ft", Kind: record.KindNumber, Unit: record.Foot, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(500.0), Above: true},
			Synonyms: []string{"joint spacing", "spacing", "joints"}, Doc: "the widest that is wanted"},
		ofPlacements("joint_cut"), ofPlacements("finish"), ofPlacements("curing"),
		{Name: "outline", Doc: "corners, or a shape by name: circle 30, L 20 x 16 less 8 x 6 …"},
		{Name: "holes", Synonyms: []string{"hole"}, Doc: "outlines of what is left out: circle 4 at 15, 15"},
		{Name: "depths", Doc: "one a corner of the outline, for slopes"},
		inches("edge_width_in", "of a thickened edge", false), inches("edge_depth_in", "of it, the whole depth", false), inches("edge_taper_in", "over which it rises to the slab", false),
		{Name: "edge_sides", Doc: "all, or the numbers of the outline's sides"},
		{Name: "steps", Doc: "risers, rise, tread, width, solid"},
		{Name: "curb", Doc: "length, width, height"},
		{Name: "against", Doc: "numbers of the sides at a house or at existing concrete: an isolation joint"},
		{Name: "existing_joints", Doc: "places on the outline where joints of the slab beside it come in"},
	}}
)

// progressKeys say how far a pour is.
var progressKeys = &record.Table{Name: "progress", Columns: []record.Column{
	{Name: "placed_yd", Kind: record.KindNumber, Unit: record.CubicYard, Required: true, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(20000.0)}, Doc: "yards placed so far"},
	{Name: "covered_pct", Kind: record.KindNumber, Unit: record.Percent, Required: true, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(100.0)}, Doc: "how much of the area they cover, 0 to 100 %"},
	{Name: "on_hand_yd", Kind: record.KindNumber, Unit: record.CubicYard, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(20000.0)}, Doc: "yards on hand"},
}}

// ReadProgress reads one of placed_yd, covered_pct and on_hand_yd, which say how
// far a pour is.
func ReadProgress(key, text string, opt sheet.Options) (float64, []record.Problem) {
	into := group{}
	k := newKeyReader(progressKeys, opt)
	_, problems := k.read(into, key, text)
	v, _ := into[key].(float64)
	return v, problems
}

// ofPlacements is a column of the record files. Whether a value in it is wise
// is for the analysis to say.
func ofPlacements(name string) record.Column {
	c := *record.Placements.Column(name)
	c.Required = false
	return c
}

func required(name string) record.Column {
	c := ofPlacements(name)
	c.Required = true
	return c
}

func upTo(most float64) record.Range {
	return record.Range{Min: record.Some(0.0), Max: record.Some(most), Above: true}
}

func length(name, doc string, synonyms ...string) record.Column {
	return record.Column{Name: name, Kind: record.KindNumber, Unit: record.Foot, Hard: upTo(10_000), Synonyms: synonyms, Doc: doc}
}

func price(name, doc string, synonyms ...string) record.Column {
	return record.Column{Name: name, Kind: record.KindMoney, Hard: upTo(1e6), Synonyms: synonyms, Doc: doc}
}

// Key is a key of a spec with what it is for.
type Key struct{ Name, Unit, Doc string }

// Keys are the keys of a spec by group: the whole job, its prices, a placement.
func Keys() (job, prices, placement []Key) {
	return keysOf(jobKeys), keysOf(priceKeys), keysOf(placementKeys)
}

func keysOf(t *record.Table) []Key {
	var keys []Key
	for _, c := range t.Columns {
		k := Key{Name: c.Name, Doc: c.Doc}
		if c.Unit != nil {
			k.Unit = c.Unit.Label
		}
		keys = append(keys, k)
	}
	return keys
}

// IsPrice says whether a key is one of the job's prices.
func IsPrice(key string) bool { return priceKeys.Index(key) >= 0 }
