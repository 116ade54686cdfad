package visits

import (
	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Visits is what happens after the pour: which slabs to go and look at, what
// was found, what customers called about, and what the warranty may still cost.
type Visits struct {
	Answer      string              `json:"answer"`
	DueBy       string              `json:"due_by"`
	Trips       []Trip              `json:"trips"`   // one a job, the worthiest first
	Due         []DueVisit          `json:"due"`     // from the data date to the day asked about
	Overdue     []DueVisit          `json:"overdue"` // planned before the data date, and nobody has looked since
	Done        []DoneVisit         `json:"done"`    // planned visits made in the last 30 days, the latest first
	Kept        KeptVisits          `json:"kept"`
	Risk        RiskModel           `json:"risk"`
	Findings    CracksSeen          `json:"findings"`
	Callbacks   Callbacks           `json:"callbacks"`
	Seen        SeenCracks          `json:"seen"`
	Early       EarlySigns          `json:"early_signs"`
	Warranty    Warranty            `json:"warranty"`
	Assumptions []figure.Assumption `json:"assumptions"`
	Notes       []string            `json:"notes"`

	Stories    []SlabStory `json:"-"` // of the slabs worth most, or of the one asked about
	WithStory  int         `json:"-"` // slabs that had a finding or a callback
	StoryAsked string      `json:"-"` // JOB/PLACEMENT
	StoryNear  string      `json:"-"` // where that is not on record, the slab whose name comes nearest
}

// visits answers from what is known of each slab since its pour. s are the
// slabs as the questions about cracks see them.
func Of(h *record.History, s *cracks.Slabs, opt setting.Options) *Visits {
	if s.Event != setting.EventCallback { // money is spent on callbacks
		called := opt
		called.Event = setting.EventCallback
		s = cracks.SlabsOf(h, called)
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
	months, stated := cracks.WarrantyMonths(h)
	v.Assumptions = []figure.Assumption{
		{Name: "warranty where a job states none", Value: float64(months), Unit: "months", From: figure.FromJobs(stated)},
		a.cost,
		{Name: "callbacks of a placement before the records speak", Value: a.usual, Unit: "a year", From: "setting"},
		{Name: "how far ahead the worth of a visit looks", Value: float64(a.plan.AheadDays), Unit: "days", From: "setting"},
	}
	v.conclude(a)
	return v
}
