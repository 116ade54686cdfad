package site

import (
	"regexp"
	"strings"
	"testing"
)

var (
	notOurs = regexp.MustCompile(`(?s)<(\w+)[^>]* lang="en">.*?</\w+>`) // what reading says
	units   = regexp.MustCompile(`, (?:psi|mph|gal|min)\b`)
)

// lookAtRecords looks at the pages of files and records. The words of a file stand
// as they are, and so does what reading has no other language for.
func lookAtRecords(t *testing.T, b *surfer, look func(string, answered)) {
	see := func(path string, got answered) {
		t.Helper()
		got.body = units.ReplaceAllString(notOurs.ReplaceAllString(got.body, ""), "")
		for _, own := range []string{"odd-log.csv", "Ft x Ft", "Yd in", "Yd back", "Deep", "Poured", "Spent", "Sumac", "owner", "probed", "Lot 4"} {
			got.body = strings.ReplaceAll(got.body, own, "")
		}
		look(path, got)
	}
	at := b.waiting("odd-log.csv", oddLog(t))
	page := b.get(at)
	page.body = optgroups.ReplaceAllString(page.body, "")
	see("questions", page)
	fields := page.hidden(t)
	b.post(at, append(fields, "q.0", "size", "q.1", "actual_cost")...)
	page = b.get(at)
	thick := page.field(t, `name="(mend\.[0-9.]+)" value="45"`)
	over := page.field(t, `name="(right\.[0-9.]+)"`)
	b.post(at, append(page.hidden(t), thick, "4.5", over, "1")...)
	page = b.get(at)
	page.body = optgroups.ReplaceAllString(page.body, "")
	see("look", page)
	see("waiting", b.get("/upload"))
	b.keep(at)
	job := b.get("/jobs/104")
	see("job", job)
	b.post("/jobs/fix", append(job.hidden(t), "column", "area_sqft", "value", "810", "why", "probed")...)
	see("job", b.get("/jobs/104"))
	see("clash", b.post("/jobs/fix", append(append([]string{}, keyField, newKey()), append(job.hidden(t)[2:], "column", "area_sqft", "value", "820")...)...))
	for _, path := range []string{"/batches", "/batches/1", "/batches/2", "/jobs", "/jobs?q=sumac", "/jobs?q=nobody", "/upload/none", "/batches/99", "/jobs/none"} {
		see(path, b.get(path))
	}
}

// optgroups are lists of headings, as the file has them.
var optgroups = regexp.MustCompile(`(?s)<select name="heading">.*?</select>`)
