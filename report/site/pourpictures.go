package site

import (
	"net/http"
	"slices"

	"pourback/analysis/visits"
	"pourback/ingest"
	"pourback/ingest/record"
)

// pictureForm is what the form for pictures of a pour is known by.
const pictureForm = "pictures"

// picturesForm takes pictures of a placement or of one of its trucks, the latest first.
func (a *Ask) picturesForm(p *pouring) *formView {
	f := &formView{What: pictureForm, Title: a.Say.PicturesAdd(), Act: pourPath(p.Job) + "/" + pictureForm, Keep: a.Say.PicturesKeep(), Files: true, Hidden: [][2]string{{"part", p.Name}}}
	f.Open = a.URL.Query().Get("open") == f.What
	if len(p.Loads) > 0 {
		of := fieldView{Name: "of", Label: a.Say.PicturesOf(), Kind: "words", Options: []chooseOption{{Text: a.Say.PicturesOfSlab(), Selected: true}}}
		for _, l := range slices.Backward(p.Loads) {
			of.Options = append(of.Options, chooseOption{Value: ofTicket + l.TicketNo, Text: a.Say.PicturesOfLoad(l.TicketNo)})
		}
		f.add(of)
	}
	f.named()
	return f
}

// plannedLater says whether nothing of a pour is on record and its day is still to come:
// a picture of its forms must not begin it on the wrong day.
func plannedLater(p *pouring, today record.Date) bool {
	return p.Is == nil && p.Plan != nil && p.Plan.day() > today
}

// takePourPictures keeps pictures of a pour, with the slab or with one of its trucks.
func takePourPictures(a *Ask) error {
	all, p, begin, err := a.pourSent()
	if err != nil {
		return err
	}
	reply := entryReply{Part: p.Name, Again: func(wrong []record.Problem) error {
		f := a.picturesForm(p)
		f.again(a, wrong)
		return a.showPour(http.StatusUnprocessableEntity, all, p, f)
	}}
	if plannedLater(p, a.Said().Date()) {
		return a.refuse([]record.Problem{a.problem("", a.Say.PicturesEarly(p.Plan.day()), a.Say.PicturesEarlyDo())}, reply)
	}
	slab := &slabRows{is: p.As(), loads: p.Loads}
	made := a.pictures(slab)
	if made == nil && len(a.refused) == 0 {
		return a.refuse([]record.Problem{a.problem("", a.Say.NoPictureChosen(), a.Say.NoPictureChosenDo())}, reply)
	}
	if made != nil {
		if err := a.belongs(slab, made); err != nil {
			return err
		}
	}
	e := ingest.Entry{What: slab.entry(ofPictures), Pictures: made}
	if begin != nil {
		e.Rows = []ingest.EntryRow{*begin}
	}
	reply.Says = func(done ingest.Entered) string { return a.Say.PicturesKept(slab.name(a.Say), len(done.Pictures)) }
	return a.keepWhole(e, reply)
}

// pourPictures are the pictures of a placement in small, the latest first, for that is
// what was just taken.
func (a *Ask) pourPictures(p *pouring) ([]pictureView, error) {
	if p.Is == nil {
		return nil, nil
	}
	views, err := a.slabPictures(&slabRows{is: p.Is}, &visits.SlabStory{})
	slices.Reverse(views)
	return views, err
}
