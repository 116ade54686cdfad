package sheet

import (
	"cmp"
	"math"
	"strings"

	"pourback/ingest/record"
)

// size is what a cell says about a slab's measures: 24x40x4, 24' x 40' @ 4",
// 20x10 + 5x6, 480 sf @ 4.
type size struct {
	sides []float64     // as written, two of each rectangle
	area  record.Number // ft²
	depth record.Number // in
}

var (
	timesSign = patternOf(`\s*(?:[x×*]|\bby\b|\bpor\b)\s*`)
	depthMark = patternOf(`\s*(?:@|,|;|/\s|\bat\b|\ba\b|\bde\b|-\s|\bby\b)\s*`)
	deepWords = patternOf(`\s*\b(?:thick|deep|thk|nominal|nom|slab|grueso|espesor|de espesor|concrete|wide|long|w|l|walk|patio|pad|drive|apron|landing|strip|footprint)\b\.?\s*$`)
	severalOf = patternOf(`^(?:\((\d{1,2})\)|(\d{1,2})\s*(?:@|ea\.?|pcs?\.?|pads?|slabs?|no\.|nos\.?|off|of them,?|of| - ))\s*(\d.*[x×*].*)$`)
	several   = patternOf(`^(?:two|three|four|five|six) (?:pads? |slabs? |of )?(?:of (?:them|those)[,:;]? |them[,:;]? |of |at |@ |- )?`)
	// a bare side and, behind it, a depth: 40 4", 40' 4" thick
	deepBehind = patternOf(`^(\d+(?:\.\d+)?)\s+\(?(\d[^'a-z]*(?:"|in\b\.?|inch(?:es)?\b|cm\b|mm\b)\s*(?:thick|deep|slab)?)\)?$|^(.*?\d.*?)\s+\(?(\d[^'a-z]*(?:"|in\b\.?|inch(?:es)?\b|cm\b|mm\b)\s*(?:thick|deep|slab))\)?$|^(.*?\d\S*)\s*\((\d[^()]*)\)$`)
	areaUnit   = patternOf(`^(.*\d)\s*(sq\.? ?ft\.?|sf|sqft|square feet|ft2|m2|sq\.? ?m|sqm)\b\.?\s*(.*)$`)
)

// severalBehind finds how many there are behind the sides of one: 12x10 (two of
// them), 12x10 twice, 12x10 2 ea. eachBehind finds that they are of each.
var (
	severalBehind = patternOf(`^(\d.*[x×*].*\d\S*)\s*,?\s*(?:\(?(two|three|four|2|3|4)\s*(?:of (?:them|those|these)|ea\.?|pcs\.?|each|pads|slabs)\)?|(twice))$`)
	eachBehind    = patternOf(`^(.*\d\S*)\s+(?:each|ea\.?|apiece)$`)
)

// parseSize reads measures in feet and inches; bare metric numbers are for
// [parseSizeIn].
func parseSize(s string, h habit) (size, bool) { return parseSizeIn(s, h, ownUnit(record.Foot)) }

// parseSizeIn reads measures whose bare sides are in the unit that the heading
// bears.
func parseSizeIn(s string, h habit, m measure) (size, bool) {
	if !strings.ContainsAny(s, "0123456789½") {
		return size{}, false
	}
	s = several.ReplaceAllStringFunc(plainLower(s), func(w string) string { return "(" + spelled[strings.Fields(w)[0]] + ") " })
	s, _ = trimApprox(superscripts.Replace(s))
	if p := severalBehind.FindStringSubmatch(s); p != nil {
		s = "(" + cmp.Or(spelled[p[2]+p[3]], p[2], "2") + ") " + p[1]
	}
	s = eachBehind.ReplaceAllString(s, "$1")
	if strings.ContainsAny(s, "=sf") {
		if p := withProduct.FindStringSubmatch(s); p != nil {
			return ofProduct(p, h, m)
		}
	}
	if s = orderedSides(s); s == "" {
		return size{}, false
	}
	if p := severalOf.FindStringSubmatch(s); p != nil {
		each, ok := parseSizeIn(p[3], h, m)
		n := float64(atoi(p[1] + p[2]))
		each.area = record.Some(n * each.area.V)
		return each, ok && n > 1 && n <= 20 && len(each.sides) == 2
	}
	if a, ok := areaAndDepth(s, h); ok {
		return a, true
	}
	if c, ok := circle(s, h, m); ok {
		return c, true
	}
	var whole size
	signs := sizeJoiner.FindAllString(s, 9)
	for i, part := range sizeJoiner.Split(s, 10) {
		p, ok := rectangle(strings.TrimSpace(part), h, m)
		if !ok {
			return size{}, false
		}
		whole.sides = append(whole.sides, p.sides...)
		if i > 0 && strings.ContainsAny(signs[i-1], "ei") { // less, minus
			p.area.V = -p.area.V
		}
		if whole.area = record.Some(whole.area.V + p.area.V); whole.area.V <= 0 {
			return size{}, false
		}
		if p.depth.OK {
			if whole.depth.OK && whole.depth.V != p.depth.V {
				return size{}, false
			}
			whole.depth = p.depth
		}
	}
	return whole, whole.area.OK
}

var superscripts = strings.NewReplacer("²", "2", "³", "3", "s.f.", "sf")

var (
	// withProduct finds sides with the area they come to: 24x40 = 960, 24x40 (960 sf) 4"
	withProduct = patternOf(`^([^=]*\d[^=]*?(?:[x×*]|\bby\b)[^=]*?\d[^=]*?)\s*(?:=\s*(\d[\d,.]*)\s*(?:sf|sq\.? ?ft\.?|sqft|ft2)?|\(\s*(\d[\d,.]*)\s*(?:sf|sq\.? ?ft\.?|sqft|ft2)\s*\)|[ ,]\s*(\d[\d,.]*)\s*(?:sf|sq\.? ?ft\.?|sqft|ft2))\s*(.*)$`)
	// depthFirst finds a depth before the sides: 4" 24x40
	depthFirst = patternOf(`^(` + numeralForm + `\s*(?:"|in\b\.?|inch(?:es)?\b)(?: thick)?)\s*[,;:-]?\s+(\d.*(?:[x×*]|\bby\b).*)$`)
	edgeBehind = patternOf(`\s*(?:w/|with|,|and|&)\s*(?:a )?thick(?:ened)? edges?$`)
	sideLetter = patternOf(`(\d['"]?)\s*[lw]\b`)
	wideLong   = patternOf(`^(` + lengthIn.String() + `)\s*(?:wide|long),?\s*(?:by |x )?(` + lengthIn.String() + `)\s*(?:wide|long)$`)
	bareAtDeep = patternOf(`^(\d{2,5}(?:\.\d+)?)\s*@\s*(\d.*)$`)
)

// orderedSides brings sides that are named, or stand behind their depth, to the
// usual order.
func orderedSides(s string) string {
	if strings.ContainsAny(s, `"i`) {
		if p := depthFirst.FindStringSubmatch(s); p != nil {
			s = p[2] + " x " + p[1]
		}
	}
	if !strings.ContainsAny(s, "lwe") {
		return s
	}
	s = sideLetter.ReplaceAllString(edgeBehind.ReplaceAllString(s, ""), "$1")
	if p := wideLong.FindStringSubmatch(s); p != nil {
		s = p[1] + " x " + p[2]
	}
	return s
}

// ofProduct reads sides whose product the cell gives as well. It is false where
// the two differ by more than a rounding.
func ofProduct(p []string, h habit, m measure) (size, bool) {
	n, rest, ok := scanNumeral(p[2]+p[3]+p[4], h)
	sides := p[1]
	if beginsNumber(p[5]) {
		sides += " @ " + p[5]
	}
	s, read := parseSizeIn(sides, h, m)
	if !ok || rest != "" || !read || math.Abs(s.area.V-n.value) > 0.005*n.value {
		return size{}, false
	}
	return s, true
}

// sizeJoiner stands between rectangles that add up, or of which one is left out.
var sizeJoiner = patternOf(`\s*(?:\+|&|\band\b|\bplus\b|\bless\b|\bminus\b)\s*`)

// round finds a circle by its diameter or radius.
var round = patternOf(`^(.*?\d.*?)\s*(dia(?:m(?:eter)?)?|round|circle|circular|rd|across|radius|rad)\b\.?(.*)$|^(dia(?:meter)?|round|circle|radius)\.?:?\s*(\d.*?)$`)

// circle reads 20' dia, 20' round @ 4", 10' radius.
func circle(s string, h habit, m measure) (size, bool) {
	if !strings.Contains(s, "r") && !strings.Contains(s, "dia") {
		return size{}, false
	}
	p := round.FindStringSubmatch(s)
	if p == nil || timesSign.MatchString(s) {
		return size{}, false
	}
	d, _, ok := sideOf(strings.TrimSpace(p[1]+p[5]), h, m)
	if !ok || d <= 0 {
		return size{}, false
	}
	if strings.HasPrefix(p[2]+p[4], "rad") {
		d *= 2
	}
	c := size{area: record.Some(twelveDigits(math.Pi * d * d / 4))}
	if behind := strings.TrimSpace(depthMark.ReplaceAllString(" "+p[3], " ")); behind != "" {
		c.depth, ok = depthOf(behind, h, m.foreign)
	}
	return c, ok
}

// leastArea is an area in ft² below which a bare number may be a side.
const leastArea = 50

// areaAndDepth reads 480 sf @ 4 and 480 sf 4".
func areaAndDepth(s string, h habit) (size, bool) {
	if p := bareAtDeep.FindStringSubmatch(s); p != nil && atoi(strings.Split(p[1], ".")[0]) >= leastArea {
		s = p[1] + " sf @ " + p[2]
	}
	p := areaUnit.FindStringSubmatch(superscripts.Replace(s))
	if p == nil || timesSign.MatchString(p[1]) {
		return size{}, false
	}
	n, rest, ok := scanNumeral(strings.TrimSpace(p[1]), h)
	area, known := record.SquareFoot.Convert(n.value, strings.ReplaceAll(strings.ReplaceAll(p[2], " ", ""), ".", ""))
	if !ok || rest != "" || !known {
		return size{}, false
	}
	a := size{area: record.Some(twelveDigits(area))}
	behind := strings.TrimSpace(depthMark.ReplaceAllString(" "+p[3], " "))
	behind = strings.TrimPrefix(behind, "x ")
	if behind != "" {
		if a.depth, ok = depthOf(behind, h, strings.HasPrefix(p[2], "m")); !ok {
			return size{}, false
		}
	}
	return a, true
}

// rectangle reads two sides, and a depth behind them or none.
func rectangle(s string, h habit, m measure) (size, bool) {
	parts := timesSign.Split(s, -1)
	if len(parts) < 2 || len(parts) > 3 {
		return size{}, false
	}
	depth := ""
	if len(parts) == 3 {
		depth = parts[2]
	} else if p := deepBehind.FindStringSubmatch(parts[1]); p != nil {
		parts[1], depth = p[1]+p[3]+p[5], p[2]+p[4]+p[6]
	} else if at := depthMark.FindStringIndex(parts[1]); at != nil && at[0] > 0 {
		parts[1], depth = parts[1][:at[0]], parts[1][at[1]:]
	}
	r := size{}
	metric := m.foreign
	if _, isMetric, ok := sideOf(strings.Trim(deepWords.ReplaceAllString(parts[1], ""), " ,"), h, m); ok && isMetric && strings.Trim(parts[0], "0123456789.,½ ") == "" {
		parts[0] += " m" // 8 x 5 m
	}
	for _, part := range parts[:2] {
		side, isMetric, ok := sideOf(strings.Trim(deepWords.ReplaceAllString(part, ""), " ,"), h, m)
		if !ok || side <= 0 {
			return size{}, false
		}
		metric = metric || isMetric
		r.sides = append(r.sides, side)
	}
	r.area = record.Some(twelveDigits(r.sides[0] * r.sides[1]))
	if depth != "" {
		var ok bool
		if r.depth, ok = depthOf(depth, h, metric); !ok {
			return size{}, false
		}
	}
	return r, true
}

// sideOf reads one side in feet.
func sideOf(s string, h habit, m measure) (feet float64, metric, ok bool) {
	q := quantityReader{m: m, h: h}
	a, err := q.terms(s)
	return a.value, strings.HasSuffix(a.unit, "m"), err == nil
}

// thinnest is a depth in inches below which a number beside two sides is none: 4/6,
// .33 ft, or the number of pads.
const thinnest = 2

// depthOf reads a depth in inches: 4", 4 in thick, 10 cm. Bare numbers beside
// metric sides are centimetres, or what only they can be.
func depthOf(s string, h habit, metric bool) (record.Number, bool) {
	m := ownUnit(record.Inch)
	s = strings.TrimSpace(deepWords.ReplaceAllString(strings.TrimSpace(s), ""))
	if metric {
		n, _, _ := scanNumeral(s, h)
		m = measure{record.Inch, 1 / 2.54, 0, true}
		switch {
		case n.value < 1:
			m.factor = 100 / 2.54
		case n.value >= 40:
			m.factor = 1 / 25.4
		}
	}
	q := quantityReader{m: m, h: h}
	if low, high, two := splitRange(s); two {
		var ignored remarks
		a, ok := rangeMiddle(low, high, m, h, &ignored)
		return record.Number{V: a.value, OK: ok}, ok && a.value > thinnest && a.value <= 48
	}
	a, err := q.terms(s)
	ok := err == nil && a.value > thinnest && a.value <= 48
	return record.Number{V: a.value, OK: ok}, ok
}
