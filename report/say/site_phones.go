package say

// Words of the crews' phones: how one is added, and what it is told.

func (s Site) PhonesTitle() string { return s.text("Crew phones") }
func (s Site) PhonesAnswer(n int) string {
	if n == 0 {
		return s.text("No phone is added yet. One needs no password: it reads a code with its camera. It sees the crew's forms and no money.")
	}
	return s.plural(n, "1 phone can fill in the crew's forms.|{n} phones can fill in the crew's forms.", nil)
}
func (s Site) PhoneName() string      { return s.text("crew phone") }
func (s Site) PhoneNameLabel() string { return s.text("Whose phone it is") }
func (s Site) AnyCrew() string        { return s.text("Any crew") }
func (s Site) AddPhoneDo() string     { return s.text("Add a crew phone") }
func (s Site) NewCodeDo() string      { return s.text("New code") }
func (s Site) SetCrewDo() string      { return s.text("Change crew") }
func (s Site) TakePhoneDo() string    { return s.text("Take this phone off") }

// PhoneSeen says when a phone was last heard of, so many hours ago.
func (s Site) PhoneSeen(hours int) string {
	switch days := hours / 24; {
	case hours < 1:
		return s.text("Last seen within the hour.")
	case days < 1:
		return s.plural(hours, "Last seen 1 hour ago.|Last seen {n} hours ago.", nil)
	default:
		return s.plural(days, "Last seen 1 day ago.|Last seen {n} days ago.", nil)
	}
}
func (s Site) PhoneOut() string { return s.text("Signed out. It needs a new code.") }

// CodeTitle names whose phone a code is for.
func (s Site) CodeTitle(name string) string {
	return s.say("Code for {name}", with{"name": Clean(name, ShortName)})
}
func (s Site) CodeAnswer() string {
	return s.text("Point the phone's camera at this code. It works once, for 15 minutes, and is not shown again.")
}
func (s Site) CodeSays() string { return s.text("Code that leads to the link below") }
func (s Site) CodeLink() string { return s.text("The same as a link") }
func (s Site) CodeCaution() string {
	return s.text("The phone has to be on the same network as this computer. What it sends there is not encrypted: use a network that is yours.")
}
func (s Site) NoReach() string { return s.text("Phones cannot reach these pages yet.") }
func (s Site) NoReachDo() string {
	return s.text("Start pourback with the option `--lan`, or set `site_url` to an address that phones reach. Then add the phone here.")
}

// JoinPhone says what a phone is let in to.
func (s Site) JoinPhone(crew string) string {
	if crew == "" {
		return s.text("One tap, and this phone can fill in the crew's forms. It needs no password.")
	}
	return s.say("One tap, and this phone can fill in the forms of crew {crew}. It needs no password.", with{"crew": Clean(crew, ShortName)})
}
func (s Site) JoinPhoneDo() string { return s.text("Use this phone") }

// YouPhone says whose phone this is.
func (s Site) YouPhone(name, crew string) string {
	if crew == "" {
		return s.say("This is the phone of {name}, for any crew.", with{"name": Clean(name, ShortName)})
	}
	return s.say("This is the phone of {name}, for crew {crew}.", with{"name": Clean(name, ShortName), "crew": Clean(crew, ShortName)})
}
func (s Site) YouPhoneOut() string {
	return s.text("Sign out only if this phone is not used any more. To come back it needs a new code from the owner.")
}

// What a phone is told that is not let in.
func (s Site) NoPhone() string { return s.text("This phone is not signed in.") }
func (s Site) NoPhoneDo() string {
	return s.text("Ask the owner for a code, and point the camera at it.")
}
func (s Site) NoPassHere() string {
	return s.text("This link sets a password, and what is sent here is not encrypted.")
}
func (s Site) NoPassHereDo() string {
	return s.text("Open it on the computer that pourback runs on.")
}

// WrongHostLan says by which address the site is reached on the network.
func (s Site) WrongHostLan(address string) string {
	return s.say("Open it as {address}.", with{"address": address})
}
