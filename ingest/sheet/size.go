package sheet

import (
	"math"
	"regexp"
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
	timesSign = regexp.MustCompile(`\s*(?:[x×*]|\bby\b|\bpor\b)\s*`)
	depthMark = regexp.MustCompile(`\s*(?:@|,|;|\bat\b|\ba\b|\bde\b|-\s|\bby\b)\s*`)
	deepWords = regexp.MustCompile(`\s*\b(?:thick|deep|thk|nominal|nom|slab|grueso|espesor|de espesor|concrete|wide|long|w|l)\b\.?\s*$`)
	severalOf = regexp.MustCompile(`^(?:\((\d{1,2})\)|(\d{1,2})\s*(?:@|ea\.?|pcs?\.?|pads?|of))\s*(\d.*[x×*].*)$`)
	// a bare side and, behind it, a depth: 40 4", 40' 4" thick
	deepBehind = regexp.MustCompile(`^(\d+(?:\.\d+)?)\s+\(?(\d[^'a-z]*(?:"|in\b\.?|inch(?:es)?\b|cm\b|mm\b)\s*(?:thick|deep|slab)?)\)?$|^(.*?\d.*?)\s+\(?(\d[^'a-z]*(?:"|in\b\.?|inch(?:es)?\b|cm\b|mm\b)\s*(?:thick|deep|slab))\)?$|^(.*?\d\S*)\s*\((\d[^()]*)\)$`)
	areaUnit   = regexp.MustCompile(`^(.*\d)\s*(sq\.? ?ft\.?|sf|sqft|square feet|ft2|m2|sq\.? ?m|sqm)\b\.?\s*(.*)$`)
)

// parseSize reads measures in feet and inches; bare metric numbers are for
// [parseSizeIn].
func parseSize(s string, h habit) (size, bool) { return parseSizeIn(s, h, ownUnit(record.Foot)) }

// parseSizeIn reads measures whose bare sides are in the unit that the heading
// bears.
func parseSizeIn(s string, h habit, m measure) (size, bool) {
	s = accents.Replace(strings.TrimSpace(strings.ToLower(plainSigns(s))))
	if p := severalOf.FindStringSubmatch(s); p != nil {
		each, ok := parseSizeIn(p[3], h, m)
		n := float64(atoi(p[1] + p[2]))
		each.area = record.Some(n * each.area.V)
		return each, ok && n > 1 && n <= 20 && len(each.sides) == 2
	}
	if a, ok := areaAndDepth(s, h); ok {
		return a, true
	}
	var whole size
	for _, part := range strings.FieldsFunc(s, func(r rune) bool { return r == '+' || r == '&' }) {
		p, ok := rectangle(strings.TrimSpace(part), h, m)
		if !ok {
			return size{}, false
		}
		whole.sides = append(whole.sides, p.sides...)
		whole.area = record.Some(whole.area.V + p.area.V)
		if p.depth.OK {
			if whole.depth.OK && whole.depth.V != p.depth.V {
				return size{}, false
			}
			whole.depth = p.depth
		}
	}
	return whole, whole.area.OK
}

// areaAndDepth reads 480 sf @ 4 and 480 sf 4".
func areaAndDepth(s string, h habit) (size, bool) {
	p := areaUnit.FindStringSubmatch(s)
	if p == nil || timesSign.MatchString(p[1]) {
		return size{}, false
	}
	n, rest, ok := scanNumeral(strings.TrimSpace(p[1]), h)
	area, known := record.SquareFoot.Convert(n.value, strings.ReplaceAll(strings.ReplaceAll(p[2], " ", ""), ".", ""))
	if !ok || rest != "" || !known {
		return size{}, false
	}
	a := size{area: record.Some(area)}
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
	for _, part := range parts[:2] {
		side, isMetric, ok := sideOf(strings.TrimSpace(deepWords.ReplaceAllString(part, "")), h, m)
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
	a, err := q.terms(s)
	ok := err == nil && a.value > 0 && a.value <= 48
	return record.Number{V: a.value, OK: ok}, ok
}

// longerSide is the longer side of a panel in feet.
func (s size) longerSide() float64 {
	longest := 0.0
	for _, side := range s.sides {
		longest = math.Max(longest, side)
	}
	return longest
}
