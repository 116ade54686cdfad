package record

import (
	"reflect"
	"slices"
	"strconv"
	"testing"

	"pgregory.net/rapid"
)

// The rules that span columns of a placement look at no other columns than
// those that are named for them.
func TestRulesAreAboutTheColumnsNamed(t *testing.T) {
	found := 0
	rapid.Check(t, func(t *rapid.T) {
		var p, bare Placement
		all, some := p.Fields(), bare.Fields()
		for i, field := range all {
			text := ""
			switch c := Placements.Columns[i]; {
			case rapid.IntRange(0, 3).Draw(t, "empty") == 0:
			case c.Kind == KindDate:
				text = Date(rapid.IntRange(738000, 740000).Draw(t, "day")).String()
			case c.Kind == KindFlag:
				text = "yes"
			case c.Name == "method":
				text = rapid.SampledFrom([]string{"pump", "chute"}).Draw(t, "method")
			case c.Kind == KindText || c.Kind == KindWord:
				text = rapid.SampledFrom([]string{"7", "A", "crack"}).Draw(t, "text")
			default:
				text = strconv.Itoa(rapid.SampledFrom([]int{1, 4, 30, 500, 9000}).Draw(t, "number"))
			}
			if err := SetField(field, text); err != nil {
				t.Fatal(err)
			}
			if slices.Contains(PlacementRules, Placements.Columns[i].Name) {
				CopyField(some[i], field)
			}
		}
		want, got := p.Check(739000), bare.Check(739000)
		found += len(want)
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("by the columns named\n%v\nby all\n%v", got, want)
		}
	})
	if found == 0 {
		t.Error("no rule was broken")
	}
}
