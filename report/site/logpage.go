package site

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"pourback/ingest/store"
	"pourback/report/say"
)

// deeds say what was done by each route that keeps something, as the log has it.
var deeds = map[string]func(say.Site) string{
	"form":                                   say.Site.DidEnter, // an entry that came by no route
	"POST /crew":                             say.Site.DidBegin,
	"POST /pour/{job}/begin":                 say.Site.DidBegin,
	"POST /pour/{job}/pictures":              say.Site.DidPictures,
	"POST /pour/{job}/{what}":                say.Site.DidEnter,
	"POST /slabs/{job}/{placement}/visit":    say.Site.DidVisit,
	"POST /slabs/{job}/{placement}/close":    say.Site.DidClose,
	"POST /slabs/{job}/{placement}/undo":     say.Site.DidUndo,
	"POST /slabs/{job}/{placement}/pictures": say.Site.DidPictures,
	"POST /users/phone":                      say.Site.DidAddPhone,
	"POST /users/{id}/code":                  say.Site.DidMakeCode,
	"POST /users/{id}/crew":                  say.Site.DidSetCrew,
	"POST /login":                            say.Site.DidSignIn,
	"POST /logout":                           say.Site.DidSignOut,
	"POST /join":                             say.Site.DidJoin,
	"POST /users/invite":                     say.Site.DidInvite,
	"POST /users/withdraw":                   say.Site.DidWithdraw,
	"POST /users/{id}/role":                  say.Site.DidRole,
	"POST /users/{id}/password":              say.Site.DidPassword,
	"POST /users/{id}/sessions":              say.Site.DidEndAll,
	"POST /users/{id}/remove":                say.Site.DidRemove,
	byHandDeed:                               say.Site.DidAddOwner,
	"POST /upload":                           say.Site.DidHandIn,
	"POST /upload/{id}":                      say.Site.DidSettle,
	"POST /upload/{id}/keep":                 say.Site.DidKeepFile,
	"POST /upload/{id}/drop":                 say.Site.DidDropFile,
	"POST /batches/{id}/undo":                say.Site.DidUndo,
	"POST /batches/{id}/fix":                 say.Site.DidFixAside,
	"POST /jobs/fix":                         say.Site.DidFix,
	"POST /bids":                             say.Site.DidKeepBid,
	"POST /bids/{id}/mark":                   say.Site.DidMarkBid,
	"POST /bids/{id}/job":                    say.Site.DidLinkBid,
	"POST /calendar/renew":                   say.Site.DidRenewFeed,
	"POST /calendar/end":                     say.Site.DidEndFeed,
}

// logView is the log of who did what.
type logView struct {
	Says  string
	Lines []logLine
}

type logLine struct {
	At, When, Who, What string
	Of                  linkView // what it was about; its address is "" where there is no page of it
}

// mostLogged are as many lines as a page shows.
const mostLogged = 200

func logPage(a *Ask) error {
	entries, err := a.Site.Store.Log(a.Context(), mostLogged)
	if err != nil {
		return err
	}
	users, err := a.Site.Store.Users(a.Context())
	if err != nil {
		return err
	}
	waiting, err := a.Site.Store.Uploads(a.Context())
	if err != nil {
		return err
	}
	v := logView{Says: a.Say.LogAnswer(len(entries))}
	if len(entries) == 0 {
		v.Says = a.Say.LogNone()
	}
	for _, e := range entries {
		route := a.Site.routeOf(e.What)
		l := logLine{At: e.At, When: a.Say.Moment(e.At), Who: a.Say.Person(e.Who), What: say.Clean(e.What, say.ShortName), Of: a.aboutEntry(e, users, waiting)}
		if did := deeds[route]; did != nil {
			l.What = did(a.Say)
		}
		if e.What == byHandDeed {
			l.Who = a.Say.AtTerminal()
		}
		v.Lines = append(v.Lines, l)
	}
	return a.Show("log", a.Say.LogTitle(), v)
}

// routeOf is the route of what the log has, such as "POST /bids/3/mark": its method
// and pattern. What is no route's is as it is.
func (s *Site) routeOf(what string) string {
	method, path, _ := strings.Cut(what, " ")
	if !strings.HasPrefix(path, "/") {
		return what
	}
	if _, pattern := s.front.mux.Handler(&http.Request{Method: method, URL: &url.URL{Path: path}}); pattern != "" {
		return pattern
	}
	return what
}

// aboutEntry is what an entry of the log was about, by what came of it: "batch 12",
// "bid 3", "upload X", "user 4 crew", "password of user 4", "invitation of Bo".
func (a *Ask) aboutEntry(e store.LogEntry, users []store.User, waiting []store.Upload) linkView {
	kind, rest, _ := strings.Cut(e.Did, " ")
	id, err := strconv.ParseInt(rest, 10, 64)
	switch {
	case kind == "batch" && err == nil:
		return linkView{a.Say.BatchName(id), batchPath(id)}
	case kind == "bid" && err == nil:
		return linkView{a.Say.BidNumber(id), "/bids/" + rest}
	case kind == "upload":
		for _, u := range waiting {
			if u.ID == rest {
				return linkView{say.Clean(u.File, say.LongName), "/upload/" + u.ID}
			}
		}
	case kind == "invitation":
		return linkView{Name: say.Clean(strings.TrimPrefix(rest, "of "), say.ShortName)}
	case kind == "password":
		return linkView{Name: a.userNamed(strings.TrimPrefix(rest, "of user "), "", users)}
	case kind == "user" && strings.HasPrefix(e.What, "POST /users/"):
		number, role, _ := strings.Cut(rest, " ")
		return linkView{Name: a.userNamed(number, role, users)}
	case kind == "user":
		return linkView{Name: say.Clean(rest, say.ShortName)}
	}
	return linkView{}
}

// userNamed is the user of a number, with the role that was given, if one was.
func (a *Ask) userNamed(number, role string, users []store.User) string {
	for _, u := range users {
		switch {
		case strconv.FormatInt(u.ID, 10) != number:
		case role == "" || roleNamed(role) == Nobody:
			return say.Clean(u.Name, say.ShortName)
		default:
			return a.Say.RoleGiven(u.Name, role)
		}
	}
	return a.Say.UserGone()
}
