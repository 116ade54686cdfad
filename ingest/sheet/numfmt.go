package sheet

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// numberFormat is what a workbook's number format makes of a number.
type numberFormat int8

const (
	asNumber numberFormat = iota
	asDate
	asDateTime
	asTime
	asElapsed
	asPercent
)

// builtinFormat is the meaning of a format that a workbook does not spell out
// (ECMA-376 part 1, 18.8.30).
func builtinFormat(id int) numberFormat {
	switch {
	case id == 9 || id == 10:
		return asPercent
	case id >= 14 && id <= 17 || id >= 27 && id <= 31 || id == 36 || id >= 50 && id <= 54 || id >= 57 && id <= 58:
		return asDate
	case id >= 18 && id <= 21 || id >= 32 && id <= 35 || id == 45 || id == 47 || id >= 55 && id <= 56:
		return asTime
	case id == 22:
		return asDateTime
	case id == 46:
		return asElapsed
	}
	return asNumber
}

// notSigns are the parts of a format code that are no placeholders: literal
// text, colours and conditions.
var (
	notSigns = patternOf(`"[^"]*"|\\.|_.|\*.|(?i:am/pm|a/p)`)
	elapsed  = patternOf(`(?i)\[(?:h+|m+|s+)\]`)
	brackets = patternOf(`\[[^\]]*\]`)
)

// formatOf reads a format code such as m/d/yyyy h:mm or 0.0%.
func formatOf(code string) numberFormat {
	code, _, _ = strings.Cut(notSigns.ReplaceAllString(code, ""), ";")
	if elapsed.MatchString(code) {
		return asElapsed
	}
	code = strings.ToLower(brackets.ReplaceAllString(code, ""))
	if strings.Contains(code, "general") {
		return asNumber
	}
	clock := strings.ContainsAny(code, "hs")
	days := strings.ContainsAny(code, "yd") || !clock && strings.Contains(code, "m")
	switch {
	case days && clock:
		return asDateTime
	case days:
		return asDate
	case clock:
		return asTime
	case strings.Contains(code, "%"):
		return asPercent
	}
	return asNumber
}

// show writes a number as a person sees it, dates in ISO 8601.
func (f numberFormat) show(written string, from epoch, mark byte) string {
	if f == asNumber && isShort(written) {
		return withMark(written, mark)
	}
	v, err := strconv.ParseFloat(written, 64)
	if err != nil || math.IsInf(v, 0) || math.IsNaN(v) {
		return written
	}
	switch f {
	case asPercent:
		return withMark(digits15(v*100), mark) + "%"
	case asElapsed:
		return showClock(v)
	case asTime, asDateTime:
		if v >= 0 && v < 1 {
			return showClock(v)
		}
	}
	if f == asNumber {
		return withMark(digits15(v), mark)
	}
	m, ok := from.moment(v)
	switch {
	case !ok:
		return withMark(digits15(v), mark)
	case f == asDate && m%86400 == 0:
		return m.Date().String()
	}
	return showMoment(m)
}

// showMoment writes a date and time; midnight too.
func showMoment(m record.Moment) string {
	return strings.Replace(m.String(), "T", " ", 1)
}

// showClock writes a part of a day, or several days, as hours and minutes.
func showClock(days float64) string {
	s := int64(math.Round(days * 86400))
	if days < 0 || days > 1e4 {
		return digits15(days)
	}
	if s%60 == 0 {
		return fmt.Sprintf("%d:%02d", s/3600, s/60%60)
	}
	return fmt.Sprintf("%d:%02d:%02d", s/3600, s/60%60, s%60)
}

// digits15 writes a number with the fifteen digits that spreadsheets show, so
// that 0.30000000000000004 is 0.3 again.
func digits15(v float64) string {
	rounded, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 15, 64), 64)
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}

// isShort says whether a number is written plainly, in fifteen digits or less.
func isShort(s string) bool {
	if len(s) > 15 || s == "" {
		return false
	}
	for i := range len(s) {
		if !isDigit(s[i]) && s[i] != '.' && (s[i] != '-' || i > 0) {
			return false
		}
	}
	return true
}

// withMark writes a number with the file's decimal mark.
func withMark(s string, mark byte) string {
	if mark == ',' {
		return strings.Replace(s, ".", ",", 1)
	}
	return s
}
