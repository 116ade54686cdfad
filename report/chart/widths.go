package chart

import (
	"strings"
	"unicode"
)

// Advance widths in thousandths of the size of words, those of the widest of the
// common sans faces that pages are shown in (DejaVu Sans, from memory): what fits
// in it fits in all.
var advances = func() (w [128]float64) {
	for _, g := range []struct {
		letters string
		wide    float64
	}{
		{" .,|", 318}, {"ijl", 278}, {"'", 275}, {"IJ", 295}, {":;/\\", 337}, {"f", 352}, {"-", 361}, {"()[]", 390}, {"t", 392},
		{"!", 401}, {"r", 411}, {"\"", 460}, {"*_`", 500}, {"s", 521}, {"z", 525}, {"?", 531}, {"c", 550}, {"F", 575}, {"k", 579},
		{"vxy", 592}, {"P", 603}, {"TYo", 612}, {"ae", 616}, {"EL", 632}, {"bdghnpqu", 635}, {"S", 635}, {"0123456789$", 636}, {"{}", 636},
		{"K", 656}, {"AXVBZ", 686}, {"RC", 698}, {"U", 732}, {"N", 748}, {"H", 752}, {"D", 770}, {"G", 775}, {"&", 780}, {"OQ", 787},
		{"w", 818}, {"+=<>#~^", 838}, {"M", 863}, {"%", 950}, {"m", 974}, {"W", 989}, {"@", 1000},
	} {
		for _, r := range g.letters {
			w[r] = g.wide
		}
	}
	return w
}()

// advance is that of any letter.
func advance(r rune) float64 {
	switch {
	case r < 128 && advances[r] > 0:
		return advances[r]
	case unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Me, r) || unicode.Is(unicode.Cf, r) || unicode.IsControl(r):
		return 0
	case strings.ContainsRune("°²³–·’‘ªº", r):
		return 500
	case strings.ContainsRune("½¼¾…—", r):
		return 1000
	case unicode.Is(unicode.Latin, r) && r < 0x250:
		return 800
	case r >= 0x1f000:
		return 1400
	}
	return 1050
}

// face is how words are set: their size in drawing units, and strong ones wider.
type face struct {
	size   float64
	strong bool
}

// leading is from one line of words to the next.
func (f face) leading() float64 { return 1.2 * f.size }

// What a line of words takes above and below its base, as browsers measure it.
const ascent, descent = .94, .25

func (f face) width(s string) float64 {
	w := 0.0
	for _, r := range s {
		a := advance(r)
		if f.strong && a > 0 {
			a = 1.08*a + 60
		}
		w += a
	}
	return w * f.size / 1000
}

// widest is the width of the widest line.
func (f face) widest(lines []string) (w float64) {
	for _, l := range lines {
		w = max(w, f.width(l))
	}
	return w
}

// wrap breaks words into at most so many lines of a room. What does not fit is
// cut at the very last, and the whole is then the words' tip.
func (f face) wrap(s string, room float64, most int) (lines []string, whole string) {
	words := strings.Fields(s)
	cut := false
	for len(words) > 0 && len(lines) < most {
		line, n := words[0], 1
		for n < len(words) && f.width(line+" "+words[n]) <= room {
			line += " " + words[n]
			n++
		}
		if words = words[n:]; len(lines) == most-1 && len(words) > 0 {
			line, cut = line+"…", true
		}
		if f.width(line) > room {
			line, cut = f.shorten(line, room), true
		}
		lines = append(lines, line)
	}
	if cut {
		whole = s
	}
	return lines, whole
}

// shorten cuts a line to a room.
func (f face) shorten(s string, room float64) string {
	letters := []rune(strings.TrimSuffix(s, "…"))
	for len(letters) > 1 && f.width(string(letters)+"…") > room {
		letters = letters[:len(letters)-1]
	}
	return closed(string(letters)) + "…"
}

// closed ends the isolation of text that runs from right to left where a cut has
// taken its end.
func closed(s string) string {
	const begin, end = "\u2068", "\u2069"
	if strings.Count(s, begin) > strings.Count(s, end) {
		s += end
	}
	return s
}
