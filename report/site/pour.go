package site

import (
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/report/say"
)

// pouring is a placement of a job on its day: as it is on record, and as its bid has it.
type pouring struct {
	Job, Name string
	Is        *record.Placement // nil before its first entry
	Plan      *plan             // nil where no bid is for it
	Part      int               // of the bid, -1 where it is none of its placements
	Loads     []*record.Load
	Delays    []*record.Delay
	Hours     []*record.Labor
}

// pouredTables are what the crew writes.
var pouredTables = []*record.Table{record.Placements, record.Loads, record.Delays, record.Labors}

// pourings are the placements of a job: those of its bid first, in its order, and those
// that were started beside it. Those of another crew are not for who asks.
func (a *Ask) pourings(job string) ([]*pouring, error) {
	rows, err := a.Store().RecordsOf(a.Context(), job, pouredTables...)
	if err != nil {
		return nil, err
	}
	by, err := a.planOf(job)
	if err != nil {
		return nil, err
	}
	all := pouringsOf(job, by, rows)
	some := len(all) > 0
	all = slices.DeleteFunc(all, func(p *pouring) bool { return p.Is != nil && !a.sees(p.Is.Crew) })
	if some && len(all) == 0 { // another crew's is as good as none
		return nil, noPour()
	}
	return all, nil
}

func pouringsOf(job string, by *plan, rows []record.Record) (all []*pouring) {
	if by != nil {
		for i := range by.Bid.Placements {
			all = append(all, &pouring{Job: job, Name: by.Bid.Placements[i].Name, Plan: by, Part: i})
		}
	}
	at := func(name string) *pouring {
		i := slices.IndexFunc(all, func(p *pouring) bool { return p.Name == name })
		if i < 0 {
			return nil
		}
		return all[i]
	}
	for _, r := range rows {
		switch r := r.(type) {
		case *record.Placement:
			if at(r.Placement) == nil {
				all = append(all, &pouring{Job: job, Name: r.Placement, Plan: by, Part: -1})
			}
			at(r.Placement).Is = r
		case record.Event:
			_, name := r.Place()
			p := at(*name)
			if *name == "" && len(all) > 0 {
				p = all[0] // the job's only one
			}
			p.add(r)
		}
	}
	return all
}

// add adds an event; nothing for one of a placement that nobody knows.
func (p *pouring) add(r record.Record) {
	switch r := r.(type) {
	case *record.Load:
		if p != nil {
			p.Loads = append(p.Loads, r)
		}
	case *record.Delay:
		if p != nil {
			p.Delays = append(p.Delays, r)
		}
	case *record.Labor:
		if p != nil {
			p.Hours = append(p.Hours, r)
		}
	}
}

// As is the placement as it is known: on record, or by its bid.
func (p *pouring) As() *record.Placement {
	if p.Is != nil {
		return p.Is
	}
	return p.byPlan()
}

// placed is how much is placed: what trucks brought, less what was left over.
func (p *pouring) placed() (yd float64) {
	for _, l := range p.Loads {
		yd += l.Yards.Or(0)
	}
	return max(0, yd-p.As().LeftoverYd.Or(0))
}

// isPlaced says whether what came is known to be in place: each truck is empty, or what
// was left over is on record.
func (p *pouring) isPlaced() bool {
	return p.As().LeftoverYd.OK || !slices.ContainsFunc(p.Loads, func(l *record.Load) bool { return l.PourEnd == 0 })
}

func (p *pouring) clogs() (n int) {
	for _, d := range p.Delays {
		if d.Cause == "clog" {
			n++
		}
	}
	return n
}

// pumps says whether it is pumped, or may be for all that is known.
func (p *pouring) pumps() bool { return p.As().Method == "" || p.As().Pumped() }

// lastEnd is when the last load was empty, as far as it is known.
func (p *pouring) lastEnd() (last record.Moment) {
	for _, l := range p.Loads {
		last = max(last, l.PourEnd)
	}
	return last
}

func (a *Ask) soFar(p *pouring) string {
	return a.Say.PourSoFar(p.placed(), p.isPlaced(), p.As().PlannedYd, len(p.Loads), p.clogs())
}

// partPath is the page of a placement of a job.
func partPath(job, placement string) string {
	return pourPath(job) + "?part=" + url.QueryEscape(placement)
}

func pourPath(job string) string { return "/pour/" + url.PathEscape(job) }

// pourView is a pour as a phone shows it: how far it is, and a big button for each thing
// that may be said of it.
type pourView struct {
	SoFar    string
	Where    string // the bid's name and where that is, the day and the size
	Writes   bool
	Parts    []partLink
	Stamps   []stampView
	Next     []stampView // of a truck that still waits on the phone, by their columns; its ticket is anyTicket
	Forms    []formView
	Refused  string // the form that could not be taken
	On       []onRecord
	Pictures []pictureView
	Plan     *plan
	Care     []string
}

type partLink struct{ Name, Href, Current string }

// stampView notes the next time of a truck by one tap.
type stampView struct{ Act, Part, Ticket, Column, Text string }

// onRecord is a line of what is on record, with where it can be filled in further.
type onRecord struct{ Says, Href string }

// pourPage is where the code on a pour-day sheet leads: how far a pour is, and the forms
// for what happens at it.
func pourPage(a *Ask) error {
	all, err := a.pourings(a.PathValue("job"))
	if err != nil {
		return err
	}
	return a.showPour(http.StatusOK, all, a.partOf(all, a.URL.Query().Get("part")), nil)
}

// partOf is the placement that is looked at: the one that is asked for, else the first
// that is not done; nil where there is none.
func (a *Ask) partOf(all []*pouring, name string) *pouring {
	for _, p := range all {
		if p.Name == name && name != "" {
			return p
		}
	}
	if len(all) == 0 {
		return nil
	}
	today := a.Today()
	for _, p := range all {
		if p.Is == nil || p.Is.PlacedOn == today {
			return p
		}
	}
	return all[0]
}

// showPour shows a pour, with a form that could not be taken as it was sent.
func (a *Ask) showPour(status int, all []*pouring, p *pouring, again *formView) error {
	if p == nil {
		return a.showUnknown(status, again)
	}
	is := p.As()
	v := pourView{SoFar: a.soFar(p), Where: a.where(p), Writes: a.Who.Role&Crews != 0, On: a.onRecord(p), Plan: p.Plan}
	var err error
	if v.Pictures, err = a.pourPictures(p); err != nil {
		return err
	}
	if again != nil {
		v.Refused = again.What
	}
	for _, other := range all {
		link := partLink{Name: a.partName(other), Href: partPath(p.Job, other.Name)}
		if other == p {
			link.Current = "page"
		}
		if len(all) > 1 {
			v.Parts = append(v.Parts, link)
		}
	}
	if v.Writes {
		v.Stamps, v.Forms = a.stamps(p), a.pourForms(p, again)
		for _, column := range stampColumns {
			v.Next = append(v.Next, a.stamp(p, anyTicket, column))
		}
		v.Care = a.care(p)
	}
	return a.showAs(status, "pour", a.Say.PourOf(p.Job, is.Use), v)
}

// where is a pour's place, its day unless that is today, and its size, in a line.
func (a *Ask) where(p *pouring) string {
	is, parts, on := p.As(), []string{}, p.As().PlacedOn
	if p.Plan != nil && !a.Site.Settings.NoNames {
		parts = append(parts, a.Say.PourWhere(p.Plan.Bid))
	}
	if on == a.Today() {
		on = 0
	}
	parts = append(parts, a.Say.PourFacts(on, is.AreaSqft, is.ThicknessIn))
	return strings.Join(slices.DeleteFunc(parts, func(part string) bool { return part == "" }), " · ")
}

// care is what a pour has to be careful of: how fast it dries, and what every one has.
func (a *Ask) care(p *pouring) (list []string) {
	if rate, ok := drying(p.As()); ok {
		list = append(list, sentencesOf(a.Say.DryingNow(rate), a.Say.DryingAccuracy()))
	}
	return append(list, a.Say.Caution(say.CausticConcrete))
}

func (a *Ask) partName(p *pouring) string {
	return a.Say.PourName(p.Name, a.Say.Word(p.As().Use))
}

// showUnknown shows a job of which nothing is known but its number: it may be started.
func (a *Ask) showUnknown(status int, again *formView) error {
	if a.Who.Role&Crews == 0 {
		return noPour()
	}
	refused := ""
	if again == nil {
		again = a.beginForm(a.PathValue("job"))
		again.Title = again.Keep
	} else {
		refused = again.What
	}
	again.Open = true
	if status == http.StatusOK {
		status = http.StatusNotFound
	}
	return a.showAs(status, "pour", a.Say.PourTitle(a.PathValue("job")), pourView{SoFar: a.Say.PourNew(), Writes: true, Forms: []formView{*again}, Refused: refused})
}

// stamps are the trucks that are not empty yet, with the time that comes next, as long as
// the pour may still be going on.
func (a *Ask) stamps(p *pouring) (all []stampView) {
	_, last := p.span()
	if last < wall(a.Local())-halfDay && (p.Is == nil || p.Is.PlacedOn != a.Today()) {
		return nil
	}
	for _, l := range p.Loads {
		if next := nextStamp(l); next != "" {
			all = append(all, a.stamp(p, l.TicketNo, next))
		}
	}
	return all[max(0, len(all)-mostStamps):]
}

// mostStamps is how many trucks can be there at once; one before these has gone, though
// nobody has said so.
const mostStamps = 3

// anyTicket stands for a ticket that the script of the queue puts in.
const anyTicket = "{}"

// stampColumns are the times that one tap notes, in their order.
var stampColumns = []string{"arrived_at", "pour_start", "pour_end"}

// nextStamp is the time that a truck has next, "" where it is empty.
func nextStamp(l *record.Load) string {
	switch {
	case l.PourEnd != 0:
		return ""
	case l.PourStart != 0:
		return "pour_end"
	case l.ArrivedAt != 0:
		return "pour_start"
	}
	return "arrived_at"
}

func (a *Ask) stamp(p *pouring, ticket, column string) stampView {
	return stampView{pourPath(p.Job) + "/truck", p.Name, ticket, column, a.Say.TruckNow(column, ticket)}
}

// onRecord are the lines of what is on record, the latest truck first.
func (a *Ask) onRecord(p *pouring) (lines []onRecord) {
	w, at := a.Say, partPath(p.Job, p.Name)
	for _, l := range slices.Backward(p.Loads) {
		lines = append(lines, onRecord{w.TruckLine(l), at + "&truck=" + url.QueryEscape(l.TicketNo) + "#truck"})
	}
	for _, d := range p.Delays {
		what := "delay"
		if d.Cause == "clog" {
			what = "clog"
		}
		lines = append(lines, onRecord{w.DelayLine(d), at + "&" + what + "=" + record.FieldText(&d.Seq) + "#" + what})
	}
	for _, l := range p.Hours {
		lines = append(lines, onRecord{w.HoursLine(l), at + "&hours=" + url.QueryEscape(l.WorkedOn.String()+" "+l.Task) + "#hours"})
	}
	if p.Is == nil {
		return lines
	}
	for _, f := range pourFormList {
		if f.line == nil || f.table != record.Placements {
			continue
		}
		if says := f.line(a, p); says != "" {
			lines = append(lines, onRecord{says, at + "&open=" + f.what + "#" + f.what})
		}
	}
	return lines
}

// hundredth is a number to the hundredth, as a record keeps a volume of a bid.
func hundredth(v float64) record.Number {
	if v <= 0 || math.IsNaN(v) || math.IsInf(v, 0) {
		return record.Number{}
	}
	return record.Some(math.Round(v*100) / 100)
}

// noPour is for a job of which nothing is known that who asks may see.
func noPour() error {
	return &Fail{http.StatusNotFound, say.Site.PourUnknown, say.Site.PourUnknownDo, nil}
}
