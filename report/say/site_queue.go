package say

// What the crew's forms say of entries that wait on the phone. The script puts the
// values in, so names in braces stay as they are.

func (s Site) QueueCount() string {
	return s.say("Waiting to be sent: {n}.", with{"n": "{n}"})
}
func (s Site) QueueKept() string    { return s.text("Kept on this phone. It is being sent.") }
func (s Site) QueueAllSent() string { return s.text("All sent.") }
func (s Site) QueueNotTaken() string {
	return s.text("Not all of it was taken. Mend it below.")
}
func (s Site) QueueDown() string {
	return s.text("No connection. It stays on this phone and goes out by itself.")
}
func (s Site) QueueSignIn() string { return s.text("Sign in again, then it goes out.") }
func (s Site) QueueBusy() string {
	return s.text("The office has much to do. It goes out in a moment.")
}
func (s Site) QueueOdd() string { return s.text("It could not be taken yet. It is tried again.") }

// How it stands with an entry.
func (s Site) QueueWaits() string   { return s.text("waits") }
func (s Site) QueueSending() string { return s.text("is being sent") }
func (s Site) QueueRefused() string { return s.text("not taken") }
func (s Site) QueueStuck() string   { return s.text("not taken yet") }
func (s Site) QueueOthers() string {
	return s.say("by {name}: goes out once {name} signs in here", with{"name": "{name}"})
}

// What can be done about one.
func (s Site) QueueEntered() string { return s.text("What was entered") }
func (s Site) QueueMend() string    { return s.text("Mend it") }
func (s Site) QueueAgain() string   { return s.text("Send it again") }
func (s Site) QueueDismiss() string { return s.text("Understood") }
func (s Site) QueueDropAsk() string {
	return s.say("Drop “{what}” for good? It will not be sent.", with{"what": "{what}"})
}
func (s Site) QueueNoForm() string {
	return s.text("Its form is not on this page any more. Enter it again elsewhere, then drop this one.")
}

// What is wrong with pictures, and where there is no room.
func (s Site) QueuePictureBusy() string { return s.text("Making the pictures smaller…") }
func (s Site) QueuePictureKind() string {
	return s.say("{name} cannot be read on this phone, so it was left out. Choose a JPEG, PNG or WebP picture.", with{"name": "{name}"})
}
func (s Site) QueuePictureLarge() string {
	return s.say("{name} is too large, so it was left out.", with{"name": "{name}"})
}
func (s Site) QueuePictureGone() string {
	return s.text("A picture cannot be read any more. Choose it again, or leave the pictures out.")
}
func (s Site) QueuePicturesLarge(most int) string {
	return s.say("These pictures are too much at once: at most {most} go with one form.", with{"most": Count(most)})
}
func (s Site) QueueLeavePictures() string { return s.text("Keep it without the pictures") }
func (s Site) QueueFull() string {
	return s.text("This phone has no room left, so nothing was kept. What you entered still stands in the form.")
}
func (s Site) QueueSendNow() string { return s.text("Send it now") }

// QueueLastSeen is on a page that the phone has kept for when there is no signal.
func (s Site) QueueLastSeen() string {
	return s.say("No connection. This is the page as it was at {time}.", with{"time": "{time}"})
}

// ElseSignedIn is of an entry that another user has made.
func (s Site) ElseSignedIn() string {
	return s.text("Somebody else is signed in by now, so nothing was kept under their name.")
}
func (s Site) ElseSignedInDo() string { return s.text("Sign in as who entered it.") }
