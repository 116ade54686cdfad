package chart

import (
	"image"
	"image/color"
	"image/draw"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"
	"pgregory.net/rapid"
)

var runOfCode = regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`)

// printed is a code as a picture, so many pixels a module.
func printed(t interface{ Fatalf(string, ...any) }, svg string, pixels int) image.Image {
	box := regexp.MustCompile(`viewBox="0 0 (\d+) (\d+)"`).FindStringSubmatch(svg)
	if box == nil {
		t.Fatalf("no code: %.60s", svg)
	}
	side, _ := strconv.Atoi(box[1])
	pic := image.NewGray(image.Rect(0, 0, side*pixels, side*pixels))
	draw.Draw(pic, pic.Bounds(), image.White, image.Point{}, draw.Src)
	for _, run := range runOfCode.FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(run[1])
		y, _ := strconv.Atoi(run[2])
		wide, _ := strconv.Atoi(run[3])
		draw.Draw(pic, image.Rect(x*pixels, y*pixels, (x+wide)*pixels, (y+1)*pixels), image.NewUniform(color.Black), image.Point{}, draw.Src)
	}
	return pic
}

func readCode(pic image.Image) (string, error) {
	bits, err := gozxing.NewBinaryBitmapFromImage(pic)
	if err != nil {
		return "", err
	}
	read, err := qrcode.NewQRCodeReader().Decode(bits, nil)
	if err != nil {
		return "", err
	}
	return read.GetText(), nil
}

// TestCodesAreReadBack: a reader of other people's making (gozxing, a port of
// ZXing) reads any job number or address out of the drawing.
func TestCodesAreReadBack(t *testing.T) {
	for _, text := range []string{"SF-1043", "http://10.0.0.5:8377/pour/SF-1043", "https://site.example/pour/N%C3%BAm%201/2", strings.Repeat("a", 300)} {
		if read, err := readCode(printed(t, string(Code(text, "")), 4)); err != nil || read != text {
			t.Errorf("%q is read as %q (%v)", text, read, err)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		text := rapid.StringMatching(`[A-Za-z0-9 ./:#_-]{1,60}`).Draw(t, "text")
		if read, err := readCode(printed(t, string(Code(text, "")), 3)); err != nil || read != text {
			t.Fatalf("%q is read as %q (%v)", text, read, err)
		}
	})
}

// TestCodesKeepTheirQuietZone: nothing dark stands within four modules of the
// edge, and nothing is drawn of what is no text or too long.
func TestCodesKeepTheirQuietZone(t *testing.T) {
	svg := string(Code("SF-1043", `a "name" <b>`))
	side, _ := strconv.Atoi(regexp.MustCompile(`viewBox="0 0 (\d+) `).FindStringSubmatch(svg)[1])
	for _, run := range runOfCode.FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(run[1])
		y, _ := strconv.Atoi(run[2])
		wide, _ := strconv.Atoi(run[3])
		if x < quiet || y < quiet || x+wide > side-quiet || y+1 > side-quiet {
			t.Fatalf("a run at %s stands in the quiet zone", run[0])
		}
	}
	if !strings.Contains(svg, `aria-label="a &#34;name&#34; &lt;b&gt;"`) || !strings.Contains(svg, `fill="#fff"`) {
		t.Errorf("%.200s", svg)
	}
	if Code("", "") != "" || Code(strings.Repeat("x", 5000), "") != "" {
		t.Error("a code is drawn of nothing, or of more than a code holds")
	}
}
