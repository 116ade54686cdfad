package site

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/ingest"
	"pourback/ingest/store"
	"pourback/report/say"
)

// Ask is one question of a browser with what is known around it.
type Ask struct {
	*http.Request
	W       http.ResponseWriter
	Site    *Site
	Door    Access   // by which it came
	Company *company // its own, or the invented one
	Who     Person
	Choice  Choice    // of records, language and units, from the address
	Say     say.Site  // in the reader's language and units
	Now     time.Time // of the whole question
	Deed    *store.Deed

	Pictures []ingest.PictureFile // of an entry, made to be kept
	refused  []refusedPicture     // of which none are made

	route   Route
	token   string   // of the session
	kept    bool     // the page is kept as it is for all who ask for the same choice
	showing *showing // the page is kept for all who may see the same
}

// Store is where the company's records are.
func (a *Ask) Store() *store.Store { return a.Company.store }

// Base is below what the company's pages are: "" of its own, /invented.
func (a *Ask) Base() string {
	if a.Company == a.Site.own {
		return ""
	}
	return inventedBase
}

// Link is the address of a page of the same company, in the language and units
// that the reader has chosen.
func (a *Ask) Link(path string) string {
	query := a.Choice.View().query()
	if strings.Contains(path, "?") {
		query = strings.Replace(query, "?", "&", 1)
	}
	return a.Base() + path + query
}

// Go sends the browser on to another page, as the answer to a form.
func (a *Ask) Go(path string) error {
	http.Redirect(a.W, a.Request, a.Link(path), http.StatusSeeOther)
	return nil
}

// speak has all be said in the language and units that the address chooses.
func (a *Ask) speak() {
	a.Choice.readView(a.URL.Query())
	a.Say = a.Site.sayIn(a.Choice)
}

// speakTheirs has all be said in a language that the browser asks for, unless the
// address chooses another: phones are many people's, and nobody sets them up here.
func (a *Ask) speakTheirs() {
	if lang := wanted(a.Header.Get("Accept-Language"), say.Languages()); lang != "" {
		a.Choice.usual.lang, a.Choice.Lang = lang, lang
		a.speak()
	}
}

// wanted is the language that a browser would rather have (RFC 9110, 12.5.4), of those
// there are; "" where it names none of them.
func wanted(accepts string, there []string) (lang string) {
	most := 0.0
	for one := range strings.SplitSeq(accepts, ",") {
		tag, weight, weighs := strings.Cut(strings.ReplaceAll(one, " ", ""), ";q=")
		q, err := strconv.ParseFloat(weight, 64)
		if !weighs {
			q, err = 1, nil
		}
		code, _, _ := strings.Cut(strings.ToLower(tag), "-")
		if err == nil && q > most && slices.Contains(there, code) {
			lang, most = code, q
		}
	}
	return lang
}

// Field is a field of a form, without the space around it.
func (a *Ask) Field(name string) string { return strings.TrimSpace(a.PostFormValue(name)) }

// Stamp is the moment of the question as the database holds it.
func (a *Ask) Stamp() string { return stamp(a.Now) }

// newKey is a key for a form that nobody can guess.
func newKey() string { return rand.Text() }

// keyField is the hidden field with a form's key.
const keyField = "form_key"

// Once begins what a form asks for, known by its hidden key and a digest of all
// else that was sent: within the context it returns, the first thing that is kept
// is kept with the key, in the same transaction. A form that has arrived before
// is an error, a [*store.DoneError], which is shown as what it came to then.
func (a *Ask) Once(key, digest string) (context.Context, error) {
	if len(key) < 16 || len(key) > 64 {
		return nil, noKey()
	}
	a.Deed = &store.Deed{Key: key, Who: a.Who.Name, What: a.route.Method + " " + a.URL.Path, Body: digest, At: a.Stamp()}
	if err := a.Store().Done(a.Context(), a.Deed); err != nil {
		return nil, err
	}
	return store.WithDeed(a.Context(), a.Deed), nil
}

// meanwhile is an error, or that of a form that has arrived before and was done
// while this one was looked at.
func (a *Ask) meanwhile(err error) error {
	if err == nil || a.Deed == nil || a.Deed.Noted() {
		return err
	}
	var done *store.DoneError
	if before := a.Store().Done(context.WithoutCancel(a.Context()), a.Deed); errors.As(before, &done) {
		return done
	}
	return err
}

// logged is the context of a deed without a key, which is in the log all the same.
func (a *Ask) logged() context.Context {
	return store.WithDeed(a.Context(), &store.Deed{Who: a.Who.Name, What: a.route.Method + " " + a.route.Pattern, At: a.Stamp()})
}

// digest tells what a form's fields say from what others would.
func digest(fields url.Values) string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(fields)) {
		if name != keyField {
			for _, v := range fields[name] {
				sum.Write([]byte(url.QueryEscape(name) + "=" + url.QueryEscape(v) + "&"))
			}
		}
	}
	return hex.EncodeToString(sum.Sum(nil))
}
