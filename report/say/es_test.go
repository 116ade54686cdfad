package say

import (
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// TestSpanishIsOfOurMessages: each entry of the catalogue is a message or a word
// that is said somewhere, and holds the same values and as many forms.
func TestSpanishIsOfOurMessages(t *testing.T) {
	known := map[string]bool{}
	for _, m := range messages(t) {
		known[m.text] = true
	}
	for _, month := range months {
		known[month] = true
	}
	for _, passed := range []string{"{first} and {last}", "{first} or {last}", "{low} to {high}"} {
		known[passed] = true // by the machinery, which passes messages on
	}
	for english, said := range languages["es"].messages {
		if !known[english] && !vocabulary[english] {
			t.Errorf("nothing says %q", english)
		}
		if got, want := namesOf(said), namesOf(english); !slices.Equal(got, want) {
			t.Errorf("%q holds %v, its English %v", said, got, want)
		}
		if strings.Count(said, "|") != strings.Count(english, "|") {
			t.Errorf("%q has other forms than %q", said, english)
		}
	}
}

func namesOf(message string) (names []string) {
	for _, found := range named.FindAllStringSubmatch(message, -1) {
		names = append(names, found[1])
	}
	slices.Sort(names)
	return slices.Compact(names)
}

// TestSpanishSaysTheWholePourDaySheet: every message of the crew's sheet, of the
// customer's proposal and of the dangers, and every word of the vocabularies on it, is in the catalogue.
func TestSpanishSaysTheWholePourDaySheet(t *testing.T) {
	said := languages["es"].messages
	design := New("", "", "")
	never := design.Caution(NoDesign) // the sheet says it in a sentence of its own
	whole := regexp.MustCompile(`^(caution|calendar|pourday.*|proposal.*)\.go$`)
	ofClock := strings.Fields("Time Until ClockNote airNote Stage SawKind Mix Slump AirContent FiberDose Admixtures TruckLoad")
	for _, m := range messages(t) {
		file := filepath.Base(m.at.Filename)
		if m.text == never || !whole.MatchString(file) && !(strings.HasPrefix(file, "clock") && slices.Contains(ofClock, m.in)) {
			continue
		}
		if said[m.text] == "" {
			t.Errorf("%s: %q has no Spanish", m.at, m.text)
		}
	}
	for _, at := range []struct {
		table  *record.Table
		column string
	}{{record.Placements, "use"}, {record.Placements, "method"}, {record.Placements, "base"}, {record.Placements, "reinforcement"}, {record.Placements, "joint_cut"}, {record.Placements, "curing"},
		{record.Delays, "cause"}, {record.Delays, "spot"}, {record.Labors, "task"}} {
		for _, w := range at.table.Column(at.column).Words.Words {
			if said[w] == "" {
				t.Errorf("%s %q has no Spanish", at.column, w)
			}
		}
	}
}
