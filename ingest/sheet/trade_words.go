package sheet

import (
	"cmp"
	"strings"

	"pourback/ingest/record"
)

// Words of the trade as they stand in cells, for telling columns apart and for
// reading them. Each is looked for in a cell folded by [record.Fold].

// vocabularyOf is the vocabulary of a record's column.
func vocabularyOf(t *record.Table, column string) *lexicon {
	return newLexicon(t.Column(column).Words)
}

var (
	useWords    = vocabularyOf(record.Placements, "use")
	methodWords = vocabularyOf(record.Placements, "method")
	taskWords   = vocabularyOf(record.Labors, "task")
	itemWords   = vocabularyOf(record.Costs, "item")
	causeWords  = vocabularyOf(record.Delays, "cause")
)

func isUse(s string) bool    { return termIn(useWords, s) != "" }
func isMethod(s string) bool { return termIn(methodWords, s) != "" }
func isSteel(s string) bool {
	if len(s) > longestKnown || !steelRoots.MatchString(s) {
		return false
	}
	_, ok := parseSteel(s, habit{mark: '.'})
	return ok
}

// steelRoots is in every cell about reinforcement.
var steelRoots = patternOf(`#|bar|rod|mesh|wire|fib|ww|steel|iron|acero|fierro|mal|mat|roll|sheet|panel|fab|ga|poly|hair|nylon|mac|none|no|nada|sin|zero|plain|nothing|unrein|mud|concrete|\d ?[x/-] ?\d|\d ?m|[ntyhrsfa]l?\d|@|dowel|stick|deform|vari|\d/\d|n r|^0$`)

func isTask(s string) bool { return termIn(taskWords, s) != "" }
func isFinding(s string) bool {
	return foundIn(s) != ""
}
func isItem(s string) bool  { return termIn(itemWords, s) != "" }
func isCause(s string) bool { return termIn(causeWords, s) != "" }

var jointWord = patternOf(`\b(?:saw|sawn|sawed|sawcut|tooled|tool|hand|grooved?|soff?cut|early entry|oc|o c|every|each way|ew|panels?|cada)\b`)

func isJoint(s string) bool { return jointWord.MatchString(s) }

// foldWords brings the words of a cell to the form in which they are compared,
// without accents.
func foldWords(s string) string {
	return record.Fold(record.Unaccented(strings.ToLower(cleanText(plainSigns(s), true))))
}

// prepositions behind which a cell speaks of another thing: walk to patio.
var aside = patternOf(`\s+(?:to|by|at|near|behind|around|w|with|for|along|next to|in front of|off|from|con|para|junto a)\s+.*$|\s*[(,;].*$`)

// termIn is the term of the vocabulary that a cell names among other words: the
// whole of it, or else the longest word of the list that it ends in, before it
// goes on about another thing. It is "" where there is none.
func termIn(l *lexicon, folded string) string {
	if term, ok := l.terms[folded]; ok {
		return term
	}
	head := strings.TrimSpace(aside.ReplaceAllString(folded, ""))
	words := strings.Fields(strings.Trim(head, "., "))
	for len(words) > 0 && strings.Trim(words[len(words)-1], "0123456789#") == "" {
		words = words[:len(words)-1]
	}
	if term := l.lastTerm(words); term != "" {
		return term
	}
	return l.lastTerm(l.spelledOut(words))
}

// lastTerm is the term of the longest known words that stand furthest behind.
func (l *lexicon) lastTerm(words []string) string {
	for end := len(words); end > 0; end-- {
		for i := 0; i < end; i++ {
			if term, ok := l.terms[strings.Join(words[i:end], " ")]; ok {
				return term
			}
		}
	}
	return ""
}

// spelledOut puts whole words in place of abbreviations and slips of the pen,
// where only one word of the list can be meant: gar slb, drvwy, drivway.
func (l *lexicon) spelledOut(words []string) []string {
	full := make([]string, len(words))
	for i, w := range words {
		full[i] = w
		if whole := l.wholeWord(strings.Trim(w, ".,")); whole != "" {
			full[i] = whole
		}
	}
	return full
}

func (l *lexicon) wholeWord(w string) string {
	if len(w) < 3 || l.single[w] || strings.IndexFunc(w, func(r rune) bool { return r < 'a' || r > 'z' }) >= 0 {
		return ""
	}
	for _, fits := range []func(string) bool{
		func(word string) bool { return len(word) >= 5 && len(w) >= 5 && oneSlip(w, word) },
		func(word string) bool { return strings.HasPrefix(word, w) && len(word) >= len(w)+2 },
		func(word string) bool {
			return !strings.ContainsAny(w[1:], "aeiou") && len(word) > len(w) && skeleton(w, word)
		},
	} {
		if whole := cmp.Or(l.onlyWord(l.own, fits), l.onlyWord(l.words, fits)); whole != "" {
			return whole
		}
	}
	return ""
}

// onlyWord is the first of the words that fit, if all of them mean one thing.
func (l *lexicon) onlyWord(words []string, fits func(string) bool) string {
	first := ""
	for _, word := range words {
		if !fits(word) {
			continue
		}
		if first == "" {
			first = word
		} else if l.terms[word] != l.terms[first] {
			return ""
		}
	}
	return first
}

// Findings in words. Of those that say what happened the one named first counts;
// those about the surface and others count where there is none of them.
var (
	soundWords = patternOf(`\b(?:no cracks?|not cracked|sound|looks? (?:good|great|fine)|looked (?:good|fine)|all good|sin grietas?)\b`)
	eventWords = []findingWords{
		{"crack", patternOf(`crack|grieta|fisura|rajad|agriet|hairline|\bsplit|\bcr[kx]s?\b|\bcrck|\bbroke\b(?: (?:off|up|apart|across|clear|along|at|by|in|right)\b|[,.; ]*$)|fractur`)},
		{"scaling", patternOf(`\bscal(?:ed|ing|y|e|es)\b|\bspall?|\bflak|\bpop ?-?outs?\b|\bpitt(?:ed|ing)|\bpits\b|descascar|\bpeel|\bdelamin|shal(?:ing|ed)\b`)},
		{"settlement", patternOf(`settl|\bsank\b|\bsunk|sinking|\bsinks?\b|heav|asent|hundi|dropped|\bdrops?\b|uneven|trip hazard|lifted|\btilt|\bsag(?:ged|ging|s)?\b`)},
		{"ponding", patternOf(`pond|puddl|bird ?bath|standing|water stands|holds? water|holding water|won t drain|not drain|doesn t drain|charco|encharc|low spot|water sit|sits? there`)},
	}
	lesserWords = []findingWords{
		{"ponding", patternOf(`drain`)},
		{"finish", patternOf(`finish|discolo|dust|rough|blotch|color|stain|craz|acabado|mancha|surface|blister|texture|rain marks?|footprints?`)},
		{"other", patternOf(`\b(?:other|edge|chip|broken|corner|joint|caulk|curl|ruts?|mess|lawn|damage|splash|sprinkler|fence|mail ?box|siding)`)},
	}
)

type findingWords struct {
	term  string
	words *pattern
}

// foundIn is the finding that words describe, or "".
func foundIn(text string) string {
	folded := strings.ReplaceAll(foldWords(text), "'", " ")
	if soundWords.MatchString(folded) {
		return "sound"
	}
	term, first := "", len(folded)
	for _, f := range eventWords {
		if at := f.words.FindStringIndex(folded); at != nil && at[0] < first {
			term, first = f.term, at[0]
		}
	}
	for _, f := range lesserWords {
		if term == "" && f.words.MatchString(folded) {
			term = f.term
		}
	}
	return term
}
