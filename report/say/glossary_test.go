package say

import (
	"maps"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// term is a word of the trade: English, and what its Spanish must hold and must not.
type term struct {
	english string
	finds   *regexp.Regexp // it in a message, in the singular or the plural
	holds   []string       // any of these, in small letters
	never   []string
	at      int // line of the glossary
}

// TestGlossaryIsKept names each message of the catalogue that has a word of the
// trade and not its Spanish, or says a word that the glossary rules out: whoever
// corrects a word in the glossary is told every place.
func TestGlossaryIsKept(t *testing.T) {
	terms, kept := glossary(t)
	used := map[string]bool{}
	said := languages["es"].messages
	for _, english := range slices.Sorted(maps.Keys(said)) {
		spanish := strings.ToLower(said[english])
		rest := strings.ToLower(named.ReplaceAllString(inCommand.ReplaceAllString(english, " "), " "))
		for _, w := range terms {
			if !w.finds.MatchString(rest) {
				continue
			}
			if !holdsAny(spanish, w.holds) && !isKept(w.english, kept[w.english], english, used) {
				t.Errorf("glossary.es.md:%d: %s is to be said as %s: %q is %q", w.at, w.english, strings.Join(w.holds, " or "), english, said[english])
			}
			for _, never := range w.never {
				if regexp.MustCompile(`(^|\PL)` + regexp.QuoteMeta(never) + `(s|es)?(\PL|$)`).MatchString(spanish) {
					t.Errorf("glossary.es.md:%d: %s is not said as %q: %q is %q", w.at, w.english, never, english, said[english])
				}
			}
			rest = w.finds.ReplaceAllString(rest, " ") // a longer word is not its parts
		}
	}
	for word, messages := range kept {
		for _, m := range messages {
			if !used[word+m] {
				t.Errorf("glossary.es.md: nothing of %q needs to be kept for %s", m, word)
			}
		}
	}
}

var inCommand = regexp.MustCompile("`[^`]*`")

func holdsAny(spanish string, beginnings []string) bool {
	return slices.ContainsFunc(beginnings, func(b string) bool { return strings.Contains(spanish, b) })
}

// isKept says whether a message is among those that are kept for a word, and notes
// that it was needed.
func isKept(word string, messages []string, english string, used map[string]bool) bool {
	at := slices.IndexFunc(messages, func(m string) bool { return strings.HasPrefix(english, m) })
	if at >= 0 {
		used[word+messages[at]] = true
	}
	return at >= 0
}

// glossary reads the words, the longest first, and the messages that are kept, by word.
func glossary(t *testing.T) (terms []term, kept map[string][]string) {
	t.Helper()
	text, err := os.ReadFile("glossary.es.md")
	if err != nil {
		t.Fatal(err)
	}
	kept = map[string][]string{}
	for i, line := range strings.Split(string(text), "\n") {
		cells := strings.Split(strings.Trim(line, "| "), "|")
		for c := range cells {
			cells[c] = strings.TrimSpace(cells[c])
		}
		switch {
		case !strings.HasPrefix(line, "|") || strings.HasPrefix(cells[0], "---") || cells[0] == "English" || cells[0] == "message":
		case len(cells) == 3 && strings.HasSuffix(line, "| |"), len(cells) == 4:
			w := term{english: cells[0], holds: strings.Split(cells[2], "/"), at: i + 1}
			if len(cells) == 4 {
				w.never = strings.Split(cells[3], ", ")
			}
			w.finds = regexp.MustCompile(`\b` + regexp.QuoteMeta(w.english) + `(s|es)?\b`)
			terms = append(terms, w)
		case len(cells) == 3:
			kept[cells[1]] = append(kept[cells[1]], cells[0])
		default:
			t.Errorf("glossary.es.md:%d: %d cells", i+1, len(cells))
		}
	}
	if len(terms) < 40 {
		t.Fatalf("only %d words were read", len(terms))
	}
	slices.SortStableFunc(terms, func(a, b term) int { return len(b.english) - len(a.english) })
	return terms, kept
}
