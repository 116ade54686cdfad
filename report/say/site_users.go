package say

// Words of signing in, accounts and users.

func (s Site) SignIn() string       { return s.text("Sign in") }
func (s Site) SignOut() string      { return s.text("Sign out") }
func (s Site) NameLabel() string    { return s.text("Name") }
func (s Site) PassLabel() string    { return s.text("Password") }
func (s Site) NewPassLabel() string { return s.text("New password, at least 10 characters") }
func (s Site) AgainLabel() string   { return s.text("The same again") }
func (s Site) WrongPass() string    { return s.text("Name or password is wrong.") }
func (s Site) WrongPassDo() string {
	return s.text("Try again. If you have forgotten it, ask the owner for a link to set a new one.")
}
func (s Site) ShortPass() string   { return s.text("The password is too short.") }
func (s Site) ShortPassDo() string { return s.text("Choose one of at least 10 characters.") }
func (s Site) LongPassDo() string  { return s.text("Choose one of at most 200 characters.") }
func (s Site) LongPass() string    { return s.text("The password is too long.") }
func (s Site) UnlikePass() string  { return s.text("The two passwords differ.") }
func (s Site) UnlikePassDo() string {
	return s.text("Go back and write the same one twice.")
}
func (s Site) JoinTitle(name string) string {
	return s.say("Welcome, {name}", with{"name": Clean(name, ShortName)})
}
func (s Site) JoinAnswer() string { return s.text("Choose a password. This link works once.") }
func (s Site) JoinDo() string     { return s.text("Set the password and sign in") }
func (s Site) YouTitle() string   { return s.text("Your account") }
func (s Site) YouLocal() string {
	return s.text("No users are set up: whoever sits at this computer is the owner.")
}

// YouAre says who is signed in.
func (s Site) YouAre(name, role string) string {
	return s.say("You are signed in as {name} ({role}).", with{"name": Clean(name, ShortName), "role": s.RoleName(role)})
}

// RoleName names a role.
func (s Site) RoleName(role string) string {
	switch role {
	case "owner":
		return s.text("owner")
	case "viewer":
		return s.text("viewer")
	case "crew":
		return s.text("crew")
	}
	return role
}

// RoleAbout says what a role may do.
func (s Site) RoleAbout(role string) string {
	switch role {
	case "owner":
		return s.text("Owner: sees and changes everything.")
	case "viewer":
		return s.text("Viewer: sees everything, changes nothing.")
	}
	return s.text("Crew: fills in the crew's forms, sees no money.")
}

func (s Site) UsersTitle() string { return s.text("Users") }
func (s Site) UsersAnswer(n int) string {
	if n == 0 {
		return s.text("No users yet: only this computer can open these pages.")
	}
	return s.plural(n, "1 person can sign in.|{n} people can sign in.", nil)
}
func (s Site) FirstUser() string {
	return s.text("Make yourself the owner first. From then on everybody signs in, here too.")
}
func (s Site) RoleLabel() string   { return s.text("Role") }
func (s Site) InviteTitle() string { return s.text("Invite somebody") }
func (s Site) InviteDo() string    { return s.text("Make a link") }
func (s Site) InviteAnswer(name string) string {
	return s.say("Send {name} this link. It works once, for three days, and is not shown again.", with{"name": Clean(name, ShortName)})
}
func (s Site) LinkLabel() string   { return s.text("Link") }
func (s Site) OpenInvites() string { return s.text("Links not used yet") }
func (s Site) WithdrawDo() string  { return s.text("Take back") }
func (s Site) SetRoleDo() string   { return s.text("Change role") }
func (s Site) ResetDo() string     { return s.text("New password") }
func (s Site) RemoveDo() string    { return s.text("Remove") }
func (s Site) BackToUsers() string { return s.text("Back to users") }
func (s Site) NoName() string      { return s.text("The name is missing or too long.") }
func (s Site) NoNameDo() string {
	return s.text("Write the name that this person signs in with, of at most 40 characters.")
}
func (s Site) NoRole() string       { return s.text("The role is none that there is.") }
func (s Site) FirstIsOwner() string { return s.text("The first user has to be an owner.") }
func (s Site) SinceLabel() string   { return s.text("Since") }

// EndSessionsDo ends so many sessions.
func (s Site) EndSessionsDo(n int) string {
	return s.plural(n, "Sign out 1 browser|Sign out {n} browsers", nil)
}

func (s Site) LogTitle() string { return s.text("Who did what") }
func (s Site) LogAnswer(n int) string {
	return s.plural(n, "The last change made here.|The last {n} changes made here.", nil)
}
func (s Site) LogWhen() string { return s.text("When") }
func (s Site) LogWho() string  { return s.text("Who") }
func (s Site) LogWhat() string { return s.text("What") }
func (s Site) LogOf() string   { return s.text("What it was about") }
func (s Site) LogNone() string { return s.text("Nothing has been changed here yet.") }
