package spec

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

// TestLaidOver: what is said takes the place of what was, what is not said stays, and
// a key that says the same in another way goes.
func TestLaidOver(t *testing.T) {
	one := func() map[string]any {
		return map[string]any{"name": "Lot 14", "crew": "Heron", "prices": map[string]any{"concrete_per_yd": 170.0}, "items": []map[string]any{{"item": "permit", "amount": 150.0}},
			"placements": []map[string]any{{"use": "driveway", "length_ft": 40.0, "width_ft": 20.0, "thickness_in": 4.0, "reinforcement": "rebar", "bar": "#4", "steps": map[string]any{"risers": 2}}}}
	}
	for name, c := range map[string]struct {
		text  string
		words []Word
		want  func(v map[string]any, p map[string]any)
	}{
		"nothing": {"", nil, func(v, p map[string]any) {}},
		"flags": {"", []Word{{"--thickness", "thickness_in", "5"}, {"--crew", "crew", "Wren"}, {"--price", "labor_per_hour", "41"}}, func(v, p map[string]any) {
			v["crew"], p["thickness_in"] = "Wren", 5.0
			v["prices"].(map[string]any)["labor_per_hour"] = 41.0
		}},
		"taken away": {"", []Word{{"--crew", "crew", ""}, {"--bar", "bar", ""}}, func(v, p map[string]any) { delete(v, "crew"); delete(p, "bar") }},
		"an area for sides": {"", []Word{{"--area", "area_sqft", "700"}}, func(v, p map[string]any) {
			delete(p, "length_ft")
			delete(p, "width_ft")
			p["area_sqft"] = 700.0
		}},
		"other steel":    {"", []Word{{"--reinforcement", "reinforcement", "mesh"}}, func(v, p map[string]any) { p["reinforcement"] = "mesh"; delete(p, "bar") }},
		"the same steel": {"", []Word{{"--reinforcement", "reinforcement", "rebar"}}, func(v, p map[string]any) {}},
		"a file": {"thickness: 6\ncertainty: 90%\nitems: {permit: 175, sealing: 90}\n", []Word{{"--thickness", "thickness_in", "5"}}, func(v, p map[string]any) {
			p["thickness_in"], v["certainty"] = 5.0, 0.9
			v["items"] = []map[string]any{{"item": "permit", "amount": 175.0}, {"item": "sealing", "amount": 90.0}}
		}},
	} {
		var text []byte
		if c.text != "" {
			text = []byte(c.text)
		}
		s, problems := ReadOver(SpecOf(one()), "over.yaml", text, c.words, sheet.Options{})
		if s == nil {
			t.Errorf("%s: %v", name, problems)
			continue
		}
		want := one()
		c.want(want, want["placements"].([]map[string]any)[0])
		if got := plainMaps(s.Values()); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: read %v\nwant %v", name, got, want)
		}
	}
}

// plainMaps are values without the types of our groups.
func plainMaps(v any) any {
	switch v := v.(type) {
	case group:
		return plainMaps(map[string]any(v))
	case map[string]any:
		out := map[string]any{}
		for k, x := range v {
			out[k] = plainMaps(x)
		}
		return out
	case []map[string]any:
		out := make([]map[string]any, len(v))
		for i := range v {
			out[i] = plainMaps(v[i]).(map[string]any)
		}
		return out
	}
	return v
}

// TestLaidOverSeveral: of several placements each is laid over by its name; what is
// said of none of them is refused.
func TestLaidOverSeveral(t *testing.T) {
	base := func() *Spec {
		return SpecOf(map[string]any{"placements": []map[string]any{{"name": "drive", "use": "driveway", "area_sqft": 400.0, "thickness_in": 4.0}, {"name": "walk", "use": "walkway", "area_sqft": 90.0, "thickness_in": 4.0}}})
	}
	s, problems := ReadOver(base(), "o.yaml", []byte("placements:\n  - {name: drive, thickness: 5}\n  - {name: pad, use: patio, area: 100, thickness: 4}\n"), nil, sheet.Options{})
	if s == nil || len(s.Placements) != 2 || s.Placements[0]["thickness_in"] != 5.0 || s.Placements[0]["area_sqft"] != 400.0 || s.Placements[1]["use"] != "patio" {
		t.Errorf("%v %v", s, problems)
	}
	for _, c := range []struct {
		text  []byte
		words []Word
	}{{[]byte("thickness: 5\n"), nil}, {nil, []Word{{"--thickness", "thickness_in", "5"}}}} {
		_, problems := ReadOver(base(), "o.yaml", c.text, c.words, sheet.Options{})
		if !slices.ContainsFunc(problems, func(p record.Problem) bool { return strings.Contains(p.Wrong, "asked of one placement") }) {
			t.Errorf("%q %v: %v", c.text, c.words, problems)
		}
	}
	if s, problems := ReadOver(base(), "o.yaml", []byte("crew: Wren\n"), nil, sheet.Options{}); s == nil || s.Job["crew"] != "Wren" || len(s.Placements) != 2 {
		t.Errorf("%v %v", s, problems)
	}
}
