package spec

import (
	"reflect"
	"strings"
	"testing"

	"pourback/ingest/sheet"
)

// TestShapesAsTheyAreWritten reads the same shapes from YAML lists, from a line,
// and by name.
func TestShapesAsTheyAreWritten(t *testing.T) {
	l := [][]float64{{0, 0}, {20, 0}, {20, 10}, {12, 10}, {12, 16}, {0, 16}}
	for _, c := range []struct {
		text, key string
		want      any
	}{
		{"outline: [[0, 0], [20, 0], [20, 10], [12, 10], [12, 16], [0, 16]]", "outline", l},
		{"outline: 0,0; 20,0; 20,10; 12,10; 12,16; 0,16", "outline", l},
		{"outline: L 20 x 16 less 8 x 6", "outline", l},
		{"outline: L 20 ft × 16' less 8 by 72 in", "outline", l},
		{"outline: [{x: 0, y: 5, radius: 5}, {x: 10, y: 5, radius: 5}]", "outline", [][]float64{{0, 5, 5}, {10, 5, 5}}},
		{"outline: circle 10 ft", "outline", [][]float64{{0, 5, 5}, {10, 5, 5}}},
		{"outline: rectangle 40 x 24 at 0, 0", "outline", [][]float64{{-20, -12}, {20, -12}, {20, 12}, {-20, 12}}},
		{"outline: square 8", "outline", [][]float64{{0, 0}, {8, 0}, {8, 8}, {0, 8}}},
		{"outline: T 24 x 20 bar 8 leg 6", "outline", [][]float64{{9, 0}, {15, 0}, {15, 12}, {24, 12}, {24, 20}, {0, 20}, {0, 12}, {9, 12}}},
		{"outline: U 30 x 24 bay 10 x 8", "outline", [][]float64{{0, 0}, {30, 0}, {30, 24}, {20, 24}, {20, 16}, {10, 16}, {10, 24}, {0, 24}}},
		{"outline: circle 30\nholes: [circle 4]", "holes", [][][]float64{{{13, 15, 2}, {17, 15, 2}}}},
		{"length: 40\nwidth: 20\nholes: [square 2, [[1, 1], [2, 1], [1, 2]]]", "holes", [][][]float64{{{19, 9}, {21, 9}, {21, 11}, {19, 11}}, {{1, 1}, {2, 1}, {1, 2}}}},
		{"area: 9\nhole: circle 4 at 15, 15 | square 1 at 3, 3", "holes", [][][]float64{{{13, 15, 2}, {17, 15, 2}}, {{2.5, 2.5}, {3.5, 2.5}, {3.5, 3.5}, {2.5, 3.5}}}},
		{"outline: square 8\ndepths: [4, 4 in, 10, 10]", "depths", []float64{4, 4, 10, 10}},
		{"outline: square 8\nedge width: 1 ft", "edge_width_in", 12.0},
		{"outline: square 8\nedge sides: [1, 3]", "edge_sides", []int{1, 3}},
		{"outline: square 8\nedge sides: all", "edge_sides", []int{}},
		{"outline: square 8\nagainst: 3", "against", []int{3}},
		{"outline: square 8\nexisting joints: [[4, 0], [4, 8]]", "existing_joints", [][]float64{{4, 0}, {4, 8}}},
		{"steps: {risers: 4, rise: 7 in, tread: 1 ft, width: 4, solid: yes}", "steps", group{"risers": int64(4), "rise_in": 7.0, "tread_in": 12.0, "width_ft": 4.0, "solid": true}},
		{"steps: {risers: 4, rise: 7, tread: 12, width: 4}", "steps", group{"risers": int64(4), "rise_in": 7.0, "tread_in": 12.0, "width_ft": 4.0}},
		{"area: 30\ncurb: {length: 30 ft, width: 6, height: 6 in}", "curb", group{"length_ft": 30.0, "width_in": 6.0, "height_in": 6.0}},
	} {
		s, problems := Read("s.yaml", []byte("use: patio\nthickness: 4\n"+c.text), nil, sheet.Options{})
		if len(problems) > 0 {
			t.Errorf("%s: %v", c.text, problems)
			continue
		}
		if got := s.Placements[0][c.key]; !reflect.DeepEqual(got, c.want) {
			t.Errorf("%s: %v, want %v", c.text, got, c.want)
		}
	}
	s, problems := ReadWords([]Word{{"--use", "use", "patio"}, {"--outline", "outline", "circle 30"}, {"--hole", "holes", "circle 4"}, {"--depths", "depths", "4, 4"}}, sheet.Options{})
	if len(problems) > 0 || len(s.Placements[0]["holes"].([][][]float64)) != 1 {
		t.Errorf("%v %v", s, problems)
	}
}

// TestShapesThatCannotBeRead: one message each, with the piece named.
func TestShapesThatCannotBeRead(t *testing.T) {
	for text, says := range map[string]string{
		"outline: [[0, 0], [40 ft, 0], [12 m, 8]]":         "line 3, outline \"0, 0; 40 ft, 0; 12 m, 8\": some of it in feet or inches, some in metric units; write all of it in one",
		"outline: [[0, 0], [40, 0], [wide, 8]]":            `corner 3: "wide" is not a number`,
		"outline: [[0, 0], [40], [3, 8]]":                  "corner 2 has 1 numbers",
		"outline: hexagon 8":                               `corner 1: "hexagon 8" is`,
		"outline: circle 3 x 4":                            "2 sizes for a circle",
		"outline: circle -4":                               "a size of 0 or less",
		"outline: circle 30\nholes: [circle 4 at 3]":       "hole 1: no place to be at",
		"outline: circle 30\nholes: [circle 4, square x]":  "hole 2:",
		"outline: square 8\ndepths: 4, deep":               `"deep" is not a number; write one depth for each corner`,
		"outline: square 8\ndepths: 4, -3, 4, 4":           `"-3" is`,
		"outline: square 8\nedge sides: left":              `"left" is no number of a side`,
		"steps: {risers: 4}":                               "steps: rise_in: missing",
		"steps: 4":                                         "no keys with values",
		"outline: square 8\ncurb: {length: 3, wide: 4}":    "wide: unknown line",
		"outline: square 8\noutline: square 9":             "given twice",
		"outline: {x: {y: 3}}":                             "outline: not one value",
		"outline: square 8\nthickness_in: 0\ndepths: none": "not",
	} {
		s, problems := Read("s.yaml", []byte("use: patio\nthickness: 4\n"+text), nil, sheet.Options{})
		var said []string
		for _, p := range problems {
			said = append(said, p.String())
		}
		if s != nil || !strings.Contains(strings.Join(said, "\n"), says) {
			t.Errorf("%s says %q, want %q", text, said, says)
		}
	}
}
