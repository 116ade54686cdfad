package site

import (
	"context"
	"time"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/analysis/visits"
	"pourback/report/say"
)

// visitsView are the visits to make: sites that pay for a drive, callbacks that are
// open, and what can wait until somebody passes by.
type visitsView struct {
	Says     string
	Sites    []siteView
	PassBy   []siteView
	Open     []callView
	Calendar bool // who asks may have the calendar's address
	None     bool // nothing is on record, and who asks may change that
}

// siteView is a site with its slabs to look at. Stake is "" for who sees no money.
type siteView struct {
	Name  string
	Stake string
	Jobs  []tripView
}

type tripView struct {
	Job   string
	Slabs []slabLink
	Why   string
}

type slabLink struct {
	Name, Href string
	Sound      *soundForm // nil for who does not write
}

// soundForm records a planned look at a sound slab by one tap.
type soundForm struct{ Act, Key, Day, Text, Of, Entry string }

type callView struct {
	Slab slabLink
	At   string
	Says string
}

// visitsPage says where to go: by site, what pays first.
func visitsPage(a *Ask) error {
	is, _, err := a.Company.answer(a.Context(), a.Choice, a.wrote())
	if err != nil {
		return err
	}
	return a.madeOfAnswer(is, func() error { return a.showVisits(is) })
}

func (a *Ask) showVisits(is *answer) error {
	v, w := is.factors.Visits, say.Visits{Voice: a.Say.Voice}
	view := visitsView{Says: w.Answer(v), Calendar: a.Who.Role == Owner && a.Base() == ""}
	view.None = view.Calendar && is.of.All == 0
	at := map[string]int{} // the place of each site
	for i := range v.Trips {
		t := &v.Trips[i]
		name := t.Site
		if name == "" {
			name = a.Say.JobNamed(t.JobNo)
		}
		k, met := at[name]
		if !met {
			k = len(view.Sites)
			at[name], view.Sites = k, append(view.Sites, siteView{Name: say.Clean(name, say.LongName)})
		}
		view.Sites[k].Jobs = append(view.Sites[k].Jobs, a.trip(w, t))
		if a.Who.Role&Readers != 0 && view.Sites[k].Stake == "" {
			view.Sites[k].Stake = a.Say.AtStake(a.siteWorth(v.Trips, t))
		}
	}
	for i := range v.PassBy {
		p := &v.PassBy[i]
		s := siteView{Name: say.Clean(p.Site, say.LongName)}
		if p.Site == "" {
			s.Name = a.Say.JobNamed(p.Jobs[0].JobNo)
		}
		for k := range p.Jobs {
			s.Jobs = append(s.Jobs, a.trip(w, &p.Jobs[k]))
		}
		if a.Who.Role&Readers != 0 {
			s.Stake = a.Say.AtStake(p.Worth.Value)
		}
		if len(view.PassBy) < mostPassBy {
			view.PassBy = append(view.PassBy, s)
		}
	}
	for i := range v.Callbacks.Open { // the oldest first
		c := &v.Callbacks.Open[i]
		view.Open = append(view.Open, callView{a.slabLink(c.JobNo, c.Placement), say.Clean(c.Site, say.LongName), a.Say.OpenCall(c)})
	}
	return a.Show("visits", a.Say.VisitsTitle(), view)
}

// mostPassBy are as many sites as are listed to pass by.
const mostPassBy = 40

// siteWorth is what all trips to the site of one have at stake.
func (a *Ask) siteWorth(trips []visits.Trip, of *visits.Trip) (worth float64) {
	for i := range trips {
		if t := &trips[i]; t.JobNo == of.JobNo || of.Site != "" && t.Site == of.Site {
			worth += t.Worth.Value
		}
	}
	return worth
}

func (a *Ask) trip(w say.Visits, t *visits.Trip) tripView {
	v := tripView{Job: a.Say.JobNamed(t.JobNo), Why: w.Stop(&t.Stop)}
	for _, p := range t.Placements {
		l := a.slabLink(t.JobNo, p)
		l.Sound = a.sound(t.JobNo, p)
		v.Slabs = append(v.Slabs, l)
	}
	return v
}

// slabLink leads to a slab's story.
func (a *Ask) slabLink(job, placement string) slabLink {
	return slabLink{Name: say.Clean(job+" "+placement, say.LongName), Href: a.Link(slabPath(job, placement))}
}

// writes says whether who asks writes at the forms of this company.
func (a *Ask) writes() bool { return a.Who.Role&Crews != 0 && a.Base() == "" }

// sound is the form that records a planned look at a sound slab, nil for who does not
// write.
func (a *Ask) sound(job, placement string) *soundForm {
	if !a.writes() {
		return nil
	}
	slab := say.Clean(job+" "+placement, say.LongName)
	return &soundForm{Act: a.Link(slabPath(job, placement) + "/visit"), Key: a.key(), Day: a.Today().String(), Text: a.Say.SoundNow(), Of: slab, Entry: a.Say.VisitEntry() + ": " + slab}
}

// story answers of one slab: the question about visits alone.
func (c *company) story(ctx context.Context, choice Choice, slab string) (*analysis.Factors, error) {
	r, err := c.readSince(ctx, choice.AsOf, time.Now())
	if err != nil {
		return nil, err
	}
	leave, err := c.tells.take(ctx, nil)
	if err != nil {
		return nil, err
	}
	defer leave()
	opt := c.settings.Analysis
	opt.Topics = []string{setting.VisitsTopic}
	opt.Visits.Asked, opt.Visits.NoSites, opt.Visits.Slab, opt.Visits.StoryAlone = true, c.settings.NoNames, slab, true
	return analysis.Run(r.seenBy(choice.SeenBy), opt)
}
