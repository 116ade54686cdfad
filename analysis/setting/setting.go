package setting

import (
	"errors"
	"fmt"
	"slices"
	"time"
)

// Options are what the owner may set about the answers.
type Options struct {
	Level  float64       // confidence of intervals; 0.90 where 0
	Event  string        // what counts as a crack: EventCallback (default) or EventSeen
	Bands  []float64     // lower ends of the joint spacing bands in ft; DefaultBands where nil
	Topics []string      // which topics to answer; all where empty
	Seed   uint64        // of everything that is drawn
	Rates  StandardRates // turn yards and hours into money; DefaultStandardRates where 0

	Overage OveragePriors  // beliefs about waste; DefaultOveragePriors where zero
	Order   OrderCosts     // money around an order of concrete; DefaultOrderCosts where zero, its price that of Rates where 0
	Steel   SteelCosts     // of mesh and rebar; DefaultSteelCosts where 0
	Bid     BidPractice    // what bids stand on where records are too few; DefaultBidPractice where zero
	Pour    PourDay        // what a pour day is put on the clock with; DefaultPourDay where zero
	Zone    *time.Location // of the site, whose clock is shown; nil where nobody knows
	Visits  VisitOptions   // what happens after the pour, which is answered only where it is asked for
}

// The two definitions of a crack event.
const (
	EventCallback = "callback" // the first callback of kind crack
	EventSeen     = "seen"     // the first crack seen at any visit
)

// DefaultBands are the lower ends of the joint spacing bands, in ft.
var DefaultBands = []float64{0, 6, 8, 10, 12, 15}

// Topics are the questions in the order in which they are answered.
var Topics = []string{"overage", "crews", "pump", "weather", "cracks", "reinforcement", "margin"}

// VisitsTopic is a question that is answered only where it is asked for, for
// its answer rests on what only events tell.
const VisitsTopic = "visits"

// Validate says what is wrong with the options, if anything is.
func (o Options) Validate() error { _, err := o.Complete(); return err }

func (o Options) Complete() (Options, error) {
	if o.Level == 0 {
		o.Level = 0.90
	}
	if !(o.Level > 0 && o.Level < 1) {
		return o, fmt.Errorf("level %v: a confidence level lies between 0 and 1, such as 0.90", o.Level)
	}
	if o.Event == "" {
		o.Event = EventCallback
	}
	if o.Event != EventCallback && o.Event != EventSeen {
		return o, fmt.Errorf("event %q: want %q or %q", o.Event, EventCallback, EventSeen)
	}
	if o.Bands == nil {
		o.Bands = DefaultBands
	}
	if len(o.Bands) == 0 || !slices.IsSorted(o.Bands) || len(slices.Compact(slices.Clone(o.Bands))) < len(o.Bands) || o.Bands[0] != 0 {
		return o, fmt.Errorf("spacing bands %v: want lower ends in ft that ascend from 0", o.Bands)
	}
	var err error
	if o.Steel, err = o.Steel.Complete(); err != nil {
		return o, err
	}
	if o.Bid, err = o.Bid.complete(); err != nil {
		return o, err
	}
	if o.Pour, err = o.Pour.complete(); err != nil {
		return o, err
	}
	if o.Rates, err = o.Rates.complete(); err != nil {
		return o, err
	}
	o.Overage, o.Order = o.Overage.Filled(), o.Order.priced(o.Rates)
	if err := errors.Join(o.Overage.check(), o.Order.check()); err != nil {
		return o, err
	}
	if o.Visits, err = o.Visits.Complete(); err != nil {
		return o, err
	}
	for _, t := range o.Topics {
		if !slices.Contains(Topics, t) && t != VisitsTopic {
			return o, fmt.Errorf("no topic %q: want one of %v or %s", t, Topics, VisitsTopic)
		}
	}
	return o, nil
}
