package say

// What somebody did on the site, as the log of who did what has it: a function for
// each form that keeps something.

func (s Site) DidSignIn() string    { return s.text("Signed in") }
func (s Site) DidSignOut() string   { return s.text("Signed out") }
func (s Site) DidJoin() string      { return s.text("Opened a link and chose a password") }
func (s Site) DidInvite() string    { return s.text("Made a link for somebody new") }
func (s Site) DidWithdraw() string  { return s.text("Took a link back") }
func (s Site) DidRole() string      { return s.text("Changed what a user may do") }
func (s Site) DidPassword() string  { return s.text("Made a link for a new password") }
func (s Site) DidEndAll() string    { return s.text("Signed a user out everywhere") }
func (s Site) DidRemove() string    { return s.text("Removed a user") }
func (s Site) DidAddOwner() string  { return s.text("Made a link for an owner") }
func (s Site) DidHandIn() string    { return s.text("Handed in a file") }
func (s Site) DidSettle() string    { return s.text("Answered what a file asked") }
func (s Site) DidKeepFile() string  { return s.text("Took a file in") }
func (s Site) DidDropFile() string  { return s.text("Dropped a file") }
func (s Site) DidUndo() string      { return s.text("Undid a batch") }
func (s Site) DidFixAside() string  { return s.text("Opened the rows of a batch to fix them") }
func (s Site) DidFix() string       { return s.text("Changed a record") }
func (s Site) DidKeepBid() string   { return s.text("Kept a bid") }
func (s Site) DidMarkBid() string   { return s.text("Said what became of a bid") }
func (s Site) DidLinkBid() string   { return s.text("Said which job a bid became") }
func (s Site) DidRenewFeed() string { return s.text("Made a new calendar address") }
func (s Site) DidBegin() string     { return s.text("Began a pour") }
func (s Site) DidEnter() string     { return s.text("Wrote something of a pour down") }
func (s Site) DidVisit() string     { return s.text("Wrote a visit down") }
func (s Site) DidClose() string     { return s.text("Closed a call about a slab") }
func (s Site) DidPictures() string  { return s.text("Kept pictures") }
func (s Site) DidAddPhone() string  { return s.text("Added a crew phone") }
func (s Site) DidMakeCode() string  { return s.text("Made a new code for a crew phone") }
func (s Site) DidSetCrew() string   { return s.text("Said which crew a phone is of") }
func (s Site) DidEndFeed() string   { return s.text("Ended the calendar address") }

// RoleGiven says which role a user was given.
func (s Site) RoleGiven(name, role string) string {
	return s.say("{name}, now {role}", with{"name": Clean(name, ShortName), "role": s.RoleName(role)})
}

// UserGone is a user who was removed since.
func (s Site) UserGone() string { return s.text("a user removed since") }
