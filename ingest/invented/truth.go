package invented

import "pourback/ingest/record"

// Truth is the whole process that made the records: what an analysis of them
// should find, within its stated uncertainty.
type Truth struct {
	Loss   Loss
	Labor  Labor
	Pump   Pump
	Delays []Cause
	Crack  Crack
	Other  []Defect
	Choice Choice
	Money  Money

	Slabs []Slab // what really happened to each placement, in the order of the set's placements
}

// Loss is where concrete goes beyond the neat volume V, in yd³:
//
//	used = V·(1 + ByUse + ByBase) + FixedYd + e,  sd(e) = V·Noise·√(1 + NoiseSmall/V)
//
// with e normal. A share Botched of placements loses a further BotchedFrom to
// BotchedTo of V: forms that blew out, which are no part of the law.
type Loss struct {
	ByUse                  map[string]float64 // proportional loss
	ByBase                 map[string]float64 // further proportional loss
	FixedYd                map[string]float64 // by method of placing
	Noise                  float64
	NoiseSmall             float64 // yd³
	ThickShare             float64 // how much of the proportional loss is thickness that probes can find
	Botched                float64
	BotchedFrom, BotchedTo float64
}

// Labor is the law of person-hours, waiting apart:
//
//	hours = Hours400·(area/400)^AreaPower·(thickness/4)^ThickPower·e^(ByMethod + ByReinforcement + crew's Effect)
//	        · (min(k,25)/25)^Learning for a new crew's k-th placement · lognormal noise of sd Noise
//
// Hours400 is the median at 400 ft² and 4 in. Beside it a crew waits through
// delays: WaitShare of its size times the minutes. Hours do not depend on use
// or heat.
type Labor struct {
	Hours400        float64
	AreaPower       float64
	ThickPower      float64
	ByMethod        map[string]float64
	ByReinforcement map[string]float64
	Crews           []Crew
	Learning        float64 // power of the placement's number: hours fall to 2^Learning at each doubling (Wright 1936)
	LearnedAt       float64 // placements after which nothing more is learned
	Noise           float64
	WaitShare       float64
}

// Crew is a crew and its share of the jobs.
type Crew struct {
	Name    string
	Effect  float64     // log hours against Hours400, once it has learned
	Started record.Date // first day, for a crew that is new in the records; zero where it was there before
	Size    int
	Share   float64
	Wage    record.Cents // a person-hour with its burden, in the first year
}

// Pump is the outfits and how they clog: in yards delivered the clogs of an
// outfit are a Poisson process. Hose size, aggregate and mix change nothing.
type Pump struct {
	Outfits []Outfit
	Spots   []Spot
	SpotSD  float64 // of the log of a clog's minutes
}

// Outfit is a pump with its crew.
type Outfit struct {
	Name          string
	ClogsPer100Yd float64
	Share         float64
	HoseIn        float64 // its usual hose
	HourRate      record.Cents
}

// Spot is where a clog sits and the mean minutes it costs there (before
// rounding to whole minutes, and kept between 3 and 150).
type Spot struct {
	Name    string
	Share   float64
	MeanMin float64
}

// Cause is a delay that is no clog: the chance of one in a placement and its
// lognormal minutes.
type Cause struct {
	Name    string
	Chance  float64
	MeanMin float64
	SD      float64 // of the log
}

// Crack is the process of cracking. Cracks arise in a slab of covariates x as a
// Poisson process with the cumulative intensity
//
//	H(t) = Base·(t/365)^Shape·e^(x·β),  t in days from the pour
//
// so the first one follows a Weibull proportional-hazards law. The customer
// calls about each crack with probability Reported: after an exponential lag of
// mean LagDays or, for a share Bunched, on a day evenly spread over the last
// BunchDays before the warranty ends at WarrantyDays. Of calls that would fall
// after the warranty only AfterWarranty are made. A Poisson process so thinned
// and shifted is one again: calls are proportional-hazards with the same β.
type Crack struct {
	Base, Shape float64

	ByReinforcement map[string]float64 // log hazard ratio; words joined by + add up
	PerSpacing      float64            // per ft of joint spacing per inch of thickness, from SpacingAt
	SpacingAt       float64            // ft per in; 2.5 is the guide of 30 times the thickness
	Per10F          float64            // per 10 °F of air at placing, from HeatAt
	HeatAt          float64            // °F
	Drying          float64            // where evaporation is over DryingLimit
	DryingLimit     float64            // lb/ft²/h
	PerSawHour      float64            // per hour of sawing after SawBy
	SawBy           float64            // hours after finishing
	Cured           float64            // where there is any curing

	Reported      float64
	LagDays       float64
	Bunched       float64
	BunchDays     float64
	WarrantyDays  float64
	AfterWarranty float64

	CallCost Price
}

// Defect is another kind of callback: it comes at a constant rate, and a
// placement has only the first kind of callback that befalls it.
type Defect struct {
	Kind        string
	PerYear     float64 // per placement
	NativeTimes float64 // multiplies the rate on native soil
	CallCost    Price
}

// Price is a lognormal amount of money.
type Price struct {
	Mean record.Cents
	SD   float64 // of the log
}

// Choice is how steel is chosen: of the slabs that get steel, mesh is the
// choice with probability 1/(1+e^-(MeshPerF·(normal-MeshEvenF))), where normal
// is the season's usual temperature in °F. A MeshPerF of zero is a fair coin.
type Choice struct {
	MeshPerF  float64
	MeshEvenF float64
}

// Money is prices, wages and the owner's way of bidding.
type Money struct {
	ConcreteYd   map[string]record.Cents // by plant, for 3500 psi, before the rise
	Per500PSI    record.Cents
	RiseOn       record.Date // the plants' one price rise
	RiseBy       float64
	Reinforce    map[string]record.Cents // per ft², material
	CrushedBase  record.Cents            // per ft²
	Disposal     record.Cents            // per yd³ left over
	SmallLoad    record.Cents            // fee for a load under SmallLoadYd
	SmallLoadYd  float64
	Equipment    record.Cents // per day of pouring
	WageRise     float64      // a year
	BidWage      record.Cents // what the owner carries for a person-hour in the first year
	BidSqftHour  float64      // what the owner counts on, whatever the size
	Markup       float64      // on bid cost
	MarkupSpread float64      // sd of the log
	Changed      float64      // share of the jobs whose price was changed after signing
	ChangedBy    float64      // of the price, in the mean; one in six of them lowers it
	ChangedCost  float64      // sd of the log of what added work costs, about the share of a bid that is cost
}

// Slab is what really happened to a placement, including what nobody recorded.
type Slab struct {
	JobNo, Placement string
	Covariates

	NeatYd         float64
	UsedYd         float64 // before the leftover was estimated
	Botched        bool
	CrewPlacement  int     // the crew's so many-th placement in these records, from 1
	WaitHours      float64 // person-hours of the total spent waiting
	EvaporationLb  float64 // lb/ft²/h at placing
	FirstCrackDays float64 // from the pour to its first crack; 0 where there was none by the last day
}
