package site

import (
	"context"
	"database/sql"
	"fmt"
	"html/template"
	"net"
	"net/url"
	"slices"
	"strings"
	"sync"
	"time"

	"pourback/ingest/store"
	"pourback/report/chart"
	"pourback/report/say"
)

// How long a phone stays let in after it was heard of, how long a code holds, how
// often it is noted that a phone was heard of, and how long a page waits for that: a
// file that comes in may hold the database for longer.
const (
	phoneLasts    = 180 * 24 * time.Hour
	codeLasts     = 15 * time.Minute
	heardEvery    = 10 * time.Minute
	heardPatience = 300 * time.Millisecond
)

// heard remembers when it was last tried to note that a phone was heard of.
type heard struct {
	mu   sync.Mutex
	last map[string]time.Time // by the hash of a token
}

// due says whether it is to be noted now, which is then not tried again for a minute.
func (h *heard) due(hash, seen string, now time.Time) bool {
	if seen > stamp(now.Add(-heardEvery)) {
		return false
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	if now.Sub(h.last[hash]) < time.Minute {
		return false
	}
	if h.last == nil || len(h.last) > mostGuests {
		h.last = map[string]time.Time{}
	}
	h.last[hash] = now
	return true
}

// heardOf speaks a phone's language, and now and then notes that it was heard of: from
// then on it stays let in for as long as if it had been added now.
func (a *Ask) heardOf(u store.Guest) {
	if !u.Phone {
		return
	}
	a.speakTheirs()
	hash := tokenHash(a.token)
	if !a.Site.heard.due(hash, u.SeenAt, a.Now) {
		return
	}
	ctx, stop := context.WithTimeout(a.Context(), heardPatience)
	defer stop()
	if err := a.Site.Store.Touch(ctx, hash, a.Stamp(), stamp(a.Now.Add(phoneLasts))); err != nil {
		a.Site.Log.Warn("when a phone was heard of was not noted", "error", err.Error())
		return
	}
	a.setSession(a.token)
}

// phoneView is a crew's phone as the page of users shows it.
type phoneView struct {
	Name, Seen                  string
	CodeAct, CrewAct, RemoveAct string
	Crews                       []chooseOption
}

// phones shows the phones there are, by the sessions that are open.
func (a *Ask) phones(users []store.User, open []store.Session, crews []string) (all []phoneView) {
	seen := map[int64]string{}
	for _, s := range open {
		seen[s.UserID] = max(seen[s.UserID], s.SeenAt)
	}
	for _, u := range users {
		if u.Phone {
			at := fmt.Sprintf("/users/%d/", u.ID)
			all = append(all, phoneView{Name: u.Name, Seen: a.lastSeen(seen[u.ID]), CodeAct: at + "code", CrewAct: at + "crew", RemoveAct: at + "remove", Crews: a.crewOptions(crews, u.Crew)})
		}
	}
	return all
}

// lastSeen says when a phone was last heard of, "" where it is not signed in.
func (a *Ask) lastSeen(at string) string {
	when, err := time.Parse(time.RFC3339, at)
	if err != nil {
		return a.Say.PhoneOut()
	}
	return a.Say.PhoneSeen(int(a.Now.Sub(when).Hours()))
}

// crews are those on record; none where names are left out.
func (a *Ask) crews() ([]string, error) {
	if a.Site.Settings.NoNames {
		return nil, nil
	}
	return a.Site.Store.Crews(a.Context())
}

// crewOptions are the crews to choose of: any, and those there are.
func (a *Ask) crewOptions(crews []string, now string) []chooseOption {
	all := []chooseOption{{"", a.Say.AnyCrew(), now == ""}}
	if now != "" && !slices.Contains(crews, now) {
		crews = append([]string{now}, crews...)
	}
	for _, c := range crews {
		all = append(all, chooseOption{c, say.Clean(c, say.ShortName), c == now})
	}
	return all
}

// crewField is the crew that a form names: one on record, or now's, or "" for any.
func (a *Ask) crewField(now string) (string, error) {
	crew := a.Field("crew")
	if crew == "" || crew == now {
		return crew, nil
	}
	crews, err := a.crews()
	if err == nil && !slices.Contains(crews, crew) {
		err = wrongValue("crew", crew, say.Site.ChooseFromList)
	}
	return crew, err
}

// addPhone makes a code that lets a new phone in.
func addPhone(a *Ask) error {
	name := a.Field("name")
	if err := checkName(name); err != nil {
		return err
	}
	crew, err := a.crewField("")
	if err != nil {
		return err
	}
	return a.giveCode(store.Invitation{Name: name, Crew: crew})
}

// renewPhone makes a code that lets a phone in again, which ends what let it in before.
func renewPhone(a *Ask) error {
	u, err := a.asked()
	if err == nil && !u.Phone {
		err = store.ErrNoUser
	}
	if err != nil {
		return err
	}
	return a.giveCode(store.Invitation{UserID: sql.NullInt64{Int64: u.ID, Valid: true}, Name: u.Name, Crew: u.Crew})
}

// setCrew says whose pours a phone, or somebody of the role crew, sees.
func setCrew(a *Ask) error {
	u, err := a.asked()
	if err != nil {
		return err
	}
	crew, err := a.crewField(u.Crew)
	if err != nil {
		return err
	}
	if err := a.Site.Store.SetCrew(a.Context(), u.ID, crew); err != nil {
		return err
	}
	return a.Go("/users")
}

// codeView is a code that a phone reads, shown once.
type codeView struct {
	Says, Link string
	Code       template.HTML
	Open       bool // what the phone sends can be read on its network
}

// giveCode keeps a phone's invitation and shows it as a code.
func (a *Ask) giveCode(i store.Invitation) error {
	at := a.reach()
	if at == "" {
		return &Fail{409, say.Site.NoReach, say.Site.NoReachDo, nil}
	}
	token, hash := NewToken()
	i.Phone, i.Role, i.Hash, i.MadeAt, i.ExpiresAt = true, Crew.String(), hash, a.Stamp(), stamp(a.Now.Add(codeLasts))
	if err := a.Site.Store.Invite(a.Context(), i); err != nil {
		return err
	}
	link := at + JoinPath(token)
	return a.Show("code", a.Say.CodeTitle(i.Name), codeView{a.Say.CodeAnswer(), link, chart.Code(link, a.Say.CodeSays()), strings.HasPrefix(at, "http://")})
}

// reach is the address by which phones reach the site, "" where there is none: as the
// owner has set it, on the network's own address, or as the owner's browser does.
func (a *Ask) reach() string {
	s := a.Site
	if set := s.Settings.Letterhead.SiteURL; set != "" {
		if u, err := url.Parse(set); err == nil && !loopback(u.Hostname()) {
			return set
		}
	}
	if s.Lan != nil {
		return s.Lan.base()
	}
	if s.Access.BehindProxy {
		return s.Access.origin(s.Access.Hosts[0])
	}
	if host, _, err := net.SplitHostPort(a.Host); err == nil && !loopback(host) && !strings.HasSuffix(host, ".localhost") {
		return s.Access.origin(a.Host)
	}
	for _, host := range s.Access.Hosts {
		if !s.Access.Loopback && !loopback(host) {
			return s.Access.origin(net.JoinHostPort(host, fmt.Sprint(s.Access.Port)))
		}
	}
	return ""
}
