package spec

import (
	"maps"
	"math/rand/v2"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
)

const everyKey = `
name: Lot 14
site: 14 Mesquite Lane
on: 2026-07-14
haul: 35
margin: 7.5%
certainty: 0.8
overhead: 12 %
none_needed: [permits, seal]
start: 6:30am
forecast: 6:00 78F 40% 5mph; 12:00 101F
truck_yd: 9.5
prices: {concrete_per_yd: 172.55, labor: 41}
items: {survey: 250, flowers: 80.40}
placements:
  - {name: drive, use: driveway, length: 40' 5", width: 7.31 m, thickness: 4 1/2, method: pump, hose_in: 2.5, reinforcement: mesh+rebar, bar: "#4", bar spacing: 18 in, against: [1, 3], day: 2, air: 5, slump: 4 1/2, retarder: 3 oz/cwt, admixtures: "water reducer 5 oz/cwt, accelerator 1%"}
  - {name: court, use: patio, outline: circle 30, holes: [circle 4, "circle 2 at 5, 15"], thickness: 4}
  - {name: shed, use: shed slab, outline: rectangle 20 x 20, depths: [4, 4, 10, 10], edge width: 12 in, edge depth: 12 in, edge_sides: [2]}
  - {name: back, use: steps, steps: {risers: 4, rise: 7 in, tread: 12 in, width: 4 ft, solid: yes}}
  - {name: front, use: steps, thickness: 4, steps: {risers: 3, rise: 7 in, tread: 12 in, width: 4 ft, solid: no}}
  - {name: rim, use: curb, area: 40, thickness: 6, curb: {length: 40, width: 6 in, height: 6 in}}
  - name: walk
    use: walkway
    thickness: 4
    outline: [[0, 12, 12], [12, 0], [12, 4, -8], [4, 12]]
`

// TestFormAndBack: what a form shows of a spec is read as the same spec.
func TestFormAndBack(t *testing.T) {
	s, problems := Read("", []byte(everyKey), nil, sheet.Options{})
	if s == nil {
		t.Fatal(problems)
	}
	form := FormOf(s)
	again, problems := ReadForm(form, sheet.Options{})
	if again == nil {
		t.Fatal(problems)
	}
	if !reflect.DeepEqual(again.Values(), s.Values()) {
		t.Errorf("%v\nwant %v", again.Values(), s.Values())
	}
	for at, want := range map[string]string{"length_ft": `40' 5"`, "thickness_in": "4.5", "against": "1, 3"} {
		if got := form.Placements[0][at]; got != want {
			t.Errorf("%s is shown as %q, want %q", at, got, want)
		}
	}
	month := SpecOf(map[string]any{"on": "7"})
	if got := FormOf(month).Job["on"]; got != "July" {
		t.Errorf("a month is shown as %q", got)
	}
	if got := form.Job["target_margin"]; got != "7.5 %" {
		t.Errorf("a share is shown as %q", got)
	}
}

// TestNumbersInFormsAreExact: whatever a number is, its text is read as the same one.
func TestNumbersInFormsAreExact(t *testing.T) {
	dice := rand.New(rand.NewPCG(3, 1))
	for range 2000 {
		share, feet := float64(dice.IntN(10_000))/1e4*dice.Float64()*0.99, float64(dice.IntN(1200)+1)/12
		if dice.IntN(2) == 0 {
			feet = 100*dice.Float64() + 1
		}
		feet, _ = strconv.ParseFloat(strconv.FormatFloat(feet, 'g', 12, 64), 64) // as lengths are read
		s := SpecOf(map[string]any{"certainty": share, "placements": []map[string]any{{"use": "patio", "length_ft": feet, "width_ft": 10.0, "thickness_in": 4.0}}})
		if share == 0 {
			delete(s.Job, "certainty")
		}
		again, problems := ReadForm(FormOf(s), sheet.Options{})
		if again == nil || !reflect.DeepEqual(again.Values(), s.Values()) {
			t.Fatalf("%v as %v: %v", s.Values(), FormOf(s), problems)
		}
	}
}

// TestFormSaysWhichField: each problem stands at its field, and says what a flag's says.
func TestFormSaysWhichField(t *testing.T) {
	good := map[string]string{"use": "patio", "length_ft": "20", "width_ft": "12", "thickness_in": "4"}
	with := func(more ...string) map[string]string {
		fields := maps.Clone(good)
		for i := 0; i < len(more); i += 2 {
			fields[more[i]] = more[i+1]
		}
		return fields
	}
	for name, c := range map[string]struct {
		form  Form
		field string
	}{
		"a size":          {Form{Placements: []map[string]string{good, with("length_ft", "long")}}, "p1.length_ft"},
		"no thickness":    {Form{Placements: []map[string]string{with("thickness_in", "")}}, "p0.thickness_in"},
		"no size":         {Form{Placements: []map[string]string{good, with("length_ft", "")}}, "p1.area_sqft"},
		"an outline":      {Form{Placements: []map[string]string{with("outline", "a blob")}}, "p0.outline"},
		"steps in part":   {Form{Placements: []map[string]string{with("steps.risers", "4", "steps.rise_in", "7", "steps.tread_in", "12")}}, "p0.steps.width_ft"},
		"a step":          {Form{Placements: []map[string]string{with("steps.risers", "four")}}, "p0.steps.risers"},
		"a day":           {Form{Job: map[string]string{"on": "soon"}, Placements: []map[string]string{good}}, "on"},
		"a price":         {Form{Job: map[string]string{"concrete_per_yd": "much"}, Placements: []map[string]string{good}}, "concrete_per_yd"},
		"a cost":          {Form{Items: []FormItem{{"permit", "some"}}, Placements: []map[string]string{good}}, "item0"},
		"a nameless cost": {Form{Items: []FormItem{{"a", "1"}, {"", "90"}}, Placements: []map[string]string{good}}, "item1"},
	} {
		t.Run(name, func(t *testing.T) {
			s, problems := ReadForm(c.form, sheet.Options{})
			if s != nil || len(problems) == 0 {
				t.Fatal("taken as it is: ", problems)
			}
			if at := problems[0]; at.Column != c.field || at.Record != "" || at.Wrong == "" {
				t.Errorf("%+v, want it at %s", at, c.field)
			}
		})
	}
	flags := []Word{{"p0.length_ft", "length_ft", "long"}, {"", "use", "patio"}, {"", "width_ft", "12"}, {"", "thickness_in", "4"}}
	_, byFlag := ReadWords(flags, sheet.Options{})
	_, byForm := ReadForm(Form{Placements: []map[string]string{with("length_ft", "long")}}, sheet.Options{})
	if !slices.Equal(byFlag, byForm) {
		t.Errorf("%v\nwant %v", byForm, byFlag)
	}
}

// TestFormHasAFieldForEachKey: none is lost between a spec and its form.
func TestFormHasAFieldForEachKey(t *testing.T) {
	for of, keys := range groupKeys {
		for _, c := range keys.Columns {
			form := Form{Placements: []map[string]string{{"use": "patio", of + "." + c.Name: "?"}}}
			_, problems := ReadForm(form, sheet.Options{})
			if !slices.ContainsFunc(problems, func(p record.Problem) bool { return strings.HasPrefix(p.Column, "p0."+of) }) {
				t.Errorf("%s.%s is read nowhere", of, c.Name)
			}
		}
	}
}
