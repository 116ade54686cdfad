package sheet

import (
	"math"
	"strconv"
	"strings"
	"unicode/utf8"
)

// habit is how a file writes the decimal mark. It decides numbers such as 1,250
// and 1.250, which can be read in two ways; all others are read by their shape.
type habit struct {
	mark byte // '.' or ','
	said bool // a number that the habit alone decides is worth a warning
}

// numeral is a number as written in figures.
type numeral struct {
	value  float64
	text   string // in Go's syntax; "" for a fraction
	other  bool   // its decimal mark is not the file's
	either bool   // the file's habit alone decided how it was read
}

// scanNumeral reads the number that s begins with: figures with marks, 1e3, a
// fraction 1/2 or ½, or a mixed number 4 1/2, 4-1/2 or 4½. The rest of s is
// what stands behind it.
func scanNumeral(s string, h habit) (n numeral, rest string, ok bool) {
	if f, size := vulgarFraction(s); size > 0 {
		return numeral{value: f}, s[size:], true
	}
	n, rest, ok = scanFigures(s, h)
	if !ok || strings.Trim(n.text, "0123456789") != "" {
		return n, rest, ok
	}
	if f, behind, found := properFraction(n.text + rest); found {
		return numeral{value: f}, behind, true
	}
	gap := strings.TrimLeft(rest, " ")
	if f, size := vulgarFraction(gap); size > 0 {
		return numeral{value: n.value + f}, gap[size:], true
	}
	if f, behind, found := properFraction(strings.TrimPrefix(gap, "-")); found {
		return numeral{value: n.value + f}, behind, true
	}
	return n, rest, true
}

// plainFigures reads a short number with at most a point, which there is only
// one way to read.
func plainFigures(s string, h habit) (v float64, ok bool) {
	if h.mark != '.' || !isShort(s) {
		return 0, false
	}
	v, err := strconv.ParseFloat(s, 64)
	return v, err == nil
}

// scanFigures reads figures with their marks: 12, 1,250.5, 1 250,5, .5, 1e3.
func scanFigures(s string, h habit) (n numeral, rest string, ok bool) {
	end := figuresEnd(s)
	if end == 0 {
		return n, s, false
	}
	n.text, n.other, n.either, ok = goSyntax(s[:end], h)
	if !ok {
		return n, s, false
	}
	exp := exponentEnd(s, end)
	n.text += s[end:exp]
	v, err := strconv.ParseFloat(n.text, 64)
	n.value = v
	return n, s[exp:], err == nil && !math.IsInf(v, 0)
}

// figuresEnd is where the digits, their marks and the spaces between groups of
// three end.
func figuresEnd(s string) int {
	i, digits := 0, 0
	for i < len(s) {
		switch c := s[i]; {
		case isDigit(c):
			digits++
		case (c == '.' || c == ',') && i+1 < len(s) && isDigit(s[i+1]):
		case c == '.' && digits > 0:
			return i + 1
		case c == ' ' && digits > 0 && groupFollows(s[:i], s[i+1:]):
		default:
			return i
		}
		i++
	}
	return i
}

// groupFollows says whether the space between a and b separates thousands.
func groupFollows(a, b string) bool {
	return len(a)-1-strings.LastIndexFunc(a, func(r rune) bool { return r < '0' || r > '9' }) <= 3 &&
		len(b) >= 3 && isDigit(b[0]) && isDigit(b[1]) && isDigit(b[2]) && (len(b) == 3 || !isDigit(b[3]) && b[3] != '/')
}

func exponentEnd(s string, i int) int {
	j := i + 1
	if i >= len(s) || s[i] != 'e' && s[i] != 'E' {
		return i
	}
	if j < len(s) && (s[j] == '+' || s[j] == '-') {
		j++
	}
	from := j
	for j < len(s) && isDigit(s[j]) {
		j++
	}
	if j == from || j-from > 3 {
		return i
	}
	return j
}

// goSyntax brings figures with marks to Go's syntax. It is false where the
// marks make no number, as in 1,25,0.
func goSyntax(s string, h habit) (text string, other, either, ok bool) {
	last := strings.LastIndexAny(s, ".,")
	if space := strings.LastIndexByte(s, ' '); space >= 0 {
		if strings.ContainsAny(s[:space], ".,") {
			return "", false, false, false
		}
		s = strings.ReplaceAll(s, " ", "")
		last = strings.LastIndexAny(s, ".,")
	}
	if last < 0 {
		return s, false, false, true
	}
	mark := s[last]
	separator := byte(',' + '.' - mark)
	whole, behind := s[:last], s[last+1:]
	decimal := strings.IndexByte(whole, mark) < 0
	if decimal && strings.IndexByte(whole, separator) < 0 && groups(s, mark) {
		decimal, either = mark == h.mark, true
	}
	switch {
	case !decimal:
		whole, ok = ungroup(s, mark)
		return whole, false, either && h.said, ok
	case strings.IndexByte(whole, separator) >= 0:
		if whole, ok = ungroup(whole, separator); !ok {
			return "", false, false, false
		}
	}
	return whole + "." + behind, mark != h.mark, either && h.said && mark != '.', true
}

// groups says whether the figures are one to three digits and then groups of
// three, each behind the mark.
func groups(s string, mark byte) bool {
	parts := strings.Split(s, string(mark))
	for i, p := range parts {
		if strings.IndexFunc(p, func(r rune) bool { return r < '0' || r > '9' }) >= 0 || i > 0 && len(p) != 3 {
			return false
		}
	}
	first := parts[0]
	return len(first) >= 1 && len(first) <= 3 && first[0] != '0'
}

func ungroup(s string, mark byte) (string, bool) {
	return strings.ReplaceAll(s, string(mark), ""), groups(s, mark)
}

// properFraction reads a fraction below one in figures, such as 11/16.
func properFraction(s string) (v float64, rest string, ok bool) {
	num, i := leadingInt(s)
	if i == 0 || i >= len(s) || s[i] != '/' {
		return 0, s, false
	}
	den, j := leadingInt(s[i+1:])
	rest = s[i+1+j:]
	if j == 0 || num >= den || strings.HasPrefix(rest, "/") {
		return 0, s, false
	}
	return float64(num) / float64(den), rest, true
}

// leadingInt reads up to four digits.
func leadingInt(s string) (n, size int) {
	for size < len(s) && isDigit(s[size]) {
		n = n*10 + int(s[size]-'0')
		size++
	}
	if size > 4 {
		return 0, 0
	}
	return n, size
}

var vulgar = map[rune]float64{'½': 1. / 2, '⅓': 1. / 3, '⅔': 2. / 3, '¼': 1. / 4, '¾': 3. / 4, '⅕': 1. / 5, '⅖': 2. / 5, '⅗': 3. / 5, '⅘': 4. / 5,
	'⅙': 1. / 6, '⅚': 5. / 6, '⅛': 1. / 8, '⅜': 3. / 8, '⅝': 5. / 8, '⅞': 7. / 8, '⅐': 1. / 7, '⅑': 1. / 9, '⅒': 1. / 10}

// vulgarFraction reads the single character ½ and its kin.
func vulgarFraction(s string) (v float64, size int) {
	r, n := utf8.DecodeRuneInString(s)
	if v, ok := vulgar[r]; ok {
		return v, n
	}
	return 0, 0
}

func isDigit(c byte) bool { return c-'0' <= 9 }
