package visits

import (
	"slices"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Visits is what happens after the pour: which slabs to go and look at, what
// was found, what customers called about, and what the warranty may still cost.
type Visits struct {
	DueBy       figure.Day          `json:"due_by"`
	Trips       []Trip              `json:"trips"`        // one a job that is worth a drive, the worthiest first
	PassBy      []PassBy            `json:"pass_by"`      // one a site that is not
	DriveCost   float64             `json:"drive_cost"`   // there and back; $
	TurnedBy    []figure.Lever      `json:"turned_by"`    // the two inputs that turn most easily how many sites are worth a drive
	PlannedFrom figure.Day          `json:"planned_from"` // the first planned look on record, or the data date: no visit was planned before
	Due         []DueVisit          `json:"due"`          // from the data date to the day asked about
	Overdue     []DueVisit          `json:"overdue"`      // planned before the data date, and nobody has looked since
	Done        []DoneVisit         `json:"done"`         // planned visits made in the last 30 days, the latest first
	Kept        KeptVisits          `json:"kept"`
	Risk        RiskModel           `json:"risk"`
	Findings    CracksSeen          `json:"findings"`
	Callbacks   Callbacks           `json:"callbacks"`
	Seen        SeenCracks          `json:"seen"`
	Early       EarlySigns          `json:"early_signs"`
	Warranty    Warranty            `json:"warranty"`
	Assumptions []figure.Assumption `json:"assumptions"`

	Slabs        int         `json:"-"` // on record
	ThisWeek     bool        `json:"-"` // DueBy is a week from the data date
	NobodyWent   bool        `json:"-"` // no visit is on record
	AtStake      float64     `json:"-"` // of all that is due or overdue, each slab once; $
	AheadDays    int         `json:"-"` // how far the chances of a callback look
	CallbackCost float64     `json:"-"` // of a crack callback; $
	LongOpen     int         `json:"-"` // callbacks open for more than LongOpenDays, which no trip goes to
	Calendar     Calendar    `json:"-"` // this month and the next
	Stories      []SlabStory `json:"-"` // of the slabs worth most, or of the one asked about
	WithStory    int         `json:"-"` // slabs that had a finding or a callback
	StoryAsked   string      `json:"-"` // JOB/PLACEMENT
	StoryNear    string      `json:"-"` // where that is not on record, the slab whose name comes nearest
}

// What the answers about visits assume, besides the cost of a callback.
const (
	WarrantyUnstated figure.Assumed = "warranty where unstated"
	UsualCallbacks   figure.Assumed = "usual callbacks"
	AheadDays        figure.Assumed = "days ahead"
	DriveCost        figure.Assumed = "drive there and back"
)

// Of answers from what is known of each slab since its pour. s are the slabs as
// the questions about cracks see them.
func Of(h *record.History, s *cracks.Slabs, opt setting.Options) *Visits {
	if s.Event != setting.EventCallback { // money is spent on callbacks
		called := opt
		called.Event = setting.EventCallback
		s = cracks.SlabsOf(h, called)
	}
	a := newAfter(h, s, opt)
	dueBy := opt.Visits.DueBy
	if dueBy == 0 {
		dueBy = h.AsOf + week
	}
	v := &Visits{DueBy: figure.Day{Date: dueBy}, ThisWeek: dueBy == h.AsOf+week, Slabs: h.Placements.Len(), NobodyWent: len(h.Visits) == 0,
		AheadDays: a.visits.AheadDays, CallbackCost: a.cost.Value, StoryAsked: opt.Visits.Slab}
	v.Risk = a.risk.model(opt.Level)
	v.Calendar = a.calendar()
	a.schedule(v, dueBy)
	v.AtStake = atStake(v.Due, v.Overdue)
	v.Findings = a.cracksSeen()
	v.Callbacks = a.callbacks()
	v.LongOpen = longOpen(v.Callbacks.Open)
	a.plan(v)
	if !opt.Visits.StoryAlone { // which takes longer than all else
		v.Seen = a.seenCracks()
	}
	v.Early = a.earlySigns()
	v.Warranty = a.warranty()
	v.Stories, v.WithStory = a.stories(opt.Visits.Slab)
	if v.StoryAsked != "" && len(v.Stories) == 0 {
		v.StoryNear = a.nearest(v.StoryAsked)
	}
	months, stated := cracks.WarrantyMonths(h)
	v.Assumptions = []figure.Assumption{
		{What: WarrantyUnstated, Value: float64(months), Unit: figure.Months, From: figure.WarrantyFrom(stated)},
		a.cost,
		{What: UsualCallbacks, Value: a.usual, Unit: figure.AYear, From: figure.Setting()},
		{What: AheadDays, Value: float64(a.visits.AheadDays), Unit: figure.Days, From: figure.Setting()},
		{What: DriveCost, Value: a.drive, Unit: figure.Dollar, From: figure.Setting()},
	}
	return v
}

// week is how many days ahead visits are listed unless another day is asked for.
const week = 7

// atStake adds up what visits are worth: each slab once, however many of its
// visits are listed.
func atStake(lists ...[]DueVisit) float64 {
	type slab struct{ job, placement string }
	counted, sum := map[slab]bool{}, 0.0
	for _, d := range slices.Concat(lists...) {
		if at := (slab{d.JobNo, d.Placement}); !counted[at] {
			counted[at] = true
			sum += d.Worth.Value
		}
	}
	return sum
}

// longOpen counts the callbacks that have been open for so long that no trip
// goes to them.
func longOpen(open []OpenCallback) int {
	n := 0
	for _, o := range open {
		n += int(cracks.Indicator(o.AgeDays > LongOpenDays))
	}
	return n
}
