package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/ingest/invented"
	"pourback/ingest/spec"
	"pourback/ingest/store/storetest"
)

const lotSpec = `name: Lot 14, Mesquite Lane
job_no: J-2
month: July
use: patio
length: 20 ft
width: 16' 2"
thickness: 4 in
method: pump
reinforcement: mesh
joint spacing: 8 ft
`

func TestWordsOfABid(t *testing.T) {
	inFolder(t, map[string]string{"bad.yaml": "use: patio\nlenght: 20\nwidth: -3\nthickness: 45\n"})
	small := []string{"bid", "--use", "patio", "--length", "20", "--width", "15", "--thickness", "4"}
	for _, c := range []struct {
		args []string
		says []string
	}{
		{[]string{"bid"}, []string{"takes a spec, or flags such as --use patio", "--help"}},
		{[]string{"bid", "a.yaml", "b.yaml"}, []string{"no more than one spec"}},
		{[]string{"bid", "bad.yaml"}, []string{"bad.yaml, line 2, lenght: unknown line; did you mean length_ft?", `line 3, width "-3": not above zero`, `line 4, thickness "45": thicker than 24 in; did you mean 4.5?`}},
		{[]string{"bid", "--use", "patio", "--length", "long", "--width", "15"}, []string{`--length "long": not a number`, "thickness_in: missing"}},
		{append(slices.Clone(small), "--price", "beton=3"), []string{`--price "beton=3": want one of concrete_per_yd`}},
		{append(slices.Clone(small), "--price", "concrete_per_yd=dear"), []string{`--price concrete_per_yd "dear"`}},
		{append(slices.Clone(small), "--lang", "fr"), []string{"want one of en, es"}},
		{append(slices.Clone(small), "--out", "a.html", "--pour-day", "a.html"), []string{"give each its own file"}},
		{append(slices.Clone(small), "--proposal", "a.html", "--pour-day", "./a.html"), []string{"--proposal and --pour-day both name ./a.html: give each its own file"}},
		{append(slices.Clone(small), "--out", "-", "--proposal", "-"), []string{"- is no file or folder here; give a name"}},
		{append(slices.Clone(small), "--start", "dawn"), []string{`--start "dawn": no time of day; write 6:30, 6:30am or 18:30`}},
		{append(slices.Clone(small), "--forecast", "12:00 101F; 6:00 78F"), []string{"06:00 does not come after 12:00"}},
		{append(slices.Clone(small), "--forecast", "hot"), []string{"does not begin with a time of day"}},
		{[]string{"balance"}, []string{"--bid: name the kept bid", "--placed-yd: missing", "--covered: missing; it is needed (how much of the area they cover, 0 to 100 %)"}},
		{[]string{"balance", "--bid", "1", "--placed-yd", "much", "--covered", "140"}, []string{`--placed-yd "much": not a number`, `--covered "140": more than 100 %; usual is 0 to 100 %`}},
		{[]string{"balance", "--bid", "1", "--placed-yd", "0", "--covered", "40%"}, []string{"nothing placed, and 40% of the area covered"}},
		{append(slices.Clone(small), "--revise", "1", "--copy", "1"), []string{"give one of them"}},
		{append(slices.Clone(small), "--revise", "0"), []string{"--revise: want a bid's number"}},
		{[]string{"bids", "three"}, []string{"bids three: want a bid's number", "`pourback bids` lists them"}},
		{[]string{"bids", "--compare", "3"}, []string{"want two bids, such as --compare 3,5"}},
		{[]string{"bids", "--compare", "3,3"}, []string{"want two bids"}},
		{[]string{"bids", "--explain", "-1"}, []string{"--explain -1: want a bid's number"}},
		{[]string{"bids", "3", "--compare", "3,5"}, []string{"ask for one of them"}},
		{[]string{"bids", "--out", "x.html"}, []string{"name a bid"}},
		{[]string{"bids", "--won", "3", "--lost", "3"}, []string{"bid 3 is to be won and lost"}},
		{[]string{"bids", "--link", "three"}, []string{"such as 3=SF-1043"}},
		{[]string{"bids", "--link", "1=" + strings.Repeat("x", 41)}, []string{"at most 40 characters"}},
	} {
		r := call(t, c.args...)
		if r.stdout != "" {
			t.Errorf("%v printed %q", c.args, r.stdout)
		}
		r.want(t, exitUsage, c.says...)
	}
	call(t, "bid", "none.yaml").want(t, exitFailed, "none.yaml")
	call(t, "bid", "--use", "patio", "--length", "2000", "--width", "15", "--thickness", "1").want(t, exitFailed, "no bid can be made", "thickness_in")
	emptyDatabase(t, "pourback.db")
	call(t, "balance", "--bid", "1", "--placed-yd", "3", "--covered", "40").want(t, exitFailed, "no bid 1: none has been kept")
	call(t, "bids").want(t, exitDone, "No bid has been kept yet", "pourback bid --help")
}

// TestBidOfANewCompany: ten lines of YAML and an empty database make a bid that
// says what it stands on.
func TestBidOfANewCompany(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec})
	emptyDatabase(t, "pourback.db")
	r := call(t, "bid", "lot.yaml", "--dry-run")
	r.want(t, exitDone, "Bid: Lot 14, Mesquite Lane", "no placements on record yet", "common practice", "hours of labor", "A dry run: the bid was not kept")
	if strings.Contains(r.stdout, "From your records") || strings.Contains(r.stdout, "NaN") || strings.Contains(r.stdout, "%!") {
		t.Errorf("a company without records bids on\n%s", r.stdout)
	}
	call(t, "bids").want(t, exitDone, "No bid has been kept yet")
	call(t, "bid", "lot.yaml", "--out", "bid.html", "--proposal", "offer.html", "--pour-day", "day.html").want(t, exitDone, "Kept as bid 1", "The cost sheet is in bid.html: for the office", "The proposal is in offer.html", "The pour-day sheet is in day.html", "balance --bid 1", "records of job J-2")
	for file, says := range map[string]string{"bid.html": "For the office: costs and margins", "offer.html": "Price holds until", "day.html": "ticket_<wbr>no"} {
		if html, err := os.ReadFile(file); err != nil || !strings.Contains(string(html), says) {
			t.Errorf("%s does not hold %q (%v)", file, says, err)
		}
	}
	call(t, "bid", "lot.yaml", "--pour-day", "dia.html", "--lang", "es", "--quiet", "--dry-run").want(t, exitDone)
	if html, err := os.ReadFile("dia.html"); err != nil || !strings.Contains(string(html), "Día del colado") {
		t.Errorf("no Spanish sheet (%v)", err)
	}
	call(t, "balance", "--bid", "1", "--placed-yd", "2", "--covered", "50%").want(t, exitDone, "all", "common practice", "less what is placed")
	call(t, "balance", "--bid", "1", "--placed-yd", "2", "--covered", "50%", "--now", "7:20", "--stopped-min", "20").want(t, exitDone, "When each truck is where", "7:40")
	call(t, "balance", "--bid", "1", "--placed-yd", "2", "--covered", "50%", "--now", "dawn").want(t, exitUsage, "--now", "6:30am")
	call(t, "balance", "--bid", "1", "--placed-yd", "2", "--covered", "50%", "--stopped-min", "20").want(t, exitUsage, "--now 7:39")
	call(t, "balance", "--bid", "1", "--placed-yd", "2", "--covered", "50%", "--now", "7:20", "--stopped-min", "-5").want(t, exitUsage, "want 0 to 720")
	call(t, "balance", "--bid", "1", "--placed-yd", "9", "--covered", "95%").want(t, exitFailed, "were ordered", "--on-hand-yd")
	call(t, "bid", "lot.yaml", "--out", filepath.Join("no", "such.html"), "--dry-run").want(t, exitFailed, "such.html")
}

// TestBidMeetsItsJob keeps a bid, takes in the records of its job, and finds
// the two beside each other, on both databases, in the report and in an export.
func TestBidMeetsItsJob(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec, "log.csv": strings.Replace(jobLog, ",45,", ",4.5,", 1)})
	storetest.Each(t, func(t *testing.T, dsn string) {
		db := func(args ...string) []string { return append(args, "--db", dsn) }
		emptyDatabase(t, dsn)
		call(t, db("bid", "lot.yaml", "--as-of", "2025-05-30")...).want(t, exitDone, "Kept as bid 1")
		call(t, db("bid", "--use", "driveway", "--area", "810", "--thickness", "4", "--as-of", "2025-05-30")...).want(t, exitDone, "Kept as bid 2", "bids --link 2=JOB_NO")
		call(t, db("bids")...).want(t, exitDone, "no records of this job yet", "no job number")
		call(t, db("ingest", "log.csv")...).want(t, exitDone)
		call(t, db("bids", "--link", "2=J-1")...).want(t, exitDone, "Bid 2 became job J-1")
		call(t, db("bids", "--link", "9=J-1")...).want(t, exitFailed, "no bid 9; the latest is 2")
		call(t, db("bids", "--won", "1", "--lost", "2")...).want(t, exitDone, "Bid 1 is marked won", "Bid 2 is marked lost", "You won 1 of 2 marked bids. Too few to say at which prices.")
		call(t, db("bids", "--won", "9")...).want(t, exitFailed, "no bid 9; the latest is 2")
		r := call(t, db("bids", "--json")...)
		r.want(t, exitDone)
		var got struct {
			Bids []struct {
				ID       int
				JobNo    string `json:"job_no"`
				MadeOn   string `json:"made_on"`
				Compared []struct {
					What   string
					Actual *float64
				}
			}
		}
		if err := json.Unmarshal([]byte(r.stdout), &got); err != nil || len(got.Bids) != 2 {
			t.Fatalf("%v\n%s", err, r.stdout)
		}
		used := map[string]float64{"J-1": 10.25, "J-2": 4.25} // delivered less leftover
		for _, b := range got.Bids {
			i := slices.IndexFunc(b.Compared, func(l struct {
				What   string
				Actual *float64
			}) bool {
				return l.What == "yards"
			})
			if b.MadeOn != "2025-05-30" || i < 0 || b.Compared[i].Actual == nil || *b.Compared[i].Actual != used[b.JobNo] {
				t.Errorf("bid %d on %s: %+v", b.ID, b.JobNo, b)
			}
		}
		dir := t.TempDir()
		call(t, db("report", "--with-sites", "--out", dir)...).want(t, exitDone)
		if html, err := os.ReadFile(filepath.Join(dir, "bids.html")); err != nil || !strings.Contains(string(html), "Lot 14, Mesquite Lane") {
			t.Errorf("the report has no bids (%v)", err)
		}
		call(t, db("export", dir)...).want(t, exitDone, "bids.json: 2 rows")
		call(t, db("balance", "--bid", "1", "--placed-yd", "2 yd", "--covered", "50", "--on-hand-yd", "1.5", "--json")...).want(t, exitDone, `"call_yd"`, `"on_hand_yd": 1.5`)
		call(t, db("balance", "--bid", "1", "--placed-yd", "2", "--covered", "50", "--day", "4")...).want(t, exitFailed, "day 4")
	})
}

// TestBidsAreAlike: both databases make the same bid of the same records, to
// the last byte.
func TestBidsAreAlike(t *testing.T) {
	inFolder(t, map[string]string{"lot.yaml": lotSpec, "log.csv": strings.Replace(jobLog, ",45,", ",4.5,", 1)})
	var first string
	storetest.Each(t, func(t *testing.T, dsn string) {
		call(t, "ingest", "log.csv", "--db", dsn).want(t, exitDone)
		r := call(t, "bid", "lot.yaml", "--db", dsn, "--json", "--quiet")
		r.want(t, exitDone)
		if first == "" {
			first = r.stdout
		}
		if r.stdout != first {
			t.Errorf("another bid:\n%.400s\nthan\n%.400s", r.stdout, first)
		}
		var offer struct {
			ID int64
			bid.Bid
		}
		if err := json.Unmarshal([]byte(r.stdout), &offer); err != nil || offer.ID != 1 || offer.Price.Price <= 0 {
			t.Errorf("%v: %+v", err, offer.Price)
		}
	})
}

// TestEveryKeyOfASpecReachesTheBid: the keys that can be read are the fields
// that the analysis takes, no more and no fewer.
func TestEveryKeyOfASpecReachesTheBid(t *testing.T) {
	job, prices, placement := spec.Keys()
	for _, group := range []struct {
		keys   []spec.Key
		fields reflect.Type
	}{{job, reflect.TypeFor[bid.Spec]()}, {prices, reflect.TypeFor[bid.Prices]()}, {placement, reflect.TypeFor[bid.Placement]()}} {
		var keys, fields []string
		for _, k := range group.keys {
			keys = append(keys, k.Name)
		}
		for i := range group.fields.NumField() {
			if name := group.fields.Field(i).Tag.Get("mapstructure"); !slices.Contains([]string{"prices", "placements", "items"}, name) {
				fields = append(fields, name)
			}
		}
		slices.Sort(keys)
		slices.Sort(fields)
		if !slices.Equal(keys, fields) {
			t.Errorf("%s: the reader has %v, the analysis takes %v", group.fields.Name(), keys, fields)
		}
	}
}

// TestDemoBid: the demo's spec is the sample that the README points at.
func TestDemoBid(t *testing.T) {
	sample, err := os.ReadFile(filepath.Join("..", "..", "testdata", "sample", "bid.yaml"))
	if err != nil || !bytes.Equal(sample, invented.BidSpec) {
		t.Errorf("testdata/sample/bid.yaml is not ingest/invented/bid.yaml (%v)", err)
	}
	inFolder(t, nil)
	call(t, "demo", "--jobs", "40").want(t, exitDone, "Its next bid: Order", filepath.Join("demo", "bid.html"), filepath.Join("demo", "pour-day.html"))
	r := call(t, "bids", "--db", filepath.Join("demo", "pourback.db"))
	r.want(t, exitDone, "1 bid open, made today: bid 9, Lot 14", "8 compared", "The jobs of 8 unmarked bids are on record")
	call(t, "balance", "--db", filepath.Join("demo", "pourback.db"), "--bid", "1", "--placed-yd", "1", "--covered", "20").want(t, exitDone, "The last load")
}
