package page

import (
	"regexp"
	"strings"
	"testing"

	"pourback/analysis/setting"
	"pourback/report/internal/trial"
)

// TestPlainWords: of all sentences outside tables at most 6 % have over 25 words, and
// nine in ten read at grade 9 or below by the formula of Kincaid et al. (1975,
// Research Branch Report 8-75): 0.39 words a sentence + 11.8 syllables a word −
// 15.59. Syllables are counted by groups of vowels, a rule of thumb from memory.
func TestPlainWords(t *testing.T) {
	f := trial.FactorsOf(t, trial.Company(t), setting.Options{Visits: setting.VisitOptions{Asked: true}})
	seen := map[string]bool{}
	long, hard := []string{}, []string{}
	for _, p := range Pages(f, Options{WithSites: true, Bids: trial.SomeBids("Lot 14", "J-1")}) {
		for _, text := range outsideTables(p) {
			for _, s := range sentences(text) {
				words := strings.Fields(s)
				if len(words) < 3 || seen[s] {
					continue
				}
				seen[s] = true
				if len(words) > 25 {
					long = append(long, p.Slug+": "+s)
				}
				if gradeOf(words) > 9 {
					hard = append(hard, p.Slug+": "+s)
				}
			}
		}
	}
	all := len(seen)
	t.Logf("%d sentences: %.1f%% over 25 words, %.1f%% above grade 9", all, 100*float64(len(long))/float64(all), 100*float64(len(hard))/float64(all))
	if 100*len(long) > 6*all {
		t.Errorf("%d of %d sentences have over 25 words:\n%s", len(long), all, strings.Join(long, "\n"))
	}
	if 10*len(hard) > all {
		t.Errorf("%d of %d sentences read above grade 9:\n%s", len(hard), all, strings.Join(hard, "\n"))
	}
}

// outsideTables is what a page says but in its tables.
func outsideTables(p Page) []string {
	said := append([]string{p.Answer, p.Basis, p.Reading, p.Decides}, p.Do...)
	said = append(append(said, p.Notes...), p.Method...)
	for _, c := range p.Cautions {
		said = append(said, c.Text)
	}
	for _, tile := range p.Tiles {
		said = append(said, tile.Says)
		if tile.Picture != nil {
			said = append(said, tile.Picture.Says)
		}
	}
	for _, e := range p.Exhibits {
		said = append(said, e.Says)
		if e.Chart != nil {
			said = append(said, e.Chart.Says, e.Chart.Why)
		}
	}
	return said
}

func gradeOf(words []string) float64 {
	n := 0
	for _, w := range words {
		n += syllables(w)
	}
	return 0.39*float64(len(words)) + 11.8*float64(n)/float64(len(words)) - 15.59
}

var (
	silent = regexp.MustCompile(`(?:[^laeiouy]es|ed|[^laeiouy]e)$`)
	vowels = regexp.MustCompile(`[aeiouy]{1,2}`)
	others = regexp.MustCompile(`[^a-z]`)
)

// syllables are those of a word; a number counts as one.
func syllables(word string) int {
	w := others.ReplaceAllString(strings.ToLower(word), "")
	if len(w) <= 3 {
		return 1
	}
	return max(1, len(vowels.FindAllString(strings.TrimPrefix(silent.ReplaceAllString(w, ""), "y"), -1)))
}

// TestGrades holds the measure to sentences of known kinds.
func TestGrades(t *testing.T) {
	for s, want := range map[string][2]float64{
		"The cat sat on the mat.":                               {-2, 1}, // a primer's
		"Order nine yards for the next driveway off the chute.": {2, 6},
		"The comparative evaluation of heterogeneous observational estimators necessitates considerable methodological sophistication.": {25, 45},
	} {
		if got := gradeOf(strings.Fields(s)); got < want[0] || got > want[1] {
			t.Errorf("%q reads at grade %.1f, want %v", s, got, want)
		}
	}
}
