package site

import (
	"bytes"
	"fmt"
	"html"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"sync"
	"testing"

	"pourback/analysis/bid"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
	"pourback/report/desk"
	"pourback/report/out"
	"pourback/report/say"
)

// keepBid has an owner keep a bid through the form, and returns its number.
func (p *place) keepBid(owner string, fields ...string) int64 {
	p.t.Helper()
	b := p.surfer()
	if owner != "" {
		b = p.signedIn(owner)
	}
	return b.keepsBid(fields...)
}

func (b *surfer) keepsBid(fields ...string) int64 {
	b.t.Helper()
	got := b.post("/bids", append([]string{keyField, newKey()}, fields...)...)
	var id int64
	if _, err := fmt.Sscanf(got.header.Get("Location"), "/bids/%d", &id); got.status != http.StatusSeeOther || err != nil {
		b.t.Fatalf("no bid was kept: %v %v\n%.1500s", got, err, got.body)
	}
	return id
}

// aDrive is a bid with something of everything that a page may show.
var aDrive = []string{"name", "Lot 14, Mesquite Lane", "on", "2026-07-14", "haul_min", "35", "start", "6:30", "crew", "Heron",
	"p0.use", "driveway", "p0.name", "drive", "p0.length_ft", "44", "p0.width_ft", "24", "p0.thickness_in", "4", "p0.method", "pump", "p0.reinforcement", "rebar", "p0.joint_spacing_ft", "8",
	"p1.use", "walkway", "p1.name", "walk", "p1.length_ft", "30", "p1.width_ft", "4", "p1.thickness_in", "4", "item0.name", "permit", "item0", "150"}

// TestABidIsKeptOnce: a bid is kept as it was worked out, once however often its form
// arrives, with who kept it.
func TestABidIsKeptOnce(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 40, public)
		p.user("Ana", Owner)
		b := p.signedIn("Ana")
		worked := b.post("/bids/work", aDrive...)
		worked.says(t, "Ask $", "Drive, driveway", "Other ways to do it", "with a pump", `value="Lot 14, Mesquite Lane"`)
		if all, err := p.store.Bids(t.Context()); err != nil || len(all) != 0 {
			t.Fatalf("working out has kept %d bids, %v", len(all), err)
		}
		key := worked.key(t)
		sent := append([]string{keyField, key}, aDrive...)
		var wait sync.WaitGroup
		for range 6 {
			wait.Go(func() {
				one := p.surfer()
				one.cookies[public.cookie()] = b.cookies[public.cookie()]
				if got := one.post("/bids", sent...); got.status != http.StatusSeeOther || got.header.Get("Location") != "/bids/1" {
					t.Error(got)
				}
			})
		}
		wait.Wait()
		all, err := p.store.Bids(t.Context())
		if err != nil || len(all) != 1 {
			t.Fatalf("%d bids, %v", len(all), err)
		}
		if got := b.post("/bids", append([]string{keyField, key}, aSlab...)...); got.status != http.StatusConflict {
			t.Error("the same key for another bid: ", got)
		}
		log, err := p.store.Log(t.Context(), 10)
		if err != nil || log[0].Did != "bid 1" || log[0].Who != "Ana" || log[0].What != "POST /bids" {
			t.Errorf("the log: %+v, %v", log, err)
		}
		offer, err := desk.BidOf(all[0])
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(worked.body, say.New("", "", "").Asked(offer.Price.Asked)) {
			t.Error("the price that was shown is not the one that was kept")
		}
		if all[0].MadeOn != testDay || offer.Name != "Lot 14, Mesquite Lane" || offer.Labor.Crew != "Heron" {
			t.Errorf("kept: %v %q %q", all[0].MadeOn, offer.Name, offer.Labor.Crew)
		}
	})
}

// TestABidAsOneTypesIsTheDesks: each answer to what is typed is the bid that the desk
// makes of the same spec, to the last digit, before and after bids are kept.
func TestABidAsOneTypesIsTheDesks(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 60, atHome)
	b := p.surfer()
	h, err := p.store.History(t.Context(), testDay)
	if err != nil {
		t.Fatal(err)
	}
	ask := func(fields []string) {
		t.Helper()
		b.headers["Accept"] = "application/json"
		got := b.post("/bids/work", fields...)
		delete(b.headers, "Accept")
		all, err := p.store.Bids(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		kept, err := desk.KeptBy(testDay, all, false)
		if err != nil {
			t.Fatal(err)
		}
		known, err := desk.Know(t.Context(), h, p.site.Settings.Analysis, kept, p.store.History)
		if err != nil {
			t.Fatal(err)
		}
		form := url.Values{}
		for i := 0; i < len(fields); i += 2 {
			form.Set(fields[i], fields[i+1])
		}
		asked, problems := spec.ReadForm(readBidForm(form), p.site.Settings.Sheet)
		if asked == nil {
			t.Fatal(problems)
		}
		of, err := desk.SpecOf(asked)
		if err != nil {
			t.Fatal(err)
		}
		want, err := known.Bid(of)
		if err != nil {
			t.Fatal(err)
		}
		var text bytes.Buffer
		if err := out.BidJSON(&text, 0, want, say.New("", "", "")); err != nil {
			t.Fatal(err)
		}
		if got.body != text.String() {
			t.Errorf("%.3000s\nwant %.3000s", got.body, text.String())
		}
	}
	ask(aDrive)
	thick := slices.Clone(aDrive)
	thick[slices.Index(thick, "p0.thickness_in")+1] = "5"
	ask(thick)
	id := b.keepsBid(aDrive...)
	ask(aDrive)
	if _, err := p.store.LinkBid(t.Context(), id, p.set.Jobs[0].JobNo, testDay); err != nil {
		t.Fatal(err)
	}
	ask(aDrive)
	p.onePour("Z-1")
	if h, err = p.store.History(t.Context(), testDay); err != nil {
		t.Fatal(err)
	}
	ask(aDrive)
}

// TestWhatIsWrongStandsAtItsField: in the words of the command line, all of it at once,
// and what was typed stays.
func TestWhatIsWrongStandsAtItsField(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 10, atHome)
	b := p.surfer()
	at := func(body, field string) string {
		_, after, _ := strings.Cut(body, `data-part="says `+field+`">`)
		text, _, _ := strings.Cut(after, "</div>")
		return text
	}
	sent := []string{"on", "someday", "p0.use", "patio", "p0.length_ft", "long", "p0.width_ft", "12", "p0.thickness_in", "1"}
	got := b.post("/bids/work", sent...)
	for field, says := range map[string]string{"on": "no day and no month", "p0.length_ft": "not a number"} {
		if !strings.Contains(at(got.body, field), says) {
			t.Errorf("%s says %q, want %q", field, at(got.body, field), says)
		}
	}
	got.says(t, `value="long"`, "No bid can be made yet", `aria-invalid="true"`)
	sent = []string{"p0.use", "patio", "p0.length_ft", "20", "p0.width_ft", "12", "p0.thickness_in", "1", "p1.use", "walkway", "p1.length_ft", "20", "p1.width_ft", "4", "p1.thickness_in", "3"}
	got = b.post("/bids", append([]string{keyField, newKey()}, sent...)...)
	if got.status != http.StatusUnprocessableEntity {
		t.Error(got)
	}
	problems := bid.Check(bid.Spec{Placements: []bid.Placement{{Use: "patio", LengthFt: 20, WidthFt: 12, ThicknessIn: 1}}})
	w := say.Bid{Voice: say.New("", "", "")}
	if says := w.Matter(w.Problem(problems.Fatal()[0])); !strings.Contains(strings.ToLower(at(got.body, "p0.thickness_in")), strings.ToLower(says)) {
		t.Errorf("%q, want %q", at(got.body, "p0.thickness_in"), says)
	}
	got = b.post("/bids/work", sent[8:]...) // the walk is no placement without a first
	got.says(t, "at least one placement")
	if says := at(b.post("/bids/work", "p0.use", "walkway", "p0.length_ft", "20", "p0.width_ft", "4", "p0.thickness_in", "3").body, "p0.thickness_in"); !strings.Contains(says, `class="care"`) {
		t.Errorf("nothing is unwise about 3 in: %q", says)
	}
	if all, err := p.store.Bids(t.Context()); err != nil || len(all) != 0 {
		t.Errorf("%d bids were kept, %v", len(all), err)
	}
	b.headers["Pourback-Follow"] = "now"
	typing := b.post("/bids/work", "p0.use", "patio", "p0.length_ft", "20")
	typing.says(t, "Still to fill in: ")
	if strings.Contains(typing.body, `class="wrong"`) || strings.Contains(typing.body, "<html") {
		t.Errorf("who is still typing is scolded:\n%.600s", typing.body)
	}
}

// TestSlabsAreAddedAndTakenOut by buttons of the form, without script.
func TestSlabsAreAddedAndTakenOut(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	slabs := func(a answered) int { return strings.Count(a.body, `class="slab"`) }
	if n := slabs(b.get("/bids/new")); n != 1 {
		t.Errorf("%d slabs at first", n)
	}
	if n := slabs(b.post("/bids/work", append(slices.Clone(aDrive), "act", "add")...)); n != 3 {
		t.Errorf("%d slabs with one more", n)
	}
	got := b.post("/bids/work", append(slices.Clone(aDrive), "act", "drop.0")...)
	if n := slabs(got); n != 1 || strings.Contains(got.body, `value="44"`) || !strings.Contains(got.body, `value="30"`) {
		t.Errorf("%d slabs without the first", n)
	}
	for _, act := range []string{"drop.9", "drop.-1", "drop.x", "jump"} {
		if n := slabs(b.post("/bids/work", append(slices.Clone(aDrive), "act", act)...)); n != 2 {
			t.Errorf("%s: %d slabs", act, n)
		}
	}
}

// TestNoSlabIsLost: a bid of as many slabs as there may be comes back whole, and one
// more is refused, not left out.
func TestNoSlabIsLost(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	var fields []string
	for i := range mostSlabs {
		at := func(key string) string { return spec.Field(i, key) }
		fields = append(fields, at("use"), "patio", at("area_sqft"), fmt.Sprint(100+i), at("thickness_in"), "4")
	}
	b.keepsBid(fields...)
	b.get("/bids/new?revise=1").says(t, fmt.Sprintf(`name="p%d.area_sqft" value="%d"`, mostSlabs-1, 99+mostSlabs))
	more := append(slices.Clone(fields), spec.Field(mostSlabs, "use"), "patio", spec.Field(mostSlabs, "area_sqft"), "90", spec.Field(mostSlabs, "thickness_in"), "4")
	b.post("/bids/work", more...).says(t, "No bid can be made yet", "1 to 50")
	var costs []string
	for i := range mostItems + 1 {
		costs = append(costs, spec.ItemField(i)+".name", fmt.Sprint("cost ", i), spec.ItemField(i), "1")
	}
	if got := b.post("/bids/work", append(costs, aSlab...)...); got.status != http.StatusBadRequest {
		t.Error("costs without end: ", got)
	}
}

// TestEveryKeyHasAField: the form asks for all that a spec may say, each once, with a
// name of its own.
func TestEveryKeyHasAField(t *testing.T) {
	job, prices, placement := spec.Keys()
	w := say.Site{Voice: say.New("", "", "")}
	for _, of := range []struct {
		keys   []spec.Key
		fields []string
	}{{slices.Concat(job, prices), slices.Concat(jobFields, termFields, dayFields, priceFields)}, {placement, slices.Concat(slabFields, moreFields, shapeFields)}} {
		met := map[string]int{}
		for _, f := range of.fields {
			key, _, _ := strings.Cut(f, ".")
			if met[key]++; met[key] > 1 && key == f {
				t.Errorf("%s is asked for twice", f)
			}
			if w.BidField(f) == f {
				t.Errorf("%s has no name", f)
			}
		}
		for _, k := range of.keys {
			if met[k.Name] == 0 {
				t.Errorf("no field for %s", k.Name)
			}
		}
	}
}

// TestRevisedCopiedMarked: a bid goes its way.
func TestRevisedCopiedMarked(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 20, atHome)
		b := p.surfer()
		b.keepsBid(aDrive...)
		form := b.get("/bids/new?revise=1")
		form.says(t, "Revise bid 1", `name="p0.length_ft" value="44"`, `<option value="Heron" selected>`, `name="item0" value="150"`, "it takes the place of bid 1")
		thick := append(slices.Clone(aDrive), "revises", "1")
		thick[slices.Index(thick, "p0.thickness_in")+1] = "5"
		if id := b.keepsBid(thick...); id != 2 {
			t.Fatal("kept as ", id)
		}
		b.get("/bids/2").says(t, "Versions", "version 2", "/bids/2/proposal")
		b.get("/bids/1").says(t, "Replaced by bid 2")
		again := b.get("/bids/new?revise=1")
		again.says(t, "Bid 1 was replaced by bid 2.")
		if again.status != http.StatusConflict {
			t.Error(again)
		}
		if got := b.post("/bids", append([]string{keyField, newKey()}, thick...)...); got.status != http.StatusConflict {
			t.Error("a second version of the same: ", got)
		}
		b.get("/bids/new?copy=2").says(t, "Filled in from bid 2", `name="name" value=""`, `name="p0.thickness_in" value="5"`)
		b.get("/bids/compare?one=1&other=2").says(t, "Bids 1 and 2 side by side")
		mark := func(id int, fate string) answered {
			return b.post(fmt.Sprintf("/bids/%d/mark", id), keyField, newKey(), "fate", fate)
		}
		if got := mark(1, "won"); got.status != http.StatusConflict {
			t.Error("a replaced bid is marked: ", got)
		}
		if got := mark(2, "sold"); got.status != http.StatusBadRequest {
			t.Error("marked as nothing there is: ", got)
		}
		if got := mark(2, "won"); got.header.Get("Location") != "/bids/2" {
			t.Error(got)
		}
		if got := b.post("/bids/2/job", keyField, newKey(), "job_no", " SF-77 "); got.header.Get("Location") != "/bids/2" {
			t.Error(got)
		}
		if got := b.post("/bids/2/job", keyField, newKey(), "job_no", strings.Repeat("x", 41)); got.status != http.StatusUnprocessableEntity {
			t.Error("a job number without end: ", got)
		}
		is, err := p.store.Bid(t.Context(), 2)
		if err != nil || is.Fate != "won" || is.JobNo != "SF-77" || is.Revises != 1 || is.Version != 2 {
			t.Errorf("%+v, %v", is, err)
		}
		b.get("/bids/new?revise=2").says(t, "Bid 2 is marked won")
		b.get("/bids").says(t, "You won 1 of 1 decided", "job SF-77", "Replaced and void")
		mark(2, "open")
		b.get("/bids").says(t, "Open bids", "open since today")
		mark(2, "void")
		b.get("/bids").says(t, "void: counts nowhere")
		log, err := p.store.Log(t.Context(), 1)
		if err != nil || log[0].Did != "bid 2" || log[0].What != "POST /bids/2/mark" {
			t.Errorf("%+v, %v", log, err)
		}
		for _, path := range []string{"/bids/9", "/bids/0", "/bids/x", "/bids/9/proposal", "/bids/new?revise=9", "/bids/compare?one=1&other=9", "/bids/99999999999999999999"} {
			if got := b.get(path); got.status != http.StatusNotFound {
				t.Errorf("%s: %v", path, got)
			}
		}
		if got := b.get("/bids/work"); got.header.Get("Location") != "/bids/new" {
			t.Error("a worked out form asked for again: ", got)
		}
	})
}

// TestPapersBearTheirPolicy: each paper is a document whose one style its policy lets
// be, and nothing else.
func TestPapersBearTheirPolicy(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	b := p.surfer()
	b.keepsBid(aDrive...)
	meta := regexp.MustCompile(`http-equiv="Content-Security-Policy" content="([^"]*)"`)
	for path, says := range map[string]string{"/bids/1/sheet": "What to charge", "/bids/1/proposal": "Lot 14, Mesquite Lane", "/bids/1/pour-day": "6:30"} {
		got := b.get(path)
		own := meta.FindStringSubmatch(got.body)
		policy := got.header.Get("Content-Security-Policy")
		if own == nil || !strings.HasPrefix(policy, html.UnescapeString(own[1])+"; ") || !strings.Contains(policy, "frame-ancestors 'none'") || strings.Contains(policy, "unsafe") {
			t.Errorf("%s: %s beside %v", path, policy, own)
		}
		if !strings.Contains(got.body, says) && path != "/bids/1/sheet" {
			t.Errorf("%s does not say %q", path, says)
		}
	}
	b.get("/bids/1/pour-day?lang=es").says(t, `lang="es"`)
}

// TestBidsWithoutRecords: who has none bids on common practice.
func TestBidsWithoutRecords(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		b := p.surfer()
		b.get("/bids").says(t, "No bid has been kept yet.")
		b.get("/crew").says(t, "No pour is planned")
		b.post("/bids/work", aSlab...).says(t, "Ask $", "common practice")
		b.keepsBid(aSlab...)
		b.get("/crew").says(t, "no pour is planned for today.", "Next pours", "It has no job number yet", "/bids/1/pour-day", "/bids/1/balance")
	})
}

// TestNamesAreLeftOutOfBids where they are not to be written.
func TestNamesAreLeftOutOfBids(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 20, atHome)
	p.site.own.settings.NoNames = true
	b := p.surfer()
	b.keepsBid(aDrive...)
	for _, path := range []string{"/bids", "/bids/1", "/bids/1/sheet", "/bids/1/proposal", "/bids/1/pour-day", "/bids/1/balance", "/crew", "/bids/1/json"} {
		if got := b.get(path); strings.Contains(got.body, "Mesquite") || strings.Contains(got.body, "Heron") {
			t.Errorf("%s names somebody", path)
		}
	}
	var kept store.Bid
	var err error
	if kept, err = p.store.Bid(t.Context(), 1); err != nil || !strings.Contains(kept.Spec, "Mesquite") {
		t.Error("the name is lost: ", err)
	}
}
