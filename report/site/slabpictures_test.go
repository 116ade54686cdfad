package site

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image/jpeg"
	"net/http"
	"strings"
	"testing"

	"pourback/ingest"
	"pourback/ingest/store/storetest"
)

// pngBomb is a small PNG of so many pixels by so many.
func pngBomb(side int) []byte {
	chunk := func(name string, content []byte) []byte {
		b := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
		b = append(append(b, name...), content...)
		return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(side)), uint32(side))
	var packed bytes.Buffer
	z, _ := zlib.NewWriterLevel(&packed, zlib.BestCompression)
	row := make([]byte, 1+(side+7)/8)
	for range side {
		z.Write(row)
	}
	z.Close()
	return append(append(append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(head, 1, 0, 0, 0, 0))...), chunk("IDAT", packed.Bytes())...), chunk("IEND", nil)...)
}

// heic is the beginning of a picture as some phones keep them.
var heic = append([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), make([]byte, 200)...)

// TestHostilePictures: what is no picture of ours is refused with words and nothing of the
// entry is kept; what is one and something else besides is that no more.
func TestHostilePictures(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	page := "<html><script>alert(1)</script></html>"
	whole := photo(t, 200, 100, 0)
	comment := append([]byte("\xff\xd8\xff\xfe"), binary.BigEndian.AppendUint16(nil, uint16(2+len(page)))...)
	polyglot := append(append(append(comment, page...), whole[2:]...), page...)
	good := uploaded{"good.jpg", photo(t, 300, 200, 10)}
	for name, c := range map[string]struct {
		content []byte
		says    string
	}{
		"a.svg":   {[]byte(`<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`), "Picture a.svg: no picture of a kind that is kept; send a still picture"},
		"b.jpg":   {[]byte(page), "Picture b.jpg: no picture of a kind"},
		"c.png":   {pngBomb(20_000), "Picture c.png: too many pixels; make it smaller"},
		"d.jpg":   {heic, "Picture d.jpg: HEIC or AVIF"},
		"e.jpg":   {whole[:len(whole)/2], "Picture e.jpg: damaged or cut off;"},
		"f.jpg":   {append(bytes.Clone(whole), make([]byte, mostPicture)...), "Picture f.jpg: over 10 MB;"},
		"g.jpg":   {nil, "Picture g.jpg: the file is empty;"},
		"<b>.jpg": {[]byte("x"), "Picture &lt;b&gt;.jpg: no picture"},
	} {
		for _, path := range []string{"/slabs/J-1/A/visit", "/slabs/J-1/A/pictures"} {
			p.later(2e9)
			got, said := b.queue(func() answered { return b.enter(path, keyed(aCrack...), good, uploaded{name, c.content}) })
			if got.status != http.StatusUnprocessableEntity || said["kept"] != "" || !strings.Contains(said["refused"], strings.NewReplacer("&lt;", "<", "&gt;", ">").Replace(c.says)) {
				t.Errorf("%s at %s: %v %v", name, path, got, said)
			}
			if got := b.enter(path, keyed(aCrack...), good, uploaded{name, c.content}); got.status != http.StatusUnprocessableEntity || !strings.Contains(got.body, c.says) {
				t.Errorf("%s at %s on the page: %v", name, path, got)
			}
		}
	}
	pictures, err := p.store.Pictures(t.Context(), "")
	if len(pictures) != 0 || err != nil || len(p.visits()) != 1 {
		t.Fatalf("kept: %+v %v", pictures, err)
	}
	if got := b.enter("/slabs/J-1/A/pictures", keyed("of", "load 881", "caption", page), uploaded{"../../x.html", polyglot}); !fits(got, "303 /slabs/J-1/A") {
		t.Fatal(got)
	}
	if pictures, err = p.store.Pictures(t.Context(), ""); len(pictures) != 1 || err != nil || pictures[0].TicketNo != "881" {
		t.Fatalf("%+v %v", pictures, err)
	}
	slab := b.get("/slabs/J-1/A")
	if slab.says(t, "load 881", "&lt;html&gt;"); strings.Contains(slab.body, page) {
		t.Error("a caption is markup")
	}
	got := b.get("/slabs/J-1/A/pictures/" + pictures[0].Picture + "/large")
	if strings.Contains(got.body, "<html") || got.header.Get("Content-Type") != "image/jpeg" {
		t.Errorf("it is a page still: %v", got.header)
	}
}

// TestALargePhotoIsMadeSmall: twelve megapixels come in, and what is shown is what a
// screen needs.
func TestALargePhotoIsMadeSmall(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	if got := b.enter("/slabs/J-1/A/pictures", keyed("of", "visit 2025-09-01"), uploaded{"IMG.jpg", photo(t, 4000, 3000, 0)}); !fits(got, "303 /slabs/J-1/A") {
		t.Fatal(got)
	}
	pictures, err := p.store.Pictures(t.Context(), "")
	if err != nil || len(pictures) != 1 || pictures[0].WidthPx.V != 2048 || pictures[0].HeightPx.V != 1536 || pictures[0].SeenOn.String() != "2025-09-01" {
		t.Fatalf("%+v %v", pictures, err)
	}
	small, err := jpeg.DecodeConfig(strings.NewReader(b.get("/slabs/J-1/A/pictures/" + pictures[0].Picture + "/small").body))
	if err != nil || small.Width != 320 {
		t.Error(small, err)
	}
}

// TestPicturesWithoutRoom refuse the whole entry, which can be sent without them.
func TestPicturesWithoutRoom(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, atHome)
		p.slabs()
		p.site.Settings.Pictures = ingest.PictureRules{QuotaMB: 0.02}
		b := p.surfer()
		fields := keyed(aCrack...)
		small, large := uploaded{"a.jpg", photo(t, 60, 40, 0)}, uploaded{"b.jpg", photo(t, 2000, 1500, 0)}
		for _, path := range []string{"/slabs/J-1/A/visit", "/slabs/J-1/A/pictures"} {
			if got, said := b.queue(func() answered { return b.enter(path, fields, small, large) }); got.status != http.StatusUnprocessableEntity || !strings.Contains(said["refused"], "There is no room for more pictures") {
				t.Fatal(path, got, said)
			}
		}
		pictures, err := p.store.Pictures(t.Context(), "")
		if used, _ := p.store.PicturesUsed(t.Context()); len(pictures) != 0 || used != 0 || err != nil || len(p.visits()) != 1 {
			t.Errorf("kept: %+v, %d bytes, %v", pictures, used, err)
		}
		if got, said := b.queue(func() answered { return b.enter("/slabs/J-1/A/visit", fields, small) }); got.status != 200 || said["became"] != "new" {
			t.Error("the same form, mended: ", got, said)
		}
	})
}

// TestPicturesOfNothing: pictures belong to what is on record, and there are some.
func TestPicturesOfNothing(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	one := uploaded{"a.jpg", photo(t, 60, 40, 0)}
	many := make([]uploaded, mostPictures+1)
	for i := range many {
		many[i] = uploaded{fmt.Sprintf("%d.jpg", i), photo(t, 60, 40, uint8(i))}
	}
	for what, c := range map[string]struct {
		of    string
		files []uploaded
		says  string
	}{"none": {"", nil, "No picture was chosen"}, "no load": {"load 1", []uploaded{one}, "not on record any more"}, "no visit": {"visit 2025-01-01", []uploaded{one}, "not on record any more"},
		"too many": {"", many, "More than 12 pictures"}} {
		got, said := b.queue(func() answered { return b.enter("/slabs/J-1/A/pictures", keyed("of", c.of), c.files...) })
		if got.status != http.StatusUnprocessableEntity || !strings.Contains(said["refused"], c.says) {
			t.Errorf("%s: %v %v", what, got, said)
		}
	}
	if got := b.enter("/slabs/J-1/B/pictures", keyed("of", ""), many[:mostPictures]...); !fits(got, "303 /slabs/J-1/B") {
		t.Error(got)
	}
	b.get("/slabs/J-1/B").says(t, "What you found")
	if pictures, err := p.store.Pictures(t.Context(), "J-1"); len(pictures) != mostPictures || err != nil {
		t.Errorf("%d pictures, %v", len(pictures), err)
	}
}

// TestNoPicturesWithoutNames: pictures may show people and houses.
func TestNoPicturesWithoutNames(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	b := p.surfer()
	b.enter("/slabs/J-1/A/pictures", keyed("of", ""), uploaded{"a.jpg", photo(t, 60, 40, 0)})
	pictures, err := p.store.Pictures(t.Context(), "")
	if err != nil || len(pictures) != 1 {
		t.Fatal(pictures, err)
	}
	at := "/slabs/J-1/A/pictures/" + pictures[0].Picture
	b.get("/slabs/J-1/A").says(t, at)
	p.site.own.settings.NoNames = true
	if page := b.get("/slabs/J-1/A"); strings.Contains(page.body, at) || page.status != 200 {
		t.Error("it is shown: ", page)
	}
	for _, path := range []string{at, at + "/large", at + "/small"} {
		if got := b.get(path); got.status != http.StatusNotFound {
			t.Error(path, got)
		}
	}
}

// TestTheTableOfPicturesIsNoUpload: the pictures of an export are files beside their table,
// and nothing on the server's disk is taken for one.
func TestTheTableOfPicturesIsNoUpload(t *testing.T) {
	p := newPlace(t, storetest.SQLite(t), 0, atHome)
	p.slabs()
	got := p.surfer().drop(newKey(), "pictures.csv", []byte("job_no,placement,picture,seen_on,file,caption\nJ-1,A,,2025-09-01,pictures/a.jpg,by the door\n"))
	if got.says(t, "Add pictures on the page of their slab."); got.status != http.StatusUnprocessableEntity {
		t.Error(got)
	}
}

// TestTwoCracksOfOneDayJoin, whoever found them; another finding of that day does not.
func TestTwoCracksOfOneDayJoin(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		p := newPlace(t, dsn, 0, public)
		p.slabs()
		p.user("Bo", Crew)
		p.user("Cy", Crew)
		bo, cy := p.signedIn("Bo"), p.signedIn("Cy")
		of := func(fields ...string) []string {
			return keyed(append([]string{"why", "planned", "seen_on", "2026-03-30"}, fields...)...)
		}
		for _, c := range []struct {
			who    *surfer
			fields []string
			became string
		}{
			{bo, of("finding", "crack", "width", "0.010", "length", "6", "spot", "0.167 0.167"), "new"},
			{cy, of("finding", "crack", "width", "0.030", "length", "2.5", "spot", "0.833 0.833", "note", "at the drain"), "changed"},
			{bo, of("finding", "settlement"), "clash"},
		} {
			p.later(2e9)
			if got, said := c.who.queue(func() answered { return c.who.post("/slabs/J-1/B/visit", c.fields...) }); got.status != 200 || said["became"] != c.became {
				t.Fatalf("%v: %v %v", c.fields, got, said)
			}
		}
		v := p.visits()[1]
		if v.WidthIn.V != 0.030 || v.LengthFt.V != 8.5 || v.Finding != "crack" || v.SpotX.V != 0.167 || !strings.Contains(v.Note, "at 0.83, 0.83") || !strings.Contains(v.Note, "at the drain") {
			t.Errorf("%+v", v)
		}
		bo.get("/slabs/J-1/B").says(t, "crack, 8½ ft long")
		p.sound()
	})
}
