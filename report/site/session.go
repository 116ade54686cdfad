package site

import (
	"errors"
	"net/http"
	"strings"
	"time"

	"pourback/ingest/store"
	"pourback/report/say"
)

// loginPage is where who has not signed in does so.
func loginPage(a *Ask) error {
	if a.Who.Role != Nobody {
		return a.Go("/")
	}
	return a.Show("login", a.Say.SignIn(), nil)
}

// login lets a browser in. The session is always a new one: what the browser
// held before, whoever gave it that, is ended.
func login(a *Ask) error {
	s, name, password := a.Site, a.Field("name"), a.PostFormValue("password")
	if !s.limits.allow(signIns, "from "+s.from(a.Request), a.Now) || !s.limits.allow(signIns, "as "+strings.ToLower(name), a.Now) {
		return tooOften()
	}
	u, err := s.Store.UserNamed(a.Context(), name)
	if err != nil && !errors.Is(err, store.ErrNoUser) {
		return err
	}
	kept := u.Password
	if kept == "" {
		kept = nobodysHash
	}
	same := false
	if err := s.hashed(a.Context(), func() { same = len(password) <= 4*mostPassword && samePassword(password, kept) }); err != nil {
		return err
	}
	if !same || u.ID == 0 {
		s.Log.Warn("signing in failed", "from", s.from(a.Request))
		return a.showAs(http.StatusUnauthorized, "login", a.Say.SignIn(), failView{a.Say.WrongPass(), a.Say.WrongPassDo()})
	}
	a.Who = Person{ID: u.ID, Name: u.Name, Role: roleNamed(u.Role), Crew: u.Crew}
	open, token := a.newSession()
	if err := s.Store.BeginSession(a.logged(), open, tokenHash(a.token)); err != nil {
		return err
	}
	a.setSession(token)
	http.Redirect(a.W, a.Request, a.next(), http.StatusSeeOther)
	return nil
}

// newSession is a session of who asks that begins now, and its token.
func (a *Ask) newSession() (store.Session, string) {
	token, hash := NewToken()
	open := store.Session{Hash: hash, UserID: a.Who.ID, Browser: say.Clean(a.UserAgent(), say.LongName), MadeAt: a.Stamp(), ExpiresAt: stamp(a.Now.Add(a.Who.lasts()))}
	if a.Who.Phone {
		open.SeenAt = open.MadeAt
	}
	return open, token
}

// lasts is how long a session lasts: a phone's begins anew as it is used.
func (p Person) lasts() time.Duration {
	if p.Phone {
		return phoneLasts
	}
	return sessionLasts
}

// setSession has the browser hold a session's token, or none.
func (a *Ask) setSession(token string) {
	c := a.newCookie(a.Door.cookie(), token)
	c.MaxAge = int(a.Who.lasts().Seconds())
	if token == "" {
		c.MaxAge = -1
	}
	http.SetCookie(a.W, c)
}

func (a *Ask) newCookie(name, value string) *http.Cookie {
	return &http.Cookie{Name: name, Value: value, Path: "/", HttpOnly: true, Secure: a.Door.Secure, SameSite: http.SameSiteLaxMode}
}

// setNext has the browser remember where it wanted to go.
func (a *Ask) setNext() {
	c := a.newCookie(a.Door.cookie()+"-next", a.URL.RequestURI())
	c.MaxAge = 600
	http.SetCookie(a.W, c)
}

// next is where a browser wanted to go before it had to sign in: an address of
// the site's own, and nothing else.
func (a *Ask) next() string {
	c, err := a.Cookie(a.Door.cookie() + "-next")
	if err != nil || !strings.HasPrefix(c.Value, "/") || strings.HasPrefix(c.Value, "//") || strings.ContainsAny(c.Value, "\\\r\n") || strings.HasPrefix(c.Value, "/login") {
		return a.Link("/")
	}
	gone := a.newCookie(c.Name, "")
	gone.MaxAge = -1
	http.SetCookie(a.W, gone)
	return c.Value
}

// logout ends the session.
func logout(a *Ask) error {
	if a.token != "" {
		if err := a.Site.Store.EndSession(a.logged(), tokenHash(a.token)); err != nil {
			return err
		}
	}
	a.setSession("")
	if a.Door.Lan {
		return a.Go("/")
	}
	return a.Go("/login")
}

// youView is who is signed in.
type youView struct {
	Says   string
	Out    bool   // there is a session to end
	Before string // what to know before it is ended
}

func youPage(a *Ask) error {
	v := youView{Says: a.Say.YouAre(a.Who.Name, a.Who.Role.String()), Out: true}
	switch {
	case a.Who.Local:
		v = youView{Says: a.Say.YouLocal()}
	case a.Who.Phone:
		v.Says, v.Before = a.Say.YouPhone(a.Who.Name, a.Who.Crew), a.Say.YouPhoneOut()
	}
	return a.Show("you", a.Say.YouTitle(), v)
}

// joinView is an invitation.
type joinView struct{ Token, Name, Says string }

// invitation is the one that a token belongs to, as it is shown to whom it is for. A
// password is not sent where others can read it.
func (a *Ask) invitation(token string) (store.Invitation, error) {
	a.speakTheirs()
	i, err := a.Site.Store.InvitationOf(a.Context(), tokenHash(token), a.Stamp())
	if err == nil && a.Door.Lan && !i.Phone {
		err = &Fail{http.StatusForbidden, say.Site.NoPassHere, say.Site.NoPassHereDo, nil}
	}
	return i, err
}

// joinPage shows an invitation, and leaves it as it is: what looks at links before
// people do uses none of them up.
func joinPage(a *Ask) error {
	token := a.URL.Query().Get("t")
	i, err := a.invitation(token)
	if err != nil {
		return err
	}
	if i.Phone {
		return a.Show("joinphone", a.Say.JoinTitle(i.Name), joinView{token, i.Name, a.Say.JoinPhone(i.Crew)})
	}
	return a.Show("join", a.Say.JoinTitle(i.Name), joinView{token, i.Name, a.Say.JoinAnswer()})
}

// join uses an invitation up.
func join(a *Ask) error {
	s := a.Site
	if !s.limits.allow(signIns, "from "+s.from(a.Request), a.Now) {
		return tooOften()
	}
	token, hash := a.Field("token"), ""
	i, err := a.invitation(token)
	if err == nil && !i.Phone {
		hash, err = a.chosenPassword()
	}
	if err != nil {
		return err
	}
	a.Who = Person{Name: i.Name, Phone: i.Phone}
	open, mine := a.newSession()
	if err := s.Store.Accept(a.logged(), tokenHash(token), hash, open, tokenHash(a.token)); err != nil {
		return err
	}
	a.setSession(mine)
	return a.Go("/")
}

// chosenPassword is the hash of a password that was chosen, and written twice.
func (a *Ask) chosenPassword() (hash string, err error) {
	password := a.PostFormValue("password")
	if err := CheckPassword(password); err != nil {
		return "", err
	}
	if password != a.PostFormValue("again") {
		return "", Wrong(say.Site.UnlikePass, say.Site.UnlikePassDo)
	}
	err = a.Site.hashed(a.Context(), func() { hash = HashPassword(password) })
	return hash, err
}
