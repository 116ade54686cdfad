package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image/jpeg"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"
)

// refused demands a refusal of a code, with words.
func refused(t *testing.T, what string, file []byte, code string, words ...string) {
	t.Helper()
	p, err := Take(t.Context(), file, Options{})
	var refusal *Refusal
	if p != nil || !errors.As(err, &refusal) {
		t.Errorf("%s: %v", what, err)
		return
	}
	if refusal.Code != code {
		t.Errorf("%s: %s (%v), want %s", what, refusal.Code, err, code)
	}
	for _, w := range append(words, "; ") {
		if !strings.Contains(err.Error(), w) {
			t.Errorf("%s: %q lacks %q", what, err, w)
		}
	}
}

// TestWhatIsNoPictureOfOurs tells each by what is in it.
func TestWhatIsNoPictureOfOurs(t *testing.T) {
	box := func(brands string) []byte {
		b := append(binary.BigEndian.AppendUint32(nil, uint32(16+len(brands)-4)), "ftyp"+brands[:4]+"\x00\x00\x00\x00"+brands[4:]...)
		return append(b, make([]byte, 100)...)
	}
	refused(t, "nothing", nil, CodeEmpty)
	refused(t, "a large file", append([]byte("\xff\xd8\xff"), make([]byte, MostBytes)...), CodeLarge, "longer than 10 MB", "make it smaller")
	refused(t, "HEIC", box("heicmif1heic"), CodePhone, "HEIC", "as a JPEG")
	refused(t, "HEIC by its second brand", box("msf2heic"), CodePhone, "HEIC")
	refused(t, "AVIF", box("mif1avifmiaf"), CodePhone, "AVIF")
	refused(t, "a film", box("isomiso2mp41"), CodeForeign, "film")
	refused(t, "ftyp cut off", box("heic")[:12], CodePhone)
	refused(t, "SVG", []byte(`<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>`), CodeForeign, "SVG")
	refused(t, "SVG in capitals", []byte("\n <SVG onload=alert(1)>"), CodeForeign, "SVG")
	refused(t, "HTML", []byte("<!DOCTYPE html><html><img src=x onerror=alert(1)>"), CodeForeign, "web page")
	refused(t, "PDF", []byte("%PDF-1.7\n"), CodeForeign, "PDF")
	refused(t, "GIF", []byte("GIF89a\x01\x00\x01\x00"), CodeForeign, "GIF")
	refused(t, "TIFF", []byte("II*\x00abcdefgh"), CodeForeign, "TIFF")
	refused(t, "text", []byte("job_no,placement\r\nJ-1,A\r\n"), CodeForeign, "is no picture")
	refused(t, "a moving WebP", read(t, "moving.webp"), CodeMoving, "still picture")
	refused(t, "HTML behind a JPEG's first bytes", []byte("\xff\xd8\xff<html><script>alert(1)</script></html>"), CodeDamaged)
	refused(t, "an arithmetic-coded JPEG", bytes.Replace(read(t, "turned-1.jpg"), []byte("\xff\xc0"), []byte("\xff\xc9"), 1), CodeUnusual, "unusual")
}

// TestCutOff cuts each kind anywhere: nothing of it is taken for a picture.
func TestCutOff(t *testing.T) {
	for _, name := range []string{"progressive.jpg", "turned-1.jpg", "deep.png", "lossy.webp", "turned-3.webp"} {
		whole := read(t, name)
		for n := 1; n < len(whole); n += 1 + len(whole)/60 {
			p, err := Take(t.Context(), whole[:n], Options{Within: time.Minute})
			var refusal *Refusal
			if err == nil && strings.HasSuffix(name, "webp") && p.Width == 48 || errors.As(err, &refusal) {
				continue // what comes last in a WebP is not the picture
			}
			t.Errorf("%s cut at %d: %v", name, n, err)
		}
	}
	refused(t, "a JPEG cut off", read(t, "progressive.jpg")[:700], CodeDamaged, "ends before")
}

func chunk(name string, content []byte) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	b = append(append(b, name...), content...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// blank is a PNG of so many pixels by so many in one color, small for its size.
func blank(t *testing.T, side, depth, colors, interlaced int) []byte {
	t.Helper()
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(side)), uint32(side))
	head = append(head, byte(depth), byte(colors), 0, 0, byte(interlaced))
	var packed bytes.Buffer
	z, _ := zlib.NewWriterLevel(&packed, zlib.BestCompression)
	channels := map[int]int{0: 1, 2: 3, 6: 4}[colors]
	row := make([]byte, 1+(side*depth*channels+7)/8)
	for range side {
		z.Write(row)
	}
	z.Close()
	return append(append(append([]byte(pngMagic), chunk("IHDR", head)...), chunk("IDAT", packed.Bytes())...), chunk("IEND", nil)...)
}

// TestBombs are small files that would be huge pictures. None is decoded.
func TestBombs(t *testing.T) {
	bomb, deep := blank(t, 20_000, 1, 0, 0), blank(t, 5000, 16, 2, 0)
	t.Logf("400 megapixels in %d bytes", len(bomb))
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	refused(t, "a PNG of 400 megapixels", bomb, CodePixels, "20000 by 20000", "50 million")
	head := []byte("\xff\xd8\xff\xc0\x00\x11\x08\xff\xdc\xff\xdc\x03\x01\x22\x00\x02\x11\x01\x03\x11\x01\xff\xda\x00\x0c\x03\x01\x00\x02\x11\x03\x11\x00\x3f\x00")
	refused(t, "a JPEG of 65,500 by 65,500", head, CodePixels, "65500 by 65500")
	refused(t, "a PNG of 16 bits and 25 megapixels", deep, CodePixels, "16 million")
	vp8x := []byte("RIFF\x1e\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x00\x00\x00\x00\xff\x3f\x00\xff\x3f\x00VP8L\x00\x00\x00\x00")
	refused(t, "a WebP of 268 megapixels", vp8x, CodePixels, "16384 by 16384")
	if runtime.ReadMemStats(&after); after.TotalAlloc-before.TotalAlloc > 1<<20 {
		t.Errorf("%d bytes were taken to refuse them", after.TotalAlloc-before.TotalAlloc)
	}
	small := []byte("RIFF\x24\x00\x00\x00WEBPVP8X\x0a\x00\x00\x00\x00\x00\x00\x00\x07\x00\x00\x07\x00\x00VP8L\x05\x00\x00\x00\x2f\xff\xff\xff\x0f\x00")
	refused(t, "a WebP that says it is small, with a large picture in it", small, CodeDamaged)
}

// TestLargestSizes takes pictures of the size that is the limit.
func TestLargestSizes(t *testing.T) {
	if testing.Short() {
		t.Skip("takes seconds")
	}
	p := take(t, blank(t, 7071, 8, 0, 0), Options{})
	if p.Width != LongSide || p.Height != LongSide {
		t.Errorf("%d by %d", p.Width, p.Height)
	}
	take(t, blank(t, 4000, 16, 0, 0), Options{})
}

// emptyScans is a gray progressive JPEG of 12 megapixels with so many scans that
// say that nothing follows (T.81, G.1.2.2: runs of end-of-band of up to 32,767
// blocks, here of 187,500).
func emptyScans(n int) []byte {
	b := []byte("\xff\xd8" + "\xff\xdb\x00\x43\x00" + strings.Repeat("\x01", 64) +
		"\xff\xc2\x00\x0b\x08\x0b\xb8\x0f\xa0\x01\x01\x11\x00" + // 3000 by 4000
		"\xff\xc4\x00\x14\x10\x01" + strings.Repeat("\x00", 15) + "\xe0") // one code, 0: a run of 16384 and what 14 bits say
	var bits uint64
	var have int
	var data []byte
	put := func(v uint64, n int) {
		bits, have = bits<<n|v, have+n
		for ; have >= 8; have -= 8 {
			if c := byte(bits >> (have - 8)); c == 0xff {
				data = append(data, c, 0)
			} else {
				data = append(data, c)
			}
		}
	}
	for left := 500 * 375; left > 0; {
		run := min(left, 32767)
		put(0, 1)
		put(uint64(run-16384), 14)
		left -= run
	}
	put(0x7f, 7-(have+6)%8)
	for range n {
		b = append(append(b, "\xff\xda\x00\x08\x01\x01\x00\x01\x3f\x00"...), data...)
	}
	return append(b, "\xff\xd9"...)
}

// TestManyEmptyScans: half a megabyte that would keep a decoder busy for a minute
// is given up in time.
func TestManyEmptyScans(t *testing.T) {
	take(t, emptyScans(3), Options{}) // it is a picture
	file := emptyScans(20_000)
	t.Logf("%d bytes", len(file))
	began := time.Now()
	refused(t, "20,000 scans", file, CodeSlow, "too long")
	if took := time.Since(began); took < 1500*time.Millisecond || took > 6*time.Second {
		t.Errorf("given up after %v", took)
	}
}

// TestDisguises: the name plays no part, and what a file is besides a picture is
// gone.
func TestDisguises(t *testing.T) {
	page := "<html><script>alert(1)</script></html>"
	body := read(t, "turned-1.jpg")
	polyglot := append([]byte("\xff\xd8\xff\xfe"), binary.BigEndian.AppendUint16(nil, uint16(2+len(page)))...)
	polyglot = append(append(append(polyglot, page...), body[2:]...), page...)
	if out := take(t, polyglot, Options{}); bytes.Contains(out.JPEG, []byte("<html")) || bytes.Contains(out.JPEG, []byte("script")) {
		t.Error("the page is there still")
	}
	whole := read(t, "upright.png")
	end := len(whole) - 12
	said := append(append(append(bytes.Clone(whole[:end]), chunk("tEXt", []byte("Comment\x00"+page))...), whole[end:]...), page...)
	if out := take(t, said, Options{}); bytes.Contains(out.JPEG, []byte("<html")) {
		t.Error("the text is there still")
	}
}

func FuzzTake(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("testdata", "*"))
	if err != nil || len(files) == 0 {
		f.Fatal(err)
	}
	for _, name := range files {
		if b, err := os.ReadFile(name); err == nil && len(b) < 5000 {
			f.Add(b)
		}
	}
	f.Add(emptyScans(2))
	f.Fuzz(func(t *testing.T, file []byte) {
		p, err := Take(t.Context(), file, Options{KeepTime: true, KeepPosition: true})
		var refusal *Refusal
		if err != nil {
			if p != nil || !errors.As(err, &refusal) || refusal.Wrong == "" || refusal.Right == "" || refusal.Code == "" {
				t.Fatalf("%v, %v", p, err)
			}
			return
		}
		for _, out := range [][]byte{p.JPEG, p.Thumb} {
			is, err := jpeg.DecodeConfig(bytes.NewReader(out))
			if err != nil || is.Width > LongSide || is.Height > LongSide || !plain(out) {
				t.Fatalf("%+v, %v", is, err)
			}
		}
		again, err := Take(t.Context(), p.JPEG, Options{})
		if err != nil || !bytes.Equal(again.JPEG, p.JPEG) {
			t.Fatalf("another the second time: %v", err)
		}
		if p.Position != nil && (p.Position.Latitude < -90 || p.Position.Latitude > 90 || p.Position.Longitude < -180 || p.Position.Longitude > 180) {
			t.Fatalf("at %v", *p.Position)
		}
	})
}
