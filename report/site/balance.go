package site

import (
	"errors"
	"fmt"
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
}

// balancePage says during the pour how many yards to call in, from what is placed and
// how much of the area it covers.
func balancePage(a *Ask) error {
	kept, known, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	v := balanceView{ID: kept.Is.ID, Name: say.Bid{Voice: a.Say.Voice}.Name(kept.Bid), Says: a.Say.BalanceFollows()}
	day := v.day(a, kept.Bid)
	at, all := v.progress(a)
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
		return a.showMain("balance", a.Say.LastLoad(), v)
	}
	return a.Show("balance", a.Say.LastLoad(), v)
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
func (v *balanceView) progress(a *Ask) (at concrete.Progress, all bool) {
	w, q := a.Say, a.URL.Query()
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

// poursView are the pours to come, for who places them.
type poursView struct {
	Says string
	None bool // nothing is planned, and who asks may bid
	Rows []pourRow
}

type pourRow struct {
	ID       int64
	Name, On string
	Order    string
}

// poursPage lists the pours to come: bids that are open or won, as far as their jobs
// are not on record yet.
func poursPage(a *Ask) error {
	_, known, err := a.keptBids()
	if err != nil {
		return err
	}
	v := poursView{Rows: a.pourRows(known, func(o *bid.Outcome) bool {
		return o.Stands == bid.StandsOpen || o.Stands == bid.StandsWon && o.Why != ""
	})}
	if v.Says = a.Say.NoPours(); len(v.Rows) > 0 {
		v.Says = a.Say.PoursAnswer(len(v.Rows))
	} else {
		v.None = a.Who.Role == Owner
	}
	return a.Show("pours", a.Say.PoursTitle(), v)
}

// pourRows are the pours of the kept bids that do, the latest bid first.
func (a *Ask) pourRows(known *desk.Known, do func(*bid.Outcome) bool) (rows []pourRow) {
	r := bid.Outcomes(known.H, known.Kept)
	for i := range r.Outcomes {
		if o := &r.Outcomes[i]; do(o) && a.seesBid(o.ID, known.Kept) {
			rows = append(rows, a.pourRow(known, o.ID))
		}
	}
	slices.Reverse(rows)
	return rows
}

// pourRow is the pour of a kept bid.
func (a *Ask) pourRow(known *desk.Known, id int64) pourRow {
	k := slices.IndexFunc(known.Kept, func(k bid.Kept) bool { return k.ID == id })
	b := &known.Kept[k].Bid
	return pourRow{ID: id, Name: say.Bid{Voice: a.Say.Voice}.Name(b), On: a.Say.PourOn(b), Order: a.Say.OrderIs(b)}
}

// pourPage is where the code on a pour-day sheet leads: the bids of its job that
// may be poured by. One that was replaced, lost or made by mistake is none.
func pourPage(a *Ask) error {
	_, known, err := a.keptBids()
	if err != nil {
		return err
	}
	job := a.PathValue("job")
	v := poursView{Rows: a.pourRows(known, func(o *bid.Outcome) bool {
		return o.JobNo == job && !slices.Contains([]bid.Standing{bid.StandsReplaced, bid.StandsVoid, bid.StandsLost}, o.Stands)
	})}
	if len(v.Rows) == 0 {
		return &Fail{404, say.Site.PourUnknown, say.Site.PourUnknownDo, nil}
	}
	v.Says = a.Say.PourHere(len(v.Rows))
	return a.Show("pours", a.Say.PourTitle(job), v)
}
