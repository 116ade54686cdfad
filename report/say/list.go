package say

import (
	"strings"

	"pourback/ingest/record"
)

// List joins words: "a, b and c".
func (v *Voice) List(words []string) string { return v.joined(words, "{first} and {last}") }

// Either joins words of which one holds: "a, b or c".
func (v *Voice) Either(words []string) string { return v.joined(words, "{first} or {last}") }

func (v *Voice) joined(words []string, message string) string {
	if n := len(words); n > 1 {
		return v.say(message, with{"first": strings.Join(words[:n-1], ", "), "last": words[n-1]})
	}
	return strings.Join(words, "")
}

// Word is a word of the records' vocabularies, such as driveway or chute, in the
// language; what is no such word is a name and said as it stands.
func (v *Voice) Word(word string) string {
	if !vocabulary[word] {
		return Clean(word, ShortName)
	}
	return v.text(word)
}

// Named is a name from the records, or "unknown" where none was recorded.
func (v *Voice) Named(name string) string {
	if name == "" || name == "unknown" {
		return v.text("unknown")
	}
	return Clean(name, ShortName)
}

// vocabulary are the words of all vocabularies.
var vocabulary = func() map[string]bool {
	words := map[string]bool{}
	for _, t := range record.Tables {
		for _, c := range t.Columns {
			if c.Words == nil {
				continue
			}
			for _, w := range c.Words.Words {
				words[w] = true
			}
		}
	}
	return words
}()

// ItTakes says what a page that has nothing to say yet would take.
func (v *Voice) ItTakes(takes string) string { return v.say("It takes {what}.", with{"what": takes}) }
