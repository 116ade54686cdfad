package report

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// measure says how figures of one kind are shown: times factor, with the unit
// behind the number and a sign of money before it.
type measure struct {
	factor float64
	unit   string
	sign   string
	digits digits
}

// digits says how many decimals the numbers of a measure have.
type digits int

const (
	byRange digits = iota // as many as the range can tell apart, two figures where there is none
	round                 // whole numbers, and one decimal where all is below 1
	tenths                // always one
	cents                 // always two
	rough                 // whole numbers of two figures: estimates of money
)

// of puts more words behind the unit, so that they stand before the range.
func (m measure) of(words string) measure {
	m.unit += " " + words
	return m
}

var (
	percent    = measure{factor: 100, unit: "%", digits: round}
	inHundred  = measure{factor: 100, unit: " in 100", digits: round}
	ofHundred  = measure{factor: 100, digits: round} // under a head that says so
	inThousand = measure{factor: 1000, unit: " in 1,000", digits: round}
	plain      = measure{factor: 1}
	wholes     = measure{factor: 1, digits: round}
	times      = measure{factor: 1, unit: " times", digits: tenths}
	ratios     = measure{factor: 1, digits: tenths} // under a head that says so
)

// share is how a proportion is shown: out of 100, or of 1,000 where it is rare.
func share(f figure.Figure) measure {
	if f.Value > 0 && f.Value < 0.01 {
		return inThousand
	}
	return inHundred
}

// atMost is the highest that a share may be, in words.
func atMost(high float64) string { return share(figure.Figure{Value: high}).at(high) }

// short is a figure for a table: "7% (6 to 8)".
func (m measure) short(f figure.Figure) string {
	return m.say(f, func(low, high string) string { return low + " to " + high })
}

// long is a figure for a sentence: "7% (between 6 and 8)".
func (m measure) long(f figure.Figure) string {
	return m.say(f, func(low, high string) string { return "between " + low + " and " + high })
}

// value is the figure without its range, for where that has just been said.
func (m measure) value(f figure.Figure) string { return m.number(f.Value, m.decimals(f)) + m.unit }

// at is a bare limit, for a sentence that says what it is a limit of.
func (m measure) at(v float64) string { return m.number(v, 0) + m.unit }

// number writes a value of a figure without its unit.
func (m measure) number(v float64, decimals int) string {
	v *= m.factor
	if m.digits == rough {
		v = twoFigures(v)
	}
	s := grouped(v, decimals)
	if minus, found := strings.CutPrefix(s, "−"); found {
		return "−" + m.sign + minus
	}
	return m.sign + s
}

// twoFigures rounds to as much as an estimate of money is worth.
func twoFigures(v float64) float64 {
	r, err := strconv.ParseFloat(strconv.FormatFloat(v, 'e', 1, 64), 64)
	if err != nil {
		return v
	}
	return r
}

// say writes the value and the range of a figure that is known. A range whose
// ends are written alike says nothing but that the value is about so.
func (m measure) say(f figure.Figure, between func(low, high string) string) string {
	if !f.Bounded {
		return m.value(f)
	}
	d := m.decimals(f)
	low, high := m.number(f.Low, d), m.number(f.High, d)
	noLow, noHigh := math.IsInf(f.Low, 0), math.IsInf(f.High, 0)
	switch {
	case noLow && noHigh:
		return m.value(f)
	case noHigh:
		return m.value(f) + " (" + low + " or more)"
	case noLow:
		return m.value(f) + " (" + high + " or less)"
	case low == high:
		return "about " + m.value(f)
	}
	return m.value(f) + " (" + between(low, high) + ")"
}

// decimals lets a figure show no more digits than its measure asks for or its
// range can tell apart.
func (m measure) decimals(f figure.Figure) int {
	switch m.digits {
	case round:
		if largest := m.largest(f); largest < 0.95 && largest >= 0.05 {
			return 1
		}
		return 0
	case tenths:
		return 1
	case cents:
		return 2
	case rough:
		return 0
	}
	enough, width := 2.0, (f.High-f.Low)*m.factor
	if !f.Bounded || math.IsInf(width, 0) || width <= 0 {
		enough, width = 10, math.Abs(f.Value*m.factor)
	}
	switch {
	case width >= enough || width == 0:
		return 0
	case width >= enough/10:
		return 1
	case width >= enough/100:
		return 2
	}
	return 3
}

// largest is the largest number that is written of a figure.
func (m measure) largest(f figure.Figure) float64 {
	most := math.Abs(f.Value)
	if f.Bounded {
		for _, end := range []float64{f.Low, f.High} {
			if !math.IsInf(end, 0) {
				most = max(most, math.Abs(end))
			}
		}
	}
	return most * m.factor
}

// grouped writes a number with commas between thousands.
func grouped(v float64, decimals int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', decimals, 64)
	whole, frac, dot := strings.Cut(s, ".")
	var b strings.Builder
	if v < 0 && strings.Trim(s, "0.") != "" {
		b.WriteString("−")
	}
	for i, c := range whole {
		if i > 0 && (len(whole)-i)%3 == 0 {
			b.WriteByte(',')
		}
		b.WriteRune(c)
	}
	if dot {
		b.WriteString("." + frac)
	}
	return b.String()
}

func count(n int) string { return grouped(float64(n), 0) }

// plural is "1 placement" or "1,210 placements".
func plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return count(n) + " " + noun + "s"
}

// were is the verb that goes with n things.
func were(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// listed joins words: "a, b and c".
func listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func dayText(d record.Date) string { return d.Time().Format("January 2, 2006") }

// monthText is 2025-06 as "June 2025".
func monthText(month string) string {
	t, err := time.Parse("2006-01", month)
	if err != nil {
		return clean(month, shortName)
	}
	return t.Format("January 2006")
}

// levelText is a confidence level as an owner would say it.
func levelText(level float64) string {
	switch level {
	case 0.90:
		return "9 times in 10"
	case 0.95:
		return "19 times in 20"
	}
	return strconv.FormatFloat(math.Round(level*1e6)/1e4, 'f', -1, 64) + " times in 100"
}

// capital begins a sentence.
func capital(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// Lengths at which text from records is cut, in characters.
const (
	labelName = 24   // beside a chart
	shortName = 40   // in a table or sentence
	longName  = 120  // by itself
	longText  = 1200 // a sentence of the analysis that may hold names
)

// clean makes text from records safe to show in one line anywhere, a terminal
// included: no control characters, no marks that turn the direction of what
// stands around it, and no more than most characters. Text written from right
// to left is set off, so that the line around it keeps its order.
func clean(s string, most int) string {
	var b strings.Builder
	n, rightToLeft := 0, false
	for _, r := range s {
		if r == '\n' || r == '\t' {
			r = ' '
		}
		if r == unicode.ReplacementChar || unicode.IsControl(r) || unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Zl, r) || unicode.Is(unicode.Zp, r) {
			continue
		}
		if n++; n > most {
			b.WriteString("…")
			break
		}
		rightToLeft = rightToLeft || unicode.In(r, unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko)
		b.WriteRune(r)
	}
	if rightToLeft {
		return fmt.Sprintf("\u2068%s\u2069", b.String())
	}
	return strings.TrimSpace(b.String())
}

// asOfText is the data date in words, or as it stands where it is none.
func asOfText(s string) string {
	d, err := record.ParseDate(s)
	if err != nil {
		return s
	}
	return dayText(d)
}

// lower begins words that go on a sentence.
func lower(s string) string {
	for i, r := range s {
		return string(unicode.ToLower(r)) + s[i+len(string(r)):]
	}
	return s
}
