package site

import (
	"fmt"
	"net/url"
	"regexp"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

var jobShown = regexp.MustCompile(`<a class="lead" href="/jobs/([^"?]+)"`)

func (a answered) jobs() (found []string) {
	for _, f := range jobShown.FindAllStringSubmatch(a.body, -1) {
		found = append(found, f[1])
	}
	return found
}

// TestFindingJobs finds them by number, site, customer, crew, use and date, in any
// case and order of words, in pages, on both engines.
func TestFindingJobs(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.get("/jobs").says(t, "No job is on record yet.")
		p.takeFile("jobs.csv", "job_no,site,customer\nJ/1,Lot 3 Juniper Ct,Ébano\nJ-2,Lot 4 Sumac Rd,Cedar\nJ-3,,\n")
		p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,crew\nJ/1,A,2025-06-03,driveway,800,4,Heron\nJ/1,B,2025-07-04,walkway,200,4,Wren\nJ-2,A,2025-06-03,patio,300,4,Wren\nL-9,A,2025-08-01,patio,300,4,\n")
		for q, want := range map[string]string{"": "L-9 J%2F1 J-2 J-3", "j-2": "J-2", "juniper": "J%2F1", "LOT rd": "J-2", "rd lot": "J-2", "ÉBANO": "J%2F1", "ebano": "J%2F1", "Júniper": "J%2F1", "wren": "J%2F1 J-2", "2025-06-03": "J%2F1 J-2",
			"6/3/2025": "J%2F1 J-2", "June 3, 2025": "J%2F1 J-2", "2025-07": "J%2F1", "walkway wren": "J%2F1", "patio": "L-9 J-2", "nobody": "", "%": "", "J_2": "", "'": ""} {
			got := b.get("/jobs?q=" + url.QueryEscape(q))
			if found := strings.Join(got.jobs(), " "); found != want || got.status != 200 {
				t.Errorf("%q: found %q, want %q", q, found, want)
			}
		}
		b.get("/jobs?q=wren").says(t, "2 of 4 jobs fit.", `value="wren"`, `href="/jobs?lang=es&amp;q=wren"`, `href="/jobs?q=wren&amp;units=si"`)
		b.get("/jobs?q=wren&lang=es").says(t, `href="/jobs?q=wren"`, `href="/jobs?lang=es&amp;q=wren&amp;units=si"`)
		b.get("/report/waste?use=driveway&q=wren").says(t, `href="/report/waste?lang=es&amp;use=driveway"`) // which is kept for others
		b.get("/jobs/J%2F1").says(t, "Job J/1", "2 placements on record. 1 more row belongs to the job.", "Placement B", "Ébano", "June 3, 2025")
		if got := b.get("/jobs/J"); got.status != 404 {
			t.Error(got)
		}
		var many strings.Builder
		many.WriteString("job_no,site\n")
		for i := range 120 {
			fmt.Fprintf(&many, "M-%03d,Lot %d\n", i, i)
		}
		p.takeFile("jobs.csv", many.String())
		seen := map[string]bool{}
		at := "/jobs?q=M-"
		for at != "" {
			got := b.get(at)
			for _, job := range got.jobs() {
				if seen[job] {
					t.Errorf("%s stands on two pages", job)
				}
				seen[job] = true
			}
			next := regexp.MustCompile(`href="(/jobs\?q=M-&amp;page=\d+)">Earlier ones`).FindStringSubmatch(got.body)
			if at = ""; next != nil {
				at = unescaped(next[1])
			}
		}
		if len(seen) != 120 {
			t.Errorf("%d jobs on all pages", len(seen))
		}
	})
}

// TestNamesSwitchedOff: nothing of a site, a customer, a crew or a note is shown or found.
func TestNamesSwitchedOff(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.site.Settings.NoNames = true
	p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,crew,site,customer,note\nJ-1,A,2025-06-03,driveway,800,4,Heron,Lot 3 Juniper Ct,Alder,gate code\n")
	b := p.surfer()
	job := b.get("/jobs/J-1")
	b.post("/jobs/fix", append(job.hidden(t), "column", "area_sqft", "value", "810", "why", "Alder measured it")...)
	for _, path := range []string{"/jobs", "/jobs?q=juniper", "/jobs/J-1", "/batches", "/batches/1", "/batches/2"} {
		got := b.get(path)
		for _, name := range []string{"Juniper Ct", "Alder", "Heron", "gate code"} {
			if strings.Contains(got.body, name) {
				t.Errorf("%s shows %q", path, name)
			}
		}
	}
	if found := b.get("/jobs?q=juniper").jobs(); len(found) > 0 {
		t.Error("found by a site: ", found)
	}
}

// TestTwoAtOneRecord: the second sees what the first made of it beside what they
// wanted themselves; nothing is written over, until they say so.
func TestTwoAtOneRecord(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.user("Ana", Owner)
		p.user("Bo", Owner)
		p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in\nJ-1,A,2025-06-03,driveway,800,4\n")
		p.takeFile("loads.csv", "job_no,placement,ticket_no,yards\nJ-1,A,881,9\n")
		ana, bo := p.signedIn("Ana"), p.signedIn("Bo")
		mine, theirs := bo.get("/jobs/J-1").hidden(t), ana.get("/jobs/J-1").hidden(t)
		if got := ana.post("/jobs/fix", append(theirs, "column", "area_sqft", "value", "820", "why", "taped")...); !fits(got, "303 /jobs/J-1") {
			t.Fatal(got)
		}
		got := bo.post("/jobs/fix", append(mine, "column", "thickness_in", "value", "5")...)
		if got.says(t, "Somebody changed this record while you were at it.", "by Ana", "<bdi>4</bdi>", "<bdi>5</bdi>"); got.status != 409 {
			t.Fatal(got)
		}
		if batches, _ := p.store.Batches(t.Context()); len(batches) != 3 {
			t.Error("something was kept")
		}
		if got := bo.post("/jobs/fix", append(got.hidden(t), "column", "thickness_in", "value", "5")...); !fits(got, "303 /jobs/J-1") {
			t.Fatal(got)
		}
		page := bo.get("/jobs/J-1")
		page.says(t, "fix J-1/A: taped", "Earlier values", "Ana", "Bo")

		load := regexp.MustCompile(`(?s)<section class="record" aria-label="Loads.*`).FindString(page.body)
		fields := answered{body: load}.hidden(t)
		if got := bo.post("/jobs/fix", append(fields, "column", "yards", "value", "9 1/4")...); !fits(got, "303 /jobs/J-1") {
			t.Fatal(got, got.body)
		}
		bo.get("/jobs/J-1").says(t, "9.25")
		if got := bo.post("/jobs/fix", append(fields, "column", "yards", "value", "8")...); got.status != 400 && got.status != 409 {
			t.Error("the same key for something else: ", got)
		}
		for column, want := range map[string]int{"ticket_no": 400, "said_right": 400, "nothing": 400, "": 400} {
			again := answered{body: regexp.MustCompile(`(?s)<section class="record" aria-label="Loads.*`).FindString(bo.get("/jobs/J-1").body)}.hidden(t)
			if got := bo.post("/jobs/fix", append(again, "column", column, "value", "1")...); got.status != want {
				t.Errorf("%q: %v", column, got)
			}
		}
		gone := append([]string{keyField, newKey()}, "table", "loads", "key", `["J-1","A","999"]`, "seen", "x", "column", "yards", "value", "8")
		if got := bo.post("/jobs/fix", gone...); got.status != 404 {
			t.Error("a load that is not there: ", got)
		}
	})
}

// TestPutBack: an earlier value comes back as a change of its own; a value that is
// given again is said to be right.
func TestPutBack(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.site.Settings.Sheet.DecimalComma = "yes" // a value of the log is none that somebody writes
		p.takeFile("placements.csv", "job_no,placement,placed_on,use,area_sqft,thickness_in,delivered_yd\nJ-1,A,2025-06-03,driveway,800.5,4,1100\n")
		b := p.surfer()
		fix := func(fields ...string) {
			t.Helper()
			if got := b.post("/jobs/fix", append(b.get("/jobs/J-1").hidden(t), fields...)...); !fits(got, "303 /jobs/J-1") {
				t.Fatal(got, got.body)
			}
		}
		fix("column", "area_sqft", "value", "810")
		fix("column", "area_sqft", "value", "800.5", "exact", "1", "why", "put back")
		fix("column", "delivered_yd", "value", "1100")
		b.get("/jobs/J-1").says(t, "800.5", "said to be right", "fix J-1/A: put back")
		h, err := p.store.History(t.Context(), testDay)
		if err != nil {
			t.Fatal(err)
		}
		if x := h.Placements.Row(0); x.AreaSqft != record.Some(800.5) || x.DeliveredYd != record.Some(1100.0) {
			t.Errorf("%+v", x)
		}
		changes, err := p.store.Changes(t.Context(), 3)
		if err != nil || len(changes) != 1 || changes[0].Before["area_sqft"] != "810" || changes[0].After["area_sqft"] != "800.5" {
			t.Errorf("%+v, %v", changes, err)
		}
	})
}
