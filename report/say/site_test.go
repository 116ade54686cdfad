package say

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestSpanishSaysTheWholeSite: every message of the site is in the catalogue.
func TestSpanishSaysTheWholeSite(t *testing.T) {
	said, met := languages["es"].messages, 0
	for _, m := range messages(t) {
		if !strings.HasPrefix(filepath.Base(m.at.Filename), "site") {
			continue
		}
		if met++; said[m.text] == "" {
			t.Errorf("%s: %q has no Spanish", m.at, m.text)
		}
	}
	if met < 80 {
		t.Errorf("only %d messages of the site were found", met)
	}
}

// TestSiteIsSaidBriefly: no sentence of the site is long (WORDS: read on a phone at six
// in the morning).
func TestSiteIsSaidBriefly(t *testing.T) {
	for _, m := range messages(t) {
		if !strings.HasPrefix(filepath.Base(m.at.Filename), "site") {
			continue
		}
		for _, form := range strings.Split(m.text, "|") {
			for sentence := range strings.SplitSeq(form, ". ") {
				if n := len(strings.Fields(sentence)); n > 25 {
					t.Errorf("%s: a sentence of %d words: %q", m.at, n, sentence)
				}
			}
		}
	}
}
