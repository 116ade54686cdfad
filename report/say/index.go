package say

import "pourback/ingest/record"

// Index says how the company is doing, in a few sentences.
type Index struct{ *Voice }

func (w Index) Title() string   { return w.text("What your finished jobs say") }
func (w Index) Nothing() string { return w.text("No placements are on record yet.") }

func (w Index) AsOfDay(asOf string) string { return w.say("As of {day}.", with{"day": w.AsOf(asOf)}) }

// Basis says what the report rests on.
func (w Index) Basis(placements, jobs int, first, last record.Date, asOf string) string {
	return w.say("{placements} in {jobs}, {poured}, as of {day}.", with{"placements": w.Placements(placements), "jobs": w.Jobs(jobs), "poured": w.poured(first, last), "day": w.AsOf(asOf)})
}
