package site

import (
	"bytes"
	"cmp"
	"fmt"
	"html/template"
	"io"
	"net/http"
	"slices"
	"strconv"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// failOfBid is why nothing came of what was asked of a kept bid, as a reader is told.
func failOfBid(e *store.BidError) *Fail {
	switch e.What {
	case store.BidReplaced:
		return &Fail{409, func(w say.Site) string { return w.Replaced(e.Bid, e.By) }, say.Site.ReplacedDo, e}
	case store.BidMarked:
		return &Fail{409, func(w say.Site) string { return w.MarkedBid(e.Bid, e.Fate) }, say.Site.MarkedBidDo, e}
	case store.BidEarlierMarked:
		return &Fail{409, func(w say.Site) string { return w.EarlierMarked(e.Bid, e.Fate) }, say.Site.EarlierMarkedDo, e}
	}
	return noBid(strconv.FormatInt(e.Bid, 10)).(*Fail)
}

func noBid(number string) error {
	return &Fail{404, func(w say.Site) string { return w.NoBid(number) }, say.Site.SeeBids, nil}
}

// bidNumbered is the kept bid of a number.
func (a *Ask) bidNumbered(number string) (store.Bid, error) {
	id, err := strconv.ParseInt(number, 10, 64)
	if err != nil || id < 1 {
		return store.Bid{}, noBid(number)
	}
	return a.Store().Bid(a.Context(), id)
}

// keptBid is the bid that an address is about, with its versions, as known by the data
// date.
func (a *Ask) keptBid(number string) (*page.KeptBid, *desk.Known, error) {
	is, err := a.bidNumbered(number)
	if err != nil {
		return nil, nil, err
	}
	all, known, err := a.keptBids()
	if err != nil {
		return nil, nil, err
	}
	if !a.seesBid(is.ID, known.Kept) {
		return nil, nil, noBid(number)
	}
	kept, err := desk.One(is, a.Choice.AsOf, all, bid.Outcomes(known.H, known.Kept), a.Company.settings.NoNames)
	if err == nil && kept == nil {
		err = noBid(number)
	}
	return kept, known, err
}

// bidsView are the kept bids: those open by age, then the others.
type bidsView struct {
	Says  string
	New   bool // a bid may be made
	Lists []bidList
}

type bidList struct {
	Title string
	Rows  []bidRow
}

type bidRow struct {
	ID              int64
	Name, Stands    string
	Asked, Made, At string
	By              int64 // the bid in its place, 0 for none
}

// bidsPage lists the kept bids.
func bidsPage(a *Ask) error {
	_, known, err := a.keptBids()
	if err != nil {
		return err
	}
	r := bid.Outcomes(known.H, known.Kept)
	w := say.Bids{Voice: a.Say.Voice}
	v := bidsView{Says: w.Answer(r), New: a.Who.Role == Owner && a.Base() == ""}
	heads := w.Lists()
	open := r.Standing(bid.StandsOpen)
	slices.SortStableFunc(open, func(x, y bid.Outcome) int { return cmp.Compare(x.MadeOn, y.MadeOn) })
	v.add(a, heads.OpenTitle, open)
	for _, l := range []struct {
		title string
		so    []bid.Standing
	}{{heads.DoneTitle, []bid.Standing{bid.StandsWon, bid.StandsLost, bid.StandsBegun}}, {heads.GoneTitle, []bid.Standing{bid.StandsReplaced, bid.StandsVoid}}} {
		rows := r.Standing(l.so...)
		slices.Reverse(rows)
		v.add(a, l.title, rows)
	}
	return a.Show("bids", a.Say.BidsTitle(), v)
}

func (v *bidsView) add(a *Ask, title string, rows []bid.Outcome) {
	if len(rows) == 0 {
		return
	}
	w, l := say.Bids{Voice: a.Say.Voice}, bidList{Title: title}
	for i := range rows {
		o := &rows[i]
		row := bidRow{ID: o.ID, Name: say.Capital(w.Called(o)), Stands: w.Stands(o), Asked: a.Say.AskedFor(o.Asked), Made: a.Say.MadeOn(o.MadeOn)}
		if o.Stands == bid.StandsOpen {
			row.Stands = a.Say.OpenSince(o.Days)
		}
		if o.Stands == bid.StandsReplaced {
			row.By = o.ReplacedBy
		}
		if o.JobNo != "" {
			row.At = a.Say.OfJob(o.JobNo)
		}
		l.Rows = append(l.Rows, row)
	}
	v.Lists = append(v.Lists, l)
}

// keptView is a kept bid with what may be done with it.
type keptView struct {
	ID     int64
	Slug   string // of its page of the report
	Answer string
	Body   template.HTML
	Acts   bool // for who may
	Revise bool
	Marks  []markView
	Job    string
	Others []chooseOption // to compare it with
	Beside []linkView     // the versions before and after it
}

type markView struct{ Fate, Text string }

// bidPage is a kept bid again.
func bidPage(a *Ask) error {
	if a.PathValue("id") == "work" { // the page of a form that was worked out, asked for again
		http.Redirect(a.W, a.Request, a.Link("/bids/new"), http.StatusSeeOther)
		return nil
	}
	kept, known, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	opt := a.bidOptions()
	opt.LeftOut = known.H.LeftOut()
	p := page.KeptBidPage(kept, opt)
	var body bytes.Buffer
	if err := out.WriteBody(&body, p); err != nil {
		return err
	}
	is := kept.Is
	v := keptView{ID: is.ID, Slug: p.Slug, Answer: p.Answer, Body: template.HTML(body.String()), Acts: a.Who.Role == Owner && a.Base() == "", Job: is.JobNo, Revise: is.Fate == bid.Open && is.ReplacedBy == 0}
	for _, m := range []struct {
		fate bid.Fate
		text string
	}{{bid.Won, a.Say.MarkWon()}, {bid.Lost, a.Say.MarkLost()}, {bid.Void, a.Say.MarkVoid()}, {bid.Open, a.Say.MarkOpen()}} {
		if m.fate != is.Fate && is.ReplacedBy == 0 {
			v.Marks = append(v.Marks, markView{cmp.Or(string(m.fate), "open"), m.text})
		}
	}
	w := say.Bids{Voice: a.Say.Voice}
	if is.Stands == bid.StandsReplaced && is.ReplacedBy != 0 {
		v.Beside = append(v.Beside, linkView{say.Capital(w.Stands(&is)), fmt.Sprintf("/bids/%d", is.ReplacedBy)})
	}
	if is.Revises != 0 {
		v.Beside = append(v.Beside, linkView{say.Capital(w.Version(&is)), fmt.Sprintf("/bids/%d", is.Revises)})
	}
	for i := range slices.Backward(known.Kept) {
		if k := &known.Kept[i]; k.ID != is.ID && len(v.Others) < mostOthers {
			name := a.Say.BidNumber(k.ID)
			if k.Bid.Spec.Name != "" {
				name += ", " + say.Clean(k.Bid.Spec.Name, say.ShortName)
			}
			v.Others = append(v.Others, chooseOption{Value: strconv.FormatInt(k.ID, 10), Text: name})
		}
	}
	return a.Show("kept", p.Title, v)
}

// mostOthers are as many bids as a list to choose from has, the latest.
const mostOthers = 200

// topic is a page of its own as part of the site's.
func (a *Ask) topic(p page.Page) (template.HTML, error) {
	var text bytes.Buffer
	err := out.WriteTopic(&text, []page.Page{p}, 0, func(slug string) string { return "#" + slug })
	return template.HTML(text.String()), err
}

// bidJSON is a kept bid as `pourback bids ID --json` gives it.
func bidJSON(a *Ask) error {
	kept, _, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	asCommand := *a.Say.Voice
	asCommand.OnSite = false
	var text bytes.Buffer
	if err := out.BidJSON(&text, kept.Is.ID, kept.Bid, &asCommand, out.BidMore{Kept: kept}); err != nil {
		return err
	}
	a.send(http.StatusOK, "application/json", text.Bytes())
	return nil
}

// paper sends a document of its own, which bears one style, under the policy that lets
// that style be.
func (a *Ask) paper(policy string, write func(io.Writer) error) error {
	var text bytes.Buffer
	if err := write(&text); err != nil {
		return err
	}
	a.W.Header().Set("Content-Security-Policy", policy+"; frame-ancestors 'none'")
	a.send(http.StatusOK, "text/html; charset=utf-8", text.Bytes())
	return nil
}

func costSheet(a *Ask) error {
	kept, known, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	opt := a.paperOptions(kept)
	opt.LeftOut = known.H.LeftOut()
	return a.paper(out.BidPolicy(), func(w io.Writer) error {
		return out.WriteBidPage(w, page.BidPage(onPaper(kept), opt), kept.Bid.AsOf, opt)
	})
}

func proposal(a *Ask) error {
	kept, _, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	return a.paper(out.ProposalPolicy(), func(w io.Writer) error {
		return out.WriteProposal(w, page.ProposalOf(onPaper(kept), kept.Is.ID, a.paperOptions(kept)))
	})
}

// paperOptions are those of a kept bid's papers, which lead back to its page, or to
// the pours who may not see that.
func (a *Ask) paperOptions(kept *page.KeptBid) page.Options {
	opt := a.bidOptions()
	opt.Back = page.Back{Says: a.Say.BackToBid(), Href: a.Link(fmt.Sprintf("/bids/%d", kept.Is.ID))}
	if a.Who.Role&Readers == 0 {
		opt.Back = page.Back{Says: a.Say.PoursTitle(), Href: a.Link("/pours")}
	}
	return opt
}

// onPaper is a kept bid as its papers have it: with the job that it was linked to since.
func onPaper(kept *page.KeptBid) *bid.Bid {
	b := *kept.Bid
	b.JobNo = cmp.Or(kept.Is.JobNo, b.JobNo)
	return &b
}

func pourDay(a *Ask) error {
	kept, known, err := a.keptBid(a.PathValue("id"))
	if err != nil {
		return err
	}
	reckoner, err := known.Ground.Reckoner(kept.Bid.Spec)
	if err != nil {
		return err
	}
	sheet := page.PourDay{Bid: onPaper(kept), ID: kept.Is.ID, Reckoner: reckoner}
	return a.paper(out.PourDayPolicy(), func(w io.Writer) error { return out.WritePourDay(w, sheet, a.paperOptions(kept)) })
}

// comparePage sets two kept bids side by side.
func comparePage(a *Ask) error {
	q := a.URL.Query()
	one, _, err := a.keptBid(q.Get("one"))
	if err != nil {
		return err
	}
	other, _, err := a.keptBid(q.Get("other"))
	if err != nil {
		return err
	}
	if one.Is.ID == other.Is.ID {
		return Wrong(say.Site.TwoBids, say.Site.ChooseFromList)
	}
	p := page.ComparedPage(desk.Compared(one, other), a.bidOptions())
	topic, err := a.topic(p)
	if err != nil {
		return err
	}
	return a.Show("compared", p.Title, topic)
}

// saidOn is the day on which something is said of a bid.
func (a *Ask) saidOn() record.Date { return min(record.DayOf(a.Now), a.Choice.AsOf) }

// markBid says what became of a bid.
func markBid(a *Ask) error {
	is, err := a.bidNumbered(a.PathValue("id"))
	if err != nil {
		return err
	}
	fate := a.Field("fate")
	if fate == "open" {
		fate = string(bid.Open)
	} else if !slices.Contains([]bid.Fate{bid.Won, bid.Lost, bid.Void}, bid.Fate(fate)) {
		return Wrong(func(w say.Site) string { return w.WrongValue("fate", say.Clean(fate, say.ShortName)) }, say.Site.ChooseFromList)
	}
	if _, _, err := a.Store().MarkBid(a.Context(), is.ID, fate, a.saidOn()); err != nil {
		return err
	}
	return a.Go(fmt.Sprintf("/bids/%d", is.ID))
}

// linkBid names the job that came of a bid.
func linkBid(a *Ask) error {
	is, err := a.bidNumbered(a.PathValue("id"))
	if err != nil {
		return err
	}
	job := a.Field("job_no")
	if len([]rune(job)) > record.Jobs.Column("job_no").MaxChars {
		return &Fail{http.StatusUnprocessableEntity, say.Site.LongJob, say.Site.LongJobDo, nil}
	}
	if _, err := a.Store().LinkBid(a.Context(), is.ID, job, a.saidOn()); err != nil {
		return err
	}
	return a.Go(fmt.Sprintf("/bids/%d", is.ID))
}
