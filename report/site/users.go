package site

import (
	"database/sql"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"pourback/ingest/store"
	"pourback/report/say"
)

// invitedFor is how long an invitation holds.
const invitedFor = 3 * 24 * time.Hour

// usersView is all users as the page shows them.
type usersView struct {
	Says, First string
	Users       []userView
	Roles       []chooseOption
	Invited     []store.Invitation

	PhonesSay string
	Phones    []phoneView
	Crews     []chooseOption
	Reached   bool // phones reach the site
}

type userView struct {
	Name, Role, Since                                     string
	Roles                                                 []chooseOption
	Crews                                                 []chooseOption // of whom a crew may be named
	RoleAct, CrewAct, PassAct, EndAct, EndSays, RemoveAct string
}

func usersPage(a *Ask) error {
	st := a.Site.Store
	users, err := st.Users(a.Context())
	if err != nil {
		return err
	}
	open, err := st.Sessions(a.Context(), a.Stamp())
	if err != nil {
		return err
	}
	invited, err := st.Invitations(a.Context(), a.Stamp())
	if err != nil {
		return err
	}
	crews, err := a.crews()
	if err != nil {
		return err
	}
	v := usersView{Roles: a.roles("viewer", a.Say.RoleAbout), Invited: invited, Users: a.people(users, open, crews), Phones: a.phones(users, open, crews), Crews: a.crewOptions(crews, ""), Reached: a.reach() != ""}
	v.Says, v.PhonesSay = a.Say.UsersAnswer(len(v.Users)), a.Say.PhonesAnswer(len(v.Phones))
	if len(v.Users) == 0 {
		v.First, v.Roles = a.Say.FirstUser(), a.roles("owner", a.Say.RoleAbout)[2:]
	}
	for i := range invited {
		if invited[i].Role = a.Say.RoleName(invited[i].Role); invited[i].Phone {
			invited[i].Role = a.Say.PhoneName()
		}
	}
	return a.Show("users", a.Say.UsersTitle(), v)
}

// people are the users with a password.
func (a *Ask) people(users []store.User, open []store.Session, crews []string) (all []userView) {
	sessions := map[int64]int{}
	for _, s := range open {
		sessions[s.UserID]++
	}
	for _, u := range users {
		if u.Phone {
			continue
		}
		at := fmt.Sprintf("/users/%d/", u.ID)
		shown := userView{Name: u.Name, Role: a.Say.RoleName(u.Role), Since: a.Say.AsOf(u.MadeAt[:10]), Roles: a.roles(u.Role, a.Say.RoleName),
			RoleAct: at + "role", CrewAct: at + "crew", PassAct: at + "password", EndAct: at + "sessions", RemoveAct: at + "remove"}
		if n := sessions[u.ID]; n > 0 {
			shown.EndSays = a.Say.EndSessionsDo(n)
		}
		if u.Role == Crew.String() {
			shown.Crews = a.crewOptions(crews, u.Crew)
		}
		all = append(all, shown)
	}
	return all
}

// roles are the roles to choose of, each said in a word or with what it may do.
func (a *Ask) roles(now string, said func(role string) string) (all []chooseOption) {
	for _, r := range []Roles{Crew, Viewer, Owner} {
		all = append(all, chooseOption{r.String(), said(r.String()), r.String() == now})
	}
	return all
}

// invitedView is a link to send on, shown once.
type invitedView struct{ Says, Link string }

// invite makes an invitation. Where there are no users yet it is the owner's, who
// is let go on to choose a password.
func invite(a *Ask) error {
	name, role := a.Field("name"), roleNamed(a.Field("role"))
	if err := checkName(name); err != nil {
		return err
	}
	if role == 0 {
		return Wrong(say.Site.NoRole, say.Site.ChooseFromList)
	}
	has, err := a.Site.Store.HasUsers(a.Context())
	if err != nil {
		return err
	}
	if !has && role != Owner {
		return Wrong(say.Site.FirstIsOwner, say.Site.FirstUser)
	}
	return a.giveLink(store.Invitation{Name: name, Role: role.String()}, !has)
}

// checkName says what is wrong with a user's name, if anything is.
func checkName(name string) error {
	if n := len([]rune(name)); n == 0 || n > 40 || say.Clean(name, 40) != name || strings.TrimSpace(name) == "" {
		return Wrong(say.Site.NoName, say.Site.NoNameDo)
	}
	return nil
}

// giveLink keeps an invitation and shows its link, or follows it.
func (a *Ask) giveLink(i store.Invitation, follow bool) error {
	token, hash := NewToken()
	i.Hash, i.MadeAt, i.ExpiresAt = hash, a.Stamp(), stamp(a.Now.Add(invitedFor))
	if err := a.Site.Store.Invite(a.Context(), i); err != nil {
		return err
	}
	if follow {
		a.W.Header().Set("Location", JoinPath(token))
		a.W.WriteHeader(303)
		return nil
	}
	return a.Show("invited", i.Name, invitedView{a.Say.InviteAnswer(i.Name), a.Door.origin(a.Host) + JoinPath(token)})
}

// JoinPath is the address of an invitation.
func JoinPath(token string) string { return "/join?t=" + token }

// user is the number of the user that an address is about.
func (a *Ask) user() (int64, error) {
	id, err := strconv.ParseInt(a.PathValue("id"), 10, 64)
	if err != nil || id < 1 {
		return 0, notFound()
	}
	return id, nil
}

func setRole(a *Ask) error {
	id, err := a.user()
	if err != nil {
		return err
	}
	role := roleNamed(a.Field("role"))
	if role == 0 {
		return Wrong(say.Site.NoRole, say.Site.ChooseFromList)
	}
	if err := a.Site.Store.SetRole(a.Context(), id, role.String()); err != nil {
		return err
	}
	return a.Go("/users")
}

// resetPassword makes a link with which a user sets the password anew.
func resetPassword(a *Ask) error {
	u, err := a.asked()
	if err == nil && u.Phone {
		err = store.ErrNoUser // it has none
	}
	if err != nil {
		return err
	}
	return a.giveLink(store.Invitation{UserID: sql.NullInt64{Int64: u.ID, Valid: true}, Name: u.Name, Role: u.Role}, false)
}

// asked is the user that an address is about.
func (a *Ask) asked() (u store.User, err error) {
	id, err := a.user()
	if err != nil {
		return u, err
	}
	users, err := a.Site.Store.Users(a.Context())
	if err != nil {
		return u, err
	}
	at := slices.IndexFunc(users, func(u store.User) bool { return u.ID == id })
	if at < 0 {
		return u, store.ErrNoUser
	}
	return users[at], nil
}

func endSessions(a *Ask) error {
	id, err := a.user()
	if err != nil {
		return err
	}
	if err := a.Site.Store.EndSessions(a.Context(), id); err != nil {
		return err
	}
	return a.Go("/users")
}

func removeUser(a *Ask) error {
	id, err := a.user()
	if err != nil {
		return err
	}
	if err := a.Site.Store.RemoveUser(a.Context(), id); err != nil {
		return err
	}
	return a.Go("/users")
}

func withdraw(a *Ask) error {
	if err := a.Site.Store.Withdraw(a.Context(), a.Field("hash")); err != nil {
		return err
	}
	return a.Go("/users")
}
