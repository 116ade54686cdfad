package site

import (
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// takeVisit keeps what somebody saw at a slab, with its pictures.
func takeVisit(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	slab := s.name(a.Say)
	r := entryReply{
		Says: func(done ingest.Entered) string {
			if len(done.Rows[0].Clashes) > 0 {
				return a.Say.VisitPart(slab)
			}
			return a.Say.VisitKept(slab, a.Field("finding"))
		},
		Again: func(wrong []record.Problem) error {
			return a.showVisitForm(http.StatusUnprocessableEntity, s, a.PostForm, wrong)
		},
	}
	if a.Who.Role != Owner && a.Field("cost") != "" {
		return a.refuse([]record.Problem{a.problem("cost", a.Say.OwnersCost(), a.Say.OwnersCostDo())}, r)
	}
	e := ingest.Entry{What: s.entry(ofVisit), Rows: []ingest.EntryRow{a.visitRow(s)}, Pictures: a.pictures(s)}
	if e.Pictures != nil {
		if e.Pictures.SeenOn, err = record.ParseDate(a.Field("seen_on")); err != nil {
			return a.keepEntry(ingest.Entry{Rows: e.Rows}, r) // which says what is wrong with the day
		}
		if err := a.placePictures(s, e.Pictures); err != nil {
			return err
		}
	}
	return a.keepWhole(e, r)
}

// ofCracks are the columns that are asked of a crack alone.
var ofCracks = []string{"crack_kind", "at_joint", "width_in", "length_ft", "width", "length"}

// visitRow is the row of a visit as the form has it. What it asks of a crack and of a
// callback is left out of others: a browser may send what was filled in before and is
// not shown any more.
func (a *Ask) visitRow(s *slabRows) ingest.EntryRow {
	row := ingest.EntryRow{Table: record.Visits.Name, Append: []string{"note"}, AddUp: true,
		Values: [][2]string{{"job_no", s.is.JobNo}, {"placement", s.is.Placement}}}
	x, y := a.spot()
	crack, call := a.Field("finding") == "crack", a.Field("why") == "callback"
	for _, v := range [][2]string{{"seen_on", a.Field("seen_on")}, {"why", a.Field("why")}, {"finding", a.Field("finding")},
		{"crack_kind", a.Field("crack_kind")}, {"at_joint", a.Field("at_joint")}, {"width_in", withUnit(a.Field("width"), a.Say.WidthUnit())}, {"length_ft", withUnit(a.Field("length"), a.Say.LengthUnit())},
		{"cost", a.Field("cost")}, {"resolved_on", a.Field("resolved_on")}, {"spot_x", x}, {"spot_y", y}, {"note", a.visitNote(call)}} {
		if v[1] == "" || !crack && slices.Contains(ofCracks, v[0]) || !call && v[0] == "resolved_on" {
			continue
		}
		row.Values = append(row.Values, v)
	}
	return row
}

// withUnit is a number with a unit behind it, where it has none of its own.
func withUnit(text, unit string) string {
	if text == "" || strings.Trim(text, "0123456789.,/ ") != "" {
		return text
	}
	return text + unit
}

// spot is the place on the drawing that was chosen, by a tap or as one of its parts.
func (a *Ask) spot() (x, y string) {
	at := a.Field("spot_at")
	if at == "" {
		at = a.Field("spot")
	}
	x, y, _ = strings.Cut(at, " ")
	return x, y
}

// visitNote is who called and what else there is to say.
func (a *Ask) visitNote(call bool) string {
	var parts []string
	if who := a.Field("called"); call && who != "" {
		parts = append(parts, a.Say.CalledNote(who))
	}
	if note := a.Field("note"); note != "" {
		parts = append(parts, note)
	}
	return strings.Join(parts, "; ")
}

// placePictures says of pictures where on the slab they were taken: in ft from the left
// and the top of its drawing, where it has one.
func (a *Ask) placePictures(s *slabRows, p *ingest.Adding) error {
	plan, err := a.slabPlan(s)
	if err != nil || !plan.Drawn {
		return err
	}
	x, y := a.spot()
	for _, at := range []struct {
		text string
		ft   float64
		into *record.Number
	}{{x, plan.WideFt, &p.XFt}, {y, plan.HighFt, &p.YFt}} {
		if record.SetField(at.into, at.text) == nil && at.into.OK && at.into.V >= 0 && at.into.V <= 1 {
			at.into.V *= at.ft
		} else {
			*at.into = record.Number{}
		}
	}
	return nil
}

// closeCall closes a callback: by the day on which nothing was left to do.
func closeCall(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	day := a.Field("seen_on")
	if s.call(day) == nil {
		return unfitEntry(say.Site.NoCall, say.Site.NoCallDo)
	}
	row := ingest.EntryRow{Table: record.Visits.Name, Values: [][2]string{{"job_no", s.is.JobNo}, {"placement", s.is.Placement}, {"seen_on", day}, {"resolved_on", a.Field("resolved_on")}}}
	return a.keepEntry(ingest.Entry{What: s.entry(ofCall), Rows: []ingest.EntryRow{row}}, entryReply{
		Says:  func(ingest.Entered) string { return a.Say.CallClosed(s.name(a.Say), a.Say.AsOf(day)) },
		Again: func(wrong []record.Problem) error { return a.showSlab(http.StatusUnprocessableEntity, s, wrong) },
	})
}

// What the entries about a slab are named by.
const (
	ofVisit    = "visit to"
	ofCall     = "callback of"
	ofPictures = "pictures of"
)

func (s *slabRows) entry(of string) string { return of + " " + s.is.JobNo + " " + s.is.Placement }

// lastEntry is the last of what was entered about the slab within a day and may be taken
// back by who asks: what they entered themselves, and for the owner what anybody did. It
// is nil where there is none.
func (a *Ask) lastEntry(s *slabRows) (*store.Batch, error) {
	batches, err := a.Store().BatchesSince(a.Context(), stamp(a.Now.Add(-24*time.Hour)))
	if err != nil {
		return nil, err
	}
	for _, b := range slices.Backward(batches) {
		mine := a.Who.Role == Owner || b.Who == a.Who.Name
		about := slices.Contains([]string{s.entry(ofVisit), s.entry(ofCall), s.entry(ofPictures)}, ingest.EntryWhat(b.File))
		if ingest.IsEntry(b.File) && about && mine && b.UndoneAt == "" {
			return &b, nil
		}
	}
	return nil, nil
}

// undoEntry takes the last entry about a slab back.
func undoEntry(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	last, err := a.lastEntry(s)
	if err != nil {
		return err
	}
	if last == nil || strconv.FormatInt(last.ID, 10) != a.Field("batch") {
		return &Fail{http.StatusConflict, say.Site.EntryUndo, say.Site.EntryUndoDo, nil}
	}
	if err := a.undo(last.ID, say.Site.EntryUndo, say.Site.EntryUndoDo); err != nil {
		return err
	}
	return a.Go(s.path())
}
