package say

import (
	"pourback/analysis/findings"
	"pourback/analysis/work"
)

// Todo says what to do about what a page found, or that there is nothing to do.
type Todo struct{ *Voice }

// Heading stands above what there is to do.
func (f Frame) Todo() string { return f.text("What to do") }

// Findings are the first n facts of the kinds, each with what to do about it.
func (w Todo) Findings(all []findings.Finding, n int, kinds ...findings.Kind) (out []string) {
	for _, f := range all {
		for _, k := range kinds {
			if f.Told.Kind() == k && len(out) < n {
				out = append(out, Findings(w).Sentence(f))
			}
		}
	}
	return out
}

func (w Todo) NoChange() string {
	return w.text("Nothing in the records asks for a change. Go on as before.")
}
func (w Todo) NoCrew() string {
	return w.text("Leave it: no crew needs more hours than luck explains.")
}
func (w Todo) NameCrews() string {
	return w.text("Write down the crew of each pour: with two or more, this page compares them.")
}
func (w Todo) FastCrew(name string) string {
	return w.say("Watch {crew} for a day: see what it does that the others do not.", with{"crew": w.Named(name)})
}
func (w Todo) NoOutfit() string {
	return w.text("Leave the pump outfits as they are: none clogs more than luck explains.")
}
func (w Todo) NoTrip() string {
	return w.text("No special trip this week: no visit pays for its drive.")
}
func (w Todo) Cure() string {
	return w.text("Whatever these figures say: cure every pour, and cut its joints in time.")
}
func (w Todo) Cold() string {
	return w.say("Under {limit} have blankets ready and keep the slab from freezing ({source}).", with{"limit": w.Degrees(work.ColdF), "source": "ACI 306R"})
}
func (w Todo) NoSign() string {
	return w.text("Nothing to do: no new pour has a risk worth a trip of its own.")
}
func (w Todo) NoCall() string {
	return w.text("Nothing to do: no callback is open.")
}
func (w Todo) CloseCalls() string {
	return w.text("See to the open callbacks first, the oldest before the others.")
}
func (w Todo) KeepBack(amount float64) string {
	return w.say("Keep {amount} back for callbacks still to come.", with{"amount": w.Dollars(amount)})
}
func (w Todo) NoReserve() string {
	return w.text("Nothing to keep back: no callback is to be expected.")
}
func (w Todo) LookAgain() string {
	return w.text("On your next visits measure each open crack again: a crack that grows wants a look by somebody who repairs them.")
}
func (w Todo) NoRecord() string { return w.text("Nothing to fix: no record looks odd.") }
