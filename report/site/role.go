package site

import "strings"

// Roles are who may ask for something, as a set.
type Roles uint8

// The roles. Nobody is who has not signed in.
const (
	Nobody Roles = 1 << iota
	Crew         // whom no page shows money
	Viewer       // who reads everything and changes nothing
	Owner

	// Lan is no role: a route that is for it is there for phones on the network's own
	// address, too, without https ([Access.Lan]). It is in each set with what a crew has,
	// and shows no money nor takes a password.
	Lan
)

// Sets of roles that routes are for.
const (
	Anybody  = Nobody | Crew | Readers
	SignedIn = Crew | Readers | Lan
	Readers  = Viewer | Owner
	Crews    = Crew | Owner | Lan // who write at a crew's forms
)

var roleNames = map[Roles]string{Nobody: "nobody", Crew: "crew", Viewer: "viewer", Owner: "owner"}

// roleNamed is the role that a user can have by its name, 0 where there is none such.
func roleNamed(name string) Roles {
	for _, r := range []Roles{Crew, Viewer, Owner} {
		if roleNames[r] == name {
			return r
		}
	}
	return 0
}

// String names the roles of a set.
func (r Roles) String() string {
	var names []string
	for _, one := range []Roles{Nobody, Crew, Viewer, Owner} {
		if r&one != 0 {
			names = append(names, roleNames[one])
		}
	}
	return strings.Join(names, " ")
}

// Person is who asks.
type Person struct {
	ID    int64  // of the user; 0 for nobody, and for who sits at the computer
	Name  string // "" for nobody
	Role  Roles
	Local bool   // sits at the computer that the site runs on, where it has no users
	Crew  string // whose pours alone a crew sees; "" for any
	Phone bool   // a crew's phone, which has no password
}
