package spec

import (
	"maps"
	"reflect"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

const tenLines = `name: Lot 14, Mesquite Lane
job_no: SF-1043
month: July
use: driveway
length: 40 ft
width: 19' 6"
thickness: 4 1/2 in
method: chute
reinforcement: rebar
joint spacing: 10 ft
`

func TestTenLinesSuffice(t *testing.T) {
	s, problems := Read("bid.yaml", []byte(tenLines), nil, sheet.Options{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	want := map[string]any{"name": "Lot 14, Mesquite Lane", "job_no": "SF-1043", "on": "7", "prices": map[string]any{}, "items": []map[string]any{},
		"placements": []map[string]any{{"use": "driveway", "length_ft": 40.0, "width_ft": 19.5, "thickness_in": 4.5, "method": "chute", "reinforcement": "rebar", "joint_spacing_ft": 10.0}}}
	if got := s.Values(); !reflect.DeepEqual(got, want) {
		t.Errorf("read %v\nwant %v", got, want)
	}
}

func TestWhatStandsAtTheTopHoldsForAll(t *testing.T) {
	s, problems := Read("bid.yaml", []byte(`
site: Lot 3
on: 7/14/2026
crew: Heron
haul: 35 min
target margin: 25 %
certainty: 0.8
thickness: 100 mm
method: pump
prices: {concrete: "$172.50", pump_hire: 650}
items: {permit: 150, hauling: "1,250.00"}
placements:
  - use: driveway
    area: 60 m2
  - use: walk
    name: front walk
    length: 30
    width_ft: 4
    thickness_in: 3.5
    method: wheelbarrow
`), nil, sheet.Options{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	v := s.Values()
	for key, want := range map[string]any{"name": "Lot 3", "on": "2026-07-14", "crew": "Heron", "haul_min": int64(35), "target_margin": 0.25, "certainty": 0.8,
		"prices": map[string]any{"concrete_per_yd": 172.5, "pump_hire": 650.0},
		"items":  []map[string]any{{"item": "permit", "amount": 150.0}, {"item": "hauling", "amount": 1250.0}},
		"placements": []map[string]any{
			{"use": "driveway", "area_sqft": 645.834625003, // 60 / 0.3048²
				"thickness_in": 3.93700787402, "method": "pump"},
			{"use": "walkway", "name": "front walk", "length_ft": 30.0, "width_ft": 4.0, "thickness_in": 3.5, "method": "barrow"}}} {
		if !reflect.DeepEqual(v[key], want) {
			t.Errorf("%s: %v, want %v", key, v[key], want)
		}
	}
}

// TestEveryProblemIsNamed reads specs in which something is wrong: each says
// where, what, and what would be right.
func TestEveryProblemIsNamed(t *testing.T) {
	const good = "use: patio\narea: 300\nthickness: 4\n"
	for _, c := range []struct {
		text string
		says []string
	}{
		{"", []string{"s.yaml: nothing is written in it; begin with lines such as `use: driveway`"}},
		{"# only a comment\n", []string{"nothing is written in it"}},
		{"patio", []string{"s.yaml: no list of keys and values"}},
		{"use: patio\n\tarea: 300", []string{"s.yaml: line 2: found a tab character"}},
		{good + "thicknes: 4", []string{"s.yaml, line 4, thicknes: unknown line; did you mean thickness_in?"}},
		{good + "use: driveway", []string{"line 4, use: given twice"}},
		{"use: patio\narea: 300\nthickness: 45", []string{`s.yaml, line 3, thickness "45": thicker than 24 in; did you mean 4.5?`}},
		{"use: patio\narea: -300\nthickness: 4 ft", []string{`line 2, area "-300": not above zero`, `line 3, thickness "4 ft": 48 in, thicker than 24 in`}},
		{"use: patio\narea: wide\nthickness: 4 gal", []string{`line 2, area "wide": not a number`, `line 3, thickness "4 gal": "gal" is no unit of this column`}},
		{"use:\narea: 300\nthickness: 4", []string{"line 1, use: missing; it is needed (what the slab is for)"}},
		{"method: pump", []string{"use: missing; it is needed (what the slab is for)", "thickness_in: missing", "area_sqft: missing; give the area, or the length and the width"}},
		{"use: patio\nlength: 20\nthickness: 4", []string{"area_sqft: missing"}},
		{good + "method: sled", []string{`line 4, method "sled": not recognized; it can be chute, pump`}},
		{good + "bar: #4", []string{`line 4, bar "#4": a comment, since it begins with #; write it in quotes`}},
		{good + "month: Juli", []string{`line 4, month "Juli": no day and no month; write 2026-07-14, 2026-07 or July`}},
		{good + "crew: [a, b]", []string{"line 4, crew: not one value"}},
		{good + "crew: &a Heron\nname: *a", []string{"line 5, name: not one value"}},
		{good + "prices: 12", []string{"line 4", "no keys with values"}},
		{good + "prices: {concret: 12}", []string{"line 4, concret: unknown line; did you mean concrete_per_yd?"}},
		{good + "prices: {concrete: cheap}", []string{`line 4, concrete "cheap": not an amount`}},
		{good + "items: {permit: much}", []string{`line 4, amount "much"`}},
		{good + "margin: 140 %", []string{"line 4, margin", "more than 99 %"}},
		{"placements: []", []string{"line 1, placements: no list of placements"}},
		{"placements: {use: patio}", []string{"no list of placements"}},
		{"placements:\n- patio", []string{`line 2: no keys with values`}},
		{"placements:\n- use: patio\n  area: 300\n  thickness: 4\n  crew: Heron", []string{"line 5, crew: asked of the whole job; write it at the top"}},
		{"placements:\n- use: patio\n  area: 300\n  thickness: 4\n- area: 30", []string{"line 5, use: missing", "line 5, thickness_in: missing"}},
		{good + "---\n" + good, []string{"a second document begins in it"}},
		{good + "note: " + strings.Repeat("x", mostBytes), []string{"larger than a megabyte"}},
		{"placements:\n" + strings.Repeat("- {use: patio, area: 1, thickness: 4}\n", mostPlacements+1), []string{"201 placements; bid on at most 200 at a time"}},
	} {
		s, problems := Read("s.yaml", []byte(c.text), nil, sheet.Options{})
		if s != nil {
			t.Errorf("%.80q was read", c.text)
		}
		var said []string
		for _, p := range problems {
			said = append(said, p.String())
		}
		for _, want := range c.says {
			if !strings.Contains(strings.Join(said, "\n"), want) {
				t.Errorf("%.80q says\n  %s\nand not %q", c.text, strings.Join(said, "\n  "), want)
			}
		}
		if len(said) > len(c.says) && c.text != "method: pump" {
			t.Errorf("%.80q says more than it should: %q", c.text, said)
		}
	}
}

func TestWordsWinOverTheSpec(t *testing.T) {
	patio := []Word{{"--use", "use", "patio"}, {"--length", "length", "20 ft"}, {"--width", "width", "15"}}
	s, problems := ReadWords(append(patio, Word{"--thickness", "thickness", "4"}, Word{"--month", "month", "7"}, Word{"--price", "concrete_per_yd", "180"}), sheet.Options{})
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	want := map[string]any{"use": "patio", "length_ft": 20.0, "width_ft": 15.0, "thickness_in": 4.0}
	if !maps.Equal(s.Placements[0], want) || s.Job["on"] != "7" || s.Prices["concrete_per_yd"] != 180.0 {
		t.Errorf("%v", s)
	}
	s, problems = Read("s.yaml", []byte("use: patio\nlength: 20\nwidth: 15\nthickness: 4"), []Word{{"--thickness", "thickness", "5"}}, sheet.Options{})
	if len(problems) > 0 || s.Placements[0]["thickness_in"] != 5.0 {
		t.Errorf("%v %v", s, problems)
	}
	_, problems = Read("s.yaml", []byte("use: patio"), patio[1:], sheet.Options{})
	says(t, problems, "thickness_in: missing")
	_, problems = ReadWords([]Word{{"--use", "use", "patio"}, {"--thickness", "thickness", "thin"}}, sheet.Options{})
	says(t, problems, `--thickness "thin": not a number; write a number, such as 4.5 in`, "area_sqft: missing; give the area, or the length and the width")
	_, problems = Read("s.yaml", []byte("thickness: 4\nuse: patio\narea: 10\nplacements: [{name: A}, {name: B}]"), []Word{{"--use", "use", "patio"}, {"--crew", "crew", "Heron"}}, sheet.Options{})
	says(t, problems, `--use "patio": asked of one placement, and the spec has 2`)
}

func says(t *testing.T, problems []record.Problem, want ...string) {
	t.Helper()
	var said []string
	for _, p := range problems {
		said = append(said, p.String())
	}
	if len(said) != len(want) {
		t.Errorf("said %q, want %q", said, want)
	}
	for _, w := range want {
		if !slices.ContainsFunc(said, func(s string) bool { return strings.Contains(s, w) }) {
			t.Errorf("said %q, want %q", said, w)
		}
	}
}

func TestTheOwnersWords(t *testing.T) {
	opt := sheet.Options{DayFirst: true, Dictionary: record.Dictionary{Words: map[string]map[string]string{"use": {"carport": "garage slab"}}}}
	s, problems := Read("s.yaml", []byte("use: carport\narea: 300\nthickness: 4\ndate: 3/4/2026"), nil, opt)
	if len(problems) > 0 || s.Placements[0]["use"] != "garage slab" || s.Job["on"] != "2026-04-03" {
		t.Errorf("%v %v", s, problems)
	}
}

// FuzzRead: no text makes the reader stop, and what it reads has no value that
// is not a plain one within its key's range.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{tenLines, "", "placements:\n- use: patio\n  area: 1e308\n  thickness: 4", "a: &a [*a]", "use: !!binary aGk=", "? [1]\n: 2", "<<: {use: patio}", "on: 9999999", "x: \x00", "- 1", "prices: {mesh: 1}\nitems: {a: 1}", "{use: patio, area: '20 to 30', thickness: ~4}"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		s, problems := Read("s.yaml", []byte(text), nil, sheet.Options{})
		for _, p := range problems {
			if p.Wrong == "" || p.String() == "" {
				t.Errorf("a problem without words: %+v", p)
			}
		}
		if s == nil {
			if len(problems) == 0 {
				t.Error("no spec, and nothing said")
			}
			return
		}
		for _, g := range append([]group{s.Job, s.Prices}, s.Placements...) {
			for key, v := range g {
				if n, ok := v.(float64); ok && !(n > 0 && n < 1e9) {
					t.Errorf("%s is %v", key, n)
				}
			}
		}
		if len(s.Placements) == 0 {
			t.Error("a spec without placements")
		}
	})
}
