package analysis

import (
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// Visits is what happens after the pour: which slabs to go and look at, what
// was found, what customers called about, and what the warranty may still cost.
type Visits struct {
	Answer      string       `json:"answer"`
	DueBy       string       `json:"due_by"`
	Trips       []Trip       `json:"trips"`   // one a job, the worthiest first
	Due         []DueVisit   `json:"due"`     // from the data date to the day asked about
	Overdue     []DueVisit   `json:"overdue"` // planned before the data date, and nobody has looked since
	Done        []DoneVisit  `json:"done"`    // planned visits made in the last 30 days, the latest first
	Kept        KeptVisits   `json:"kept"`
	Risk        RiskModel    `json:"risk"`
	Findings    CracksSeen   `json:"findings"`
	Callbacks   Callbacks    `json:"callbacks"`
	Seen        SeenCracks   `json:"seen"`
	Early       EarlySigns   `json:"early_signs"`
	Warranty    Warranty     `json:"warranty"`
	Assumptions []Assumption `json:"assumptions"`
	Notes       []string     `json:"notes"`

	Stories    []SlabStory `json:"-"` // of the slabs worth most, or of the one asked about
	WithStory  int         `json:"-"` // slabs that had a finding or a callback
	StoryAsked string      `json:"-"` // JOB/PLACEMENT
	StoryNear  string      `json:"-"` // where that is not on record, the slab whose name comes nearest
}

// VisitOptions are what the owner may ask about visits.
type VisitOptions struct {
	Asked bool        // answer them beside the other topics
	Plan  VisitPlan   // DefaultVisitPlan where zero
	DueBy record.Date // the last day to look ahead to; a week after the data date where 0
	Slab  string      // JOB/PLACEMENT whose story is to be told; the worthiest where ""

	NoSites bool // name no site anywhere, and show no note, which may name anybody
}

// VisitPlan is when finished slabs are looked at, in days after the pour. The
// end of each slab's warranty is always among them.
type VisitPlan struct {
	Days      []int   `mapstructure:"days"`       // of every slab
	ExtraDays []int   `mapstructure:"extra_days"` // further ones of hot pours, and of slabs whose risk is high
	HotAirF   float64 `mapstructure:"hot_air_f"`  // air from which a pour is hot, however slowly it dried
	HighRisk  float64 `mapstructure:"high_risk"`  // times the usual risk from which it is high
	AheadDays int     `mapstructure:"ahead_days"` // how far ahead the worth of a visit looks
}

// DefaultVisitPlan is common practice, no published source.
func DefaultVisitPlan() VisitPlan {
	return VisitPlan{Days: []int{1, 7, 28, 180, 365}, ExtraDays: []int{3, 14, 90}, HotAirF: 90, HighRisk: 2, AheadDays: 90}
}

// mostVisitDays bounds a plan: ten years, and so many visits a slab.
const (
	mostVisitDays = 3653
	mostVisits    = 50
)

func (o VisitOptions) complete() (VisitOptions, error) {
	p := &o.Plan
	if p.Days == nil && p.ExtraDays == nil && p.HotAirF == 0 && p.HighRisk == 0 && p.AheadDays == 0 {
		*p = DefaultVisitPlan()
	}
	for name, days := range map[string][]int{"days": p.Days, "extra_days": p.ExtraDays} {
		if len(days) > mostVisits || slices.ContainsFunc(days, func(d int) bool { return d < 0 || d > mostVisitDays }) {
			return o, fmt.Errorf("visits: %s %v: want at most %d days from 0 to %d after the pour", name, days, mostVisits, mostVisitDays)
		}
	}
	if !(p.HighRisk > 1 && p.HighRisk < 1000) {
		return o, fmt.Errorf("visits: high_risk %v: want times the usual risk, such as 2", p.HighRisk)
	}
	if !(p.HotAirF > -100 && p.HotAirF < 200) {
		return o, fmt.Errorf("visits: hot_air_f %v: want an air temperature such as 90", p.HotAirF)
	}
	if p.AheadDays < 1 || p.AheadDays > mostVisitDays {
		return o, fmt.Errorf("visits: ahead_days %d: want 1 to %d", p.AheadDays, mostVisitDays)
	}
	if o.Slab != "" && !strings.Contains(o.Slab, "/") {
		return o, fmt.Errorf("slab %q: want a job and a placement, such as J-104/A", o.Slab)
	}
	return o, nil
}

// visits answers from what is known of each slab since its pour. s are the
// slabs as the questions about cracks see them.
func visits(h *record.History, s *slabs, opt Options) *Visits {
	if s.event != EventCallback { // money is spent on callbacks
		called := opt
		called.Event = EventCallback
		s = slabsOf(h, called)
	}
	a := newAfter(h, s, opt)
	dueBy := opt.Visits.DueBy
	if dueBy == 0 {
		dueBy = h.AsOf + 7
	}
	v := &Visits{DueBy: dueBy.String(), Notes: []string{}, StoryAsked: opt.Visits.Slab}
	v.Risk = a.risk.model(opt.Level)
	a.schedule(v, dueBy)
	v.Findings = a.cracksSeen()
	v.Callbacks = a.callbacks()
	v.Trips = a.trips(v)
	v.Seen = a.seenCracks()
	v.Early = a.earlySigns()
	v.Warranty = a.warranty()
	v.Stories, v.WithStory = a.stories(opt.Visits.Slab)
	if v.StoryAsked != "" && len(v.Stories) == 0 {
		v.StoryNear = a.nearest(v.StoryAsked)
	}
	months, stated := warrantyMonths(h)
	v.Assumptions = []Assumption{
		{"warranty where a job states none", float64(months), "months", fromJobs(stated)},
		a.cost,
		{"callbacks of a placement before the records speak", a.usual, "a year", "setting"},
		{"how far ahead the worth of a visit looks", float64(a.plan.AheadDays), "days", "setting"},
	}
	v.conclude(a)
	return v
}
