package report

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
	"unicode"

	"pourback/analysis"
	"pourback/ingest/record"
)

// measure says how figures of one kind are shown: times factor, with the unit
// behind the number, and in whole numbers where their range is wide enough.
type measure struct {
	factor float64
	unit   string
	whole  float64 // the width of range from which whole numbers do; 2 where 0
}

// of puts more words behind the unit, so that they stand before the range.
func (m measure) of(words string) measure { return measure{m.factor, m.unit + " " + words, m.whole} }

var (
	percent    = measure{100, "%", 1}
	inHundred  = measure{100, " in 100", 1}
	ofHundred  = measure{100, "", 1} // under a head that says so
	inThousand = measure{1000, " in 1,000", 1}
	plain      = measure{factor: 1}
)

// share is how a proportion is shown: out of 100, or of 1,000 where it is rare.
func share(f analysis.Figure) measure {
	if f.Value > 0 && f.Value < 0.01 {
		return inThousand
	}
	return inHundred
}

// short is a figure for a table: "7% (6 to 8)".
func (m measure) short(f analysis.Figure) string {
	return m.say(f, func(low, high string) string { return low + " to " + high })
}

// long is a figure for a sentence: "7% (between 6 and 8)".
func (m measure) long(f analysis.Figure) string {
	return m.say(f, func(low, high string) string { return "between " + low + " and " + high })
}

// value is the figure without its range, for where that has just been said.
func (m measure) value(f analysis.Figure) string {
	return grouped(f.Value*m.factor, m.decimals(f)) + m.unit
}

// at is a bare limit, for a sentence that says what it is a limit of.
func (m measure) at(v float64) string { return grouped(v*m.factor, 0) + m.unit }

// say writes the value and the range of a figure that is known.
func (m measure) say(f analysis.Figure, between func(low, high string) string) string {
	if !f.Bounded {
		return m.value(f)
	}
	d := m.decimals(f)
	low, high := grouped(f.Low*m.factor, d), grouped(f.High*m.factor, d)
	noLow, noHigh := math.IsInf(f.Low, 0), math.IsInf(f.High, 0)
	switch {
	case noLow && noHigh:
		return m.value(f)
	case noHigh:
		return m.value(f) + " (" + low + " or more)"
	case noLow:
		return m.value(f) + " (" + high + " or less)"
	}
	return m.value(f) + " (" + between(low, high) + ")"
}

// decimals lets a figure show no more digits than its range can tell apart, or
// two where it has no range.
func (m measure) decimals(f analysis.Figure) int {
	enough := cmp.Or(m.whole, 2)
	width := (f.High - f.Low) * m.factor
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

// money writes an amount in whole units of the currency: "$84,200".
func (a *author) money(c record.Cents) string {
	units := math.Round(math.Abs(c.Dollars()))
	sign := a.currency
	if len([]rune(sign)) > 1 {
		sign += " "
	}
	if c < 0 && units > 0 {
		sign = "−" + sign
	}
	return sign + grouped(units, 0)
}

// moneyFigure is an amount with its range: "$5,710 (5,200 to 6,300)".
func (a *author) moneyFigure(f analysis.Figure, decimals int) Cell {
	c := Cell{Text: a.amount(f.Value, decimals), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
	if f.Bounded && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) {
		c.Text += " (" + grouped(f.Low, decimals) + " to " + grouped(f.High, decimals) + ")"
	}
	return c
}

// amount is money with so many decimals, without a space behind a short sign.
func (a *author) amount(v float64, decimals int) string {
	sign := a.currency
	if len([]rune(sign)) > 1 {
		sign += " "
	}
	if v < 0 {
		return "−" + sign + grouped(-v, decimals)
	}
	return sign + grouped(v, decimals)
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
