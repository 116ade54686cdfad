package findings

import (
	"strconv"

	"pourback/analysis/cracks"
	"pourback/analysis/money"
)

// Fact is what a finding tells: a type of its own for each kind, with the values
// that its sentence needs.
type Fact interface {
	Kind() Kind
	Subject() string // what of the kind it is about, where there may be several
}

// Kind is a kind of fact.
type Kind string

// The kinds of facts.
const (
	KindLeftover  Kind = "leftover"
	KindOrders    Kind = "orders"
	KindCrew      Kind = "crew"
	KindOutfit    Kind = "outfit"
	KindWaiting   Kind = "waiting"
	KindCallbacks Kind = "callbacks"
	KindCracks    Kind = "cracks"
	KindSteel     Kind = "steel"
	KindStep      Kind = "step"
	KindBids      Kind = "bids"
	KindMonth     Kind = "month"
	KindFollowOn  Kind = "follow-on"
	KindUnpriced  Kind = "unpriced"
)

type (
	// Leftover is concrete that was paid for and left over.
	Leftover struct {
		Yd     float64 // yd³
		On, Of int     // placements of the year: with a leftover, and with one noted
	}
	// Orders are the orders as planned beside the cheapest ones, as shares over
	// the drawing.
	Orders struct{ Planned, Cheapest float64 }
	// SlowCrew needs more hours than an average crew on the same job.
	SlowCrew struct {
		Crew       string
		More       float64 // share
		Placements int
	}
	// CloggingOutfit clogs more often than the others.
	CloggingOutfit struct {
		Outfit       string
		Rate, Others float64 // clogs per 100 yd³
		Placements   int
	}
	// Waiting is the time that crews waited.
	Waiting struct {
		Hours  float64 // person-hours
		On, Of int     // placements of the year: with a delay, and with it noted
	}
	// Callbacks are the visits that customers called for, about cracks or about
	// anything else.
	Callbacks struct {
		Cracks bool
		Times  int
	}
	// CrackLevel is the level of a thing that slabs differ in whose slabs crack
	// more often than the others.
	CrackLevel struct {
		Table     *cracks.Table `json:"-"`
		Row       int
		Times     float64 // as many as the others; 0 where they have next to none
		Callbacks int
		Slabs     int
	}
	// Steel is the reinforcement that costs less, and the placements of the year
	// that had the other.
	Steel struct {
		Mesh       bool // is the better one, else rebar
		Placements int
		ByPrices   bool // prices that the settings give decide it
	}
	// StepLost is money that a step of the bridge lost and no other topic tells.
	StepLost struct{ Step money.Step }
	// KindOfBid is a kind of job whose bids come out worse than the others', by
	// use or else by size.
	KindOfBid struct {
		Use         string  // "" where it is by size
		From, To    float64 // ft²; 0 for no limit
		Gap, Others float64 // earned less bid, as a share of revenue
		Jobs        int
	}
	// LowMonth is a month whose margin was too low for chance.
	LowMonth struct {
		Month      string
		Pct, Usual float64 // margin in % of revenue, and the center of all months
		Dollars    float64 // of margin
	}
	// FollowOn are the jobs of the year that earlier ones brought.
	FollowOn struct{ Jobs int }
	// Unpriced are jobs of the year whose margin nobody can see.
	Unpriced struct {
		Unpriced, Jobs int
		Each           float64 // dollars by which the others strayed from their bids
	}
)

func (Leftover) Kind() Kind       { return KindLeftover }
func (Orders) Kind() Kind         { return KindOrders }
func (SlowCrew) Kind() Kind       { return KindCrew }
func (CloggingOutfit) Kind() Kind { return KindOutfit }
func (Waiting) Kind() Kind        { return KindWaiting }
func (Callbacks) Kind() Kind      { return KindCallbacks }
func (CrackLevel) Kind() Kind     { return KindCracks }
func (Steel) Kind() Kind          { return KindSteel }
func (StepLost) Kind() Kind       { return KindStep }
func (KindOfBid) Kind() Kind      { return KindBids }
func (LowMonth) Kind() Kind       { return KindMonth }
func (FollowOn) Kind() Kind       { return KindFollowOn }
func (Unpriced) Kind() Kind       { return KindUnpriced }

func (Leftover) Subject() string         { return "" }
func (Orders) Subject() string           { return "" }
func (f SlowCrew) Subject() string       { return f.Crew }
func (f CloggingOutfit) Subject() string { return f.Outfit }
func (Waiting) Subject() string          { return "" }
func (f Callbacks) Subject() string      { return strconv.FormatBool(f.Cracks) }
func (f CrackLevel) Subject() string     { return string(f.Table.Factor) }
func (Steel) Subject() string            { return "" }
func (f StepLost) Subject() string       { return strconv.Itoa(int(f.Step)) }
func (f KindOfBid) Subject() string {
	return f.Use + " " + strconv.FormatFloat(f.From, 'g', -1, 64) + " " + strconv.FormatFloat(f.To, 'g', -1, 64)
}
func (f LowMonth) Subject() string { return f.Month }
func (FollowOn) Subject() string   { return "" }
func (Unpriced) Subject() string   { return "" }
