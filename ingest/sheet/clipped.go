package sheet

import (
	"slices"
	"strings"
	"sync"
	"unicode"
)

// Words of headings that stand in no vocabulary: cut short (deliv), without
// their vowels (dlvrd), with a slip in them (thicknes), or glued of several
// (PLCDATE, CYRECD).

// inference is what a word may stand for, and how plainly it does.
type inference struct {
	concepts []string
	plain    float64
	word     string
}

// inferences remembers what words were found to stand for.
var inferences = struct {
	sync.Mutex
	known map[string][]inference
}{known: map[string][]inference{}}

// mostInferences bounds what is remembered.
const mostInferences = 4000

// inferred is what an unknown word stands for: one thing, or that of each of
// its parts. A word that stands for nothing comes back without concepts.
func inferred(w string) []inference {
	inferences.Lock()
	defer inferences.Unlock()
	if found, ok := inferences.known[w]; ok {
		return found
	}
	if len(inferences.known) >= mostInferences {
		clear(inferences.known)
	}
	found := infer(w)
	inferences.known[strings.Clone(w)] = found
	return found
}

func infer(w string) []inference {
	nothing := []inference{{word: w}}
	if found := twoLetterConcepts(w); found != nil {
		return []inference{{found, twoPlain, w}}
	}
	if len(w) < 3 || len(w) > longestGlued || strings.IndexFunc(w, func(r rune) bool { return !unicode.IsLetter(r) }) >= 0 {
		return nothing
	}
	if parts := unglue(w, false); parts != nil {
		return parts
	}
	if concepts, plain := guessWord(w); concepts != nil {
		return []inference{{concepts, plain, w}}
	}
	if parts := unglue(w, true); parts != nil {
		return parts
	}
	return nothing
}

// guessWord knows a word that is cut short, without its vowels or with a slip in
// it; it may stand for two or three things.
func guessWord(w string) (concepts []string, plain float64) {
	for _, way := range []struct {
		plain float64
		fits  func(word string) bool
	}{
		{0.85, func(word string) bool { return strings.HasPrefix(word, w) }},
		{0.8, func(word string) bool { return len(w) >= 5 && len(word) >= 5 && oneSlip(w, word) }},
		{0.8, func(word string) bool {
			return len(w) >= 4 && len(word) > len(w) && w[0] == word[0] && consonants(w) == consonants(word) && subsequence(w, word)
		}},
		{0.7, func(word string) bool {
			bare := !strings.ContainsAny(w[1:], "aeiou") || len(w) == 3
			return len(word) > len(w) && (bare && skeleton(w, word) || len(w) >= 5 && clipped(w, word))
		}},
	} {
		switch found := conceptsThat(way.fits); len(found) {
		case 0:
		case 1:
			return found, way.plain
		case 2, 3:
			if len(found) == 3 && len(w) < 4 {
				return nil, 0
			}
			return found, way.plain - 0.25
		default:
			return nil, 0
		}
	}
	return nil, 0
}

// conceptsThat are the concepts of all single words that fit.
func conceptsThat(fits func(word string) bool) []string {
	var found []string
	for word, concepts := range lexis {
		if concepts[0] == filler || strings.Contains(word, " ") || !fits(word) {
			continue
		}
		for _, c := range concepts {
			if !slices.Contains(found, c) {
				found = append(found, c)
			}
		}
	}
	slices.Sort(found)
	return found
}

// twoPlain is how plainly two letters speak: they begin many words, and what
// stands below them decides.
const twoPlain = 0.3

// twoLetterConcepts are the concepts of all words that two letters can be cut from:
// the first and a later consonant, as in Nm and Jb.
func twoLetterConcepts(w string) []string {
	if len(w) != 2 || strings.Trim(w, "abcdefghijklmnopqrstuvwxyz") != "" || strings.ContainsAny(w[1:], "aeiou") {
		return nil
	}
	return conceptsThat(func(word string) bool {
		return len(word) >= 3 && len(word) <= 9 && word[0] == w[0] && strings.IndexByte(word[1:], w[1]) >= 0
	})
}

// skeleton says whether the letters of short stand in long in their order, the
// first at its beginning and the last among its last two consonants.
func skeleton(short, long string) bool {
	if short[0] != long[0] || len(long) > 4*len(short) {
		return false
	}
	at := 0
	for i := range len(short) {
		k := strings.IndexByte(long[at:], short[i])
		if k < 0 {
			return false
		}
		at += k + 1
	}
	return len(long)-at <= 2
}

// consonants are the letters of a word that a hasty hand leaves in.
var consonants = strings.NewReplacer("a", "", "e", "", "i", "", "o", "", "u", "").Replace

// subsequence says whether the letters of short stand in long in their order.
func subsequence(short, long string) bool {
	at := 0
	for i := 0; i < len(long) && at < len(short); i++ {
		if long[i] == short[at] {
			at++
		}
	}
	return at == len(short)
}

// clipped says whether short is long with some letters left out behind its first
// three: foremn, locatn, contrct.
func clipped(short, long string) bool {
	return len(long) <= len(short)+4 && short[:3] == long[:min(3, len(long))] && skeleton(short, long)
}

// longestGlued is more than people glue together.
const longestGlued = 24

// twoLetters are the short words that glued headings are made of.
var twoLetters = strings.Fields("cy yd sf ft in hr no dt cb jt by on qt yn co sz id")

// unglue parts a word into words of the vocabulary so that as few letters as
// possible are left over, by dynamic programming; nil where it is no such word.
// loosely takes parts that are cut short, and two letters that say nothing.
func unglue(w string, loosely bool) []inference {
	type best struct {
		points float64
		from   int
		inference
	}
	const never = -1e9
	at := make([]best, len(w)+1)
	for end := 1; end <= len(w); end++ {
		at[end].points = never
		for from := max(0, end-12); from < end; from++ {
			part, points := partOf(w[from:end], loosely)
			if points += at[from].points; at[from].points > never && points > at[end].points {
				at[end] = best{points, from, part}
			}
		}
	}
	n := float64(len(w))
	if last := at[len(w)]; last.points < 0.7*n || last.from == 0 {
		return nil
	}
	var parts []inference
	known := false
	for end := len(w); end > 0; end = at[end].from {
		parts = append(parts, at[end].inference)
		known = known || end-at[end].from >= 3 && (at[end].plain >= 0.9 || end-at[end].from >= 4)
	}
	if !known {
		return nil
	}
	slices.Reverse(parts)
	return parts
}

// partOf is what a part of a glued word stands for, and what speaks for it.
func partOf(part string, loosely bool) (inference, float64) {
	n := float64(len(part))
	if concepts := lexis[part]; concepts != nil && (len(part) > 2 || slices.Contains(twoLetters, part)) {
		return inference{concepts, 0.95, part}, 2*n - 2
	}
	switch {
	case !loosely:
	case len(part) >= 3:
		if concepts, plain := guessWord(part); concepts != nil {
			return inference{concepts, plain - 0.1, part}, 1.5*n - 2
		}
	case len(part) == 2:
		return inference{word: part}, -1.5
	}
	return inference{}, -1e9
}
