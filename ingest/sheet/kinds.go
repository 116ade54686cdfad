package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// termAmong is the one term that words name, wherever in them it stands. Names of
// several words count before the single ones in them. It is "" where there is
// none, and several is true where there are two.
func (l *lexicon) termAmong(folded string) (term string, several bool) {
	words := strings.Fields(strings.Map(func(r rune) rune {
		if strings.ContainsRune(",;:()!", r) {
			return ' '
		}
		return r
	}, folded))
	taken := make([]bool, len(words))
	for size := min(4, len(words)); size > 0; size-- {
		for i := 0; i+size <= len(words); i++ {
			if slices.Contains(taken[i:i+size], true) {
				continue
			}
			t, ok := l.terms[strings.Join(words[i:i+size], " ")]
			if !ok {
				continue
			}
			for k := i; k < i+size; k++ {
				taken[k] = true
			}
			if term != "" && t != term {
				several = true
			}
			term = t
		}
	}
	return term, several
}

// readUse reads what a slab is for, from among other words: walk to patio, slab
// for a shed, their driveway.
func (r *cellReader) readUse(c *column, field any, text string) {
	f := field.(*string)
	if r.readShort(c, text, f) {
		return
	}
	if _, several := c.words.termAmong(foldWords(text)); several && twoUses.MatchString(text) {
		r.say.fail(codeUnknownWord, "several slabs in one row", "give each a row of its own, or say which it is")
		*f = ""
		return
	}
	*f = r.remembered(c, text, func(folded string) string {
		if term := termIn(c.words, folded); term != "" {
			return term
		}
		if term, several := c.words.termAmong(folded); !several {
			return term
		}
		return ""
	})
}

// twoUses finds what joins two things on a footing, as with and by do not.
var twoUses = patternOf(`(?i)[&+]|\band\b|\by\b|[a-z]{3}\s?/\s?[a-z]{3}`)

// methodStems are the beginnings of words that name a method.
var methodStems = []struct{ stem, term string }{
	{"pump", "pump"}, {"boom", "pump"}, {"bomb", "pump"}, {"bugg", "buggy"}, {"barrow", "barrow"}, {"wheelbar", "barrow"}, {"whlb", "barrow"}, {"whl", "barrow"}, {"wheelb", "barrow"}, {"carret", "barrow"}, {"convey", "conveyor"}, {"belt", "conveyor"},
	{"chute", "chute"}, {"tailgat", "chute"}, {"canal", "chute"}}

// methodIn is the one method that words name: had it pumped, rented the buggy,
// wheelbarrows, all of it. A truck alone is its chute; beside another method it is
// only where the concrete came from.
func methodIn(l *lexicon, folded string) string {
	if term, ok := l.terms[folded]; ok {
		return term
	}
	var named []string
	before, denied := "", false
	for _, w := range strings.FieldsFunc(folded, func(r rune) bool { return strings.ContainsRune(" ,;:()&+", r) }) {
		no := before == "no" || before == "not" || before == "without" || before == "sin"
		before = w
		for _, s := range methodStems {
			if denied = denied || no && strings.HasPrefix(w, s.stem); no {
				continue
			}
			if strings.HasPrefix(w, s.stem) && !slices.Contains(named, s.term) {
				named = append(named, s.term)
			}
		}
	}
	switch term, several := l.termAmong(folded); {
	case len(named) == 1:
		return named[0]
	case len(named) > 1, several, denied:
		return ""
	case term != "":
		return term
	}
	return termIn(l, folded)
}

func (r *cellReader) readMethod(c *column, field any, text string) {
	f := field.(*string)
	if c.asks {
		switch folded := strings.ToLower(plainSigns(text)); {
		case yesCallback.MatchString(folded):
			*f = "pump"
			return
		case noCallback.MatchString(folded):
			*f = ""
			return
		}
	}
	if r.readShort(c, text, f) {
		return
	}
	if p := notPumped.FindStringSubmatch(text); p != nil {
		text = p[1] // no - buggy
	}
	if p := pumpedBy.FindStringSubmatch(text); p != nil && methodIn(c.words, foldWords(p[1])) == "" {
		*f = "pump" // yes - Tanager
		r.spill("pump_outfit", setText(p[1]))
		return
	}
	*f = r.remembered(c, text, func(folded string) string { return methodIn(c.words, folded) })
}

// Answers to whether a pump was there, with what there was in its place, or whose
// it was.
var (
	notPumped = patternOf(`(?i)^\s*(?:no?|nope)\s*[-–:,;(/]\s*([a-z].*?)\)?\s*$`)
	pumpedBy  = patternOf(`^\s*(?:[Yy]|[Yy]es|YES|[Yy]ep)\s*[-–:,;(/]\s*([A-Za-z][A-Za-z' &]*?)\)?\s*$`)
)

// anyTerm is the term that a cell's words name, or else the first of its words
// that is one.
func (c *column) anyTerm(folded string) string {
	if term := termIn(c.words, folded); term != "" {
		return term
	}
	for _, word := range strings.Fields(folded) {
		if term, ok := c.words.terms[word]; ok {
			return term
		}
	}
	return ""
}

// readShort reads a short word whose meaning the others of the column give.
func (r *cellReader) readShort(c *column, text string, f *string) bool {
	term, ok := c.shorts[codeKey(text)]
	if ok {
		*f = term
	}
	return ok
}

// codeKey is a code as it is looked up.
func codeKey(text string) string { return record.Fold(strings.Trim(plainSigns(text), ".()[] ")) }
