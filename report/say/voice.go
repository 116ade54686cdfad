package say

import (
	"strings"
	"time"
)

// Voice says things in one language, one system of units and one currency.
type Voice struct {
	lang     *language
	Units    units
	Currency string         // the sign before amounts of money
	Zone     *time.Location // in which moments are said; UTC where nil
	OnSite   bool           // said on the site, where a page does what is a command elsewhere
}

// newVoice is the voice of a language (en where empty), a system of units (us,
// or si) and a currency ($ where empty).
func New(lang, units, currency string) *Voice {
	if currency == "" {
		currency = "$"
	}
	l := languageOf(lang)
	return &Voice{lang: l, Units: l.units(UnitsOf(units)), Currency: currency}
}

// with are the values of a message by the names that stand in it in braces.
type with map[string]string

// text says a message that holds no values.
func (v *Voice) text(message string) string { return v.lang.of(message) }

// say says a message, with each {name} in it replaced by its value. A message
// is written where it is said, in English, and is the key under which other
// languages have theirs.
func (v *Voice) say(message string, values with) string { return v.filled(v.lang.of(message), values) }

// plural says one of two messages, "1 slab|{n} slabs", by a count, which stands
// in the message as {n}.
func (v *Voice) plural(n int, message string, values with) string {
	one, other, _ := strings.Cut(v.lang.of(message), "|")
	if !v.lang.single(n) {
		one = other
	}
	return v.filled(strings.ReplaceAll(one, "{n}", Count(n)), values)
}

// filled puts values in the place of their names. A value is never looked
// through for names: it may be anything that stands in a record. What ends in a
// point needs no second one.
func (v *Voice) filled(message string, values with) string {
	if len(values) == 0 {
		return message
	}
	var b strings.Builder
	for {
		before, rest, found := strings.Cut(message, "{")
		if !found {
			b.WriteString(before)
			return b.String()
		}
		name, after, closed := strings.Cut(rest, "}")
		value, known := values[name]
		if !closed || !known {
			b.WriteString(before + "{")
			message = rest
			continue
		}
		if v.lang.joined != nil {
			before = v.lang.joined(before, value)
		}
		b.WriteString(before + value)
		if strings.HasSuffix(value, ".") {
			after = strings.TrimPrefix(after, ".")
		}
		message = after
	}
}

// to and between say the ends of a range.
func (v *Voice) to(low, high string) string {
	return v.say("{low} to {high}", with{"low": low, "high": high})
}

func (v *Voice) between(low, high string) string {
	return v.say("between {low} and {high}", with{"low": low, "high": high})
}

// unit is a number with the sign of its unit, " sq ft", as the language writes it.
func (v *Voice) unit(number, sign string) string {
	sign = v.lang.sign(sign)
	if one, ok := v.lang.ones[sign]; ok && onePart[number] {
		sign = one
	}
	return number + sign
}

// onePart are the numbers that are said of one thing or a part of it.
var onePart = map[string]bool{"1": true, "½": true, "¼": true, "¾": true}

// dressed is a number with the unit or the phrase of its measure.
func (v *Voice) dressed(m Measure, number string) string {
	if m.Phrase != "" {
		return v.say(m.Phrase, with{"value": number})
	}
	return v.unit(number, m.Unit)
}
