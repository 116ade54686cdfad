package sheet

import (
	"regexp"
	"strings"

	"pourback/ingest/record"
)

// sumTerms parts 9 + 1.5 into its terms.
func sumTerms(s string) ([]string, bool) {
	if !strings.Contains(s, "+") || strings.HasPrefix(s, "+") || strings.HasSuffix(s, "+") || strings.HasSuffix(s, "+/-") {
		return nil, false
	}
	parts := strings.Split(s, "+")
	for i, p := range parts {
		parts[i] = strings.TrimSpace(p)
		if !beginsNumber(parts[i]) {
			return nil, false
		}
	}
	return parts, len(parts) < 20
}

// parseSum reads a quantity, or several that add up.
func parseSum(text string, m measure, h habit, say *remarks) (amount, bool) {
	terms, ok := sumTerms(plainSigns(text))
	if !ok {
		return parseQuantity(text, m, h, say)
	}
	sum := amount{converted: true}
	q := quantityReader{m: m, h: h}
	for _, t := range terms {
		a, err := q.terms(t)
		if err != nil {
			say.fail(err.code, err.wrong, err.right)
			return amount{}, false
		}
		sum.value += a.value
		sum.unit = a.unit
	}
	sum.value = twelveDigits(sum.value)
	q.remark(say, trimFloat(sum.value))
	return sum, true
}

// changed is a price with what was added to it after signing.
type changed struct {
	price  record.Cents
	change record.Money
}

// moneyWords stand behind an amount and add nothing to it.
var moneyWords = regexp.MustCompile(`(?i)(\s+(?:even|total|flat|cash|check|lump sum|ls|all in|firm|net)|\.-)$`)

// changeTail finds a change order behind a price: 8200 + 450 CO, 8,200 (+450
// extra), 8200 CO 450, 8200 - 300 credit.
var changeTail = regexp.MustCompile(`(?i)^(.*?\d[\d.,]*k?)\s*[,;(]?\s*(?:(plus|\+|&|w/|with|less|minus|-)\s*(?:c\.?\s?o\.?:?\s*)?([$€£]?\s*[\d.,]+)\s*(?:c\.?\s?/?o\.?s?|change(?: order)?s?|extras?|add(?:ed|s)?(?:[ -]?ons?)?|addl?|credit|disc(?:ount)?|cambios?|adicional(?:es)?)?|c\.?/?o\.?\s*([$€£]?\s*[\d.,]+))\s*\)?$`)

// parseChanged reads a price, and the change order behind it where there is one.
func parseChanged(text string, h habit, say *remarks) (changed, bool) {
	s := moneyWords.ReplaceAllString(plainSigns(text), "")
	if low, high, ok := splitRange(s); ok && !strings.ContainsAny(s, "+") && !endsInWord(s) {
		c, ok := moneyMiddle(low, high, h, say)
		return changed{price: c}, ok
	}
	p := changeTail.FindStringSubmatch(s)
	if p == nil {
		c, ok := parseMoney(s, h, say)
		return changed{price: c}, ok
	}
	price, ok := parseAmount(strings.TrimSpace(p[1]), h, say)
	if !ok {
		return changed{}, false
	}
	extra, ok := parseAmount(strings.TrimSpace(p[3]+p[4]), h, say)
	if sign := strings.ToLower(p[2]); sign == "-" || sign == "less" || sign == "minus" {
		extra = -extra
	}
	return changed{price, record.Some(extra)}, ok
}

func endsInWord(s string) bool { return s != "" && isLetter(s[len(s)-1]) }

// parseMoneySum reads an amount, or several that add up: 2,100 + 85.
func parseMoneySum(text string, h habit, say *remarks) (record.Cents, bool) {
	text = moneyWords.ReplaceAllString(plainSigns(text), "")
	terms, ok := sumTerms(text)
	if !ok {
		return parseMoney(text, h, say)
	}
	var sum record.Cents
	for _, t := range terms {
		c, ok := parseAmount(t, h, say)
		if !ok {
			return 0, false
		}
		sum += c
	}
	return sum, true
}

// thickEdge finds what a thickness says about a thickened edge: 4" w/ thick
// edge, 4 w/ 8" edge, 4-8 edge, 4" + 10" footing.
var thickEdge = regexp.MustCompile(`(?i)^(.*?)\s*(?:,|w/|with|\+|&|-|and|con|/)\s*(?:(\d[^a-z]*?(?:in\b\.?|inch(?:es)?\b|cm\b|mm\b)?)\s*)?(?:thick(?:ened)?(?:en)? ?)?(?:edges?|turn ?-?downs?|haunch(?:es)?|borde?s?(?: grueso)?|lip|perimeter|footings?|ftg)\s*(?:(?:@|of|to|de)?\s*(\d.*))?$`)

// edgeAlone says that there is a thickened edge, and not how deep.
var edgeAlone = regexp.MustCompile(`(?i)^([^a-z+&,/]*(?:in\b\.?)?)\s+thick(?:ened)? edges?$`)

// parseThickness reads a thickness, and the depth of a thickened edge where it
// is given.
func parseThickness(text string, m measure, h habit, say *remarks) (depth amount, edge record.Number, ok bool) {
	s := edgeAlone.ReplaceAllString(plainSigns(text), "$1")
	if p := thickEdge.FindStringSubmatch(s); p != nil && beginsNumber(p[1]) {
		if deep := strings.TrimSpace(p[2] + p[3]); deep != "" {
			q := quantityReader{m: m, h: h}
			a, err := q.terms(deep)
			if err != nil || a.value <= 0 || a.value > 60 {
				say.warn(codeUnitLeftOut, "the depth of its edge is not understood", "write it as edge_in")
			} else {
				edge = record.Some(a.value)
			}
		}
		s = strings.TrimSpace(p[1])
	}
	s = strings.TrimSpace(deepWords.ReplaceAllString(s, ""))
	depth, ok = parseQuantity(s, m, h, say)
	return depth, edge, ok
}
