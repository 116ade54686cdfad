package site

import (
	"context"
	"time"

	"pourback/ingest/store"
)

// AddOwner makes an owner with a password.
func AddOwner(ctx context.Context, st *store.Store, name, password string, now time.Time) error {
	if err := CheckPassword(password); err != nil {
		return err
	}
	if err := checkName(name); err != nil {
		return err
	}
	_, err := st.AddUser(byHand(ctx, now), store.User{Name: name, Role: store.OwnerRole, Password: HashPassword(password), MadeAt: stamp(now)})
	return err
}

// InviteOwner makes an invitation of an owner, and returns the path of its link.
func InviteOwner(ctx context.Context, st *store.Store, name string, now time.Time) (path string, err error) {
	if err := checkName(name); err != nil {
		return "", err
	}
	token, hash := NewToken()
	err = st.Invite(byHand(ctx, now), store.Invitation{Hash: hash, Name: name, Role: store.OwnerRole, MadeAt: stamp(now), ExpiresAt: stamp(now.Add(invitedFor))})
	return JoinPath(token), err
}

// byHandDeed is what the log has of an owner made on the command line.
const byHandDeed = "serve --add-owner"

// byHand is what is done on the command line, as the log has it.
func byHand(ctx context.Context, now time.Time) context.Context {
	return store.WithDeed(ctx, &store.Deed{Who: "command line", What: byHandDeed, At: stamp(now)})
}

// Public is the site's address as others name it.
func (p Plan) Public() string {
	if p.BehindProxy {
		return "https://" + p.Access.Hosts[0]
	}
	return p.URL()
}
