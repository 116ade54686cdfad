package say

import "pourback/ingest/record"

// Letter is a month on one page, for somebody who has a share in the company or
// lends it money.
type Letter struct{ *Voice }

// LetterWords are the headings of a letter.
type LetterWords struct {
	Lang                                 string
	Why, Changes, Risks, RestsOn, Months string
	Decides, Unreviewed                  string
}

func (w Letter) Words() LetterWords {
	frame := FrameOf(w.Voice).Words()
	return LetterWords{Lang: frame.Lang, Why: w.text("Why"), Changes: w.text("What changes next month"), Risks: w.text("Open risks"),
		RestsOn: w.text("What this rests on"), Months: w.text("The months before"), Decides: frame.NoDesign, Unreviewed: frame.Unreviewed}
}

// Title names the letter.
func (w Letter) Title(month string) string { return w.say("{month} in one page", with{"month": month}) }

// Written says of which day the figures are.
func (w Letter) Written(asOf string) string { return w.say("As of {day}", with{"day": w.AsOf(asOf)}) }

// NoRisk says that no risk is known.
func (w Letter) NoRisk() string { return w.text("No open risk is on record.") }

// ToCheck says how many records may be wrong.
func (w Letter) ToCheck(n int) string {
	return w.plural(n, "1 record looks odd and has not been checked.|{n} records look odd and have not been checked.", nil)
}

// LeftOut says how many values the figures do without.
func (w Letter) LeftOut(n int) string {
	return w.plural(n, "1 value on record cannot be right, so these figures leave it out.|{n} values on record cannot be right, so these figures leave them out.", nil)
}

// RestsOn says what the whole history is.
func (w Letter) RestsOn(placements, jobs int, first, last record.Date) string {
	return w.say("The records hold {placements} in {jobs}, {poured}.", with{"placements": w.Placements(placements), "jobs": w.Jobs(jobs), "poured": w.poured(first, last)})
}

// Actual says that sums are what was booked.
func (w Letter) Actual() string {
	return w.text("Sums are what the company booked. Nobody outside it has audited them.")
}
