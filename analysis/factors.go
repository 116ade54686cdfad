package analysis

import (
	"slices"
	"sync"

	"pourback/analysis/backtest"
	"pourback/analysis/concrete"
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/findings"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/analysis/steel"
	"pourback/analysis/visits"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Factors are the answers: what the records say about the next job.
type Factors struct {
	AsOf           string               `json:"as_of"`
	Placements     int                  `json:"placements"`
	Jobs           int                  `json:"jobs"`
	RecordsToCheck int                  `json:"records_to_check"` // placements
	Overage        *concrete.Overage    `json:"overage,omitempty"`
	Crews          []work.Crew          `json:"crews,omitzero"`
	Labor          *work.Labor          `json:"labor,omitempty"`
	Pump           *work.Pump           `json:"pump,omitempty"`
	Weather        *work.Weather        `json:"weather,omitempty"`
	Cracks         *cracks.Cracks       `json:"cracks,omitempty"`
	Reinforcement  *steel.Reinforcement `json:"reinforcement,omitempty"`
	Margin         *money.Margin        `json:"margin,omitempty"`
	Visits         *visits.Visits       `json:"visits,omitempty"`  // where they are asked for
	Findings       []findings.Finding   `json:"findings,omitzero"` // where all topics are asked for
	Found          *findings.Outcome    `json:"-"`                 // with them

	First, Last record.Date      `json:"-"` // of the pours
	Checks      []record.Problem `json:"-"` // the records to check, one problem each
	LeftOut     []record.Problem `json:"-"` // of these, the values that cannot be and count in no figure
	Level       float64          `json:"-"`

	asOrdered *backtest.Rule // what the backtest says of orders as they were made
}

// Run answers the questions that opt asks of the history.
func Run(h *record.History, opt setting.Options) (*Factors, error) {
	opt, err := opt.Complete()
	if err != nil {
		return nil, err
	}
	f := &Factors{AsOf: h.AsOf.String(), Placements: h.Placements.Len(), Jobs: h.Jobs.Len(), LeftOut: h.LeftOut(), Level: opt.Level}
	for i := range h.Placements.Len() {
		on := h.Placements.At(i).PlacedOn()
		if i == 0 || on < f.First {
			f.First = on
		}
		f.Last = max(f.Last, on)
	}
	watched := sync.OnceValue(func() *cracks.Slabs { return cracks.SlabsOf(h, opt) })
	fitted := sync.OnceValues(func() (*work.HoursModel, error) { return work.FitHours(h, work.DefaultHoursPriors()) })
	questions := []func(){func() {
		placements := placementChecks(h)
		f.RecordsToCheck = countRecords(placements)
		f.Checks = checksBeside(h, placements)
	}}
	for _, topic := range []struct {
		name   string
		answer func()
	}{
		{"cracks", func() { f.Cracks = cracks.Of(h, watched(), opt) }},
		{"reinforcement", func() { f.Reinforcement = steel.Of(h, watched(), opt) }},
		{"margin", func() { f.Margin = money.Of(h, opt, work.Standard(fitted)) }},
		{"weather", func() { f.Weather = work.WeatherOf(h, work.Standard(fitted), opt.Level) }},
		{"overage", func() { f.Overage = concrete.Of(h, opt) }},
		{"crews", func() { f.Crews, f.Labor = work.CrewsOf(h, fitted, opt) }},
		{"pump", func() { f.Pump = work.PumpOf(h, opt) }},
	} {
		if len(opt.Topics) == 0 || slices.Contains(opt.Topics, topic.name) {
			questions = append(questions, topic.answer)
		}
	}
	if len(opt.Topics) == 0 { // findings draw on it
		questions = append(questions, func() {
			if r, known := backtest.Ordered(h, opt); known {
				f.asOrdered = &r
			}
		})
	}
	if opt.Visits.Asked || slices.Contains(opt.Topics, setting.VisitsTopic) {
		questions = append(questions, func() { f.Visits = visits.Of(h, watched(), opt) })
	}
	// They know nothing of each other, so each may have a processor of its own; no
	// more at once, for each needs memory of its own as well.
	stat.InParallel(len(questions), func(k int) { questions[k]() })
	if f.Overage != nil {
		f.Checks = figure.InRecordOrder(append(f.Checks, f.Overage.Problems...))
	}
	if f.Margin != nil {
		f.Margin.Charge(h, watched(), money.StillToCome(h, watched(), f.Cracks, opt))
	}
	if len(opt.Topics) == 0 {
		told, found := findings.Of(h, f.answers(), opt)
		f.Findings, f.Found = told, &found
	}
	return f, nil
}

// answers are what findings are looked for in.
func (f *Factors) answers() *findings.Answers {
	return &findings.Answers{First: f.First, Placements: f.Placements, RecordsToCheck: f.RecordsToCheck, Level: f.Level,
		Overage: f.Overage, AsOrdered: f.asOrdered, Crews: f.Crews, Pump: f.Pump, Cracks: f.Cracks, Reinforcement: f.Reinforcement, Margin: f.Margin}
}
