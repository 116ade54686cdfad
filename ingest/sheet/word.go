package sheet

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// lexicon is a column's vocabulary, ready for looking up.
type lexicon struct {
	*record.Vocabulary
	terms map[string]string // word as folded → term
	order map[string]int    // term → its place in the vocabulary

	own    []string        // the single words of the terms
	words  []string        // the single words of all phrases that have a vowel, sorted
	single map[string]bool // the same, and those without
}

func newLexicon(v *record.Vocabulary) *lexicon {
	l := &lexicon{Vocabulary: v, terms: map[string]string{}, order: map[string]int{}, single: map[string]bool{}}
	for word, term := range v.Synonyms {
		l.terms[record.Fold(word)] = term
	}
	for i, term := range v.Words {
		l.terms[record.Fold(term)] = term
		l.order[term] = i
		l.own = append(l.own, strings.Fields(record.Fold(term))...)
	}
	for phrase := range l.terms {
		for _, w := range strings.Fields(phrase) {
			l.single[w] = true
		}
	}
	for _, w := range slices.Sorted(maps.Keys(l.single)) {
		if strings.ContainsAny(w[1:], "aeiou") && len(w) > 3 {
			l.words = append(l.words, w)
		}
	}
	return l
}

// maxWordChars is the longest new word that an open list takes.
const maxWordChars = 40

// parseWord reads a word of the list, or several joined where the list allows
// it. The term is "" where the cell says nothing.
func (l *lexicon) parseWord(text string, say *remarks) (term string, ok bool) {
	s := cleanText(plainSigns(text), true)
	folded := record.Fold(s)
	if term, ok := l.terms[folded]; ok {
		return term, true
	}
	switch {
	case isMissingWord(s) || isMissingWord(folded):
		return "", true
	case l.Joined:
		return l.parseJoined(s, say)
	case l.Open:
		return l.newWord(folded, say)
	}
	say.fail(codeUnknownWord, "not recognized", l.suggest(folded))
	return "", false
}

var joiner = patternOf(`(?i)\s*(?:[+&,;/]|\band\b|\bwith\b|\bw/)\s*`)

// parseJoined reads several words joined by + or and. They come out in the
// vocabulary's order.
func (l *lexicon) parseJoined(s string, say *remarks) (string, bool) {
	var found []string
	for _, word := range joiner.Split(s, -1) {
		folded := record.Fold(word)
		if folded == "" {
			continue
		}
		term, ok := l.terms[folded]
		if !ok {
			say.fail(codeUnknownWord, fmt.Sprintf("%q is not recognized", word), l.suggest(folded))
			return "", false
		}
		found = append(found, term)
	}
	slices.SortFunc(found, func(a, b string) int { return l.order[a] - l.order[b] })
	found = slices.Compact(found)
	if len(found) > 1 && slices.Contains(found, "none") {
		say.fail(codeNoneAndMore, "none together with something else", "either none, or what there is")
		return "", false
	}
	return strings.Join(found, "+"), true
}

// newWord takes a word that an open list does not know.
func (l *lexicon) newWord(folded string, say *remarks) (string, bool) {
	if len([]rune(folded)) > maxWordChars {
		say.fail(codeTooLong, fmt.Sprintf("longer than %d characters", maxWordChars), "a word or two, such as "+l.Words[0])
		return "", false
	}
	if !strings.ContainsFunc(folded, unicode.IsLetter) {
		say.fail(codeUnknownWord, "not a word", l.suggest(folded))
		return "", false
	}
	if near := l.nearest(folded); near != "" {
		say.warn(codeLikeKnown, "a new word much like a known one", fmt.Sprintf("did you mean %s? kept as %s", near, folded))
	} else {
		say.warn(codeNewWord, "a new word", "kept as "+folded)
	}
	return folded, true
}

// suggest offers the nearest word, or else the whole list.
func (l *lexicon) suggest(folded string) string {
	list := strings.Join(l.Words[:len(l.Words)-1], ", ") + " or " + l.Words[len(l.Words)-1]
	if near := l.nearest(folded); near != "" {
		return fmt.Sprintf("did you mean %s? it can be %s", near, list)
	}
	return "it can be " + list
}

// nearest is the term of the known word that lies within a slip or two of the
// one given, or "".
func (l *lexicon) nearest(folded string) string {
	word, changes := record.Nearest(folded, slices.Sorted(maps.Keys(l.terms)))
	if len(folded) < 3 || changes > 1+(len(folded)-1)/5 {
		return ""
	}
	return l.terms[word]
}

var yeses = map[string]record.Flag{"yes": record.Yes, "y": record.Yes, "true": record.Yes, "t": record.Yes, "1": record.Yes, "x": record.Yes, "✓": record.Yes, "✔": record.Yes, "on": record.Yes,
	"no": record.No, "n": record.No, "false": record.No, "f": record.No, "0": record.No, "none": record.No, "off": record.No}

// parseFlag reads yes or no.
func parseFlag(text string, say *remarks) (record.Flag, bool) {
	s := plainSigns(text)
	if f, ok := yeses[strings.ToLower(s)]; ok {
		return f, true
	}
	if isMissingWord(s) {
		return 0, true
	}
	say.fail(codeNotFlag, "neither yes nor no", "write yes or no")
	return 0, false
}
