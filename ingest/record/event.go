package record

import "strconv"

var (
	jobNoWords     = []string{"job", "job number", "job id", "job #"}
	placementWords = []string{"pour", "pour no", "section", "slab"}
	noteWords      = []string{"notes", "comment", "comments", "remarks"}
)

// eventKeys are the columns that say which placement an event belongs to. An
// empty placement is the job's only one.
func eventKeys(more ...Column) []Column {
	return append([]Column{
		{Name: "job_no", Key: true, Required: true, MaxChars: 40, Synonyms: jobNoWords, Doc: "the job's number"},
		{Name: "placement", Key: true, MaxChars: 40, Synonyms: placementWords, Doc: "which placement of the job; may be empty where it has only one"},
	}, more...)
}

// Load is one truck's delivery.
type Load struct {
	JobNo, Placement, TicketNo string

	Yards         Number
	BatchedAt     Moment
	ArrivedAt     Moment
	PourStart     Moment
	PourEnd       Moment
	SlumpIn       Number
	ConcreteTempF Number
	WaterAddedGal Number
	Note          string
}

// Loads is the table of [Load].
var Loads = &Table{
	Name:     "loads",
	Synonyms: []string{"load", "tickets", "trucks", "deliveries"},
	New:      func() Record { return &Load{} },
	Doc:      "One row per truck load. A load split between two placements has one row for each.",
	Columns: eventKeys( // ends of ranges: common practice, no published source
		Column{Name: "ticket_no", Key: true, Required: true, MaxChars: 40, Synonyms: []string{"ticket", "ticket number", "ticket #"}, Doc: "delivery ticket"},
		Column{Name: "yards", Kind: KindNumber, Unit: CubicYard, Required: true, Hard: above(0, 100), Soft: between(0, 12), Synonyms: []string{"yd", "load yd", "cubic yards", "volume"}, Doc: "volume delivered"},
		Column{Name: "batched_at", Kind: KindMoment, Synonyms: []string{"batched", "batch time"}, Doc: "when it was batched"},
		Column{Name: "arrived_at", Kind: KindMoment, Synonyms: []string{"arrived", "arrival time"}, Doc: "when it arrived"},
		Column{Name: "pour_start", Kind: KindMoment, Synonyms: []string{"start", "discharge start"}, Doc: "when discharge began"},
		Column{Name: "pour_end", Kind: KindMoment, Synonyms: []string{"end", "discharge end"}, Doc: "when discharge ended"},
		Column{Name: "slump_in", Kind: KindNumber, Unit: Inch, Hard: between(0, 12), Soft: between(1, 10), Synonyms: []string{"slump"}, Doc: "slump"},
		Column{Name: "concrete_temp_f", Kind: KindNumber, Unit: Fahrenheit, Hard: between(20, 150), Soft: between(40, 110), Synonyms: []string{"concrete temp"}, Doc: "concrete, at discharge"},
		Column{Name: "water_added_gal", Kind: KindNumber, Unit: Gallon, Hard: between(0, 500), Soft: between(0, 50), Synonyms: []string{"water added", "added water gal"}, Doc: "water added on site"},
		Column{Name: "note", Synonyms: noteWords, Doc: "anything else"},
	),
}

// Table is [Loads].
func (l *Load) Table() *Table { return Loads }

// Fields points at the values in the order of the table's columns.
func (l *Load) Fields() []any {
	return []any{&l.JobNo, &l.Placement, &l.TicketNo, &l.Yards, &l.BatchedAt, &l.ArrivedAt, &l.PourStart, &l.PourEnd,
		&l.SlumpIn, &l.ConcreteTempF, &l.WaterAddedGal, &l.Note}
}

// Discharge is the minutes from batching to the end of discharge (or its
// start, where no end is recorded).
func (l *Load) Discharge() Number {
	end := l.PourEnd
	if end == 0 {
		end = l.PourStart
	}
	if l.BatchedAt == 0 || end == 0 {
		return Number{}
	}
	return Some(float64(end-l.BatchedAt) / 60)
}

// Check finds times out of order, in the future, or too far apart.
func (l *Load) Check(today Date) []Problem {
	var c checks
	times := []struct {
		name string
		at   Moment
	}{{"batched_at", l.BatchedAt}, {"arrived_at", l.ArrivedAt}, {"pour_start", l.PourStart}, {"pour_end", l.PourEnd}}
	last := -1
	for i, t := range times {
		if t.at == 0 {
			continue
		}
		if t.at.Date() > today {
			c.fail("future-load", t.name, t.at.String(), "a load in the future", "today is "+today.String())
		}
		if last >= 0 && t.at < times[last].at {
			c.fail("times-out-of-order", t.name, t.at.String(), "before "+times[last].name+" "+times[last].at.String(), "a later time")
		}
		last = i
	}
	// Beyond the 90 minutes of ASTM C94 (older edition): common practice, no published source.
	if d := l.Discharge(); d.OK && d.V > 120 {
		c.warn("over-time-limit", "pour_end", strconv.Itoa(int(d.V))+" min", "over 120 minutes from batching to discharge", "check the times, or the concrete")
	}
	return c.found
}

// Delay is one stretch of time lost.
type Delay struct {
	JobNo, Placement string

	Seq       Count // counted where missing
	Cause     string
	StartedAt Moment
	Spot      string // where a clog sat
	Minutes   Count
	Note      string
}

// Delays is the table of [Delay].
var Delays = &Table{
	Name:     "delays",
	Synonyms: []string{"delay", "delay log", "clogs", "stoppages"},
	New:      func() Record { return &Delay{} },
	Doc:      "One row per delay or clog.",
	Columns: eventKeys( // ends of ranges: common practice, no published source
		Column{Name: "seq", Kind: KindCount, Key: true, Hard: between(1, 1e6), Synonyms: []string{"no", "number", "#"}, Doc: "number of the delay within its placement; counted where missing"},
		Column{Name: "cause", Kind: KindWord, Words: delayCauses, Required: true, Synonyms: []string{"reason"}, Doc: "what caused it"},
		Column{Name: "started_at", Kind: KindMoment, Later: true, Synonyms: []string{"started", "start", "began"}, Doc: "when it began"},
		Column{Name: "spot", Kind: KindWord, Words: clogSpots, Synonyms: []string{"where", "clog spot"}, Doc: "where a clog sat"},
		Column{Name: "minutes", Kind: KindCount, Unit: Minute, Required: true, Hard: between(0, 20000), Soft: between(0, 600), Synonyms: []string{"min", "duration", "minutes lost"}, Doc: "minutes lost"},
		Column{Name: "note", Synonyms: noteWords, Doc: "anything else"},
	),
}

// Table is [Delays].
func (d *Delay) Table() *Table { return Delays }

// Fields points at the values in the order of the table's columns.
func (d *Delay) Fields() []any {
	return []any{&d.JobNo, &d.Placement, &d.Seq, &d.Cause, &d.StartedAt, &d.Spot, &d.Minutes, &d.Note}
}

// Check finds a spot given for what is no clog.
func (d *Delay) Check(Date) []Problem {
	var c checks
	if d.Spot != "" && d.Cause != "clog" && d.Cause != "" {
		c.warn("spot-without-clog", "spot", d.Spot, "a spot is for clogs, and the cause is "+d.Cause, "cause clog, or no spot")
	}
	return c.found
}

// Labor is the hours of one task on one day.
type Labor struct {
	JobNo, Placement string

	WorkedOn Date
	Crew     string
	Task     string
	Hours    Number // person-hours
	Rate     Money  // per hour
}

// Labors is the table of [Labor].
var Labors = &Table{
	Name:     "labor",
	Synonyms: []string{"labour", "hours", "time sheet", "timesheet", "time"},
	New:      func() Record { return &Labor{} },
	Doc:      "One row per placement, day and task.",
	Columns: eventKeys( // ends of ranges: common practice, no published source
		Column{Name: "worked_on", Kind: KindDate, Key: true, Required: true, Synonyms: []string{"date", "day", "work date"}, Doc: "day of the work"},
		Column{Name: "crew", Synonyms: []string{"crew name"}, Doc: "which crew"},
		Column{Name: "task", Kind: KindWord, Words: tasks, Key: true, Required: true, Synonyms: []string{"activity"}, Doc: "what was done"},
		Column{Name: "hours", Kind: KindNumber, Unit: Hour, Required: true, Hard: between(0, 10000), Soft: between(0, 200), Synonyms: []string{"labor hours", "person hours", "man hours"}, Doc: "person-hours"},
		Column{Name: "rate", Kind: KindMoney, Hard: atLeast(0), Synonyms: []string{"hourly rate", "rate per hour"}, Doc: "cost of an hour"},
	),
}

// Table is [Labors].
func (l *Labor) Table() *Table { return Labors }

// Fields points at the values in the order of the table's columns.
func (l *Labor) Fields() []any {
	return []any{&l.JobNo, &l.Placement, &l.WorkedOn, &l.Crew, &l.Task, &l.Hours, &l.Rate}
}

// Check finds work in the future.
func (l *Labor) Check(today Date) []Problem {
	var c checks
	if l.WorkedOn > today {
		c.fail("future-work", "worked_on", l.WorkedOn.String(), "work in the future", "today is "+today.String())
	}
	return c.found
}

// Visit is one look at a finished placement.
type Visit struct {
	JobNo, Placement string

	SeenOn     Date
	Why        string // planned or callback
	Finding    string
	CrackKind  string
	AtJoint    Flag
	WidthIn    Number
	LengthFt   Number
	Cost       Money
	LaborHours Number
	ResolvedOn Date
	SpotX      Number // where on the slab's drawing, from its left
	SpotY      Number // and from its top
	Note       string
}

// Visits is the table of [Visit].
var Visits = &Table{
	Name:     "visits",
	Synonyms: []string{"visit", "callbacks", "inspections", "follow ups"},
	New:      func() Record { return &Visit{} },
	Doc:      "One row per look at a finished placement, planned or called for.",
	Columns: eventKeys( // ends of ranges: common practice, no published source
		Column{Name: "seen_on", Kind: KindDate, Key: true, Required: true, Synonyms: []string{"date", "visit date", "seen"}, Doc: "day of the visit"},
		Column{Name: "why", Kind: KindWord, Words: visitReasons, Required: true, Synonyms: []string{"reason"}, Doc: "planned, or called back"},
		Column{Name: "finding", Kind: KindWord, Words: visitFindings, Required: true, Synonyms: []string{"found", "condition"}, Doc: "what was seen"},
		Column{Name: "crack_kind", Kind: KindWord, Words: crackKinds, Synonyms: []string{"crack type"}, Doc: "what kind of crack"},
		Column{Name: "at_joint", Kind: KindFlag, Doc: "whether the crack runs in a joint"},
		Column{Name: "width_in", Kind: KindNumber, Unit: Inch, Hard: between(0, 2), Soft: between(0, 0.5), Synonyms: []string{"crack width in", "width"}, Doc: "widest opening of the crack"},
		Column{Name: "length_ft", Kind: KindNumber, Unit: Foot, Hard: between(0, 10000), Synonyms: []string{"crack length ft", "length"}, Doc: "length of the crack"},
		Column{Name: "cost", Kind: KindMoney, Hard: atLeast(0), Synonyms: []string{"visit cost"}, Doc: "what the visit and its repair cost"},
		Column{Name: "labor_hours", Kind: KindNumber, Unit: Hour, Hard: between(0, 10000), Synonyms: []string{"hours"}, Doc: "person-hours"},
		Column{Name: "resolved_on", Kind: KindDate, Synonyms: []string{"closed on", "resolved"}, Doc: "day the callback was closed"},
		Column{Name: "spot_x", Kind: KindNumber, Later: true, Hard: between(0, 1), Doc: "where on the slab's drawing, as a share of its width from the left"},
		Column{Name: "spot_y", Kind: KindNumber, Later: true, Hard: between(0, 1), Doc: "where on the slab's drawing, as a share of its height from the top"},
		Column{Name: "note", Synonyms: noteWords, Doc: "anything else"},
	),
}

// Table is [Visits].
func (v *Visit) Table() *Table { return Visits }

// Fields points at the values in the order of the table's columns.
func (v *Visit) Fields() []any {
	return []any{&v.JobNo, &v.Placement, &v.SeenOn, &v.Why, &v.Finding, &v.CrackKind, &v.AtJoint, &v.WidthIn, &v.LengthFt,
		&v.Cost, &v.LaborHours, &v.ResolvedOn, &v.SpotX, &v.SpotY, &v.Note}
}

// Callback says whether the customer called for the visit.
func (v *Visit) Callback() bool { return v.Why == "callback" }

// Check applies the rules that span columns of one visit.
func (v *Visit) Check(today Date) []Problem {
	var c checks
	if v.SeenOn > today {
		c.fail("future-visit", "seen_on", v.SeenOn.String(), "a visit in the future", "today is "+today.String())
	}
	if v.ResolvedOn != 0 && v.ResolvedOn < v.SeenOn {
		c.fail("resolved-before-seen", "resolved_on", v.ResolvedOn.String(), "closed before it was opened on "+v.SeenOn.String(), "a later day")
	}
	if v.Finding != "" && v.Finding != "crack" && (v.CrackKind != "" || v.WidthIn.Or(0) > 0) {
		c.warn("crack-without-finding", "finding", v.Finding, "a crack is described but the finding is "+v.Finding, "finding crack, or no crack")
	}
	return c.found
}
