package site

import (
	"bytes"
	"html/template"
	"net/http"
	"slices"

	"pourback/analysis"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/out"
	"pourback/report/page"
	"pourback/report/say"
)

// storyView is a slab's story, with its pictures and what may be entered about it: the
// page of the report for who reads those, and its lines without money or notes for a crew.
type storyView struct {
	Slug, Says string
	Body       template.HTML
	About      string
	Lines      []storyLine
	Pictures   []pictureView
	Wrong      []told
	Acts       *slabActs // nil for who does not write
}

type storyLine struct{ On, What string }

// slabActs are what may be entered about a slab.
type slabActs struct {
	At       string // the address that all begin with
	Sound    *soundForm
	Calls    []openCall
	Owners   []chooseOption // what pictures can belong to
	LastSays string         // what may be taken back, "" where nothing may
	Last     int64          // its batch
}

// openCall is a callback to be closed.
type openCall struct{ Says, On, Today string }

// slabPage is the story of one slab.
func slabPage(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	return a.showSlab(http.StatusOK, s, nil)
}

func (a *Ask) showSlab(status int, s *slabRows, wrong []record.Problem) error {
	f, err := a.Company.story(a.Context(), a.Choice, s.is.JobNo+"/"+s.is.Placement)
	if err != nil {
		return err
	}
	if len(f.Visits.Stories) == 0 { // poured after the data date
		return noSlab(s.is.JobNo, s.is.Placement, nil)
	}
	is := &f.Visits.Stories[0]
	v, title, err := a.slabStory(f, is)
	if err != nil {
		return err
	}
	if v.Pictures, err = a.slabPictures(s, is); err != nil {
		return err
	}
	for _, p := range wrong {
		v.Wrong = append(v.Wrong, a.wrong(p))
	}
	if a.writes() {
		if v.Acts, err = a.slabActs(s, is); err != nil {
			return err
		}
	}
	return a.showAs(status, "slab", title, v)
}

// slabStory is what is told of a slab.
func (a *Ask) slabStory(f *analysis.Factors, s *visits.SlabStory) (v storyView, title string, err error) {
	w := say.Slabs{Voice: a.Say.Voice}
	if a.Who.Role&Readers != 0 {
		opt := a.bidOptions()
		opt.WithSites = !a.Company.settings.NoNames
		p := page.VisitPages(f, opt)[0]
		var body bytes.Buffer
		err := out.WriteBody(&body, p)
		return storyView{Slug: p.Slug, Says: p.Answer, Body: template.HTML(body.String())}, p.Title, err
	}
	v = storyView{Slug: "slab", Says: w.OneAnswer(s), About: w.Caption(s), Lines: []storyLine{{s.PlacedOn.String(), w.Poured(&s.Pour)}}}
	if len(s.Signs) > 0 {
		v.Lines = append(v.Lines, storyLine{s.PlacedOn.String(), w.Outside(s)})
	}
	for i := range s.Looks {
		l := s.Looks[i]
		l.Note, l.Cost.OK = "", false // a note may name an amount
		v.Lines = append(v.Lines, storyLine{l.On.String(), w.Look(&l)})
	}
	return v, w.OneTitle(s), nil
}

// slabActs are what may be entered about a slab.
func (a *Ask) slabActs(s *slabRows, is *visits.SlabStory) (*slabActs, error) {
	w, today := a.Say, a.Today().String()
	acts := &slabActs{At: a.Link(s.path()), Sound: a.sound(s.is.JobNo, s.is.Placement), Owners: []chooseOption{{Text: w.PicturesOfSlab()}}}
	if is.Stands.Code == visits.StandOpen || is.Stands.Code == visits.StandUnclosed {
		for _, v := range s.visits {
			if v.Callback() && v.ResolvedOn == 0 {
				acts.Calls = append(acts.Calls, openCall{w.CloseTitle(v.SeenOn, v.Finding), v.SeenOn.String(), today})
			}
		}
	}
	for _, l := range s.loads {
		acts.Owners = append(acts.Owners, chooseOption{Value: ofTicket + l.TicketNo, Text: w.PicturesOfLoad(l.TicketNo)})
	}
	for _, v := range slices.Backward(s.visits) {
		acts.Owners = append(acts.Owners, chooseOption{Value: ofDay + v.SeenOn.String(), Text: w.PicturesOfVisit(v.SeenOn.String())})
	}
	last, err := a.lastEntry(s)
	if last != nil {
		acts.Last, acts.LastSays = last.ID, w.LastEntry(w.Moment(last.TakenAt), last.Who)
	}
	return acts, err
}
