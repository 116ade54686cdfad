package site

import (
	"regexp"
	"testing"
)

// sourcesAndSigns are published sources, signs of units that every language writes so, and
// the names of a bid and its slabs.
var sourcesAndSigns = regexp.MustCompile(`\b(?:ACI|CFR|mph|gal)\b|\b(?:drive|walk)\b|Lot 14, Mesquite Lane`)

// lookAtPours looks at the pages of a pour: with nothing on record and with all of it, with
// what was kept, and with what could not be.
func lookAtPours(t *testing.T, b *surfer, look func(string, answered)) {
	see := func(path string, got answered) {
		t.Helper()
		got.body = sourcesAndSigns.ReplaceAllString(notOurs.ReplaceAllString(got.body, ""), "")
		look(path, got)
	}
	b.keepsBid(aPour("LM-900")...)
	see("/pour/LM-900", b.get("/pour/LM-900"))
	for _, form := range [][]string{{"weather", "air_temp_f", "92", "concrete_temp_f", "88", "humidity_pct", "20", "wind_mph", "10"}, {"truck", "ticket_no", "4711", "yards", "45", "arrived_at", "8:15"}, {"clog", "minutes", "12", "spot", "hose"},
		{"hours", "worked_on", testDay.String(), "task", "place", "people", "4", "each", "6"}, {"probes", "probe", "3"}, {"leftover", "leftover_yd", "1"}, {"curing", "curing", "water"}, {"truck", "ticket_no", "4711", "yards", "4"}} {
		see("kept: "+form[0], b.enters(t, "/pour/LM-900/"+form[0], form[1:]...))
	}
	for _, form := range [][]string{{"clog", "started_at", "9:00", "stopped_at", "8:00"}, {"note"}, {"hours", "people", "4"}, {"begin"}, {"saw", "saw_at", "25:00"}, {"saw", "saw_at", "8:00", "saw_on", testDay.String()}} {
		see("refused: "+form[0], b.post("/pour/LM-900/"+form[0], append([]string{keyField, newKey()}, form[1:]...)...))
	}
	for _, path := range []string{"/crew", "/pour/LM-900", "/pour/LM-900?part=walk", "/pour/LM-900/last-load", "/pour/LM-900/last-load?placed=6&covered=50"} {
		see(path, b.get(path))
	}
}
