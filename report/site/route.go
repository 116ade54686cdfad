package site

// Route is something that can be asked for.
type Route struct {
	Method, Pattern string // as net/http has them
	For             Roles  // who may, and whether phones on the network may
	Do              func(*Ask) error
	Kind            Kind

	// Invented routes are there a second time below /invented, where they are
	// about the invented company.
	Invented bool
}

// Kind is how a route takes what it is sent.
type Kind int

const (
	Shows   Kind = iota // a page: it changes nothing
	Form                // a form of fields: done once by its hidden key, at most 1 MB
	Keyless             // a form whose doing twice is doing it once
	Entry               // what is said at the crew's forms: fields, or fields and a dozen pictures; done once by its hidden key, answered by [Ask.keepEntry]
	Upload              // reads the body itself, by [Ask.Parts], and begins its deed by [Ask.Once]
)

// Routes are all that can be asked for.
func Routes() []Route {
	all := append([]Route{}, ownRoutes...)
	for _, r := range ownRoutes {
		if r.Invented {
			r.Pattern, r.For = inventedBase+r.Pattern, r.For&^Lan
			all = append(all, r)
		}
	}
	return all
}

// inventedBase is below what the invented company's pages are.
const inventedBase = "/invented"

// ownRoutes is the table of routes. To add a page: a line here, a handler in a
// file of its own, a template, its sentences in report/say/site*.go, and, where
// people should find it, a line in navigation (layout.go).
var ownRoutes = []Route{
	{"GET", "/healthz", Anybody | Lan, health, Shows, false},
	{"GET", "/assets/{name}", Anybody | Lan, asset, Shows, false},
	{"GET", "/worker.js", Anybody | Lan, worker, Shows, false},

	{"GET", "/{$}", SignedIn, home, Shows, true},
	{"GET", "/report/{slug}", Readers, reportPage, Shows, true},
	{"GET", "/start", Owner, startPage, Shows, false},
	{"POST", "/invented", Owner, makeInvented, Keyless, false},
	{"POST", "/invented/gone", Owner, dropInvented, Keyless, false},

	{"GET", "/upload", Owner, uploadPage, Shows, false},
	{"POST", "/upload", Owner, takeUpload, Upload, false},
	{"GET", "/upload/{id}", Owner, lookPage, Shows, false},
	{"POST", "/upload/{id}", Owner, settleUpload, Form, false},
	{"POST", "/upload/{id}/keep", Owner, keepUpload, Form, false},
	{"POST", "/upload/{id}/drop", Owner, dropWaiting, Form, false},
	{"GET", "/batches", Owner, batchesPage, Shows, false},
	{"GET", "/batches/{id}", Owner, batchPage, Shows, false},
	{"POST", "/batches/{id}/undo", Owner, undoBatch, Form, false},
	{"POST", "/batches/{id}/fix", Owner, fixAside, Form, false},
	{"GET", "/jobs", Owner, jobsPage, Shows, false},
	{"GET", "/jobs/{no}", Owner, jobPage, Shows, false},
	{"POST", "/jobs/fix", Owner, fixRecord, Form, false},

	{"GET", "/bids", Readers, bidsPage, Shows, true},
	{"GET", "/bids/new", Owner, newBidPage, Shows, false},
	{"POST", "/bids/work", Owner, workBid, Keyless, false},
	{"POST", "/bids", Owner, keepNewBid, Form, false},
	{"GET", "/bids/compare", Readers, comparePage, Shows, false},
	{"GET", "/bids/{id}", Readers, bidPage, Shows, true},
	{"GET", "/bids/{id}/json", Readers, bidJSON, Shows, false},
	{"GET", "/bids/{id}/sheet", Readers, costSheet, Shows, true},
	{"GET", "/bids/{id}/proposal", Readers, proposal, Shows, true},
	{"GET", "/bids/{id}/pour-day", SignedIn, pourDay, Shows, true},
	{"GET", "/bids/{id}/balance", SignedIn, balancePage, Shows, true},
	{"POST", "/bids/{id}/mark", Owner, markBid, Form, false},
	{"POST", "/bids/{id}/job", Owner, linkBid, Form, false},

	{"GET", "/crew", SignedIn, crewPage, Shows, true},
	{"POST", "/crew", Crews, beginHere, Entry, false},
	{"GET", "/pours", SignedIn, poursPage, Shows, true},
	{"GET", "/pour/{job}", SignedIn, pourPage, Shows, false}, // the code on a pour-day sheet leads there
	{"GET", "/pour/{job}/last-load", SignedIn, lastLoadPage, Shows, false},
	{"POST", "/pour/{job}/begin", Crews, beginPour, Entry, false},
	{"POST", "/pour/{job}/pictures", Crews, takePourPictures, Entry, false},
	{"POST", "/pour/{job}/{what}", Crews, enterPour, Entry, false},

	{"GET", "/visits", SignedIn, visitsPage, Shows, true},
	{"GET", "/slabs/{job}/{placement}", SignedIn, slabPage, Shows, true},
	{"GET", "/slabs/{job}/{placement}/visit", Crews, visitForm, Shows, false},
	{"POST", "/slabs/{job}/{placement}/visit", Crews, takeVisit, Entry, false},
	{"POST", "/slabs/{job}/{placement}/close", Crews, closeCall, Entry, false},
	{"POST", "/slabs/{job}/{placement}/undo", Crews, undoEntry, Form, false},
	{"POST", "/slabs/{job}/{placement}/pictures", Crews, takePictures, Entry, false},
	{"GET", "/slabs/{job}/{placement}/pictures/{key}", SignedIn, picturePage, Shows, false},
	{"GET", "/slabs/{job}/{placement}/pictures/{key}/{size}", SignedIn, pictureFile, Shows, false},
	{"GET", "/calendar", Owner, feedPage, Shows, false},
	{"POST", "/calendar/renew", Owner, renewFeed, Form, false},
	{"POST", "/calendar/end", Owner, endFeed, Form, false},
	{"GET", "/calendar/{token}/visits.ics", Anybody, feed, Shows, false},

	{"GET", "/login", Anybody, loginPage, Shows, false},
	{"POST", "/login", Anybody, login, Keyless, false},
	{"POST", "/logout", Anybody | Lan, logout, Keyless, false},
	{"GET", "/join", Anybody | Lan, joinPage, Shows, false},
	{"POST", "/join", Anybody | Lan, join, Keyless, false},
	{"GET", "/you", SignedIn, youPage, Shows, false},

	{"GET", "/users", Owner, usersPage, Shows, false},
	{"POST", "/users/invite", Owner, invite, Form, false},
	{"POST", "/users/{id}/role", Owner, setRole, Form, false},
	{"POST", "/users/{id}/password", Owner, resetPassword, Form, false},
	{"POST", "/users/{id}/sessions", Owner, endSessions, Form, false},
	{"POST", "/users/{id}/remove", Owner, removeUser, Form, false},
	{"POST", "/users/phone", Owner, addPhone, Form, false},
	{"POST", "/users/{id}/code", Owner, renewPhone, Form, false},
	{"POST", "/users/{id}/crew", Owner, setCrew, Form, false},
	{"POST", "/users/withdraw", Owner, withdraw, Form, false},
	{"GET", "/log", Owner, logPage, Shows, false},
}
