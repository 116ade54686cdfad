package sheet

import (
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
var moneyWords = patternOf(`(?i)(\s+(?:even|total|flat|cash|check|ck|lump sum|ls|all in|firm|net|plus tax|paid|out the door|so far|bucks|out of (?:our|my) pocket)|\.-)$`)

// changeTail finds a change order behind a price: 8200 + 450 CO, 8,200 (+450
// extra), 8200 CO 450, 8200 - 300 credit, $5,150 + $350 for the extra they wanted.
var changeTail = patternOf(`(?i)^(.*?\d[\d.,]*k?)\s*[,;(]?\s*(?:(plus|and|\+|&|w/|with|less|minus|-)\s*(?:c\.?\s?o\.?:?\s*)?([$€£]?\s*[\d.,]+k?)\s*(?:c\.?\s?/?o\.?s?|change(?: order)?s?|extras?|add(?:ed|s)?(?:[ -]?ons?)?|addl?|credit|disc(?:ount)?|cambios?|adicional(?:es)?|(?:for|on|because|when|after) [a-z' ,]*|[a-z][a-z' ]*)?|c\.?/?o\.?\s*([$€£]?\s*[\d.,]+))\s*[.)]*$`)

// rateWords behind an amount make it a rate or a share, not an amount.
var rateWords = patternOf(`(?i)\b(?:each|ea|per|hr|hrs?|hours?|yds?|yards?|cy|sf|ft|sq|off|men|guys|days?|loads?|down|deposit|owed|owes|due|balance)\b|%`)

// creditWord says that an amount goes off.
var creditWord = patternOf(`(?i)\b(?:credit(?:ed)?|disc(?:ount)?|off|back|refund(?:ed)?|deduct(?:ed)?|less|rebate)\b`)

// severalChanges reads a price with several changes behind it: 8,200 + 450 + 120.
func severalChanges(s string, h habit) (changed, bool) {
	terms, ok := sumTerms(s)
	if !ok || len(terms) < 3 {
		return changed{}, false
	}
	var ignored remarks
	all, ok := parseMoneySum(s, h, &ignored)
	price, first := parseAmount(terms[0], h, &ignored)
	return changed{price, record.Some(all - price)}, ok && first
}

// parseChanged reads a price, and the change order behind it where there is one.
func parseChanged(text string, h habit, say *remarks) (changed, bool) {
	s := moneyWords.ReplaceAllString(plainSigns(text), "")
	if low, high, ok := splitRange(s); ok && !strings.ContainsAny(s, "+") && !endsInWord(s) {
		c, ok := moneyMiddle(low, high, h, say)
		return changed{price: c}, ok
	}
	if c, ok := severalChanges(s, h); ok {
		return c, true
	}
	p := changeTail.FindStringSubmatch(s)
	if p == nil || rateWords.MatchString(s[len(p[1]):]) {
		c, ok := parseMoney(s, h, say)
		return changed{price: c}, ok
	}
	if sign := p[2]; sign == "-" && !creditWord.MatchString(s[len(p[1]):]) {
		c, ok := parseMoney(s, h, say)
		return changed{price: c}, ok
	}
	price, ok := parseAmount(strings.TrimRight(strings.TrimSpace(p[1]), ",;"), h, say)
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

// forWhat finds an amount with what it was for behind it: 450 step, 350 - extra
// concrete, $200 for the stoop.
var forWhat = patternOf(`(?i)^([(+-]?\s*[$€£]?\s*\d[\d.,]*k?)\s*[-,:(]?\s*[a-z][a-z' &.]*[a-z]\)?$`)

// evenDash finds the dash that stands for no cents: $1,650-, 1650.-
var evenDash = patternOf(`(\d)\.?-\s*$`)

// perUnit finds what makes an amount a rate.
var perUnit = patternOf(`(?i)(?:/|\bper\b|\ba\b)\s*(?:sq\.? ?ft|s\.?f\.?|ft2?|yds?|yards?|cy|hrs?|hours?|man|load|day)\b|\d\s*(?:sf|psf|sq ft|%)(?:\s|$)`)

// isRate says, and notes, that an amount is a rate and not what a job came to.
func (r *cellReader) isRate(text string) bool {
	if !perUnit.MatchString(text) {
		return false
	}
	r.say.fail(codeNotMoney, "a rate, not an amount", "write what it came to, such as 1250.00")
	return true
}

// freeOfCharge says that something cost nothing.
var freeOfCharge = patternOf(`(?i)^(?:free|n/c|nc|no charge|no cost|nothing|gratis|zero|on us|warranty|comp(?:ed)?)$`)

// parseMoneySum reads an amount, or several that add up: 2,100 + 85.
func parseMoneySum(text string, h habit, say *remarks) (record.Cents, bool) {
	text = moneyWords.ReplaceAllString(plainSigns(text), "")
	if p := forWhat.FindStringSubmatch(text); p != nil && !rateWords.MatchString(text[len(p[1]):]) && !hedged.MatchString(strings.ToLower(text)) {
		var said remarks
		if c, ok := parseMoney(strings.TrimSpace(p[1]), h, &said); ok {
			if creditWord.MatchString(text[len(p[1]):]) && c > 0 {
				c = -c
			}
			*say = append(*say, said...)
			return c, true
		}
	}
	terms, ok := sumTerms(text)
	if !ok {
		return parseMoney(text, h, say)
	}
	var sum record.Cents
	for _, t := range terms {
		if p := forWhat.FindStringSubmatch(t); p != nil && !rateWords.MatchString(t[len(p[1]):]) {
			t = strings.TrimSpace(p[1])
		}
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
var thickEdge = patternOf(`(?i)^(.*?)\s*(?:,|w/|with|\+|&|-|and|con|/)\s*(?:(\d[^a-z]*?(?:in\b\.?|inch(?:es)?\b|cm\b|mm\b)?)\s*)?(?:thick(?:ened)?(?:en)? ?)?(?:edges?|turn ?-?downs?|haunch(?:es)?|borde?s?(?: grueso)?|lip|perimeter|footings?|ftg)\s*(?:(?:@|of|to|de)?\s*(\d.*))?$`)

// edgeAlone says that there is a thickened edge, and not how deep.
var edgeAlone = patternOf(`(?i)^([^a-z+&,/]*(?:in\b\.?)?)\s+thick(?:ened)? edges?$`)

// deepFiller are words before and behind a thickness that add nothing to it.
var deepFiller = patternOf(`(?i)^(?:nominal|nom\.?|min\.?|minimum|avg\.?|about|full)\s+|\s+(?:min\.?|minimum|all over|throughout|nominal|full|even|avg\.?|average)$`)

// edgeSaid says that a thickness speaks of its edge, in whatever order.
var edgeSaid = patternOf(`\b(?:edges?|turn ?-?downs?|haunch(?:es)?|bordes?|perimeter|footings?|ftg)\b`)

// parseThickness reads a thickness, and the depth of a thickened edge where it
// is given.
func parseThickness(text string, m measure, h habit, say *remarks) (depth amount, edge record.Number, ok bool) {
	s := gluedTo.ReplaceAllString(inFigures(strings.ToLower(plainSigns(text))), "$1 to ")
	s = edgeAlone.ReplaceAllString(deepFiller.ReplaceAllString(s, ""), "$1")
	p := thickEdge.FindStringSubmatch(s)
	if v, two := lengthsIn(s, m, h); two && len(v) == 2 && edgeSaid.MatchString(s) && v[0] > 0 && v[1] > v[0] && v[1] <= 60 && (p == nil || !beginsNumber(p[1]) || lengthCount(p[1]) != 1) {
		return amount{value: v[0], converted: m.foreign}, record.Some(v[1]), true
	}
	if p != nil && beginsNumber(p[1]) {
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

// gluedTo finds a "to" between two inches that stands too close to them.
var gluedTo = patternOf(`(\d")\s*to\s*`)

func lengthCount(s string) int { return len(lengthIn.FindAllStringIndex(s, 3)) }
