package sheet

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"pourback/ingest/record"
)

// parseMoney reads an amount: $1,250.00, (1,250.00), -$50, 1.250,00 €, 12.5k. A
// rate may name what it is for ($165/yd). Amounts are rounded to the cent; what
// floating-point numbers add to a formula's value is none of theirs.
func parseMoney(text string, h habit, say *remarks) (record.Cents, bool) {
	if _, ok := plainFigures(text, h); ok && isDigit(text[0]) {
		if c, exact, err := centsOf(text, false); exact && err == nil {
			return c, true
		}
	}
	s := plainSigns(text)
	if strings.HasPrefix(s, "=") {
		say.fail(codeFormula, "a formula, not its value", "write the amount itself")
		return 0, false
	}
	s, rough := trimApprox(s)
	if low, high, ok := splitRange(s); ok {
		return moneyMiddle(low, high, h, say)
	}
	c, ok := parseAmount(s, h, say)
	if ok && rough {
		say.warn(codeApproximate, "a rough value", "read as "+c.String())
	}
	return c, ok
}

func moneyMiddle(low, high string, h habit, say *remarks) (record.Cents, bool) {
	a, okA := parseAmount(low, h, say)
	if !okA {
		return 0, false
	}
	b, okB := parseAmount(high, h, say)
	if okB && a > b {
		say.fail(codeNotMoney, "neither an amount nor a range from low to high", "write one amount")
		return 0, false
	}
	middle := (a + b) / 2
	if odd := (a + b) % 2; odd != 0 { // half a cent, away from zero as all of them
		middle += odd
	}
	if okB {
		say.warn(codeRange, "a range", "read as its middle, "+middle.String())
	}
	return middle, okB
}

// parseAmount reads one amount.
func parseAmount(s string, h habit, say *remarks) (record.Cents, bool) {
	notMoney := func() (record.Cents, bool) {
		say.fail(codeNotMoney, "not an amount of money", "write an amount, such as 1250.00")
		return 0, false
	}
	s, negative := cutMoneySigns(s)
	n, rest, ok := scanFigures(s, h)
	if !ok {
		return notMoney()
	}
	rest = strings.TrimSpace(rest)
	thousands := strings.HasPrefix(rest, "k") || strings.HasPrefix(rest, "K")
	if thousands {
		rest = rest[1:]
	}
	if rest, _ = cutCurrency(strings.TrimSpace(rest)); rest != "" && !isPer(rest) {
		return notMoney()
	}
	c, exact, err := centsOf(n.text, thousands)
	if err != nil {
		say.fail(codeNotMoney, "an amount beyond all bounds", "write an amount, such as 1250.00")
		return 0, false
	}
	if negative {
		c = -c
	}
	q := quantityReader{other: n.other, either: n.either}
	q.remark(say, c.String())
	if !exact {
		say.warn(codeRounded, "finer than a cent", "read as "+c.String())
	}
	return c, true
}

// cutMoneySigns takes away the signs around an amount: a minus before or behind
// it, brackets (which also mean minus) and the currency.
func cutMoneySigns(s string) (rest string, negative bool) {
	if strings.HasPrefix(s, "(") && strings.HasSuffix(s, ")") {
		s, negative = strings.TrimSpace(s[1:len(s)-1]), true
	} else if strings.HasSuffix(s, "-") {
		s, negative = strings.TrimSpace(s[:len(s)-1]), true
	}
	for range 2 { // -$50 and $-50
		signed, minus := cutSign(s)
		s, _ = cutCurrency(signed)
		if minus && negative {
			return "", false
		}
		negative = negative || minus
	}
	return s, negative
}

var currencyCodes = []string{"USD", "US$", "CAD", "CA$", "C$", "AUD", "A$", "NZD", "EUR", "GBP", "CHF", "MXN", "dollars", "dollar"}

// cutCurrency takes away a currency's sign or code at the beginning of s.
func cutCurrency(s string) (rest string, found bool) {
	for _, code := range currencyCodes {
		if len(s) >= len(code) && strings.EqualFold(s[:len(code)], code) {
			return strings.TrimSpace(s[len(code):]), true
		}
	}
	if r, size := utf8.DecodeRuneInString(s); unicode.Is(unicode.Sc, r) {
		return strings.TrimSpace(s[size:]), true
	}
	return s, false
}

// isPer says whether s is what a rate is for: /yd, per hour.
func isPer(s string) bool {
	for _, word := range []string{"/", "per ", "a "} {
		if of, found := strings.CutPrefix(s, word); found {
			of = strings.TrimSpace(of)
			return of != "" && len(of) <= 12 && strings.IndexFunc(of, func(r rune) bool { return !unicode.IsLetter(r) && !strings.ContainsRune(" .³²23", r) }) < 0
		}
	}
	return false
}

// centsOf brings figures in Go's syntax to cents, half a cent away from zero.
func centsOf(text string, thousands bool) (c record.Cents, exact bool, err error) {
	whole, frac, _ := strings.Cut(text, ".")
	if !thousands && len(frac) <= 2 && len(whole) <= 13 && strings.Trim(whole+frac, "0123456789") == "" {
		n, err := strconv.ParseInt("0"+whole+(frac + "00")[:2], 10, 64)
		return record.Cents(n), true, err
	}
	if thousands {
		return record.CentsOfDecimal(text, 100_000)
	}
	return record.CentsOfDecimal(withoutNoise(text), 100)
}
