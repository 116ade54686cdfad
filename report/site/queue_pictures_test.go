package site

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"os"
	"path/filepath"
	"testing"

	"github.com/chromedp/chromedp"
)

// camera is a JPEG as a phone takes it: noise, its upper left quarter red as it lies in
// the file, and an orientation (Exif 2.32, tag 274).
func camera(t *testing.T, width, height, orientation int) []byte {
	t.Helper()
	m := image.NewRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			c := color.RGBA{uint8(x * y >> 3), uint8(x ^ y), uint8(x + 3*y), 255}
			if x < width/2 && y < height/2 {
				c = color.RGBA{230, 20, 20, 255}
			}
			m.SetRGBA(x, y, c)
		}
	}
	var plain bytes.Buffer
	if err := jpeg.Encode(&plain, m, &jpeg.Options{Quality: 95}); err != nil {
		t.Fatal(err)
	}
	exif := append([]byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01"), 0, byte(orientation), 0, 0, 0, 0, 0, 0)
	head := append([]byte{0xff, 0xd8, 0xff, 0xe1}, binary.BigEndian.AppendUint16(nil, uint16(len(exif)+2))...)
	return append(append(head, exif...), plain.Bytes()[2:]...)
}

// pick chooses files in the field of a form, by its place on the page.
func (w *window) pick(form int, files ...any) {
	w.t.Helper()
	w.pickIn(fmt.Sprintf(`document.querySelectorAll('form[data-entry]')[%d]`, form), files...)
}

// hold chooses files in the field of a form of a pour.
func (w *window) hold(form string, files ...any) {
	w.t.Helper()
	w.pickIn(fmt.Sprintf(`document.querySelector('#%s form')`, form), files...)
}

// pickIn chooses files in the field of a form, by name and content, and waits until they are ready.
func (w *window) pickIn(form string, files ...any) {
	w.t.Helper()
	dir := w.t.TempDir()
	var paths []string
	for i := 0; i+1 < len(files); i += 2 {
		path := filepath.Join(dir, files[i].(string))
		if err := os.WriteFile(path, files[i+1].([]byte), 0o600); err != nil {
			w.t.Fatal(err)
		}
		paths = append(paths, path)
	}
	ask[bool](w, fmt.Sprintf(`(() => { document.querySelectorAll('[data-hand]').forEach(f => delete f.dataset.hand); %s.querySelector('input[type=file]').dataset.hand = '1'; return true; })()`, form))
	w.do(chromedp.SetUploadFiles(chromedp.CSS(`[data-hand]`), paths))
	w.until(`!document.querySelector('[data-pictures-say]')?.textContent.includes('smaller')`)
}

// TestPicturesAreMadeSmallFirst: at most 2,048 pixels, upright, JPEG, without what the
// camera wrote beside them; what the browser cannot read is said at once.
func TestPicturesAreMadeSmallFirst(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	var clear bytes.Buffer
	if err := png.Encode(&clear, image.NewNRGBA(image.Rect(0, 0, 300, 200))); err != nil {
		t.Fatal(err)
	}
	heic := append([]byte("\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"), make([]byte, 4000)...)
	large := camera(t, 4000, 3000, 6)
	w.pick(2, "IMG_1.jpg", large, "IMG_2.heic", heic, "clear.png", clear.Bytes())
	says := `document.querySelector('[data-pictures-say]').textContent`
	if got := ask[string](w, says); got != "IMG_2.heic cannot be read on this phone, so it was left out. Choose a JPEG, PNG or WebP picture." {
		t.Errorf("it says %q", got)
	}
	w.sound("a picture that was left out")
	w.enter(2, "note", "hose clogged")
	b.becomes(t, "clog hose clogged")
	if got := ask[string](w, says); got != "" {
		t.Errorf("after sending it says %q", got)
	}
	is := b.kept[0].pictures
	if len(is) != 2 {
		t.Fatalf("%d pictures came in", len(is))
	}
	first, kind, err := image.Decode(bytes.NewReader(is[0]))
	if err != nil || kind != "jpeg" || first.Bounds().Dx() != 1536 || first.Bounds().Dy() != 2048 || len(is[0]) > len(large)/2 || bytes.Contains(is[0], []byte("Exif")) {
		t.Fatalf("%s, %v, %d bytes of %d, %v", kind, first.Bounds(), len(is[0]), len(large), err)
	}
	red := func(x, y int) bool {
		r, g, b, _ := first.At(x, y).RGBA()
		return r>>8 > 180 && g>>8 < 80 && b>>8 < 80
	}
	if !red(1300, 300) || red(300, 300) || red(300, 1800) { // turned right once, the red quarter lies upper right
		t.Error("it is not upright")
	}
	second, kind, err := image.Decode(bytes.NewReader(is[1]))
	if err != nil || kind != "jpeg" || second.Bounds().Dx() != 300 {
		t.Fatal(kind, err)
	}
	if r, _, _, _ := second.At(10, 10).RGBA(); r>>8 < 250 {
		t.Error("under what is transparent it is not white")
	}
}

// TestPicturesThatAreTooMuch are not kept, and the form stands as it was; without them it goes.
func TestPicturesThatAreTooMuch(t *testing.T) {
	b := newBench(t, atHome)
	w := b.phone(t)
	var files []any
	small := camera(t, 64, 48, 1)
	for i := range queuePictures + 1 {
		files = append(files, fmt.Sprintf("%d.jpg", i), small)
	}
	w.pick(2, files...)
	ask[bool](w, `(() => { const f = document.querySelectorAll('form[data-entry]')[2]; f.elements.note.value = 'hose clogged'; f.requestSubmit(); return true; })()`)
	w.until(`document.querySelector('[role=alert]')?.textContent.includes('at most 12')`)
	if got := ask[string](w, `document.querySelectorAll('form[data-entry]')[2].elements.note.value`); got != "hose clogged" || len(w.waits()) != 0 {
		t.Errorf("the form says %q, and %q waits", got, w.waits())
	}
	w.sound("too many pictures")
	w.do(chromedp.Tap(chromedp.CSS(`form .wrong button`)))
	b.becomes(t, "clog hose clogged")
	if n := len(b.kept[0].pictures); n != 0 {
		t.Errorf("%d pictures came in", n)
	}
}
