package out

import (
	"bytes"
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// The JSON answers in the very sentences of the pages.
func TestJSONSaysWhatThePagesSay(t *testing.T) {
	f := trial.CompanyFactors(t)
	doc := factorsJSON(t, f)
	for _, p := range page.Pages(f, page.Options{}) {
		key := map[string]string{"waste": "overage", "weather": "weather"}[p.Slug]
		if key == "" {
			continue
		}
		topic := doc[key].(map[string]any)
		if topic["answer"] != p.Answer || p.Answer == "" {
			t.Errorf("%s answers %q, its page %q", key, topic["answer"], p.Answer)
		}
		notes := list(topic["notes"])
		if said := append(slices.Clone(p.Do), p.Notes...); len(notes) < 3 || !slices.Contains(said, notes[0].(string)) || !slices.Contains(said, notes[1].(string)) {
			t.Errorf("%s notes %q, its page %q", key, notes, said)
		}
	}
}

// Why a pour has no rate is said by the voice, in the list that is written piece
// by piece too.
func TestJSONSaysWhyARateIsNotKnown(t *testing.T) {
	f := trial.CompanyFactors(t)
	for lang, begins := range map[string]string{"": "lacks ", "qps": "ｌａｃｋｓ "} {
		var b bytes.Buffer
		if err := JSON(&b, f, say.New(lang, "", "")); err != nil {
			t.Fatal(err)
		}
		var doc struct {
			Weather struct {
				Placements []struct {
					Rate *float64 `json:"evaporation_lb_ft2_h"`
					Why  string
				}
			}
		}
		if err := json.Unmarshal(b.Bytes(), &doc); err != nil {
			t.Fatal(err)
		}
		lacking := 0
		for _, p := range doc.Weather.Placements {
			if (p.Rate == nil) != strings.HasPrefix(p.Why, begins) {
				t.Fatalf("%q: a rate of %v because %q", lang, p.Rate, p.Why)
			}
			if p.Rate == nil {
				lacking++
			}
		}
		if len(doc.Weather.Placements) != f.Placements || lacking == 0 {
			t.Errorf("%q: %d placements, %d of them without a rate", lang, len(doc.Weather.Placements), lacking)
		}
	}
}
