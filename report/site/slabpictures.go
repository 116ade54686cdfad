package site

import (
	"cmp"
	"errors"
	"net/http"
	"net/url"
	"slices"

	"pourback/analysis/visits"
	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// pictureView is a picture of a slab in small, with what stands under it.
type pictureView struct {
	Href, Source  string
	Width, Height int64
	Alt, Says     string
}

// picturesOf are the pictures of a slab, the oldest first: none where nobody may be
// named, for they may show people and houses.
func (a *Ask) picturesOf(s *slabRows) (of []record.Picture, err error) {
	if a.Company.settings.NoNames {
		return nil, nil
	}
	all, err := a.Store().Pictures(a.Context(), s.is.JobNo)
	asOf := a.Choice.AsOf
	for _, p := range all {
		if p.Placement == s.is.Placement && (asOf == a.Choice.usual.asOf || p.On() <= asOf) {
			of = append(of, p)
		}
	}
	slices.SortFunc(of, func(x, y record.Picture) int {
		return cmp.Or(cmp.Compare(x.On(), y.On()), cmp.Compare(x.TakenAt, y.TakenAt), cmp.Compare(x.KeptAt, y.KeptAt), cmp.Compare(x.Picture, y.Picture))
	})
	return of, err
}

// slabPictures are the pictures of a slab as its page shows them.
func (a *Ask) slabPictures(s *slabRows, is *visits.SlabStory) (views []pictureView, err error) {
	all, err := a.picturesOf(s)
	w := say.Slabs{Voice: a.Say.Voice}
	for i := range all {
		p := &all[i]
		at := s.path() + "/pictures/" + url.PathEscape(p.Picture)
		v := pictureView{Href: a.Link(at), Source: at + "/small", Alt: w.PictureAlt(p), Says: w.PictureSays(p, lookOf(is, p.SeenOn)), Width: p.WidthPx.Or(0), Height: p.HeightPx.Or(0)}
		views = append(views, v)
	}
	return views, err
}

// lookOf is the visit of a day, nil where there is none.
func lookOf(s *visits.SlabStory, on record.Date) *visits.StoryLook {
	i := slices.IndexFunc(s.Looks, func(l visits.StoryLook) bool { return l.On == on })
	if i < 0 {
		return nil
	}
	return &s.Looks[i]
}

// onePictureView is a picture on its own, in large.
type onePictureView struct {
	pictureView
	Before, Next, Slab, Pour string // addresses; "" where there is none
}

// picturePage shows one picture in large, and leads to those beside it.
func picturePage(a *Ask) error {
	s, p, all, err := a.picture()
	if err != nil {
		return err
	}
	at := func(i int) string {
		if i < 0 || i >= len(all) {
			return ""
		}
		return a.Link(s.path() + "/pictures/" + url.PathEscape(all[i].Picture))
	}
	is := &all[p]
	w := say.Slabs{Voice: a.Say.Voice}
	var look *visits.StoryLook
	for _, v := range s.visits {
		if v.SeenOn == is.SeenOn {
			look = &visits.StoryLook{On: v.SeenOn, Finding: v.Finding, Kind: v.CrackKind}
		}
	}
	v := onePictureView{pictureView{Source: s.path() + "/pictures/" + url.PathEscape(is.Picture) + "/large", Width: is.WidthPx.Or(0), Height: is.HeightPx.Or(0), Alt: w.PictureAlt(is), Says: w.PictureSays(is, look)},
		at(p - 1), at(p + 1), a.Link(s.path()), a.Link(partPath(s.is.JobNo, s.is.Placement))}
	return a.Show("picture", a.Say.PictureTitle(s.name(a.Say)), v)
}

// picture is the picture that an address is about, by its place among those of its slab.
func (a *Ask) picture() (s *slabRows, at int, all []record.Picture, err error) {
	if s, err = a.slabRows(); err != nil {
		return nil, 0, nil, err
	}
	if all, err = a.picturesOf(s); err != nil {
		return nil, 0, nil, err
	}
	key := a.PathValue("key")
	if at = slices.IndexFunc(all, func(p record.Picture) bool { return p.Picture == key }); at < 0 {
		return nil, 0, nil, noPicture(nil)
	}
	return s, at, all, nil
}

func noPicture(err error) error {
	return &Fail{http.StatusNotFound, say.Site.NoPicture, say.Site.NoPictureDo, err}
}

// pictureFile is a picture itself, or in small. A browser keeps it, and asks each time
// whether it still may be seen.
func pictureFile(a *Ask) error {
	_, at, all, err := a.picture()
	if err != nil {
		return err
	}
	read := map[string]func() ([]byte, error){
		"small": func() ([]byte, error) { return a.Store().PictureThumb(a.Context(), all[at].Picture) },
		"large": func() ([]byte, error) { return a.Store().PictureContent(a.Context(), all[at].Picture) },
	}[a.PathValue("size")]
	if read == nil {
		return noPicture(nil)
	}
	etag := `"` + all[at].SHA256 + `"`
	h := a.W.Header()
	h.Set("ETag", etag)
	h.Set("Cache-Control", "private, no-cache")
	if matches(a.Header.Get("If-None-Match"), etag) {
		a.W.WriteHeader(http.StatusNotModified)
		return nil
	}
	content, err := read()
	if errors.Is(err, store.ErrNoPicture) || errors.Is(err, store.ErrPurged) {
		h.Del("ETag")
		return noPicture(err)
	}
	if err == nil {
		a.send(http.StatusOK, "image/jpeg", content)
	}
	return err
}

// What pictures can belong to, beside the slab: the beginnings of the form's values.
const (
	ofTicket = "load "
	ofDay    = "visit "
)

// takePictures keeps pictures with a slab, or with a load or a visit of it.
func takePictures(a *Ask) error {
	s, err := a.slabRows()
	if err != nil {
		return err
	}
	p := a.pictures(s)
	if p == nil && len(a.refused) == 0 {
		return unfitEntry(say.Site.PictureNone, say.Site.PictureNoneDo)
	}
	if p != nil {
		if err := a.belongs(s, p); err != nil {
			return err
		}
	}
	slab := s.name(a.Say)
	return a.keepWhole(ingest.Entry{What: s.entry(ofPictures), Pictures: p}, entryReply{
		Says:  func(done ingest.Entered) string { return a.Say.PicturesKept(slab, len(done.Pictures)) },
		Again: func(wrong []record.Problem) error { return a.showSlab(http.StatusUnprocessableEntity, s, wrong) },
	})
}

// belongs says of pictures what they belong to, which must be on record.
func (a *Ask) belongs(s *slabRows, p *ingest.Adding) error {
	of := a.Field("of")
	for _, l := range s.loads {
		if of == ofTicket+l.TicketNo {
			p.TicketNo = l.TicketNo
		}
	}
	for _, v := range s.visits {
		if of == ofDay+v.SeenOn.String() {
			p.SeenOn = v.SeenOn
		}
	}
	if of != "" && p.TicketNo == "" && p.SeenOn == 0 {
		return unfitEntry(say.Site.PicturesOfNone, say.Site.LoadAgain)
	}
	return nil
}
