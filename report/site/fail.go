package site

import (
	"context"
	"errors"
	"net/http"
	"strings"

	"pourback/ingest/store"
	"pourback/report/say"
)

// Fail is an error as a reader is told of it: what is wrong, and what to do.
type Fail struct {
	Status int
	Wrong  func(say.Site) string
	Right  func(say.Site) string
	cause  error // for the log
}

func (f *Fail) Error() string {
	english := say.Site{Voice: say.New("", "", "")}
	if f.Right == nil {
		return f.Wrong(english)
	}
	return f.Wrong(english) + " " + f.Right(english)
}

func (f *Fail) Unwrap() error { return f.cause }

func notFound() error      { return &Fail{404, say.Site.NoPage, say.Site.NoPageDo, nil} }
func wrongMethod() error   { return &Fail{405, say.Site.NoPage, say.Site.NoPageDo, nil} }
func notAllowed() error    { return &Fail{403, say.Site.NotYours, say.Site.NotYoursDo, nil} }
func signInFirst() error   { return &Fail{401, say.Site.SignInFirst, say.Site.SignInFirstDo, nil} }
func elsewhere() error     { return &Fail{403, say.Site.FromElsewhere, say.Site.FromElsewhereDo, nil} }
func elseSignedIn() error  { return &Fail{401, say.Site.ElseSignedIn, say.Site.ElseSignedInDo, nil} }
func tooOften() error      { return &Fail{429, say.Site.TooOften, say.Site.TooOftenDo, nil} }
func noKey() error         { return &Fail{400, say.Site.NoKey, say.Site.LoadAgain, nil} }
func anotherForm() error   { return &Fail{409, say.Site.AnotherForm, say.Site.LoadAgain, nil} }
func busy(err error) error { return &Fail{503, say.Site.Busy, say.Site.BusyDo, err} }

func wrongHost(host string, hosts []string) error {
	return &Fail{421, func(w say.Site) string { return w.WrongHost(host) }, func(w say.Site) string { return w.WrongHostDo(hosts[0]) }, nil}
}

// Wrong is what is wrong with what was asked, where, with what would be right.
func Wrong(wrong, right func(say.Site) string) error { return &Fail{400, wrong, right, nil} }

// badForm is a form that cannot be read.
func badForm(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return &Fail{413, func(w say.Site) string { return w.TooLarge(large.Limit) }, say.Site.TooLargeDo, err}
	}
	return &Fail{400, say.Site.BadForm, say.Site.LoadAgain, err}
}

// failView is an error as its page shows it.
type failView struct{ Wrong, Right string }

// fail shows an error. What nobody asked for is told to the log, and to the
// reader only that it happened: an error may name what is not theirs.
func (a *Ask) fail(err error) {
	if a.failEntry(err) {
		return
	}
	var done *store.DoneError
	if errors.As(err, &done) && done.Same {
		a.doneBefore(done)
		return
	}
	f := failOf(err)
	if f.Status >= 500 {
		a.Site.Log.Error("failed", "route", a.route.Pattern, "error", err.Error())
	}
	if f.Status == http.StatusTooManyRequests || f.Status == http.StatusServiceUnavailable {
		a.W.Header().Set("Retry-After", "10")
	}
	v := failView{Wrong: f.Wrong(a.Say)}
	if f.Right != nil {
		v.Right = f.Right(a.Say)
	}
	a.showAs(f.Status, "fail", a.Say.FailTitle(), v)
}

// failOf is an error as a reader is told of it.
func failOf(err error) *Fail {
	var f *Fail
	var large *http.MaxBytesError
	var done *store.DoneError
	var ofBid *store.BidError
	switch {
	case errors.As(err, &f):
		return f
	case errors.As(err, &large):
		return badForm(err).(*Fail)
	case errors.As(err, &done):
		return anotherForm().(*Fail)
	case errors.As(err, &ofBid):
		return failOfBid(ofBid)
	case errors.Is(err, store.ErrNoUser):
		return &Fail{404, say.Site.NoUser, say.Site.LoadAgain, err}
	case errors.Is(err, store.ErrLastOwner):
		return &Fail{409, say.Site.LastOwner, say.Site.LastOwnerDo, err}
	case errors.Is(err, store.ErrNameTaken):
		return &Fail{409, say.Site.NameTaken, say.Site.NameTakenDo, err}
	case errors.Is(err, store.ErrNoneSuch):
		return &Fail{410, say.Site.LinkUsed, say.Site.LinkUsedDo, err}
	case errors.Is(err, store.ErrNoUpload):
		return &Fail{404, say.Site.DropGone, say.Site.DropGoneDo, err}
	case errors.Is(err, store.ErrUploadIsElse):
		return &Fail{409, say.Site.DropElse, say.Site.DropElseDo, err}
	case errors.Is(err, store.ErrUploadsFull):
		return &Fail{507, say.Site.DropFull, say.Site.DropFullDo, err}
	case errors.Is(err, store.ErrDiskFull):
		return &Fail{507, say.Site.NoRoom, say.Site.NoRoomDo, err}
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		return busy(err).(*Fail)
	}
	return &Fail{500, say.Site.Broke, say.Site.BrokeDo, err}
}

// doneBefore answers a form that has arrived before as it was answered then.
func (a *Ask) doneBefore(done *store.DoneError) {
	kind, id, _ := strings.Cut(done.Did, " ")
	if place := placesOf[kind]; place != "" && a.Method == "POST" && a.Who.Role != Crew { // who sees neither batches nor bids
		a.Go(place + id)
		return
	}
	a.showAs(http.StatusOK, "fail", a.Say.DoneTitle(), failView{a.Say.DoneBefore(), a.Say.DoneBeforeDo()})
}

// placesOf are where to see what came of a form, by the first word of what it did.
var placesOf = map[string]string{"bid": "/bids/"}
