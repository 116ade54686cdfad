package out

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/report/chart"
)

// rgb is a color in linear light, each part from 0 to 1.
type rgb [3]float64

// schemes are the page's colors by name, as light, dark and paper have them.
func schemes(t *testing.T) map[string]map[string]rgb {
	t.Helper()
	define := regexp.MustCompile(`--([a-z0-9-]+): (#[0-9a-f]{3,6})`)
	take := func(from map[string]rgb, block string) map[string]rgb {
		all := map[string]rgb{}
		for name, c := range from {
			all[name] = c
		}
		for _, m := range define.FindAllStringSubmatch(block, -1) {
			all[m[1]] = linear(t, m[2])
		}
		return all
	}
	roots := regexp.MustCompile(`(?s):root \{.*?\}`).FindAllString(style, -1)
	if len(roots) != 3 {
		t.Fatalf("%d sets of colors, want light, dark and paper", len(roots))
	}
	light := take(nil, roots[0])
	return map[string]map[string]rgb{"light": light, "dark": take(light, roots[1]), "paper": take(light, roots[2])}
}

// linear takes the gamma of sRGB off (IEC 61966-2-1).
func linear(t *testing.T, hex string) rgb {
	t.Helper()
	hex = hex[1:]
	if len(hex) == 3 {
		hex = strings.Join([]string{hex[:1], hex[:1], hex[1:2], hex[1:2], hex[2:], hex[2:]}, "")
	}
	var c rgb
	for i := range c {
		n, err := strconv.ParseUint(hex[2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		if v := float64(n) / 255; v <= 0.04045 {
			c[i] = v / 12.92
		} else {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return c
}

// contrast is that of WCAG 2.2, "contrast ratio" and "relative luminance".
func contrast(a, b rgb) float64 {
	luminance := func(c rgb) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] }
	high, low := max(luminance(a), luminance(b)), min(luminance(a), luminance(b))
	return (high + 0.05) / (low + 0.05)
}

// Black on white is 21:1 (WCAG 2.2); #767676 on white is the lightest gray that
// reaches 4.5:1 (W3C, Understanding SC 1.4.3).
func TestContrastIsThatOfTheStandard(t *testing.T) {
	white := linear(t, "#fff")
	if got := contrast(linear(t, "#000"), white); math.Abs(got-21) > 1e-9 {
		t.Errorf("black on white %v", got)
	}
	if got := contrast(linear(t, "#767676"), white); got < 4.5 || got > 4.6 {
		t.Errorf("#767676 on white %v", got)
	}
	if got := contrast(linear(t, "#777777"), white); got >= 4.5 {
		t.Errorf("#777777 on white %v", got)
	}
}

// families are the colors that may stand in one picture.
var families = [][]string{{"own", "bid", "better", "worse"}, {"own", "plain", "worse"}, {"own", "past"}, {"bare", "mesh", "rebar", "fiber"},
	{"chute", "pump", "buggy", "barrow", "conveyor"}, {"crew1", "crew2", "crew3", "crew4", "crew5", "crew6"}}

// TestColorsOfChartsCanBeSeen: text at 4.5:1, and marks, which need 3:1 (WCAG 2.2,
// SC 1.4.3 and 1.4.11), are as dark. Axe looks at the text of pages and not into drawings.
func TestColorsOfChartsCanBeSeen(t *testing.T) {
	for name, c := range schemes(t) {
		parts := append([]string{"ink", "faint"}, slices.Concat(families...)...) // names of lines are written in their colors
		for _, part := range parts {
			const least = 4.5
			if got := contrast(c[part], c["paper"]); got < least {
				t.Errorf("%s: %s has a contrast of %.2f, want %v", name, part, got, least)
			}
		}
	}
}

// What those see who have no red or no green receptors, in linear light
// (Machado, Oliveira and Fernandes 2009, severity 1.0; from memory).
var blindness = map[string][3]rgb{
	"nobody": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
}

func seenBy(m [3]rgb, c rgb) rgb {
	var out rgb
	for i, row := range m {
		out[i] = min(1, max(0, row[0]*c[0]+row[1]*c[1]+row[2]*c[2]))
	}
	return out
}

// lab is a color in CIELAB under D65 (CIE 15:2004; sRGB matrix of IEC
// 61966-2-1).
func lab(c rgb) [3]float64 {
	x := 0.4124*c[0] + 0.3576*c[1] + 0.1805*c[2]
	y := 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2]
	z := 0.0193*c[0] + 0.1192*c[1] + 0.9505*c[2]
	f := func(v float64) float64 {
		if v > 216.0/24389 {
			return math.Cbrt(v)
		}
		return (24389.0/27*v + 16) / 116
	}
	fx, fy, fz := f(x/0.9505), f(y), f(z/1.089)
	return [3]float64{116*fy - 16, 500 * (fx - fy), 200 * (fy - fz)}
}

// TestSeriesCanBeToldApart by people who see red and green alike: colors of two
// series differ by 10 or more in CIELAB, where about 2 can just be noticed. The
// bound is our own. Shapes and dashes tell them apart besides.
func TestSeriesCanBeToldApart(t *testing.T) {
	for scheme, c := range schemes(t) {
		for who, m := range blindness {
			for _, names := range families {
				if least, pair := nearest(names, c, m); least < 10 {
					t.Errorf("%s, %s: %s are %.1f apart", scheme, who, pair, least)
				}
			}
		}
	}
	if white := lab(rgb{1, 1, 1}); slices.ContainsFunc(white[1:], func(v float64) bool { return math.Abs(v) > 0.1 }) || math.Abs(white[0]-100) > 0.01 {
		t.Errorf("white is %v", white) // CIELAB of the white point is 100, 0, 0
	}
}

// nearest are the two of some colors that look most alike, and how far apart.
func nearest(names []string, c map[string]rgb, m [3]rgb) (least float64, pair string) {
	least = math.Inf(1)
	for i, a := range names {
		for _, b := range names[:i] {
			p, q := lab(seenBy(m, c[a])), lab(seenBy(m, c[b]))
			if d := math.Sqrt((p[0]-q[0])*(p[0]-q[0]) + (p[1]-q[1])*(p[1]-q[1]) + (p[2]-q[2])*(p[2]-q[2])); d < least {
				least, pair = d, fmt.Sprint(b, " and ", a)
			}
		}
	}
	return least, pair
}

// TestEveryHueHasAColor: what the charts can be about is in the style, in light and
// in dark, and is held against the others here.
func TestEveryHueHasAColor(t *testing.T) {
	all := slices.Concat(families...)
	for _, h := range []chart.Hue{chart.Plain, chart.Own, chart.Past, chart.Bid, chart.Better, chart.Worse, chart.Bare, chart.Mesh, chart.Rebar, chart.Fiber,
		chart.Chute, chart.Pump, chart.Buggy, chart.Barrow, chart.Conveyor, chart.CrewHue(0), chart.CrewHue(5)} {
		if !slices.Contains(all, string(h)) {
			t.Errorf("%s is held against no other color", h)
		}
		if n := strings.Count(style, "--"+string(h)+": #"); n != 2 {
			t.Errorf("%s has %d colors, want one in light and one in dark", h, n)
		}
	}
}
