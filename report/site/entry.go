package site

import (
	"cmp"
	"encoding/json"
	"errors"
	"net/http"
	"net/url"
	"path"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// entryHeader asks for the answer to an entry as JSON: the queue of a phone sends it.
const entryHeader = "Pourback-Entry"

// entryReply is how an entry is answered, whichever way it was sent.
type entryReply struct {
	Back string // the page that tells what was kept; "" for the form's address without its last part, or all of one that has only one
	Part string // of that page, where it has several

	// Says is what is on record now, in a line or two: "Truck 4711, 9 yd: on record."
	// What clashes and what looks odd is said behind it by itself.
	Says func(ingest.Entered) string

	// Again shows the page with the form open again, filled in with what was sent, where a
	// value of it cannot be taken: each problem is said by [Ask.wrong]. It
	// ends with showAs(http.StatusUnprocessableEntity, …).
	Again func(wrong []record.Problem) error
}

// keepEntry keeps what somebody at the forms says, once, and answers: with JSON where the
// queue of a phone has sent it, and else by going to the page that the form is on, which
// says at its top what was kept (the template "entry"). That page is the address of the
// form without its last part.
//
// A handler of a route of the kind [Entry] fills in What, Rows and Pictures (from
// [Ask.Pictures]) of the entry; who says it, when, and how its values are read is filled in
// here. It reads a time that may have been filled in by a tap with [Ask.Time], and today
// is [Ask.Today]. Where it finds by itself that something cannot be taken, it returns
// [Ask.refuse] with what is wrong.
func (a *Ask) keepEntry(e ingest.Entry, r entryReply) error {
	after, err := a.madeBefore()
	if err != nil {
		return err
	}
	e.Sheet, e.TakenAt, e.By, e.After = a.entrySheet(), a.Stamp(), a.Who.Name, after
	done, err := ingest.Enter(a.Context(), a.Store(), e)
	var unfit *ingest.EntryError
	if errors.As(err, &unfit) {
		return a.refuse(unfit.Problems, r)
	}
	if err != nil {
		return err
	}
	t := a.tell(done, r.Says(done))
	a.Site.lately.keep(a.PostFormValue(keyField), t)
	return a.entryKept(t, r)
}

// refuse answers an entry that cannot be taken with why.
func (a *Ask) refuse(wrong []record.Problem, r entryReply) error {
	if !a.byQueue() {
		return r.Again(wrong)
	}
	var why []string
	for _, p := range wrong {
		why = append(why, a.wrong(p).Says)
	}
	return a.entryRefused(http.StatusUnprocessableEntity, strings.Join(why, " "))
}

// saidHere is the code of a problem that a form has found itself, in the reader's words.
const saidHere = "said-here"

// problem is one that a form finds itself; field is "" where it is about all of it.
func (a *Ask) problem(field, wrong, right string) record.Problem {
	return record.Problem{Severity: record.Error, Code: saidHere, Column: field, Wrong: wrong, Right: right}
}

// wrong is a problem of an entry in a line of its own: which value, and what is wrong with it.
func (a *Ask) wrong(p record.Problem) told {
	is := a.onPage(p)
	if text := a.Say.EntryProblem(p); text != "" {
		is = told{ended(text), ""}
	}
	if p.Code == saidHere {
		is = told{ended(p.Text()), ""}
	}
	if p.Column == "" {
		return is.whole()
	}
	is.Says = a.Say.EntryWrong(p.Column, is.Says)
	return is
}

// byQueue says whether the queue of a phone has sent an entry.
func (a *Ask) byQueue() bool { return a.route.Kind == Entry && a.Header.Get(entryHeader) == "1" }

// entryKept answers an entry that is on record.
func (a *Ask) entryKept(t entryTold, r entryReply) error {
	key := a.PostFormValue(keyField)
	if a.byQueue() {
		return a.json(http.StatusOK, map[string]string{"key": key, "kept": t.Did, "became": t.Became, "says": t.plain()})
	}
	at := a.URL.EscapedPath()
	if above := path.Dir(at); above != "/" {
		at = above
	}
	back := cmp.Or(r.Back, at) + "?kept=" + url.QueryEscape(key)
	if part := cmp.Or(r.Part, a.Field("part")); part != "" {
		back += "&part=" + url.QueryEscape(part)
	}
	return a.Go(back)
}

// entryRefused answers an entry that is not to be sent again as it is.
func (a *Ask) entryRefused(status int, why string) error {
	return a.json(status, map[string]string{"key": a.PostFormValue(keyField), "refused": why})
}

func (a *Ask) json(status int, answer map[string]string) error {
	text, err := json.Marshal(answer)
	if err == nil {
		a.W.Header().Set("Cache-Control", "no-store")
		a.send(status, "application/json", text)
	}
	return err
}

// failEntry answers an entry by an error, where that says what became of it; else it is
// false: the phone keeps what it has sent, and tries again.
func (a *Ask) failEntry(err error) bool {
	var done *store.DoneError
	var f *Fail
	switch {
	case a.route.Kind != Entry:
		return false
	case errors.As(err, &done) && done.Same:
		return a.entryKept(a.toldBefore(a.PostFormValue(keyField), done.Did), entryReply{}) == nil
	case !a.byQueue():
		return false
	case errors.As(err, &done):
		return a.entryRefused(http.StatusConflict, a.Say.AnotherForm()+" "+a.Say.LoadAgain()) == nil
	case errors.As(err, &f) && f.Status == http.StatusUnprocessableEntity:
		why := f.Wrong(a.Say)
		if f.Right != nil {
			why += " " + f.Right(a.Say)
		}
		return a.entryRefused(f.Status, why) == nil
	}
	return false
}

// unfitEntry is an entry that cannot be taken as a whole, whatever its values.
func unfitEntry(wrong, right func(say.Site) string) error {
	return &Fail{http.StatusUnprocessableEntity, wrong, right, nil}
}
