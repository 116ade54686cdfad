package picture

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"image/png"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pourback/ingest/record"
)

func read(t testing.TB, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func take(t testing.TB, file []byte, opt Options) *Picture {
	t.Helper()
	opt.Within = time.Minute // the machine may be busy
	p, err := Take(t.Context(), file, opt)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func decoded(t testing.TB, file []byte) image.Image {
	t.Helper()
	m, _, err := image.Decode(bytes.NewReader(file))
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// apart is how far two pictures are from each other, on average over all pixels
// and colors, of 255.
func apart(t testing.TB, a, b image.Image) float64 {
	t.Helper()
	if a.Bounds().Size() != b.Bounds().Size() {
		t.Fatalf("%v and %v", a.Bounds(), b.Bounds())
	}
	sum, n := 0.0, 0
	for y := range a.Bounds().Dy() {
		for x := range a.Bounds().Dx() {
			r, g, bl, _ := a.At(x, y).RGBA()
			R, G, B, _ := b.At(x, y).RGBA()
			for _, d := range []float64{float64(r) - float64(R), float64(g) - float64(G), float64(bl) - float64(B)} {
				sum, n = sum+math.Abs(d)/257, n+1
			}
		}
	}
	return sum / float64(n)
}

// TestUpright turns pictures of each orientation, stored that way by another
// program (testdata/make.py; the table is Exif 2.3's, section 4.6.4), and demands
// of those without losses that they come out to the byte as the upright one does.
func TestUpright(t *testing.T) {
	want := take(t, read(t, "upright.png"), Options{})
	for _, o := range "12345678" {
		for _, kind := range []string{"png", "webp"} {
			if got := take(t, read(t, "turned-"+string(o)+"."+kind), Options{}); !bytes.Equal(got.JPEG, want.JPEG) || !bytes.Equal(got.Thumb, want.Thumb) {
				t.Errorf("turned-%c.%s is not upright", o, kind)
			}
		}
		got := take(t, read(t, "turned-"+string(o)+".jpg"), Options{})
		if d := apart(t, decoded(t, got.JPEG), decoded(t, read(t, "upright.png"))); d > 6 {
			t.Errorf("turned-%c.jpg is %.1f from upright", o, d)
		}
		if got.Width != 48 || got.Height != 32 {
			t.Errorf("turned-%c.jpg: %d by %d", o, got.Width, got.Height)
		}
		if o == '1' || o > '4' {
			continue
		}
		if d := apart(t, decoded(t, read(t, "turned-"+string(o)+".png")), decoded(t, read(t, "upright.png"))); d < 30 {
			t.Errorf("turned-%c.png is stored only %.1f from upright: too little to tell", o, d)
		}
	}
}

// TestKindsOfPictures holds unusual kinds against the same scene, as another
// program has it (testdata/make.py).
func TestKindsOfPictures(t *testing.T) {
	for name, like := range map[string]string{"cmyk.jpg": "upright.png", "progressive.jpg": "upright.png", "lossy.webp": "upright.png",
		"deep.png": "upright.png", "palette.png": "upright.png", "clear.png": "clear-on-white.png", "clear.webp": "clear-on-white.png"} {
		if d := apart(t, decoded(t, take(t, read(t, name), Options{}).JPEG), decoded(t, read(t, like))); d > 6 {
			t.Errorf("%s is %.1f from %s", name, d, like)
		}
	}
	gray := decoded(t, take(t, read(t, "gray.jpg"), Options{}).JPEG)
	if r, g, b, _ := gray.At(40, 26).RGBA(); r != g || g != b || r>>8 < 190 || r>>8 > 208 {
		t.Errorf("gray: %d %d %d, want about 199", r>>8, g>>8, b>>8) // 0.299, 0.587, 0.114 of 230, 210, 60: ITU-R BT.601
	}
}

// TestReduced holds the averages against another program's box filter, and
// against the areas worked out one pixel at a time.
func TestReduced(t *testing.T) {
	m := reduced(decoded(t, read(t, "wide.png")), 2048)
	if d := apart(t, m, decoded(t, read(t, "wide-by-2.png"))); d > 1 {
		t.Errorf("by two: %.2f apart", d)
	}
	src := image.NewYCbCr(image.Rect(0, 0, 37, 23), image.YCbCrSubsampleRatio420)
	for i := range src.Y {
		src.Y[i] = byte(i * 37)
	}
	for i := range src.Cb {
		src.Cb[i], src.Cr[i] = byte(i*53), byte(255-i*29)
	}
	got := reduced(src, 20)
	w, h := got.Rect.Dx(), got.Rect.Dy()
	if w != 20 || h != 12 {
		t.Fatalf("%d by %d", w, h)
	}
	for y := range h {
		for x := range w {
			at := got.YOffset(x, y)
			for what, pair := range map[string][2]float64{
				"Y":  {float64(got.Y[at]), area(x, y, w, h, 37, 23, func(x, y int) byte { return src.Y[src.YOffset(x, y)] })},
				"Cb": {float64(got.Cb[at]), area(x, y, w, h, 37, 23, func(x, y int) byte { return src.Cb[src.COffset(x, y)] })},
				"Cr": {float64(got.Cr[at]), area(x, y, w, h, 37, 23, func(x, y int) byte { return src.Cr[src.COffset(x, y)] })}} {
				if math.Abs(pair[0]-pair[1]) > 0.501 {
					t.Errorf("%s at %d,%d is %v, want %.2f", what, x, y, pair[0], pair[1])
				}
			}
		}
	}
}

// area is the mean of what a pixel of w by h covers of a picture of sw by sh.
func area(x, y, w, h, sw, sh int, at func(x, y int) byte) float64 {
	overlap := func(i, n, size, s int) float64 {
		from, to := float64(i)*float64(size)/float64(n), float64(i+1)*float64(size)/float64(n)
		return max(0, min(to, float64(s+1))-max(from, float64(s)))
	}
	sum, all := 0.0, 0.0
	for sy := range sh {
		for sx := range sw {
			if v := overlap(x, w, sw, sx) * overlap(y, h, sh, sy); v > 0 {
				sum, all = sum+v*float64(at(sx, sy)), all+v
			}
		}
	}
	return sum / all
}

// TestAllRatiosOfColor reduces pictures of one color, stored with every way of
// sampling it and odd sizes: the color stays.
func TestAllRatiosOfColor(t *testing.T) {
	for r := image.YCbCrSubsampleRatio444; r <= image.YCbCrSubsampleRatio410; r++ {
		m := image.NewYCbCr(image.Rect(0, 0, 33, 17), r)
		for i := range m.Y {
			m.Y[i] = 90
		}
		for i := range m.Cb {
			m.Cb[i], m.Cr[i] = 140, 77
		}
		for _, side := range []int{1, 7, 32, 33, 100} {
			out := reduced(m, side)
			for i := range out.Y {
				if out.Y[i] != 90 || out.Cb[i] != 140 || out.Cr[i] != 77 {
					t.Fatalf("%v to %d: %d %d %d", r, side, out.Y[i], out.Cb[i], out.Cr[i])
				}
			}
		}
	}
}

// TestNothingElseStays: position, camera, comments, scripts and what hangs behind
// the end are gone, and what may be kept is handed over beside the picture.
func TestNothingElseStays(t *testing.T) {
	file := append(read(t, "notes.jpg"), "<html><script>alert(3)</script></html>"...)
	if !bytes.Contains(file, []byte("alert(1)")) || !bytes.Contains(file, []byte("alert(2)")) || !bytes.Contains(file, []byte("Exif")) {
		t.Fatal("the file lacks what is to go")
	}
	p := take(t, file, Options{})
	for _, gone := range []string{"Exif", "script", "alert", "html", "2025:06:03", "JFIF", "Adobe"} {
		if bytes.Contains(p.JPEG, []byte(gone)) || bytes.Contains(p.Thumb, []byte(gone)) {
			t.Errorf("%q is there still", gone)
		}
	}
	seconds := []byte{0, 0, 0, 33, 0, 0, 0, 1, 0, 0, 0, 27} // degrees and minutes north, as the position has them
	if big, little := bytes.Contains(file, seconds), bytes.Contains(file, []byte{33, 0, 0, 0, 1, 0, 0, 0, 27, 0, 0, 0}); !big && !little {
		t.Error("the file has no position to begin with")
	}
	if p.TakenAt != 0 || p.Position != nil {
		t.Errorf("kept without being asked: %v %v", p.TakenAt, p.Position)
	}
	for _, out := range [][]byte{p.JPEG, p.Thumb} {
		if !plain(out) {
			t.Error("something stands beside the picture")
		}
	}
	p = take(t, file, Options{KeepTime: true, KeepPosition: true})
	if got := p.TakenAt.String(); got != "2025-06-03T07:15:09" {
		t.Errorf("taken at %s", got)
	}
	if p.Position == nil || math.Abs(p.Position.Latitude-33.450139) > 1e-6 || math.Abs(p.Position.Longitude+112.075) > 1e-6 { // 33° 27′ 0.5″ N, 112° 4′ 30″ W
		t.Errorf("at %v", p.Position)
	}
}

// TestOursStayAsTheyAre: what Take made is not written anew, so that an export
// comes in again to the byte; a picture with one thing more is.
func TestOursStayAsTheyAre(t *testing.T) {
	for _, name := range []string{"upright.png", "gray.jpg", "turned-6.jpg", "clear.webp", "wide.png"} {
		p := take(t, read(t, name), Options{})
		again := take(t, p.JPEG, Options{})
		if !bytes.Equal(again.JPEG, p.JPEG) || again.Width != p.Width || again.Height != p.Height {
			t.Errorf("%s: another picture the second time", name)
		}
		if other := take(t, read(t, name), Options{}); !bytes.Equal(other.JPEG, p.JPEG) || !bytes.Equal(other.Thumb, p.Thumb) {
			t.Errorf("%s: not the same twice", name)
		}
		comment := append([]byte("\xff\xd8\xff\xfe\x00\x0a<script>"), p.JPEG[2:]...)
		for what, with := range map[string][]byte{"a comment": comment, "a tail": append(bytes.Clone(p.JPEG), "<script>"...),
			"tables": append([]byte("\xff\xd8"+"\xff\xdb\x07\x5f"+strings.Repeat("\x00"+strings.Repeat("<script>", 8), 29)), p.JPEG[2:]...)} {
			got := take(t, with, Options{})
			if bytes.Contains(got.JPEG, []byte("<script>")) || bytes.Equal(got.JPEG, with) {
				t.Errorf("%s with %s stays as it is", name, what)
			}
		}
	}
}

// TestSizes: the longer side is bounded, the shorter never nothing.
func TestSizes(t *testing.T) {
	for _, want := range []struct{ w, h, W, H int }{{2048, 1000, 2048, 1000}, {2049, 10, 2048, 10}, {10, 4096, 5, 2048}, {6000, 1, 2048, 1}, {3, 5, 3, 5}} {
		var b bytes.Buffer
		if err := png.Encode(&b, image.NewGray(image.Rect(0, 0, want.w, want.h))); err != nil {
			t.Fatal(err)
		}
		p := take(t, b.Bytes(), Options{})
		m, thumb := decoded(t, p.JPEG).Bounds(), decoded(t, p.Thumb).Bounds()
		if m.Dx() != want.W || m.Dy() != want.H || p.Width != want.W || p.Height != want.H {
			t.Errorf("%d by %d: %v, %d by %d", want.w, want.h, m, p.Width, p.Height)
		}
		if max(thumb.Dx(), thumb.Dy()) > ThumbSide || thumb.Empty() {
			t.Errorf("%d by %d: a thumbnail of %v", want.w, want.h, thumb)
		}
	}
}

// TestWaitsForItsTurn: a picture that has to wait gives up with its context.
func TestWaitsForItsTurn(t *testing.T) {
	turn <- struct{}{}
	ctx, stop := context.WithTimeout(t.Context(), 10*time.Millisecond)
	defer stop()
	if _, err := Take(ctx, read(t, "upright.png"), Options{}); !errors.Is(err, context.DeadlineExceeded) {
		t.Error(err)
	}
	<-turn
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := Take(ended, read(t, "upright.png"), Options{}); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	take(t, read(t, "upright.png"), Options{})
}

// photo is a JPEG of so many pixels such as a phone takes, with noise enough that
// it is no trifle to decode.
func photo(t testing.TB, w, h int) []byte {
	t.Helper()
	m := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio420)
	seed := uint32(1)
	for i := range m.Y {
		seed = seed*1664525 + 1013904223
		m.Y[i] = byte(i/w*200/h) + byte(seed>>28)
	}
	for i := range m.Cb {
		m.Cb[i], m.Cr[i] = byte(120+i%16), byte(130-i%16)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 90}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// BenchmarkPhoto takes a photo of 12 megapixels; B/op is the memory it takes in
// all.
func BenchmarkPhoto(b *testing.B) {
	file := photo(b, 4000, 3000)
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Take(b.Context(), file, Options{Within: time.Minute}); err != nil {
			b.Fatal(err)
		}
	}
}

// TestMemoryOfAPhoto holds what a photo of 12 megapixels takes in all to a bound:
// most of it is the decoded picture, 18 MB.
func TestMemoryOfAPhoto(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds, and a race detector's many more")
	}
	file := photo(t, 4000, 3000)
	got := testing.Benchmark(func(b *testing.B) {
		for range b.N {
			take(b, file, Options{})
		}
	})
	t.Logf("a photo of 12 megapixels, %d bytes: %d bytes in all, %v", len(file), got.AllocedBytesPerOp(), time.Duration(got.NsPerOp()))
	if got.AllocedBytesPerOp() > 48<<20 {
		t.Errorf("%d bytes", got.AllocedBytesPerOp())
	}
}

func TestExifOfAnything(t *testing.T) {
	whole := read(t, "turned-6.png")
	f, _ := know(whole)
	if f.exif == nil {
		t.Fatal("no Exif")
	}
	if o := readExif(f.exif).orientation; o != 6 {
		t.Errorf("orientation %d", o)
	}
	for n := range f.exif { // cut off anywhere
		if o := readExif(f.exif[:n]).orientation; o != 1 && o != 6 {
			t.Errorf("cut at %d: %d", n, o)
		}
	}
	for _, text := range []string{"2025:06:03 07:15:00", "2025:02:30 07:15:00", "    :  :     :  :  ", "0000:00:00 00:00:00", "2025-06-03T07:15:00", ""} {
		if got := moment(text); (got != 0) != (text == "2025:06:03 07:15:00") {
			t.Errorf("%q is %v", text, got)
		}
	}
	if got := moment("2025:06:03 07:15:00"); got != record.MomentOf(record.DateOf(2025, 6, 3), 7*3600+15*60) {
		t.Error(got)
	}
}
