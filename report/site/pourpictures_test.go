package site

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"pourback/ingest/record"
	"pourback/ingest/store/storetest"
)

// TestPicturesOfAPour: several at once are kept with a pour's slab or with one of its
// trucks, once however often they arrive, and stand on the pour's page, the latest
// first, and on the slab's; the first of a day begins the pour.
func TestPicturesOfAPour(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.user("Ana", Owner)
		p.user("Bo", Crew)
		p.signedIn("Ana").keepsBid(aPour("LM-900")...)
		b := p.signedIn("Bo")
		page := b.get("/pour/LM-900?part=drive")
		page.says(t, `enctype="multipart/form-data" action="/pour/LM-900/pictures"`)
		if strings.Contains(page.body, `class="life"`) {
			t.Error("pictures before there are any")
		}
		forms := keyed("part", "drive", "caption", "forms set")
		two := []uploaded{{"a.jpg", photo(t, 60, 40, 0)}, {"b.jpg", photo(t, 60, 40, 20)}}
		for _, became := range []string{"new", "new"} { // the second time it is told what was told the first
			p.later(2 * time.Second)
			if got, said := b.queue(func() answered { return b.enter("/pour/LM-900/pictures", forms, two...) }); got.status != http.StatusOK || said["became"] != became || !strings.Contains(said["says"], "LM-900 drive: 2 pictures, on record.") {
				t.Fatal(got, said)
			}
		}
		if got, said := b.queue(func() answered { return b.enter("/pour/LM-900/pictures", forms, two[0]) }); got.status != http.StatusConflict || said["kept"] != "" {
			t.Error("its key with another picture: ", got, said)
		}
		if placed := p.onRecord(record.Placements, "LM-900"); len(placed) != 1 || !strings.HasPrefix(placed[0], "drive: placed_on 2026-03-31") {
			t.Error("begun: ", placed)
		}
		b.enters(t, "/pour/LM-900/truck", "part", "drive", "ticket_no", "4711", "yards", "9")
		b.get("/pour/LM-900?part=drive").says(t, `value="load 4711"`)
		p.later(time.Minute)
		got := b.enter("/pour/LM-900/pictures", keyed("part", "drive", "of", "load 4711", "caption", "<slump> cone"), uploaded{"c.jpg", photo(t, 60, 40, 40)})
		if !fits(got, "303 /pour/LM-900") {
			t.Fatal(got)
		}
		page = b.get(got.header.Get("Location"))
		page.says(t, "1 picture, on record.", "load 4711; &lt;slump&gt; cone", "2026-03-31; forms set")
		if cone, set := strings.Index(page.body, "cone"), strings.Index(page.body, "forms set"); cone > set {
			t.Error("the latest does not stand first")
		}
		pictures, err := p.store.Pictures(t.Context(), "LM-900")
		if err != nil || len(pictures) != 3 {
			t.Fatalf("%d pictures, %v", len(pictures), err)
		}
		slab := b.get("/slabs/LM-900/drive")
		for _, is := range pictures {
			at := "/slabs/LM-900/drive/pictures/" + is.Picture
			page.says(t, `<a href="`+at+`">`, `src="`+at+`/small"`)
			slab.says(t, `<a href="`+at+`">`)
			b.get(at).says(t, `href="/pour/LM-900?part=drive"`)
			if small := b.get(at + "/small"); small.status != 200 || small.header.Get("Content-Type") != "image/jpeg" {
				t.Error(at, small)
			}
		}
		slab.says(t, "Take it back") // as what is entered at the slab's own form
	})
}

// TestPicturesOfAPourThatAreRefused say why, on the page and to the queue, and nothing of
// them is kept; what was written beside them stands there still.
func TestPicturesOfAPourThatAreRefused(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	b := p.surfer()
	b.keepsBid(aPour("LM-900")...)
	b.keepsBid(append(aSlab, "job_no", "LM-901", "on", "2026-04-02")...)
	good := uploaded{"good.jpg", photo(t, 60, 40, 0)}
	for what, c := range map[string]struct {
		at    string
		files []uploaded
		says  []string
	}{
		"none":      {"/pour/LM-900", nil, []string{"No picture is chosen; choose one or more."}},
		"no kind":   {"/pour/LM-900", []uploaded{good, {"a.heic", heic}}, []string{"Picture a.heic: HEIC or AVIF", "nothing of this was kept."}},
		"too early": {"/pour/LM-901", []uploaded{good}, []string{"This pour is planned for April 2, 2026, and nothing of it is on record yet; enter its first truck, then send the pictures."}},
	} {
		p.later(2 * time.Second)
		got := b.enter(c.at+"/pictures", keyed("caption", "by the gate"), c.files...)
		if got.status != http.StatusUnprocessableEntity {
			t.Errorf("%s: %v", what, got)
		}
		got.says(t, append(c.says, `value="by the gate"`, `<details id="pictures" open>`, "Not kept")...)
		if got, said := b.queue(func() answered { return b.enter(c.at+"/pictures", keyed("caption", "by the gate"), c.files...) }); got.status != http.StatusUnprocessableEntity || said["kept"] != "" || !strings.Contains(said["refused"], c.says[0]) {
			t.Errorf("%s, by the queue: %v %v", what, got, said)
		}
	}
	if page := b.get("/pour/LM-901"); strings.Contains(page.body, `action="/pour/LM-901/pictures"`) {
		t.Error("pictures are asked for before the day of the pour")
	}
	for _, job := range []string{"LM-900", "LM-901"} {
		if placed := p.onRecord(record.Placements, job); len(placed) != 0 {
			t.Error("begun by what was refused: ", placed)
		}
	}
	if pictures, err := p.store.Pictures(t.Context(), ""); len(pictures) != 0 || err != nil {
		t.Errorf("kept: %+v, %v", pictures, err)
	}
	b.enters(t, "/pour/LM-900/truck", "ticket_no", "4711", "yards", "9")
	if got := b.enter("/pour/LM-900/pictures", keyed("part", "drive", "of", "load 4712"), good); got.status != http.StatusUnprocessableEntity {
		t.Error("of a truck that never came: ", got)
	}
}

// TestPicturesOfAnotherCrewsPour are as good as none: neither taken nor shown.
func TestPicturesOfAnotherCrewsPour(t *testing.T) {
	p := newCrewPlace(t, storetest.SQLite(t))
	job, placement := p.slabs[0].JobNo, p.slabs[0].Placement
	one := uploaded{"a.jpg", photo(t, 60, 40, 0)}
	if got := p.by("own").enter("/pour/"+job+"/pictures", keyed("part", placement), one); !fits(got, "303 /pour/"+job) {
		t.Fatal(got)
	}
	pictures, err := p.store.Pictures(t.Context(), job)
	if err != nil || len(pictures) != 1 {
		t.Fatal(pictures, err)
	}
	other := p.by("other")
	for _, got := range []answered{other.enter("/pour/"+job+"/pictures", keyed("part", placement), one), other.get("/pour/" + job), other.get(slabPath(job, placement) + "/pictures/" + pictures[0].Picture + "/small")} {
		if got.status != http.StatusNotFound {
			t.Error("another crew: ", got)
		}
	}
	p.by("own").get(partPath(job, placement)).says(t, pictures[0].Picture)
	if pictures, err = p.store.Pictures(t.Context(), job); err != nil || len(pictures) != 1 {
		t.Error("kept for another crew: ", pictures, err)
	}
}
