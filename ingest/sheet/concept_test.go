package sheet

import (
	"strings"
	"testing"
)

// TestVocabularyIsUnambiguous holds every phrase to one concept: turned about,
// the vocabulary would otherwise depend on the order of a map.
func TestVocabularyIsUnambiguous(t *testing.T) {
	of := map[string]string{}
	for concept, list := range vocabulary {
		for _, phrase := range strings.Fields(list) {
			phrase = strings.TrimSuffix(phrase, "?")
			if other, taken := of[phrase]; taken {
				t.Errorf("%q is a word of %s and of %s", phrase, other, concept)
			}
			of[phrase] = concept
		}
	}
}
