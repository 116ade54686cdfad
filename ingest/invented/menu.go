package invented

// kindOfWork is what the company pours for one use: how large, how thick, how
// placed, how jointed.
type kindOfWork struct {
	use        string
	share      float64 // as the main part of a job
	sqft       float64 // median area
	spread     float64 // sd of the log of the area
	thickness  []option[float64]
	method     []option[string]
	base       []option[string]
	steel      []option[string] // "steel" leaves mesh or rebar to the season
	cut        []option[string]
	finish     []option[string]
	companions []option[string] // what the same job may also hold
}

const mostPours = 3 // in a job

// Volumes of one placement, in yd³, and the largest load of a truck.
const (
	leastYd  = 2
	mostYd   = 30
	barrowYd = 4 // nobody barrows more
	buggyYd  = 12
	truckYd  = 10
)

var poursInJob = []option[int]{{1, 0.68}, {2, 0.24}, {3, 0.08}}

var (
	openGround = []option[string]{{"native", 0.30}, {"compacted", 0.40}, {"crushed base", 0.30}}
	builtUp    = []option[string]{{"compacted", 0.45}, {"crushed base", 0.55}}
	overOld    = []option[string]{{"native", 0.30}, {"compacted", 0.40}, {"crushed base", 0.20}, {"existing slab", 0.10}}

	fromStreet = []option[string]{{"chute", 0.78}, {"pump", 0.16}, {"buggy", 0.06}}
	fromYard   = []option[string]{{"chute", 0.25}, {"pump", 0.40}, {"buggy", 0.20}, {"barrow", 0.15}}
	fromEither = []option[string]{{"chute", 0.50}, {"pump", 0.30}, {"buggy", 0.15}, {"barrow", 0.05}}

	mostlySteel  = []option[string]{{"steel", 0.84}, {"none", 0.06}, {"fiber", 0.08}, {"mesh+fiber", 0.02}}
	seldomSteel  = []option[string]{{"steel", 0.45}, {"none", 0.40}, {"fiber", 0.15}}
	sawn         = []option[string]{{"saw", 0.62}, {"early-entry", 0.20}, {"tooled", 0.12}, {"tooled+saw", 0.06}}
	tooled       = []option[string]{{"tooled", 0.80}, {"saw", 0.20}}
	broom        = []option[string]{{"broom", 0.90}, {"exposed aggregate", 0.10}}
	decorative   = []option[string]{{"broom", 0.60}, {"stamped", 0.25}, {"exposed aggregate", 0.15}}
	hardTroweled = []option[string]{{"steel trowel", 0.80}, {"broom", 0.20}}
)

var works = []kindOfWork{
	{"driveway", 0.32, 620, 0.45, []option[float64]{{4, 0.55}, {4.5, 0.20}, {5, 0.25}}, fromStreet, openGround, mostlySteel, sawn, broom,
		[]option[string]{{"walkway", 0.5}, {"apron", 0.3}, {"curb", 0.2}}},
	{"patio", 0.21, 380, 0.45, []option[float64]{{3.5, 0.30}, {4, 0.60}, {4.5, 0.10}}, fromYard, overOld, mostlySteel, sawn, decorative,
		[]option[string]{{"steps", 0.4}, {"walkway", 0.45}, {"shed slab", 0.15}}},
	{"walkway", 0.10, 240, 0.40, []option[float64]{{3.5, 0.30}, {4, 0.70}}, fromEither, openGround, seldomSteel, tooled, broom,
		[]option[string]{{"steps", 0.6}, {"patio", 0.4}}},
	{"shed slab", 0.12, 230, 0.40, []option[float64]{{4, 0.65}, {5, 0.35}}, fromYard, builtUp, mostlySteel, sawn, hardTroweled,
		[]option[string]{{"walkway", 0.6}, {"apron", 0.4}}},
	{"garage slab", 0.12, 560, 0.30, []option[float64]{{4, 0.20}, {5, 0.45}, {6, 0.35}}, fromEither, builtUp, mostlySteel, sawn, hardTroweled,
		[]option[string]{{"apron", 0.6}, {"driveway", 0.4}}},
	{"apron", 0.06, 200, 0.40, []option[float64]{{5, 0.40}, {6, 0.60}}, fromStreet, builtUp, mostlySteel, sawn, broom,
		[]option[string]{{"curb", 0.6}, {"walkway", 0.4}}},
	{"curb", 0.03, 170, 0.35, []option[float64]{{6, 1}}, fromStreet, builtUp, seldomSteel, tooled, broom,
		[]option[string]{{"walkway", 0.6}, {"apron", 0.4}}},
	{"steps", 0.04, 150, 0.30, []option[float64]{{5, 0.30}, {6, 0.70}}, fromYard, builtUp, mostlySteel, tooled, broom,
		[]option[string]{{"walkway", 0.7}, {"patio", 0.3}}},
}

func workOf(use string) *kindOfWork {
	for i := range works {
		if works[i].use == use {
			return &works[i]
		}
	}
	return nil
}

// plant is a ready-mix plant, so many minutes away.
type plant struct {
	name   string
	share  float64
	prefix string // of its tickets
	travel float64
	spread float64 // sd of the minutes
}

var plants = []plant{{"North", 0.6, "N", 19, 4}, {"River", 0.4, "R", 28, 5}}

// paceMin is the usual minutes to place a yard.
var paceMin = map[string]float64{"chute": 2.5, "pump": 3.5, "buggy": 5, "barrow": 9}

var streets = []string{"Juniper Wash Road", "Saltbush Lane", "Caliche Court", "Dry Fork Drive",
	"Windmill Row", "Red Gate Road", "Antelope Flat Way", "Cottonwood Draw"}

// byMonth is how much work there is, January first.
var byMonth = [12]float64{0.35, 0.50, 0.90, 1.20, 1.30, 1.20, 1.10, 1.10, 1.20, 1.20, 0.90, 0.50}
