package site

import (
	"slices"
	"strings"
	"time"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// mostCame is how many of a pour's newest entries the list of pours shows.
const mostCame = 5

// todaysEntries are the entries of today that stand, the newest first, for who reads
// how the day goes; none for a crew, whose page is for its own hands.
func (a *Ask) todaysEntries() (came []store.Batch, err error) {
	if a.Who.Role&Readers == 0 {
		return nil, nil
	}
	now := a.Local()
	year, month, day := now.Date()
	batches, err := a.Store().BatchesSince(a.Context(), stamp(time.Date(year, month, day, 0, 0, 0, 0, now.Location())))
	for _, b := range slices.Backward(batches) {
		if ingest.IsEntry(b.File) && b.UndoneAt == "" {
			came = append(came, b)
		}
	}
	return came, err
}

// came says what came in of a pour, the newest first: when, by whom and what. What was
// filled in bit by bit is said once, as it stands by now.
func (a *Ask) came(p *pouring, entries []store.Batch) (lines []string) {
	met := map[string]bool{}
	for _, b := range entries {
		what, of := strings.CutSuffix(ingest.EntryWhat(b.File), " of "+p.Job+" "+p.Name)
		if !of || met[what] || len(lines) == mostCame {
			continue
		}
		met[what] = true
		who := b.Who
		if a.Company.settings.NoNames || a.Who.Local && who == a.Who.Name { // who is alone knows who it was
			who = ""
		}
		lines = append(lines, a.Say.Came(b.TakenAt, who, a.cameOf(p, what)))
	}
	return lines
}

// cameOf is what an entry of a pour says: "truck 4711", "weather".
func (a *Ask) cameOf(p *pouring, what string) string {
	kind, ticket, _ := strings.Cut(what, " ")
	if l, ok := findTruck(p, ticket).(*record.Load); ok && kind == "truck" {
		return a.Say.TruckLine(l)
	}
	f := pourFormOf(kind)
	switch {
	case kind == pictureForm:
		return a.Say.PicturesTitle()
	case f == nil: // its start
		return a.Say.CameStart()
	case f.line != nil && p.Is != nil && f.line(a, p) != "":
		return f.line(a, p)
	}
	return f.title(a.Say)
}
