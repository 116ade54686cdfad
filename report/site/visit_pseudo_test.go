package site

import (
	"regexp"
	"testing"
)

// ownOfVisits are what people have written, the kinds of files, and signs that every
// language writes so.
var ownOfVisits = regexp.MustCompile(`JPEG|PNG|WebP|HEIC|AVIF|UTC|IMG_1\.jpg|by the garage|\bowner\b|\bHeron\b|UFC|Lot \d+[^<]*|\bdrive\b`)

// lookAtVisits looks at the form for a visit and at a slab, with what was kept and with
// what could not be.
func lookAtVisits(t *testing.T, b *surfer, look func(string, answered)) {
	see := func(path string, got answered) {
		t.Helper()
		got.body = ownOfVisits.ReplaceAllString(notOurs.ReplaceAllString(got.body, ""), "")
		look(path, got)
	}
	b.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,crew\nV-9,A,2025-06-03,driveway,800,4,Heron\n")
	see("/slabs/V-9/A/visit", b.get("/slabs/V-9/A/visit"))
	see("refused", b.enter("/slabs/V-9/A/visit", keyed("why", "callback", "width", "x", "finding", "crack", "seen_on", "2026-04-09"), uploaded{"IMG_1.jpg", heic}))
	see("no pictures", b.enter("/slabs/V-9/A/pictures", keyed("of", "")))
	got := b.enter("/slabs/V-9/A/visit", keyed("why", "callback", "width", "0.016", "finding", "crack", "seen_on", testDay.String(), "spot", "0.167 0.167"), uploaded{"IMG_1.jpg", photo(t, 60, 40, 0)})
	see("kept", b.get(got.header.Get("Location")))
	see("/slabs/V-9/A/visit", b.get("/slabs/V-9/A/visit"))
	pictures, err := b.store.Pictures(t.Context(), "V-9")
	if err != nil || len(pictures) != 1 {
		t.Fatal(pictures, err)
	}
	see("a picture", b.get("/slabs/V-9/A/pictures/"+pictures[0].Picture))
	see("no picture", b.get("/slabs/V-9/A/pictures/x"))
	see("/visits", b.get("/visits"))
	see("closed", b.post("/slabs/V-9/A/close", keyed("seen_on", "2025-01-01")...))
	see("undone", b.post("/slabs/V-9/A/undo", keyed("batch", "1")...))
}
