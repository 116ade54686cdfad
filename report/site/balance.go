package site

import (
	"cmp"
	"errors"
	"fmt"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/analysis/concrete"
	"pourback/ingest/record"
	"pourback/ingest/spec"
	"pourback/report/desk"
	"pourback/report/page"
	"pourback/report/say"
)

// balanceView is what to call in for the last load of a bid's pour, as a phone shows it.
type balanceView struct {
	ID     int64
	Act    string // where the form is sent
	Name   string
	Fields []bidField
	Days   []chooseOption // of a bid that pours on several
	Before string         // when to call, as planned
	Until  string         // until when a call comes in time
	Says   string         // what to call in
	Bad    bool
	Wrong  []said
	Lines  []bidLine // behind it
	Notes  []string
	Sheet  page.PourSheet // its tables to read the last load off
	Back   string         // to the pour, where that is known
}

// balancePage says during the pour how many yards to call in, from what is placed and
// how much of the area it covers.
func balancePage(a *Ask) error {
	kept, known, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	v := balanceView{ID: kept.Is.ID, Act: a.URL.Path}
	return v.show(a, kept, known, a.URL.Query())
}

// lastLoadPage says the same of the pour of a job, where what is placed is on record; a
// table to read it off stands there for where there is no signal.
func lastLoadPage(a *Ask) error {
	all, err := a.pourings(a.PathValue("job"))
	if err != nil {
		return err
	}
	by, err := a.planOf(a.PathValue("job"))
	if err != nil {
		return err
	}
	if by == nil {
		return noPour()
	}
	kept, known, err := a.keptBid(strconv.FormatInt(by.ID, 10))
	if err != nil {
		return err
	}
	v, q := balanceView{ID: by.ID, Act: pourPath(a.PathValue("job")) + "/last-load", Back: pourPath(a.PathValue("job"))}, a.URL.Query()
	day, _ := strconv.Atoi(q.Get("day"))
	if placed := hundredth(placedOn(all, cmp.Or(dayOf(kept.Bid, day), dayOf(kept.Bid, 0)))); !q.Has("placed") && placed.OK {
		q.Set("placed", record.FieldText(&placed))
	}
	if err := v.reckon(a, kept, known); err != nil {
		return err
	}
	return v.show(a, kept, known, q)
}

// placedOn is what is on record as placed of all that a day pours, in yd³.
func placedOn(all []*pouring, day *bid.Day) (yd float64) {
	for _, p := range all {
		if day == nil || slices.Contains(day.Placements, p.Name) {
			yd += p.placed()
		}
	}
	return yd
}

// reckon makes the tables of the pour-day sheet to read the last load off.
func (v *balanceView) reckon(a *Ask, kept *page.KeptBid, known *desk.Known) error {
	reckoner, err := known.Ground.Reckoner(kept.Bid.Spec)
	if err != nil {
		return err
	}
	v.Sheet = page.PourDaySheet(page.PourDay{Bid: onPaper(kept), ID: kept.Is.ID, Reckoner: reckoner}, a.bidOptions())
	return nil
}

// show shows what to call in.
func (v *balanceView) show(a *Ask, kept *page.KeptBid, known *desk.Known, q url.Values) error {
	v.Name, v.Says = say.Bid{Voice: a.Say.Voice}.Name(kept.Bid), a.Say.BalanceFollows()
	day := v.day(a, kept.Bid)
	at, all := v.progress(a, q)
	if all {
		v.answer(a, known, kept.Bid, day, at)
	}
	if d := dayOf(kept.Bid, day); d != nil {
		v.Before = a.Say.CallAt(d)
		if d.Clock != nil && d.Clock.Call != nil && d.Clock.Call.InTime {
			v.Until = a.Say.CallNowBy(d.Clock.Call)
		}
	}
	if a.Header.Get("Pourback-Follow") != "" {
		return a.showMain("balance", a.Say.LastLoad(), *v)
	}
	return a.Show("balance", a.Say.LastLoad(), *v)
}

// dayOf is a pour day of a bid, its first for 0; nil where it has none such.
func dayOf(b *bid.Bid, day int) *bid.Day {
	at := slices.IndexFunc(b.Days, func(d bid.Day) bool { return day == 0 || d.Day == day })
	if at < 0 {
		return nil
	}
	return &b.Days[at]
}

// day is the pour day that is asked about, of a bid with several.
func (v *balanceView) day(a *Ask, b *bid.Bid) int {
	day, _ := strconv.Atoi(a.URL.Query().Get("day"))
	if dayOf(b, day) == nil {
		day = 0
	}
	if len(b.Days) < 2 {
		return day
	}
	for i := range b.Days {
		d := &b.Days[i]
		v.Days = append(v.Days, chooseOption{strconv.Itoa(d.Day), a.Say.PourDayOf(d), d.Day == day})
	}
	return day
}

// progress reads how far the pour is; all says whether enough is told for an answer.
func (v *balanceView) progress(a *Ask, q url.Values) (at concrete.Progress, all bool) {
	w := a.Say
	all = true
	for _, f := range []struct {
		name, key, label, usual string
		into                    *float64
		needed                  bool
	}{{"placed", "placed_yd", w.PlacedLabel(), "", &at.PlacedYd, true}, {"covered", "covered_pct", w.CoveredLabel(), "", &at.Covered, true}, {"on_hand", "on_hand_yd", w.OnHandLabel(), w.OnHandIfEmpty(), &at.OnHandYd, false}} {
		field := bidField{Name: f.name, Label: f.label, Value: q.Get(f.name), Usual: f.usual}
		if field.Value == "" {
			all = all && !f.needed
		} else {
			value, problems := spec.ReadProgress(f.key, field.Value, a.Company.settings.Sheet)
			*f.into = value
			for _, p := range problems {
				field.Wrong = append(field.Wrong, said{p.Text(), true})
				all = all && p.Severity != record.Error
			}
		}
		v.Fields = append(v.Fields, field)
	}
	at.Covered /= 100
	return at, all
}

// answer says what to call in, by the same function and figures as the command line.
func (v *balanceView) answer(a *Ask, known *desk.Known, b *bid.Bid, day int, at concrete.Progress) {
	call, at, err := balanceOf(known, b, day, at, a.URL.Query().Get("on_hand") != "")
	if err != nil {
		v.Says, v.Bad, v.Wrong = a.Say.BalanceWrong(), true, []said{{plainError(err), true}}
		return
	}
	p := page.BalancePage(call, at, a.bidOptions())
	v.Says, v.Notes = p.Answer, a.Say.BalanceNotes(at)
	for _, x := range p.Exhibits {
		for _, row := range x.Table.Rows {
			v.Lines = append(v.Lines, bidLine{row[0].Text, row[1].Text})
		}
	}
}

// plainError is what an error says without the kind that it is of.
func plainError(err error) string {
	text := err.Error()
	if of := errors.Unwrap(err); of != nil {
		text = strings.TrimSuffix(text, ": "+of.Error())
	}
	return text
}

// balanceOf is what to call in. Where nobody told what is on hand, it is what was
// ordered first less what is placed.
func balanceOf(known *desk.Known, b *bid.Bid, day int, at concrete.Progress, told bool) (concrete.BalanceCall, concrete.Progress, error) {
	var err error
	if at.Covered > 0 && at.PlacedYd == 0 {
		return concrete.BalanceCall{}, at, fmt.Errorf("nothing placed, and %.3g %% of the area covered: give the yards that cover it", 100*at.Covered)
	}
	if !told {
		if at, err = b.Underway(day, at); err != nil {
			return concrete.BalanceCall{}, at, err
		}
	}
	call, err := known.Ground.Balance(b.Spec, day, at)
	return call, at, err
}
