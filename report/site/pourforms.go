package site

import (
	"slices"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/report/say"
)

// pourForm is a form of a pour: what it asks for, which rows of the records it writes, and
// how these are said.
type pourForm struct {
	what  string // the last part of its address, and the first word of its batch
	title func(say.Site) string
	table *record.Table
	later bool // it is for the days after the pour, when it stands first

	hides func(*pouring) bool                        // where it is of no use
	find  func(p *pouring, key string) record.Record // the row that is to be filled in further, nil where there is none
	view  func(a *Ask, p *pouring, r record.Record, f *formView)
	rows  func(s *sent) []ingest.EntryRow
	line  func(a *Ask, p *pouring) string // what of the placement itself is on record
	kept  func(s *sent, p *pouring, done ingest.Entered) string
}

// pourFormList are the forms in the order of the day.
var pourFormList []pourForm

func init() { // its functions look through it
	pourFormList = []pourForm{
		{what: "truck", title: say.Site.FormTruck, table: record.Loads, find: findTruck, view: viewTruck, rows: truckRows, kept: truckKept},
		{what: "clog", title: say.Site.FormClog, table: record.Delays, hides: func(p *pouring) bool { return !p.pumps() }, find: findDelay, view: viewClog, rows: delayRows, kept: delayKept},
		{what: "weather", title: say.Site.FormWeather, table: record.Placements, view: viewWeather, rows: weatherRows, line: weatherLine, kept: weatherKept},
		{what: "delay", title: say.Site.FormDelay, table: record.Delays, find: findDelay, view: viewDelay, rows: delayRows, kept: delayKept},
		{what: "leftover", title: say.Site.FormLeftover, table: record.Placements, view: viewLeftover, rows: leftoverRows, line: leftoverLine},
		{what: "probes", title: say.Site.FormProbes, table: record.Placements, view: viewProbes, rows: probeRows, line: probesLine},
		{what: "hours", title: say.Site.FormHours, table: record.Labors, find: findHours, view: viewHours, rows: hourRows, kept: hoursKept},
		{what: "saw", title: say.Site.FormSaw, table: record.Placements, later: true, view: viewSaw, rows: sawRows, line: sawLine, kept: sawKept},
		{what: "curing", title: say.Site.FormCuring, table: record.Placements, later: true, view: viewCuring, rows: curingRows, line: curingLine},
		{what: "note", title: say.Site.FormNote, table: record.Placements, view: viewNote, rows: noteRows},
	}
}

// pourFormOf is the form of an address, nil where there is none.
func pourFormOf(what string) *pourForm {
	at := slices.IndexFunc(pourFormList, func(f pourForm) bool { return f.what == what })
	if at < 0 {
		return nil
	}
	return &pourFormList[at]
}

// pourForms are the forms of a pour, those for the days after it first once it is
// yesterday's; one that could not be taken in place of its own.
func (a *Ask) pourForms(p *pouring, again *formView) (forms []formView) {
	today := a.Today()
	list := slices.Clone(pourFormList)
	if p.Is != nil && p.Is.PlacedOn < today {
		slices.SortStableFunc(list, func(x, y pourForm) int {
			switch {
			case x.later == y.later:
				return 0
			case x.later:
				return -1
			}
			return 1
		})
	}
	for i := range list {
		f := &list[i]
		switch {
		case again != nil && again.What == f.what:
			forms = append(forms, *again)
		case f.hides == nil || !f.hides(p):
			forms = append(forms, *a.viewForm(f, p, a.URL.Query().Get(f.what)))
		}
		if f.what == clogCause && p.Plan != nil {
			forms = append(forms, formView{What: "last-load", Title: a.Say.LastLoad(), Leads: pourPath(p.Job) + "/last-load"})
		}
	}
	if again != nil && again.What == pictureForm {
		forms = append(forms, *again)
	} else if !plannedLater(p, today) {
		forms = append(forms, *a.picturesForm(p))
	}
	begin := a.beginForm(p.Job)
	if again != nil && again.What == begin.What {
		begin = again
	}
	return append(forms, *begin)
}

// viewForm is a form of a pour, filled in with the row of a key, if there is one.
func (a *Ask) viewForm(f *pourForm, p *pouring, key string) *formView {
	v := &formView{What: f.what, Title: f.title(a.Say), Act: pourPath(p.Job) + "/" + f.what, Keep: a.Say.KeepIt(), Hidden: [][2]string{{"part", p.Name}}}
	var r record.Record
	if f.table == record.Placements {
		r = p.onlyRecorded()
	} else if key != "" && f.find != nil {
		r = f.find(p, key)
	}
	v.Open = a.URL.Query().Get("open") == f.what
	if r != nil && f.table != record.Placements {
		v.Open = true
		v.Hidden = append(v.Hidden, [2]string{"row", key})
	}
	if r == nil {
		r = f.table.New()
	}
	f.view(a, p, r, v)
	v.named()
	return v
}

// onlyRecorded is the placement as it is on record, empty before its first entry.
func (p *pouring) onlyRecorded() *record.Placement {
	if p.Is == nil {
		return &record.Placement{}
	}
	return p.Is
}

func (v *formView) add(fields ...fieldView) { v.Fields = append(v.Fields, fields...) }

// Of each form: what it asks for.

func findTruck(p *pouring, ticket string) record.Record {
	for _, l := range p.Loads {
		if l.TicketNo == ticket {
			return l
		}
	}
	return nil
}

func viewTruck(a *Ask, p *pouring, r record.Record, v *formView) {
	l := r.(*record.Load)
	if l.TicketNo != "" {
		v.Title = a.Say.FormAgain(v.Title, l.TicketNo)
		v.Hidden = append(v.Hidden, [2]string{"ticket_no", l.TicketNo})
	} else {
		v.add(a.textField(record.Loads.Column("ticket_no")))
	}
	for i, column := range []string{"yards", "arrived_at", "batched_at", "pour_start", "pour_end", "slump_in", "water_added_gal", "concrete_temp_f"} {
		f := a.field(l, column)
		f.More = i > 2
		v.add(f)
	}
	v.Fold = a.Say.TruckMore()
	limit, source := say.PourDay{Bid: say.Bid{Voice: a.Say.Voice}}.TruckTime()
	v.Below = []string{limit + " (" + source + ")"}
}

func findDelay(p *pouring, seq string) record.Record {
	for _, d := range p.Delays {
		if record.FieldText(&d.Seq) == seq {
			return d
		}
	}
	return nil
}

func viewClog(a *Ask, p *pouring, r record.Record, v *formView) {
	v.Top = []string{a.Say.Caution(say.PluggedHose) + " (" + a.Say.HazardSource(say.PluggedHose) + ")"}
	a.viewStop(r.(*record.Delay), v)
	v.add(a.field(r, "spot"), a.field(r, "note"))
}

func viewDelay(a *Ask, p *pouring, r record.Record, v *formView) {
	cause := a.field(r, "cause")
	cause.Options = slices.DeleteFunc(cause.Options, func(o chooseOption) bool { return o.Value == "" || o.Value == clogCause })
	v.add(cause)
	a.viewStop(r.(*record.Delay), v)
	v.add(a.field(r, "note"))
}

// clogCause is the cause of a delay that has a form of its own.
const clogCause = "clog"

func (a *Ask) viewStop(d *record.Delay, v *formView) {
	if d.Seq.OK {
		v.Hidden = append(v.Hidden, [2]string{"seq", record.FieldText(&d.Seq)})
	}
	minutes := a.field(d, "minutes")
	minutes.Label = a.Say.EntryField(&record.Column{Name: "or_minutes"})
	v.add(a.field(d, "started_at"), a.timeField("stopped_at"), minutes)
}

func viewWeather(a *Ask, p *pouring, r record.Record, v *formView) {
	for _, column := range []string{"air_temp_f", "concrete_temp_f", "humidity_pct", "wind_mph"} {
		v.add(a.field(r, column))
	}
	v.Fields[3].Hint = a.Say.WindHint()
}

func viewLeftover(a *Ask, p *pouring, r record.Record, v *formView) {
	v.add(a.field(r, "leftover_yd"), a.textField(&record.Column{Name: "where"}))
}

// mostProbes is how many probes a form has room for.
const mostProbes = 6

func viewProbes(a *Ask, p *pouring, r record.Record, v *formView) {
	f := a.plainField(&record.Column{Name: "probe", Unit: record.Inch}, "several")
	f.Values = make([]string, mostProbes)
	v.add(f)
	is := r.(*record.Placement)
	v.Hidden = append(v.Hidden, [2]string{"was.measured_thickness_in", record.FieldText(&is.MeasuredThicknessIn)})
	if line := probesLine(a, p); line != "" {
		v.Top = []string{line}
	}
}

func findHours(p *pouring, key string) record.Record {
	for _, l := range p.Hours {
		if l.WorkedOn.String()+" "+l.Task == key {
			return l
		}
	}
	return nil
}

func viewHours(a *Ask, p *pouring, r record.Record, v *formView) {
	l := r.(*record.Labor)
	if p.As().AirTempF.Or(0) >= hotF {
		v.Top = []string{a.Say.Caution(say.HeatIllness) + " (" + a.Say.HazardSource(say.HeatIllness) + ")"}
	}
	if l.Task != "" {
		v.Title = a.Say.FormAgain(v.Title, a.Say.Word(l.Task))
		v.Hidden = append(v.Hidden, [2]string{"task", l.Task}, [2]string{"worked_on", l.WorkedOn.String()})
	} else {
		day := a.plainField(record.Labors.Column("worked_on"), "date")
		day.Value = a.Today().String()
		v.add(day, a.wordField(record.Labors.Column("task"), ""))
	}
	v.add(a.numberField(&record.Column{Name: "people"}), a.numberField(&record.Column{Name: "each"}))
	hours := a.field(l, "hours")
	hours.Label, hours.Kind, hours.Hint = a.Say.EntryField(&record.Column{Name: "by_person"}), "text", a.Say.LikeHours()
	v.add(hours)
}

// hotF is the air from which heat is spoken of, in °F (the initial heat trigger of OSHA's
// proposed rule of 2024, from memory).
const hotF = 80

func viewSaw(a *Ask, p *pouring, r record.Record, v *formView) {
	v.Top = []string{a.Say.Caution(say.SilicaDust) + " (" + a.Say.HazardSource(say.SilicaDust) + ")"}
	is := r.(*record.Placement)
	day := a.plainField(&record.Column{Name: "saw_on"}, "date")
	day.Value = a.Today().String()
	finished := a.timeField("finished_at")
	finished.Hint = a.Say.FinishedHint(p.lastEnd())
	v.add(a.field(is, "joint_cut"), a.field(is, "joint_depth_in"), a.timeField("saw_at"), day, finished)
	v.Hidden = append(v.Hidden, [2]string{"was.saw_hours", record.FieldText(&is.SawHours)})
}

func viewCuring(a *Ask, p *pouring, r record.Record, v *formView) { v.add(a.field(r, "curing")) }

func viewNote(a *Ask, p *pouring, r record.Record, v *formView) {
	v.add(a.plainField(&record.Column{Name: "note"}, "long"))
}

// said are sentences, one behind the other.
func sentencesOf(parts ...string) string {
	return strings.Join(slices.DeleteFunc(parts, func(s string) bool { return s == "" }), " ")
}
