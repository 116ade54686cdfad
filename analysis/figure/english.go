package figure

import (
	"fmt"
	"math"
	"strconv"
	"time"
	"unicode"
	"unicode/utf8"
)

// MonthWords turns 2025-10 into October 2025.
func MonthWords(month string) string {
	t, err := time.Parse("2006-01", month)
	if err != nil {
		return month
	}
	return t.Format("January 2006")
}

// CentsWords are cents of a dollar: "1 cent", "18 cents".
func CentsWords(cents float64) string { return CountOf(int(math.Round(cents)), "cent") }

// CountOf is a number of things: "1 job", "1,200 jobs".
func CountOf(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return Grouped(int64(n)) + " " + thing + "s"
}

// DollarWords is an amount in whole dollars: "$1,240".
func DollarWords(dollars float64) string {
	if !(math.Abs(dollars) < 9e15) {
		return "an impossible amount"
	}
	if dollars < 0 {
		return "−" + DollarWords(-dollars)
	}
	return "$" + Grouped(int64(math.Round(dollars)))
}

// RoughDollars is an amount in dollars to two figures: "$4,300".
func RoughDollars(dollars float64) string {
	rounded, err := strconv.ParseFloat(fmt.Sprintf("%.1e", dollars), 64)
	if err != nil {
		return DollarWords(dollars)
	}
	return DollarWords(rounded)
}

// Grouped writes a number with commas between thousands.
func Grouped(n int64) string {
	s := strconv.FormatInt(n, 10)
	sign := ""
	if n < 0 {
		sign, s = "−", s[1:]
	}
	for at := len(s) - 3; at > 0; at -= 3 {
		s = s[:at] + "," + s[at:]
	}
	return sign + s
}

// Capital makes the first letter a large one.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// UnknownFor is a figure that the records cannot support, for a reason in words.
// It goes once every reason has a kind.
func UnknownFor(why string, args ...any) Figure { return Unknown(Written(fmt.Sprintf(why, args...))) }

// Text is a reason in words. It goes once the report says every reason.
func Text(r Reason) string {
	switch r := r.(type) {
	case nil:
		return ""
	case Written:
		return string(r)
	case NoData:
		return "no record has what this needs"
	case TooFew:
		return "one record alone shows no spread"
	case NoVariation:
		return "the records are all alike, so their spread is unknown"
	case NoEvents:
		return "nothing of the kind has happened yet"
	case Failed:
		return r.Err.Error()
	}
	return fmt.Sprint(r)
}
