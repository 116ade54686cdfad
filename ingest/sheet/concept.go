package sheet

import (
	"maps"
	"math"
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// A heading is understood by its parts: each word of it stands for a concept,
// such as volume, plan or cost, and a column is known by the concepts that speak
// for it and against it (affinity.go). Words that mean several things are
// concepts of their own: "back" may be concrete that went back or a call back.

// senseless are the concepts whose words say nothing about a column.
const filler = "filler"

// lexis is the vocabulary turned about: phrase → the concepts that it may stand
// for, in alphabetical order.
var lexis, longestPhrase = turnAbout()

func turnAbout() (map[string][]string, int) {
	words, longest := map[string][]string{}, 1
	for _, concept := range slices.Sorted(maps.Keys(vocabulary)) {
		for _, phrase := range strings.Fields(vocabulary[concept]) {
			phrase = strings.ReplaceAll(strings.TrimSuffix(phrase, "?"), "-", " ")
			if !slices.Contains(words[phrase], concept) {
				words[phrase] = append(words[phrase], concept)
			}
			longest = max(longest, strings.Count(phrase, " ")+1)
		}
	}
	return words, longest
}

// sense is a concept that a heading bears, and how plainly: 1 for a word of the
// vocabulary, less for an abbreviation or a slip of the pen, and half for what
// stands in the row above.
type sense struct {
	concept string
	plain   float64
	word    string
	or      []string // what else the word may stand for
}

// concepts are all that a sense may stand for.
func (s *sense) concepts() []string { return append([]string{s.concept}, s.or...) }

// groupMark parts the heading of a group from those below it.
const groupMark = " / "

// headingParts are the heading of a group, "" where there is none, and the
// heading itself, without the unit that a row below it holds.
func headingParts(heading, unit string) (group, own string) {
	if unit != "" {
		heading = strings.TrimSuffix(heading, groupMark+unit)
	}
	group, own, grouped := strings.Cut(heading, groupMark)
	if !grouped {
		return "", heading
	}
	return group, own
}

// sensesOf takes a heading apart.
func sensesOf(heading, unit string) []sense {
	group, own := headingParts(heading, unit)
	found := phraseSenses(headingTokens(own), 1)
	if group != "" {
		found = append(found, phraseSenses(headingTokens(group), 0.5)...)
	}
	if s := strings.Trim(unit, "()[]. "); s != "" && !knownUnit(s) && writtenOrder(headingWords(s)) == nil {
		for _, s := range phraseSenses(headingTokens(unit), 0.5) {
			if s.concept != "" {
				found = append(found, s)
			}
		}
	}
	return found
}

func phraseSenses(tokens []string, weight float64) []sense {
	var found []sense
	add := func(concepts []string, plain float64, word string) {
		if len(concepts) == 0 {
			if isLetterWord(word) {
				found = append(found, sense{plain: weight, word: word})
			}
		} else if concepts[0] != filler && !slices.ContainsFunc(found, func(s sense) bool { return s.concept == concepts[0] && len(s.or) == len(concepts)-1 }) {
			found = append(found, sense{concepts[0], plain * weight, word, concepts[1:]})
		}
	}
	for i := 0; i < len(tokens); {
		if tokens[i] == "del" && i > 0 && i+1 < len(tokens) { // Fecha del colado
			i++
			continue
		}
		n := min(longestPhrase, len(tokens)-i)
		for ; n > 0; n-- {
			if concepts := exactly(strings.Join(tokens[i:i+n], " ")); len(concepts) > 0 {
				add(concepts, 1, strings.Join(tokens[i:i+n], " "))
				break
			}
		}
		if n == 0 {
			for _, m := range inferred(tokens[i]) {
				add(m.concepts, m.plain, m.word)
			}
			n = 1
		}
		i += n
	}
	return found
}

// exactly are the concepts of a phrase of the vocabulary, or of its plural.
func exactly(phrase string) []string {
	if concepts := lexis[phrase]; len(concepts) > 0 || len(phrase) <= 3 {
		return concepts
	}
	return lexis[strings.TrimSuffix(phrase, "s")]
}

func isLetterWord(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) >= 0 }

var plainLetters = strings.NewReplacer("²", "2", "³", "3", "º", "", "ª", "",
	"°f", " degf ", "°c", " degc ", "°", " deg ", "w/o", " without ", "w/", " with ", "#", " # ", "$", " $ ", "@", " @ ", "%", " % ", "o.c.", " oc ", "o.c", " oc ", "c.o.", " co ", "p.o.", " po ", "s.f.", " sf ", "c.y.", " cy ")

// headingTokens are the words and signs of a heading, in lower case and without
// accents.
func headingTokens(heading string) []string {
	if len(heading) > longestHeading {
		return nil
	}
	s := plainLetters.Replace(record.Unaccented(strings.ToLower(splitCamel(heading))))
	var tokens []string
	for _, w := range strings.FieldsFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune("()[]{}:,;*?!\"'|=<>.-_&+–—", r) || isInvisible(r)
	}) {
		tokens = append(tokens, slashed(w)...)
	}
	return tokens
}

// slashed parts $/hr and Mesh/Rebar at the stroke; behind a money sign or before
// a unit the stroke means per.
func slashed(w string) []string {
	parts := strings.Split(w, "/")
	switch {
	case len(parts) == 1:
		return parts
	case w == "c/o" || w == "c/os":
		return []string{"change", "orders"}
	}
	var tokens []string
	for i, p := range parts {
		if i > 0 && (parts[i-1] == "" || slices.Contains(perUnits, p)) {
			tokens = append(tokens, "/")
		}
		if p != "" {
			tokens = append(tokens, p)
		}
	}
	return tokens
}

var perUnits = []string{"hr", "hour", "h", "yd", "cy", "sf", "sqft", "m2", "m3", "ft", "man", "hora", "yard", "ea"}

func splitCamel(s string) string {
	var b strings.Builder
	var last rune
	for _, r := range s {
		if unicode.IsUpper(r) && unicode.IsLower(last) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

// oneSlip says whether a letter too many, too few or another parts the words.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 || a[0] != b[0] {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return a[min(i+1, len(a)):] == b[min(i+1, len(b)):] || i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	}
	return a[i:] == b[i+1:]
}

// affinity is how much the senses of a heading speak for a column. A word of
// several meanings speaks as that of them which suits the column best.
func affinity(senses []sense, column map[string]float64) float64 {
	sum, best := 0.0, 0.0
	for i := range senses {
		w := speaks(&senses[i], column)
		sum += w * senses[i].plain
		best = max(best, w*senses[i].plain)
	}
	if best == 0 {
		return math.Min(sum, 0)
	}
	return sum
}

func speaks(s *sense, column map[string]float64) float64 {
	if s.concept == "" {
		return -0.5
	}
	best := math.Inf(-1)
	for _, concept := range s.concepts() {
		w, listed := column[concept]
		if !listed {
			w = against(concept)
		}
		best = max(best, w)
	}
	return best
}

// against is what a concept takes from a column that does not know it: little
// where it goes with anything.
func against(concept string) float64 {
	switch concept {
	case "who", "how", "what", "by", "took", "made":
		return -0.5
	case "job", "total", "slab", "num", "pour", "our", "name":
		return -1.5
	case "vol", "date", "money2", "profit", "contact", "invoice", "per", "plant", "color", "percent":
		return -6
	}
	return -4
}
