package say

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

// Measure says how figures of one kind are shown: times factor, with the unit
// behind the number and a sign of money before it.
type Measure struct {
	Factor float64
	Unit   string // a sign, the same in every language
	Phrase string // a message about the {value}, in place of the unit: "{value} in 100"
	Sign   string
	Digits digits
}

// digits says how many decimals the numbers of a measure have.
type digits int

const (
	byRange digits = iota // as many as the range can tell apart, two figures where there is none
	Round                 // whole numbers, and one decimal where all is below 1
	Tenths                // always one
	Cents                 // always two
	rough                 // whole numbers of two figures: estimates of money
)

// As says a figure in a phrase about its {value}, such as "{value} in 100 slabs".
func (m Measure) As(phrase string) Measure {
	m.Phrase = phrase
	return m
}

var (
	Percent    = Measure{Factor: 100, Unit: "%", Digits: Round}
	InHundred  = Measure{Factor: 100, Phrase: "{value} in 100", Digits: Round}
	OfHundred  = Measure{Factor: 100, Digits: Round} // under a head that says so
	inThousand = Measure{Factor: 1000, Phrase: "{value} in 1,000", Digits: Round}
	Plain      = Measure{Factor: 1}
	Wholes     = Measure{Factor: 1, Digits: Round}
	Times      = Measure{Factor: 1, Phrase: "{value} times", Digits: Tenths}
	Ratios     = Measure{Factor: 1, Digits: Tenths} // under a head that says so
)

// Share is how a proportion is shown: out of 100, or of 1,000 where it is rare.
func Share(f figure.Figure) Measure { return ShareOf(f, "{value} in 100", "{value} in 1,000") }

// ShareOf is Share in one of two phrases about the {value}.
func ShareOf(f figure.Figure, inHundredth, inThousandth string) Measure {
	if f.Value > 0 && f.Value < 0.01 {
		return inThousand.As(inThousandth)
	}
	return InHundred.As(inHundredth)
}

// AtMost is the highest that a share may be, in words.
func (v *Voice) AtMost(high float64) string { return v.At(Share(figure.Figure{Value: high}), high) }

// Short is a figure for a table: "7% (6 to 8)".
func (v *Voice) Short(m Measure, f figure.Figure) string {
	return v.ranged(m, f, v.to)
}

// Long is a figure for a sentence: "7% (between 6 and 8)".
func (v *Voice) Long(m Measure, f figure.Figure) string {
	return v.ranged(m, f, v.between)
}

// Value is the figure without its range, for where that has just been said.
func (v *Voice) Value(m Measure, f figure.Figure) string {
	return v.dressed(m, v.Number(m, f.Value, m.decimals(f)))
}

// At is a bare limit, for a sentence that says what it is a limit of.
func (v *Voice) At(m Measure, x float64) string { return v.dressed(m, v.Number(m, x, 0)) }

// Number writes a value of a figure without its unit.
func (v *Voice) Number(m Measure, x float64, decimals int) string {
	x *= m.Factor
	if m.Digits == rough {
		x = twoFigures(x)
	}
	s := Grouped(x, decimals)
	if minus, found := strings.CutPrefix(s, "−"); found {
		return "−" + m.Sign + minus
	}
	return m.Sign + s
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
func (v *Voice) ranged(m Measure, f figure.Figure, between func(low, high string) string) string {
	if !f.Bounded {
		return v.Value(m, f)
	}
	d := m.decimals(f)
	low, high := v.Number(m, f.Low, d), v.Number(m, f.High, d)
	noLow, noHigh := math.IsInf(f.Low, 0), math.IsInf(f.High, 0)
	switch {
	case noLow && noHigh:
		return v.Value(m, f)
	case noHigh:
		return v.say("{value} ({low} or more)", with{"value": v.Value(m, f), "low": low})
	case noLow:
		return v.say("{value} ({high} or less)", with{"value": v.Value(m, f), "high": high})
	case low == high:
		return v.say("about {value}", with{"value": v.Value(m, f)})
	}
	return v.Value(m, f) + " (" + between(low, high) + ")"
}

// decimals lets a figure show no more digits than its measure asks for or its
// range can tell apart.
func (m Measure) decimals(f figure.Figure) int {
	switch m.Digits {
	case Round:
		if largest := m.largest(f); largest < 0.95 && largest >= 0.05 {
			return 1
		}
		return 0
	case Tenths:
		return 1
	case Cents:
		return 2
	case rough:
		return 0
	}
	enough, width := 2.0, (f.High-f.Low)*m.Factor
	if !f.Bounded || math.IsInf(width, 0) || width <= 0 {
		enough, width = 10, math.Abs(f.Value*m.Factor)
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
func (m Measure) largest(f figure.Figure) float64 {
	most := math.Abs(f.Value)
	if f.Bounded {
		for _, end := range []float64{f.Low, f.High} {
			if !math.IsInf(end, 0) {
				most = max(most, math.Abs(end))
			}
		}
	}
	return most * m.Factor
}

// Grouped writes a number with commas between thousands.
func Grouped(v float64, decimals int) string {
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

func Count(n int) string { return Grouped(float64(n), 0) }

// Plural is "1 placement" or "1,210 placements".
func Plural(n int, noun string) string {
	if n == 1 {
		return "1 " + noun
	}
	return Count(n) + " " + noun + "s"
}

// Were is the verb that goes with n things.
func Were(n int) string {
	if n == 1 {
		return "was"
	}
	return "were"
}

// Listed joins words: "a, b and c".
func Listed(words []string) string {
	if n := len(words); n > 1 {
		return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return strings.Join(words, "")
}

func DayText(d record.Date) string { return d.Time().Format("January 2, 2006") }

// MonthText is 2025-06 as "June 2025".
func MonthText(month string) string {
	t, err := time.Parse("2006-01", month)
	if err != nil {
		return Clean(month, ShortName)
	}
	return t.Format("January 2006")
}

// LevelText is a confidence level as an owner would say it.
func LevelText(level float64) string {
	switch level {
	case 0.90:
		return "9 times in 10"
	case 0.95:
		return "19 times in 20"
	}
	return strconv.FormatFloat(math.Round(level*1e6)/1e4, 'f', -1, 64) + " times in 100"
}

// Capital begins a sentence.
func Capital(s string) string {
	for i, r := range s {
		return string(unicode.ToUpper(r)) + s[i+len(string(r)):]
	}
	return s
}

// Lengths at which text from records is cut, in characters.
const (
	LabelName = 24   // beside a chart
	ShortName = 40   // in a table or sentence
	LongName  = 120  // by itself
	LongText  = 1200 // a sentence of the analysis that may hold names
)

// Clean makes text from records safe to show in one line anywhere, a terminal
// included: no control characters, no marks that turn the direction of what
// stands around it, and no more than most characters. Text written from right
// to left is set off, so that the line around it keeps its order.
func Clean(s string, most int) string {
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

// AsOfText is the data date in words, or as it stands where it is none.
func AsOfText(s string) string {
	d, err := record.ParseDate(s)
	if err != nil {
		return s
	}
	return DayText(d)
}

// Lower begins words that go on a sentence.
func Lower(s string) string {
	for i, r := range s {
		return string(unicode.ToLower(r)) + s[i+len(string(r)):]
	}
	return s
}
