package spec

import (
	"testing"

	"pourback/ingest/sheet"
)

// TestWhenAPourIs reads days and months as people write them, in both languages.
func TestWhenAPourIs(t *testing.T) {
	for text, want := range map[string]string{"7": "7", "July": "7", "jul": "7", "JULY": "7", "Sept": "9", "Sept.": "9", "julio": "7", "Julio": "7", "ene": "1", "agosto": "8", "setiembre": "9", "septiembre": "9", "diciembre": "12", "mayo": "5",
		"2026-07": "2026-07", "July 2026": "2026-07", "Jul 2026": "2026-07", "julio 2026": "2026-07", "julio de 2026": "2026-07", "Sept. 2026": "2026-09",
		"2026-07-14": "2026-07-14", "July 14, 2026": "2026-07-14", "14 de julio de 2026": "2026-07-14", "7/14/2026": "2026-07-14", "": "",
		"Juli": "!", "13": "!", "ju": "!", "jullio": "!", "summer": "!", "julio 26": "!"} {
		got, err := when(text, sheet.Options{})
		if err != nil {
			got = "!"
		}
		if got != want {
			t.Errorf("%q: %q, want %q (%v)", text, got, want, err)
		}
	}
}
