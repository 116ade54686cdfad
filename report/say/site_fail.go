package say

import "strings"

// What went wrong on the site, and what to do about it.

func (s Site) FailTitle() string { return s.text("That did not work") }
func (s Site) DoneTitle() string { return s.text("Done before") }
func (s Site) DoneBefore() string {
	return s.text("This form came in before, and what it asked for is done. Nothing was done twice.")
}
func (s Site) DoneBeforeDo() string { return s.text("Go back to where you were.") }
func (s Site) NoPage() string       { return s.text("There is no page at this address.") }
func (s Site) NoPageDo() string     { return s.text("Start from the overview.") }
func (s Site) NotYours() string     { return s.text("This page is not for your account.") }
func (s Site) NotYoursDo() string   { return s.text("Ask the owner if you need it.") }
func (s Site) SignInFirst() string  { return s.text("You are not signed in, so nothing was kept.") }
func (s Site) SignInFirstDo() string {
	return s.text("Sign in, then send it again.")
}
func (s Site) FromElsewhere() string {
	return s.text("This came from a page that is not pourback's, so nothing was done.")
}
func (s Site) FromElsewhereDo() string { return s.text("Open the page here and send it again.") }
func (s Site) TooOften() string        { return s.text("Too many tries in a short time.") }
func (s Site) TooOftenDo() string      { return s.text("Wait a minute, then try again.") }
func (s Site) NoKey() string           { return s.text("The form's hidden key is missing, so nothing was kept.") }
func (s Site) LoadAgain() string       { return s.text("Open the page again and fill in the form there.") }
func (s Site) AnotherForm() string {
	return s.text("This form came in before with other values, and those were kept. These were not.")
}
func (s Site) Busy() string    { return s.text("This took too long and was stopped.") }
func (s Site) BusyDo() string  { return s.text("Try again in a minute.") }
func (s Site) BadForm() string { return s.text("The form could not be read, so nothing was kept.") }
func (s Site) Broke() string   { return s.text("Something broke on our side.") }
func (s Site) BrokeDo() string {
	return s.text("Try again. If it stays, look at what the program wrote where it was started.")
}

// WrongHost says that the site is not asked for by that name, and by which it is.
func (s Site) WrongHost(host string) string {
	return s.say("pourback does not answer to the name {host}.", with{"host": Clean(host, ShortName)})
}
func (s Site) WrongHostDo(name string) string {
	return s.say("Open it as {name}, or name it when starting: `pourback serve --host {name}`.", with{"name": Clean(name, LongName)})
}

// TooLarge says how much is taken at once.
func (s Site) TooLarge(most int64) string {
	return s.say("This is over {most} MB, so nothing was kept.", with{"most": Count(int(most >> 20))})
}
func (s Site) TooLargeDo() string { return s.text("Send less at a time.") }

// WrongValue says what stands in an address and cannot be.
func (s Site) WrongValue(name, value string) string {
	return s.say("`{name}` is “{value}”, which does not fit.", with{"name": name, "value": strings.ReplaceAll(value, "`", "’")})
}
func (s Site) MonthLike() string { return s.text("Write a month as 2025-06.") }
func (s Site) DayLike() string   { return s.text("Write a date as 2025-06-03.") }
func (s Site) FromBeforeTo() string {
	return s.text("The last month comes before the first: swap them.")
}
func (s Site) ChooseFromList() string { return s.text("Choose one from the list.") }

// What cannot be done to users.
func (s Site) NoUser() string      { return s.text("There is no such user; somebody may have removed it.") }
func (s Site) LastOwner() string   { return s.text("This is the last owner.") }
func (s Site) LastOwnerDo() string { return s.text("Make somebody else an owner first.") }
func (s Site) NameTaken() string   { return s.text("Somebody has this name already.") }
func (s Site) NameTakenDo() string { return s.text("Choose another name.") }
func (s Site) LinkUsed() string    { return s.text("This link was used already, or it is too old.") }
func (s Site) LinkUsedDo() string  { return s.text("Ask the owner for a new one.") }
