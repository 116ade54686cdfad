package site

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/spec"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// bidView is the form for a bid with what it comes to, as its template sees it.
type bidView struct {
	ask   *Ask
	known *desk.Known
	form  spec.Form
	made  *bid.Bid
	wrong map[string][]said // by field
	care  map[string][]said

	Revises, From            int64 // the bid that it takes the place of, or was filled in from; 0 for none
	About                    string
	Job, Terms, Day, Prices  []bidField
	TermsOpen, DayOpen, Open bool // what is folded has something in it
	Items                    []itemField
	Slabs                    []slabView
	General                  []said // what is wrong or unwise and stands at no field
	Says                     string
	Bad                      bool // Says is about what is wrong
	Result                   *bidResult
	WithOptions              bool
}

// slabView are the fields of one slab.
type slabView struct {
	Title, Drop         string // Drop takes it out, "" for the only one
	Main, More, Shape   []bidField
	MoreOpen, ShapeOpen bool
}

// itemField is a cost by its name.
type itemField struct {
	Name, Value, Amount string
	Wrong               []said
}

// newBidPage is where a bid is asked for: empty, or filled in from a kept bid.
func newBidPage(a *Ask) error {
	v, err := a.bidView()
	if err != nil {
		return err
	}
	q := a.URL.Query()
	v.form = spec.Form{Job: map[string]string{}, Placements: []map[string]string{{}}}
	if id := cmp.Or(q.Get("revise"), q.Get("copy")); id != "" {
		if err := v.fillFrom(id, q.Has("revise")); err != nil {
			return err
		}
		v.work(false)
	}
	return v.show(http.StatusOK)
}

func (a *Ask) bidView() (*bidView, error) {
	_, known, err := a.keptBids()
	return &bidView{ask: a, known: known, wrong: map[string][]said{}, care: map[string][]said{}, WithOptions: true}, err
}

// fillFrom fills the form in from a kept bid.
func (v *bidView) fillFrom(number string, revise bool) error {
	kept, err := v.ask.bidNumbered(number)
	if err != nil {
		return err
	}
	offer, err := desk.BidOf(kept)
	if err != nil {
		return err
	}
	if !revise {
		v.From, v.form = kept.ID, spec.FormOf(desk.Copied(offer))
		return nil
	}
	v.Revises, v.form = kept.ID, spec.FormOf(desk.Revised(kept, offer))
	return v.ask.Store().MayRevise(v.ask.Context(), kept.ID)
}

// workBid works a bid out of what stands in the form, and keeps nothing. Who follows
// what is typed is sent the page without what surrounds it, and other ways to do the
// job only when asked.
func workBid(a *Ask) error {
	v, err := a.bidView()
	if err != nil {
		return err
	}
	follow := a.Header.Get("Pourback-Follow")
	if err := v.read(a.PostForm); err != nil {
		return err
	}
	v.WithOptions = follow != "now"
	acted := v.act(a.PostFormValue("act"))
	v.work(follow != "" || acted)
	switch {
	case a.Header.Get("Accept") == "application/json":
		return v.asJSON()
	case follow != "":
		return v.showMain()
	}
	return v.show(http.StatusOK)
}

// keepNewBid keeps the bid that the form asks for.
func keepNewBid(a *Ask) error {
	v, err := a.bidView()
	if err != nil {
		return err
	}
	if err := v.read(a.PostForm); err != nil {
		return err
	}
	v.work(false)
	if v.made == nil {
		v.Says, v.Bad = a.Say.NotKept(), true
		return v.show(http.StatusUnprocessableEntity)
	}
	if v.Revises != 0 {
		if err := a.Store().MayRevise(a.Context(), v.Revises); err != nil {
			return err
		}
	}
	today := record.DayOf(a.Now)
	id, err := v.known.Keep(a.Context(), a.Store(), v.made, v.Revises, min(today, a.Choice.AsOf), say.New("en", a.Choice.Units, a.Company.settings.Currency))
	if err != nil {
		return err
	}
	return a.Go(fmt.Sprintf("/bids/%d", id))
}

// read takes what was sent.
func (v *bidView) read(fields url.Values) error {
	if fields.Has(spec.ItemField(mostItems)) {
		return badForm(nil) // by hand: the form itself adds one at a time
	}
	v.form = readBidForm(fields)
	v.Revises, _ = strconv.ParseInt(fields.Get("revises"), 10, 64)
	v.From, _ = strconv.ParseInt(fields.Get("from"), 10, 64)
	return nil
}

// act adds a slab or takes one out, where a button asks for that.
func (v *bidView) act(what string) bool {
	switch i, dropped := strings.CutPrefix(what, "drop."); {
	case what == "add" && len(v.form.Placements) < mostSlabs:
		v.form.Placements = append(v.form.Placements, map[string]string{})
	case dropped:
		at, err := strconv.Atoi(i)
		if err != nil || at < 0 || at >= len(v.form.Placements) || len(v.form.Placements) == 1 {
			return false
		}
		v.form.Placements = slices.Delete(v.form.Placements, at, at+1)
	default:
		return false
	}
	return true
}

// work makes the bid that the form asks for, or gathers what is wrong with it. What is
// only not filled in yet is no fault where somebody is still at it.
func (v *bidView) work(typing bool) {
	asked, problems := spec.ReadForm(v.form, v.ask.Company.settings.Sheet)
	var needs []string
	for _, p := range problems {
		switch {
		case p.Severity != record.Error:
			v.careAt(p.Column, said{p.Text(), true})
		case typing && p.Code == spec.Missing:
			needs = append(needs, say.Lower(v.ask.Say.BidField(keyOf(p.Column))))
		default:
			v.wrongAt(p.Column, said{p.Text(), true})
		}
	}
	switch {
	case asked == nil && len(v.wrong)+len(v.General) == 0:
		v.Says = v.ask.Say.Needs(slices.Compact(needs))
		return
	case asked == nil:
		v.Says, v.Bad = v.ask.Say.MendIt(), true
		return
	}
	of, err := desk.SpecOf(asked)
	if err == nil {
		v.made, err = v.ask.Company.bids.make(v.ask.Context(), v.known, of)
	}
	var wrong bid.Problems
	switch {
	case errors.As(err, &wrong):
		v.take(of, wrong)
		v.Says, v.Bad = v.ask.Say.MendIt(), true
	case err != nil:
		v.General = append(v.General, said{err.Error(), true})
		v.Says, v.Bad = v.ask.Say.MendIt(), true
	default:
		v.take(of, v.made.Cautions)
		v.Says = say.Bid{Voice: v.ask.Say.Voice}.Answer(v.made)
	}
}

// take puts what the analysis finds wrong or unwise beside the fields.
func (v *bidView) take(of bid.Spec, ps bid.Problems) {
	w := say.Bid{Voice: v.ask.Say.Voice}
	for _, p := range ps {
		text := said{Text: say.Capital(w.Matter(w.Problem(p)))}
		at := fieldOf(of, p)
		if at == "" {
			text.Text = w.Line(p)
		}
		if p.Error {
			v.wrongAt(at, text)
		} else {
			v.careAt(at, text)
		}
	}
}

// fieldOf is the field of the form that a problem is about, "" where none is.
func fieldOf(of bid.Spec, p bid.Problem) string {
	key, _, _ := strings.Cut(p.Field, ", ")
	key = strings.TrimPrefix(key, "prices.")
	if name, item := strings.CutPrefix(key, "items."); item {
		for i, it := range of.Items {
			if it.Item == name {
				return spec.ItemField(i)
			}
		}
	}
	if p.Placement == "" {
		if slices.Contains(slices.Concat(jobFields, termFields, dayFields, priceFields), key) {
			return key
		}
		return ""
	}
	for i := range of.Placements {
		if bid.PlacementName(of, i) == p.Placement && slices.Contains(slices.Concat(slabFields, moreFields, shapeFields), key) {
			return spec.Field(i, key)
		}
	}
	return ""
}

func (v *bidView) wrongAt(field string, what said) { v.at(v.wrong, field, what) }
func (v *bidView) careAt(field string, what said)  { v.at(v.care, field, what) }

func (v *bidView) at(where map[string][]said, field string, what said) {
	if field == "" {
		v.General = append(v.General, what)
		return
	}
	if !slices.Contains(where[field], what) {
		where[field] = append(where[field], what)
	}
}

// keyOf is the key of a field: length_ft of p0.length_ft.
func keyOf(field string) string {
	if at, key, found := strings.Cut(field, "."); found && strings.HasPrefix(at, "p") {
		return key
	}
	return field
}

// show shows the whole page.
func (v *bidView) show(status int) error {
	v.fill()
	v.ask.showAs(status, "bid", v.title(), v)
	return nil
}

// showMain is the page without what surrounds it.
func (v *bidView) showMain() error {
	v.fill()
	a := v.ask
	return a.showMain("bid", v.title(), v)
}

// asJSON is the bid as `pourback bid --json` gives it, or what is wrong with what was
// asked for.
func (v *bidView) asJSON() error {
	a, status := v.ask, http.StatusOK
	var text bytes.Buffer
	var err error
	if v.made == nil {
		status = http.StatusUnprocessableEntity
		err = json.NewEncoder(&text).Encode(map[string]any{"answer": v.Says, "wrong": v.wrong, "also": v.General})
	} else {
		err = out.BidJSON(&text, 0, v.made, a.Say.Voice)
	}
	if err == nil {
		a.send(status, "application/json", text.Bytes())
	}
	return err
}

func (v *bidView) title() string {
	if v.Revises != 0 {
		return v.ask.Say.RevisingTitle(v.Revises)
	}
	return v.ask.Say.NewBid()
}

// fill puts the fields and the result into words.
func (v *bidView) fill() {
	w, own := v.ask.Say, func(key string) string { return key }
	switch {
	case v.Revises != 0:
		v.About = w.OldVersion(v.Revises)
	case v.From != 0:
		v.About = w.CopiedFrom(v.From)
	}
	if v.Says == "" {
		v.Says = w.BidFollows()
	}
	v.Job, v.Terms, v.Day, v.Prices = v.fieldsOf(jobFields, v.form.Job, own), v.fieldsOf(termFields, v.form.Job, own), v.fieldsOf(dayFields, v.form.Job, own), v.fieldsOf(priceFields, v.form.Job, own)
	for i, item := range append(slices.Clone(v.form.Items), spec.FormItem{}) {
		at := spec.ItemField(i)
		v.Items = append(v.Items, itemField{at, item.Name, item.Amount, v.wrong[at]})
	}
	v.TermsOpen, v.DayOpen, v.Open = anySaid(v.Terms), anySaid(v.Day), anySaid(v.Prices) || len(v.form.Items) > 0
	for i, values := range v.form.Placements {
		name := func(key string) string { return spec.Field(i, key) }
		s := slabView{Main: v.fieldsOf(slabFields, values, name), More: v.fieldsOf(moreFields, values, name), Shape: v.fieldsOf(shapeFields, values, name)}
		if len(v.form.Placements) > 1 {
			s.Title, s.Drop = w.Slab(i+1), fmt.Sprintf("drop.%d", i)
		}
		s.MoreOpen, s.ShapeOpen = anySaid(s.More), anySaid(s.Shape)
		v.Slabs = append(v.Slabs, s)
	}
	if v.made != nil {
		v.Result = v.result()
	}
}

// anySaid says whether any of some fields holds something, or has something wrong with it.
func anySaid(fields []bidField) bool {
	return slices.ContainsFunc(fields, func(f bidField) bool { return f.Value != "" || len(f.Wrong) > 0 })
}

// bidOptions are how pages about bids are shown.
func (a *Ask) bidOptions() page.Options {
	s := a.Company.settings
	return page.Options{Units: a.Choice.Units, Company: s.Company, Letterhead: s.Letterhead, Currency: s.Currency, Lang: a.Choice.Lang, OnSite: true}
}

// showMain sends what is a page's own, without what surrounds it.
func (a *Ask) showMain(name, title string, data any) error {
	html, err := a.renderPart("main", name, title, data)
	if err != nil {
		return err
	}
	a.send(http.StatusOK, "text/html; charset=utf-8", html)
	return nil
}

// send sends an answer whole. A browser that has gone meanwhile is no fault of ours.
func (a *Ask) send(status int, kind string, text []byte) {
	h := a.W.Header()
	h.Set("Content-Type", kind)
	if h.Get("Cache-Control") == "" {
		h.Set("Cache-Control", "no-store")
	}
	a.W.WriteHeader(status)
	a.W.Write(text)
}
