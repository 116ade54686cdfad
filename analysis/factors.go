package analysis

import (
	"errors"
	"fmt"
	"slices"
	"sync"

	"pourback/ingest/record"
)

// Options are what the owner may set about the answers.
type Options struct {
	Level  float64       // confidence of intervals; 0.90 where 0
	Event  string        // what counts as a crack: EventCallback (default) or EventSeen
	Bands  []float64     // lower ends of the joint spacing bands in ft; DefaultBands where nil
	Topics []string      // which topics to answer; all where empty
	Seed   uint64        // of everything that is drawn
	Rates  StandardRates // turn yards and hours into money; DefaultStandardRates where 0

	Overage OveragePriors // beliefs about waste; DefaultOveragePriors where zero
	Order   OrderCosts    // money around an order of concrete; DefaultOrderCosts where zero, its price that of Rates where 0
	Steel   SteelCosts    // of mesh and rebar; DefaultSteelCosts where 0
	Bid     BidPractice   // what bids stand on where records are too few; DefaultBidPractice where zero
	Visits  VisitOptions  // what happens after the pour, which is answered only where it is asked for
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

// Factors are the answers: what the records say about the next job.
type Factors struct {
	AsOf           string         `json:"as_of"`
	Placements     int            `json:"placements"`
	Jobs           int            `json:"jobs"`
	RecordsToCheck int            `json:"records_to_check"` // placements
	Overage        *Overage       `json:"overage,omitempty"`
	Crews          []Crew         `json:"crews,omitzero"`
	Labor          *Labor         `json:"labor,omitempty"`
	Pump           *Pump          `json:"pump,omitempty"`
	Weather        *Weather       `json:"weather,omitempty"`
	Cracks         *Cracks        `json:"cracks,omitempty"`
	Reinforcement  *Reinforcement `json:"reinforcement,omitempty"`
	Margin         *Margin        `json:"margin,omitempty"`
	Visits         *Visits        `json:"visits,omitempty"`  // where they are asked for
	Findings       []Finding      `json:"findings,omitzero"` // where all topics are asked for
	FindingsSay    string         `json:"findings_answer,omitempty"`

	First, Last record.Date      `json:"-"` // of the pours
	Checks      []record.Problem `json:"-"` // the records to check, one problem each
	Level       float64          `json:"-"`
}

// Run answers the questions that opt asks of the history.
func Run(h *record.History, opt Options) (*Factors, error) {
	opt, err := opt.complete()
	if err != nil {
		return nil, err
	}
	f := &Factors{AsOf: h.AsOf.String(), Placements: len(h.Placements), Jobs: len(h.Jobs), Level: opt.Level}
	for i := range h.Placements {
		on := h.Placements[i].PlacedOn
		if i == 0 || on < f.First {
			f.First = on
		}
		f.Last = max(f.Last, on)
	}
	watched := sync.OnceValue(func() *slabs { return slabsOf(h, opt) })
	fitted := sync.OnceValues(func() (*HoursModel, error) { return FitHours(h, DefaultHoursPriors()) })
	var all sync.WaitGroup // topics know nothing of each other, so each may have a processor of its own
	all.Go(func() {
		placements := placementChecks(h)
		f.RecordsToCheck = countRecords(placements)
		f.Checks = checksBeside(h, placements)
	})
	for topic, answer := range map[string]func(){
		"overage":       func() { f.Overage = overage(h, opt) },
		"crews":         func() { f.Crews, f.Labor = crews(h, fitted, opt) },
		"pump":          func() { f.Pump = pump(h, opt) },
		"weather":       func() { f.Weather = weather(h, standard(fitted), opt.Level) },
		"cracks":        func() { f.Cracks = cracks(h, watched(), opt) },
		"reinforcement": func() { f.Reinforcement = reinforcement(h, watched(), opt) },
		"margin":        func() { f.Margin = margin(h, opt, standard(fitted)) },
	} {
		if len(opt.Topics) == 0 || slices.Contains(opt.Topics, topic) {
			all.Go(answer)
		}
	}
	if opt.Visits.Asked || slices.Contains(opt.Topics, VisitsTopic) {
		all.Go(func() { f.Visits = visits(h, watched(), opt) })
	}
	all.Wait()
	if f.Overage != nil {
		f.Checks = inRecordOrder(append(f.Checks, f.Overage.Problems...))
	}
	if f.Margin != nil {
		f.Margin.charge(h, watched(), f.stillToCome(h, watched(), opt))
	}
	if len(opt.Topics) == 0 {
		f.Findings, f.FindingsSay = findings(h, f, opt)
	}
	return f, nil
}

// Validate says what is wrong with the options, if anything is.
func (o Options) Validate() error { _, err := o.complete(); return err }

func (o Options) complete() (Options, error) {
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
	if o.Steel, err = o.Steel.complete(); err != nil {
		return o, err
	}
	if o.Bid, err = o.Bid.complete(); err != nil {
		return o, err
	}
	if o.Rates, err = o.Rates.complete(); err != nil {
		return o, err
	}
	o.Overage, o.Order = o.Overage.filled(), o.Order.priced(o.Rates)
	if err := errors.Join(o.Overage.check(), o.Order.check()); err != nil {
		return o, err
	}
	if o.Visits, err = o.Visits.complete(); err != nil {
		return o, err
	}
	for _, t := range o.Topics {
		if !slices.Contains(Topics, t) && t != VisitsTopic {
			return o, fmt.Errorf("no topic %q: want one of %v or %s", t, Topics, VisitsTopic)
		}
	}
	return o, nil
}
