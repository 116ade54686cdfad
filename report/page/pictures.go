package page

import (
	"cmp"
	"slices"

	"pourback/analysis"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/say"
)

// Thumb is a picture in small, with what stands under it.
type Thumb struct {
	JPEG []byte
	Alt  string // what it is, for who does not see it
	Says string
}

// Pictures are those kept with the slabs whose stories are told: how many of each,
// and a few to show.
type Pictures struct {
	of    map[[2]string]*slabPictures // by job and placement
	shown []*shownPicture             // in the order in which slabs are told of
}

type slabPictures struct {
	total int
	shown []*shownPicture // oldest first
}

type shownPicture struct {
	record.Picture
	thumb []byte
}

// What a report may hold of pictures, so that it can still be sent.
const (
	mostPicturesOfSlab = 6
	mostPictureBytes   = 1_500_000
)

// PicturesOf finds among all pictures those of the slabs that are told of, known by
// the data date. Of many of one slab it takes the latest to be shown.
func PicturesOf(f *analysis.Factors, all []record.Picture) *Pictures {
	p := &Pictures{of: map[[2]string]*slabPictures{}}
	asOf, _ := record.ParseDate(f.AsOf)
	mine := map[[2]string][]*shownPicture{}
	for i := range all {
		if is := all[i]; asOf == 0 || is.On() <= asOf {
			at := [2]string{is.JobNo, is.Placement}
			mine[at] = append(mine[at], &shownPicture{Picture: is})
		}
	}
	for i := range f.Visits.Stories {
		at := [2]string{f.Visits.Stories[i].JobNo, f.Visits.Stories[i].Placement}
		of := mine[at]
		if len(of) == 0 {
			continue
		}
		slices.SortFunc(of, func(a, b *shownPicture) int {
			return cmp.Or(cmp.Compare(a.On(), b.On()), cmp.Compare(a.TakenAt, b.TakenAt), cmp.Compare(a.Picture.Picture, b.Picture.Picture))
		})
		s := &slabPictures{total: len(of), shown: of[max(0, len(of)-mostPicturesOfSlab):]}
		p.of[at], p.shown = s, append(p.shown, s.shown...)
	}
	return p
}

// Fill reads the thumbnails that are shown, by the key of each picture, until they
// are as many bytes as a report may hold.
func (p *Pictures) Fill(read func(key string) ([]byte, error)) (err error) {
	left := mostPictureBytes
	for _, s := range p.shown {
		thumb, err := read(s.Picture.Picture)
		if err != nil {
			return err
		}
		if left -= len(thumb); left < 0 {
			return nil
		}
		s.thumb = thumb
	}
	return nil
}

// pictured gives a slab's story its pictures, and says how many there are besides.
func (a *Author) pictured(e *Exhibit, s *visits.SlabStory) {
	of := a.pictures.slab(s)
	if of == nil {
		return
	}
	w := say.Slabs{Voice: a.Voice}
	for _, p := range of.shown {
		if p.thumb != nil {
			e.Thumbs = append(e.Thumbs, Thumb{JPEG: p.thumb, Alt: w.PictureAlt(&p.Picture), Says: w.PictureSays(&p.Picture, lookOn(s, p.SeenOn))})
		}
	}
	if n := of.total - len(e.Thumbs); n > 0 && len(e.Thumbs) > 0 {
		e.ThumbsLeft = w.MorePictures(n)
	} else if n > 0 {
		e.ThumbsLeft = w.Pictures(n)
	}
}

// slab is what there is of a slab; nil where there is nothing, or nothing is to be
// shown.
func (p *Pictures) slab(s *visits.SlabStory) *slabPictures {
	if p == nil {
		return nil
	}
	return p.of[[2]string{s.JobNo, s.Placement}]
}

// lookOn is the visit of a day, or nil.
func lookOn(s *visits.SlabStory, on record.Date) *visits.StoryLook {
	if i := slices.IndexFunc(s.Looks, func(l visits.StoryLook) bool { return l.On == on }); on != 0 && i >= 0 {
		return &s.Looks[i]
	}
	return nil
}
