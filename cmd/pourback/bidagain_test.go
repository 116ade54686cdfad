package main

import (
	"compress/gzip"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"pourback/ingest/store/storetest"
)

// today is the day of the tests' clock.
const today = "2026-03-31"

// bidding keeps a bid in a database of its own, and gives the calls that go there.
func bidding(t *testing.T, dsn string) func(args ...string) []string {
	t.Helper()
	emptyDatabase(t, dsn)
	db := func(args ...string) []string { return append(args, "--db", dsn) }
	call(t, db("bid", "lot.yaml")...).want(t, exitDone, "Kept as bid 1")
	return db
}

// answerOf reads the JSON of a call.
func answerOf(t *testing.T, args []string, into any) {
	t.Helper()
	r := call(t, append(args, "--json", "--quiet")...)
	r.want(t, exitDone)
	if err := json.Unmarshal([]byte(r.stdout), into); err != nil {
		t.Fatalf("%v: %v", args, err)
	}
}

// TestRevisedBid: a new version stands in the place of the one before it and says what
// changed; what is replaced or marked is not revised, and says what would be right.
func TestRevisedBid(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec, "more.yaml": "certainty: 90 %\nitems: {permit: 150}\n"})
	storetest.Each(t, func(t *testing.T, dsn string) {
		db := bidding(t, dsn)
		call(t, db("bid", "--revise", "1", "--thickness", "5", "--dry-run")...).want(t, exitDone, "It would take the place of bid 1. It asks $", "concrete adds $", "Thickness, in", "A dry run")
		r := call(t, db("bid", "--revise", "1", "--thickness", "5", "--reinforcement", "rebar")...)
		r.want(t, exitDone, "What changed since bid 1", "Bid 2 takes the place of bid 1, as version 2. It asks $", "● Order", "Thickness, in", "Steel", "mesh", "Kept as bid 2")
		if strings.Contains(r.stdout, "● Area") {
			t.Error("the area has not changed")
		}
		call(t, db("bid", "--revise", "1", "--thickness", "6")...).want(t, exitFailed, "bid 1 was replaced by bid 2", "--revise 2", "--copy 1")
		call(t, db("bid", "--revise", "9")...).want(t, exitFailed, "no bid 9; the latest is 2")
		call(t, db("bid", "--revise", "2", "more.yaml", "--crew", "")...).want(t, exitDone, "Bid 3 takes the place of bid 2, as version 3", "The chance to keep it goes from 80% to 90%", "Cost: permit")
		for _, c := range [][2]string{{"--won", "won"}, {"--lost", "lost"}, {"--void", "void"}} {
			call(t, db("bids", c[0], "3")...).want(t, exitDone, "Bid 3 is marked "+c[1])
			r := call(t, db("bid", "--revise", "3", "--thickness", "4")...)
			if c[1] != "void" {
				r.want(t, exitFailed, "bid 3 is marked "+c[1], "--open 3", "--copy 3")
			} else {
				r.want(t, exitFailed, "bid 3 is marked void")
			}
		}
		call(t, db("bids", "--won", "1")...).want(t, exitFailed, "bid 1 was replaced by bid 2: mark that one")
		var got struct {
			Open struct{ Open, Replaced, Void, Oldest int }
			Bids []struct {
				ID, Version, Revises int
				ReplacedBy           int `json:"replaced_by"`
				Stands               string
			}
			Won struct{ Won, Lost, Unmarked int }
		}
		answerOf(t, db("bids"), &got)
		if o := got.Open; o.Open != 1 || o.Oldest != 2 || o.Replaced != 1 || o.Void != 1 || got.Won.Unmarked != 1 {
			t.Errorf("%+v", got)
		}
		if b := got.Bids; len(b) != 3 || b[0].Stands != "replaced" || b[0].ReplacedBy != 2 || b[1].Stands != "open" || b[1].Revises != 1 || b[2].Version != 3 || b[2].Stands != "void" {
			t.Errorf("%+v", b)
		}
		call(t, db("check")...).want(t, exitDone, "3 bids")
	})
}

// TestCopiedBid starts anew from a spec, without its name and its job.
func TestCopiedBid(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec})
	db := bidding(t, "pourback.db")
	type offer struct {
		ID    int
		JobNo string `json:"job_no"`
		Spec  struct {
			Name, On   string
			JobNo      string `json:"job_no"`
			Placements []map[string]any
		}
	}
	var plain, named offer
	answerOf(t, db("bid", "--copy", "1", "--length", "24"), &plain)
	if plain.ID != 2 || plain.JobNo != "" || plain.Spec.Name != "" || plain.Spec.On != "7" || plain.Spec.Placements[0]["length_ft"] != 24.0 || plain.Spec.Placements[0]["method"] != "pump" {
		t.Errorf("%+v", plain)
	}
	answerOf(t, db("bid", "--copy", "1", "--name", "Lot 15", "--job", "J-9"), &named)
	if named.ID != 3 || named.JobNo != "J-9" || named.Spec.Name != "Lot 15" || named.Spec.Placements[0]["length_ft"] != 20.0 {
		t.Errorf("%+v", named)
	}
	call(t, db("bids", "3")...).want(t, exitDone, "Bid 3, as made on", "Open.")
}

// TestMarksAreKept with their days: twice adds nothing, one taken back is in the log.
func TestMarksAreKept(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec})
	storetest.Each(t, func(t *testing.T, dsn string) {
		db := bidding(t, dsn)
		call(t, db("bids", "--won", "1")...).want(t, exitDone, "Bid 1 is marked won.", "You won 1 of 1 decided")
		call(t, db("bids", "--won", "1")...).want(t, exitDone, "Bid 1 is marked won already, since "+today)
		call(t, db("bids", "--lost", "1")...).want(t, exitDone, "Bid 1 is marked lost, no longer won.")
		call(t, db("bids", "--open", "1")...).want(t, exitDone, "Bid 1 is open again, no longer lost.")
		call(t, db("bids", "--open", "1")...).want(t, exitDone, "Bid 1 is open already.")
		call(t, db("bids", "--link", "1=J-5")...).want(t, exitDone, "Bid 1 became job J-5.")
		call(t, db("bids", "--link", "1=J-5")...).want(t, exitDone, "That is known of bid 1 already.")
		var got struct {
			Kept struct {
				Stands string
				JobNo  string `json:"job_no"`
				Log    []struct{ On, Did, Before, After, Says string }
			}
		}
		answerOf(t, db("bids", "1"), &got)
		var log []string
		for _, s := range got.Kept.Log {
			log = append(log, s.On+" "+s.Says)
		}
		want := today + " marked won|" + today + " marked lost, no longer won|" + today + " open again, no longer lost|" + today + " became job J-5"
		if strings.Join(log, "|") != want || got.Kept.Stands != "open" || got.Kept.JobNo != "J-5" {
			t.Errorf("%v\nwant %s", log, want)
		}
	})
}

// TestKeptBidIsShownAgain as it was made, to the letter, in either units, and its
// numbers still add up.
func TestKeptBidIsShownAgain(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec, "log.csv": strings.Replace(jobLog, ",45,", ",4.5,", 1)})
	storetest.Each(t, func(t *testing.T, dsn string) {
		call(t, "ingest", "log.csv", "--db", dsn).want(t, exitDone)
		db := bidding(t, dsn)
		for _, units := range []string{"us", "si"} {
			made := call(t, db("bid", "lot.yaml", "--dry-run", "--units", units, "--quiet")...).stdout
			again := call(t, db("bids", "1", "--units", units)...).stdout
			if squeezed(made) != strings.Replace(squeezed(again), asMade, "", 1) || !strings.Contains(squeezed(again), asMade) {
				t.Errorf("%s: shown again it says\n%s\nand was made as\n%s", units, again, made)
			}
		}
		explained := call(t, db("bid", "lot.yaml", "--dry-run", "--explain", "--quiet")...).stdout
		if again := call(t, db("bids", "--explain", "1")...).stdout; again != explained {
			t.Errorf("explained again it says\n%s\nand was\n%s", again, explained)
		}
		for file, args := range map[string][]string{"one.html": db("bids", "1", "--out", "one.html"), "why.html": db("bids", "--explain", "1", "--out", "why.html"), "new.html": db("bid", "lot.yaml", "--explain", "--dry-run", "--out", "new.html")} {
			call(t, append(args, "--force")...).want(t, exitDone)
			html, err := os.ReadFile(file)
			if err != nil || !strings.Contains(string(html), "Lot 14, Mesquite Lane") || file != "one.html" && !strings.Contains(string(html), "÷ 324") {
				t.Errorf("%s does not hold the bid (%v)", file, err)
			}
		}
		call(t, db("bids", "1", "--as-of", "2025-01-01")...).want(t, exitFailed, "bid 1 had not been made by 2025-01-01")
	})
}

// asMade is what a kept bid says of itself at its head, and a fresh one does not.
const asMade = "Bid 1, as made on March 31, 2026. Job on record, not marked. "

// squeezed is a text without how it is broken into lines.
func squeezed(s string) string { return strings.Join(strings.Fields(s), " ") }

// TestBidsSideBySide on the terminal, as JSON and in a file, without names where none
// are wanted.
func TestBidsSideBySide(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec})
	db := bidding(t, "pourback.db")
	call(t, db("bid", "--copy", "1", "--name", "Cedar", "--crew", "Kestrel", "--thickness", "6")...).want(t, exitDone)
	call(t, db("bids", "--compare", "1,2")...).want(t, exitDone, "Bids 1 and 2 side by side", "Bid 2 asks $", "more than bid 1: concrete adds $", "● Order", "Cedar", "Kestrel", "Chance of a loss")
	call(t, db("bids", "--compare", "2,1")...).want(t, exitDone, "less than bid 2: concrete takes $")
	call(t, db("bids", "--compare", "1,7")...).want(t, exitFailed, "no bid 7; the latest is 2")
	call(t, db("bids", "--compare", "1,2", "--out", "two.html")...).want(t, exitDone, "It is in two.html")
	if html, err := os.ReadFile("two.html"); err != nil || !strings.Contains(string(html), "● ") {
		t.Error(err)
	}
	for _, args := range [][]string{{"bids", "--compare", "1,2"}, {"bids", "--compare", "1,2", "--json"}, {"bids", "2"}, {"bids", "2", "--json"}, {"bids", "--explain", "2"}, {"bid", "--revise", "2", "--thickness", "5", "--dry-run"}, {"bid", "--revise", "2", "--thickness", "5", "--dry-run", "--json"}} {
		r := call(t, append(db(args...), "--no-names")...)
		r.want(t, exitDone)
		for _, name := range []string{"Cedar", "Kestrel", "Mesquite"} {
			if strings.Contains(r.stdout, name) {
				t.Errorf("%v names %s", args, name)
			}
		}
	}
}

// TestRevisedAtOnce: of several that revise a bid at the same moment one is kept, and the
// others are told which one to revise.
func TestRevisedAtOnce(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec})
	storetest.Each(t, func(t *testing.T, dsn string) {
		db := bidding(t, dsn)
		var mu sync.Mutex
		var wg sync.WaitGroup
		kept, refused := 0, 0
		for range 3 {
			wg.Go(func() {
				r := call(t, db("bid", "--revise", "1", "--thickness", "5", "--quiet")...)
				mu.Lock()
				defer mu.Unlock()
				switch {
				case r.status == exitDone:
					kept++
				case strings.Contains(r.stderr, "bid 1 was replaced by bid 2"):
					refused++
				default:
					t.Error(r.stderr)
				}
			})
		}
		wg.Wait()
		if kept != 1 || refused != 2 {
			t.Errorf("%d kept, %d refused", kept, refused)
		}
		call(t, db("check")...).want(t, exitDone, "2 bids")
	})
}

// TestBidOfAnEarlierProgram is shown as far as it was kept, and never with a 0 in the
// place of what was not.
func TestBidOfAnEarlierProgram(t *testing.T) {
	packed, err := os.Open(filepath.Join(top, "ingest", "store", "testdata", "schema-6", "pourback.db.gz"))
	if err != nil {
		t.Fatal(err)
	}
	defer packed.Close()
	z, err := gzip.NewReader(packed)
	if err != nil {
		t.Fatal(err)
	}
	db, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	inFolder(t, nil)
	if err := os.WriteFile("pourback.db", db, 0o644); err != nil {
		t.Fatal(err)
	}
	for _, args := range [][]string{{"bids", "1"}, {"bids", "--explain", "1"}, {"bids", "--compare", "1,2"}} {
		r := call(t, args...)
		r.want(t, exitDone)
		for _, never := range []string{"Ask $0", "Ask  $0 ", "#0 at", "0 ft × 0 ft", " 0 pumped", "luck of the draws =", "NaN", "Inf"} {
			if strings.Contains(r.stdout, never) {
				t.Errorf("%v says %q", args, never)
			}
		}
		if args[1] != "--compare" && !strings.Contains(r.stdout, "An earlier version of this program kept this bid") {
			t.Errorf("%v does not say that it lacks something", args)
		}
	}
	call(t, "bids").want(t, exitDone, "You won 1 of 1 decided", "void: counts nowhere")
	call(t, "bid", "--copy", "1", "--quiet").want(t, exitDone, "Kept as bid 3")
}
