package analysis

import (
	"slices"
	"sync"

	"pourback/ingest/record"
)

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
		f.Margin.charge(h, watched(), stillToCome(h, watched(), f.Cracks, opt))
	}
	if len(opt.Topics) == 0 {
		f.Findings, f.FindingsSay = findings(h, f.answers(), opt)
	}
	return f, nil
}

// answers are what findings are looked for in.
func (f *Factors) answers() *Answers {
	return &Answers{First: f.First, Placements: f.Placements, RecordsToCheck: f.RecordsToCheck, Level: f.Level,
		Overage: f.Overage, Crews: f.Crews, Pump: f.Pump, Cracks: f.Cracks, Reinforcement: f.Reinforcement, Margin: f.Margin}
}
