package spec

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"pourback/ingest/record"
)

// codeOutline is that of a shape that cannot be read. Whether one that can be
// read is a slab is for the analysis to say.
const codeOutline = "not-an-outline"

// The keys whose values are lists: each is written in YAML as a list, or in one
// line as flags and forms have it.
var (
	shapeKeys = []string{"outline", "holes", "depths", "edge_sides", "against", "existing_joints", "none_needed", admixturesKey}
	groupKeys = map[string]*record.Table{"steps": stepKeys, "curb": curbKeys}
)

var stepKeys = &record.Table{Name: "steps", Columns: []record.Column{
	{Name: "risers", Kind: record.KindCount, Required: true, Hard: upTo(100), Doc: "how many, with a tread behind each"},
	inches("rise_in", "the height of one", true), inches("tread_in", "the depth of one", true),
	{Name: "width_ft", Kind: record.KindNumber, Unit: record.Foot, Required: true, Hard: upTo(200), Doc: "how wide they are"},
	{Name: "solid", Words: yesOrNo, Kind: record.KindWord, Doc: "yes: concrete down to the ground; no: on fill, as thick as the placement"},
}}

var curbKeys = &record.Table{Name: "curb", Columns: []record.Column{
	{Name: "length_ft", Kind: record.KindNumber, Unit: record.Foot, Required: true, Hard: upTo(10_000), Doc: "how long it is"},
	inches("width_in", "how wide it is", true), inches("height_in", "over the slab", true),
}}

var yesOrNo = &record.Vocabulary{Words: []string{"yes", "no"}, Synonyms: map[string]string{"true": "yes", "y": "yes", "false": "no", "n": "no", "on fill": "no", "solid": "yes"}}

func inches(name, doc string, needed bool) record.Column {
	return record.Column{Name: name, Kind: record.KindNumber, Unit: record.Inch, Required: needed, Hard: upTo(240), Doc: doc}
}

// lengths are read by these, which may be 0 or, from a corner, below.
var lengthTable = &record.Table{Columns: []record.Column{
	{Name: "place_ft", Kind: record.KindNumber, Unit: record.Foot, Hard: record.Range{Min: record.Some(-10_000.0), Max: record.Some(10_000.0)}},
	{Name: "depth_in", Kind: record.KindNumber, Unit: record.Inch, Hard: record.Range{Min: record.Some(0.0), Max: record.Some(240.0)}},
}}

// inOneLine is a list as flags have it: places of a corner apart by commas, corners
// by semicolons, holes by bars.
func inOneLine(n *yaml.Node, between ...string) (string, bool) {
	switch n.Kind {
	case yaml.ScalarNode:
		return n.Value, true
	case yaml.SequenceNode:
		if len(between) == 0 {
			return "", false
		}
		parts := make([]string, len(n.Content))
		for i, c := range n.Content {
			part, ok := inOneLine(c, between[1:]...)
			if !ok {
				return "", false
			}
			parts[i] = part
		}
		return strings.Join(parts, between[0]), true
	case yaml.MappingNode: // {x: 4, y: 2, radius: 3}
		corner := [3]string{}
		for i := 0; i+1 < len(n.Content); i += 2 {
			at := slices.Index([]string{"x", "y", "radius"}, record.Fold(n.Content[i].Value))
			if at < 0 || n.Content[i+1].Kind != yaml.ScalarNode {
				return "", false
			}
			corner[at] = n.Content[i+1].Value
		}
		return strings.TrimSuffix(strings.Join(corner[:], ", "), ", "), true
	}
	return "", false
}

// betweens are what stands between the parts of a list, from outside in.
func betweens(key string) []string {
	switch key {
	case "holes":
		return []string{" | ", "; ", ", "}
	case "outline", "existing_joints":
		return []string{"; ", ", "}
	}
	return []string{", "}
}

// shapeValue reads a list.
func (r *reader) shapeValue(into group, key, text, where, as string) {
	var v any
	var wrong, right string
	switch key {
	case "outline":
		v, wrong, right = r.outline(text)
	case "holes":
		var holes [][][]float64
		for _, part := range strings.Split(text, "|") {
			hole, w, rt := r.outline(part)
			if w != "" {
				wrong, right = fmt.Sprintf("hole %d: %s", len(holes)+1, w), rt
				break
			}
			if m := namedShape.FindStringSubmatch(part); m != nil && !atPlace.MatchString(m[2]) {
				hole = centered(hole, 0, 0)
				into[inMiddle] = append(inMiddleOf(into), len(holes))
			}
			holes = append(holes, hole)
		}
		v = holes
	case "existing_joints":
		v, wrong, right = r.corners(text)
	case "depths":
		v, wrong, right = r.depths(text)
	case "none_needed":
		v = namesOf(text)
	case admixturesKey:
		v = partsOf(text)
	default:
		v, wrong, right = sides(text)
	}
	if wrong != "" {
		r.fail(codeOutline, where, as, text, wrong, right)
		return
	}
	into[key] = v
}

// inMiddle are the holes that have no place of their own: they lie in the middle of
// the outline, which may be read after them.
const inMiddle = "\x00in the middle"

func inMiddleOf(g group) []int {
	which, _ := g[inMiddle].([]int)
	return which
}

// place brings holes without a place to the middle of the outline.
func (g group) place() {
	holes, _ := g["holes"].([][][]float64)
	outline, _ := g["outline"].([][]float64)
	length, _ := g["length_ft"].(float64)
	width, _ := g["width_ft"].(float64)
	x, y := length/2, width/2
	if outline != nil {
		low, high := bounds(outline)
		x, y = (low[0]+high[0])/2, (low[1]+high[1])/2
	}
	for _, k := range inMiddleOf(g) {
		if k < len(holes) {
			holes[k] = centered(holes[k], x, y)
		}
	}
	delete(g, inMiddle)
}

// namesOf are words apart by commas.
func namesOf(text string) []string {
	var names []string
	for _, name := range strings.Split(text, ",") {
		if name = record.Fold(name); name != "" {
			names = append(names, name)
		}
	}
	return names
}

const howOutline = `write its corners, such as "0, 0; 40, 0; 40, 24; 0, 24", or a shape: circle 30, rectangle 40 x 24, L 20 x 16 less 8 x 6, T 24 x 20 bar 8 leg 6, U 30 x 24 bay 10 x 8`

var (
	namedShape   = regexp.MustCompile(`(?i)^\s*(circle|rectangle|square|l|t|u)\b(.*)$`)
	betweenSizes = regexp.MustCompile(`(?i)\s*(?:[x×,]|\bby\b|\bless\b|\bbar\b|\bleg\b|\bbay\b)\s*`)
	atPlace      = regexp.MustCompile(`(?i)\s+at\s+`)
	metric       = regexp.MustCompile(`(?i)\d\s*(?:mm|cm|m|meters?|metres?)\b`)
	customary    = regexp.MustCompile(`(?i)\d\s*(?:ft|feet|foot|in|inch|inches|yd|yards?|'|’|′|"|”|″)`)
)

// outline reads a shape's name with its sizes, or its corners: [x, y] in ft, or
// [x, y, radius] where the side from there is an arc. A shape that is named begins
// at 0, 0, or has its middle where it is said to be.
func (r *reader) outline(text string) (corners [][]float64, wrong, right string) {
	if metric.MatchString(text) && customary.MatchString(text) {
		return nil, "some of it in feet or inches, some in metric units", "write all of it in one"
	}
	m := namedShape.FindStringSubmatch(text)
	if m == nil {
		return r.corners(text)
	}
	parts := atPlace.Split(" "+m[2]+" ", 2)
	sizes, wrong := r.lengths(betweenSizes.Split(strings.TrimSpace(parts[0]), -1), "place_ft")
	if wrong != "" {
		return nil, wrong, howOutline
	}
	for _, s := range sizes {
		if !(s > 0) {
			return nil, "a size of 0 or less", howOutline
		}
	}
	corners = shapeNamed(strings.ToLower(m[1]), sizes)
	if corners == nil {
		return nil, fmt.Sprintf("%d sizes for a %s", len(sizes), m[1]), howOutline
	}
	if len(parts) == 1 {
		return corners, "", ""
	}
	at, wrong := r.lengths(betweenSizes.Split(strings.TrimSpace(parts[1]), -1), "place_ft")
	if wrong != "" || len(at) != 2 {
		return nil, "no place to be at", `write where its middle is, such as "circle 4 at 15, 15"`
	}
	return centered(corners, at[0], at[1]), "", ""
}

// shapeNamed are the corners of a shape by its sizes, nil where those are not its.
func shapeNamed(name string, s []float64) [][]float64 {
	need := map[string]int{"circle": 1, "square": 1, "rectangle": 2, "l": 4, "t": 4, "u": 4}[name]
	if len(s) != need {
		return nil
	}
	ring := func(xy ...float64) [][]float64 {
		var out [][]float64
		for i := 0; i < len(xy); i += 2 {
			out = append(out, []float64{xy[i], xy[i+1]})
		}
		return out
	}
	switch name {
	case "circle":
		return [][]float64{{0, s[0] / 2, s[0] / 2}, {s[0], s[0] / 2, s[0] / 2}}
	case "square":
		return ring(0, 0, s[0], 0, s[0], s[0], 0, s[0])
	case "rectangle":
		return ring(0, 0, s[0], 0, s[0], s[1], 0, s[1])
	case "l": // less its upper right corner
		return ring(0, 0, s[0], 0, s[0], s[1]-s[3], s[0]-s[2], s[1]-s[3], s[0]-s[2], s[1], 0, s[1])
	case "t": // the bar above, the leg below its middle
		a, b, low := (s[0]-s[3])/2, (s[0]+s[3])/2, s[1]-s[2]
		return ring(a, 0, b, 0, b, low, s[0], low, s[0], s[1], 0, s[1], 0, low, a, low)
	}
	a, b, low := (s[0]-s[2])/2, (s[0]+s[2])/2, s[1]-s[3] // a U, open above
	return ring(0, 0, s[0], 0, s[0], s[1], b, s[1], b, low, a, low, a, s[1], 0, s[1])
}

// centered moves a named shape so that its middle is at a place.
func centered(corners [][]float64, x, y float64) [][]float64 {
	low, high := bounds(corners)
	moved := make([][]float64, len(corners))
	for i, c := range corners {
		moved[i] = slices.Clone(c)
		moved[i][0], moved[i][1] = c[0]+x-(low[0]+high[0])/2, c[1]+y-(low[1]+high[1])/2
	}
	return moved
}

func bounds(corners [][]float64) (low, high [2]float64) {
	low, high = [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	for _, c := range corners {
		for k := range 2 {
			low[k], high[k] = min(low[k], c[k]), max(high[k], c[k])
		}
	}
	return low, high
}

func (r *reader) corners(text string) (corners [][]float64, wrong, right string) {
	if metric.MatchString(text) && customary.MatchString(text) {
		return nil, "some of it in feet or inches, some in metric units", "write all of it in one"
	}
	for i, part := range strings.Split(text, ";") {
		c, wrong := r.lengths(strings.Split(part, ","), "place_ft")
		switch {
		case wrong != "":
			return nil, fmt.Sprintf("corner %d: %s", i+1, wrong), howOutline
		case len(c) < 2 || len(c) > 3:
			return nil, fmt.Sprintf("corner %d has %d numbers", i+1, len(c)), "write x and y, and the radius where the side from there is an arc; " + howOutline
		}
		corners = append(corners, c)
	}
	return corners, "", ""
}

// lengths are those of some texts, in the unit of a column.
func (r *reader) lengths(texts []string, column string) (out []float64, wrong string) {
	k := newKeyReader(lengthTable, r.opt)
	for _, text := range texts {
		into := group{}
		_, said := k.read(into, column, text)
		v, ok := into[column].(float64)
		if !ok {
			wrong = "not a length"
			if len(said) > 0 {
				wrong = said[0].Wrong
			}
			return nil, fmt.Sprintf("%q is %s", strings.TrimSpace(text), wrong)
		}
		out = append(out, v)
	}
	return out, ""
}

func (r *reader) depths(text string) (depths []float64, wrong, right string) {
	depths, wrong = r.lengths(strings.Split(text, ","), "depth_in")
	if wrong != "" {
		return nil, wrong, "write one depth for each corner, in inches, such as 4, 4, 10, 10"
	}
	return depths, "", ""
}

// sides are numbers of sides, none for all of them.
func sides(text string) (numbers []int, wrong, right string) {
	if strings.EqualFold(strings.TrimSpace(text), "all") {
		return []int{}, "", ""
	}
	for _, part := range strings.Split(text, ",") {
		n, err := strconv.Atoi(strings.TrimSpace(part))
		if err != nil || n < 1 {
			return nil, fmt.Sprintf("%q is no number of a side", strings.TrimSpace(part)), "write the numbers of the sides, such as 1, 3; side 1 runs from the first corner to the second"
		}
		numbers = append(numbers, n)
	}
	return numbers, "", ""
}
