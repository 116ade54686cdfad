package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// Numbers as cells bear them among words: 7, 7.5, 4 1/2, 4-1/2, 4½, .5, ½.
const numeralForm = `(?:\d+(?:[.,]\d+)?(?:[ -]\d+/\d+|/\d+| ?[½⅓⅔¼¾⅛⅜⅝⅞])?|[.,]\d+|[½⅓⅔¼¾⅛⅜⅝⅞])`

const (
	footForm = `(?:'|ft\b\.?|feet\b|foot\b|pies?\b)`
	inchForm = `(?:"|in\b\.?|inch(?:es)?\b|pulg(?:adas)?\b\.?)`
)

// lengthIn finds a length among words: 18, 18", 2 ft, 1'-6", 45 cm.
var lengthIn = patternOf(`(?:` + numeralForm + `\s*` + footForm + `\s*-?\s*` + numeralForm + `\s*` + inchForm + `|` + numeralForm + `\s*(?:` + footForm + `|` + inchForm + `|-(?:inch|foot)\b|cms?\b\.?|mms?\b\.?|m\b|met(?:er|re)s?\b)?)`)

// pairIn finds two lengths that multiply.
var pairIn = patternOf(`(` + lengthIn.String() + `)\s*(?:[x×*]|\bby\b|\bpor\b)\s*(` + lengthIn.String() + `)`)

// lengthsIn are the lengths of a text in the measure's unit, one of each that it
// names. It is false where a number is none.
func lengthsIn(s string, m measure, h habit) (found []float64, ok bool) {
	for _, at := range lengthIn.FindAllStringIndex(s, 6) {
		q := quantityReader{m: m, h: h}
		text := strings.Replace(strings.Replace(s[at[0]:at[1]], "-inch", " inch", 1), "-foot", " foot", 1)
		a, err := q.terms(strings.TrimSpace(text))
		if err != nil {
			return nil, false
		}
		if v := twelveDigits(a.value); !slices.Contains(found, v) {
			found = append(found, v)
		}
	}
	return found, true
}

// hedged says whether words leave open whether what a cell says is so.
var hedged = patternOf(`\b(?:ask|see|or|maybe|not sure|unsure|unless|supposed|per (?:plan|dwg|drawings?|engr?|spec)|dwg|drawing|call|tbd|varies|various|n't|forgot|lost|somewhere)\b`)

// spelled are numbers as words.
var spelled = map[string]string{"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6", "seven": "7", "eight": "8", "nine": "9", "ten": "10", "eleven": "11", "twelve": "12", "fourteen": "14", "fifteen": "15", "sixteen": "16", "eighteen": "18", "twenty": "20", "twenty-four": "24", "twenty four": "24",
	"uno": "1", "dos": "2", "tres": "3", "cuatro": "4", "cinco": "5", "seis": "6", "siete": "7", "ocho": "8", "nueve": "9", "diez": "10"}

var (
	spelledWord = patternOf(`\b(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|fourteen|fifteen|sixteen|eighteen|twenty[- ]four|twenty|uno|dos|tres|cuatro|cinco|seis|siete|ocho|nueve|diez)\b`)
	andAHalf    = patternOf(`(\d)\s*(?:and|&|y)\s*(?:a\s*)?(?:half|1/2|media?)\b|(\d)\s*(?:and|&)\s*(?:a\s*quarter|1/4)\b|(\d)\s*(?:and|&)\s*(?:3 quarters|3/4)\b`)
	eighths     = patternOf(`\b([1357])[ -]?eighths?\b`)
	quarters    = patternOf(`\b3[ -]?quarters?\b`)
	halves      = patternOf(`\b(?:a |an? )?half(?: an?| of an?)?\b|\bmedia\b`)
	aQuarter    = patternOf(`\b(?:a |an? )?(?:quarter|qtr)\b(?: of)?(?: an?)?\b`)
)

// inFigures puts figures in place of numbers in words: half-inch, number four,
// one and a half, three-eighths. The text is in lower case.
func inFigures(s string) string {
	if strings.IndexFunc(s, func(r rune) bool { return r >= 'a' && r <= 'z' }) < 0 {
		return s
	}
	s = spelledWord.ReplaceAllStringFunc(s, func(w string) string { return spelled[w] })
	s = andAHalf.ReplaceAllStringFunc(s, func(w string) string {
		switch {
		case strings.Contains(w, "3 q"), strings.Contains(w, "3/4"):
			return w[:1] + " 3/4"
		case strings.Contains(w, "quarter"), strings.Contains(w, "1/4"):
			return w[:1] + " 1/4"
		}
		return w[:1] + " 1/2"
	})
	s = eighths.ReplaceAllString(s, "$1/8")
	s = quarters.ReplaceAllString(s, "3/4")
	s = halves.ReplaceAllString(s, "1/2")
	return aQuarter.ReplaceAllString(s, "1/4")
}

// plainLower is a cell's text as words are looked for in it: plain signs, no
// accents, lower case.
func plainLower(text string) string {
	return record.Unaccented(strings.ToLower(strings.TrimSpace(plainSigns(text))))
}

// inches is the measure of a length in inches.
var inches = ownUnit(record.Inch)
