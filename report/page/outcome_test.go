package page

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/steel"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

// tableOn is the table of a caption on a page.
func tableOn(t *testing.T, p Page, caption string) *Table {
	t.Helper()
	i := slices.IndexFunc(p.Exhibits, func(e Exhibit) bool { return e.Table != nil && strings.HasPrefix(e.Table.Caption, caption) })
	if i < 0 {
		t.Fatalf("%s has no table %q", p.Slug, caption)
	}
	return p.Exhibits[i].Table
}

// TestWhatSteelCostsToPlace holds the shown split of each way's cost against
// what the invented company pays: its own lines of cost come to the 0.38 and 0.74
// a ft² that it was given, and labor is its own hours at its own wage, as the
// assumptions list them. The rest of the cost is callbacks. A ft² is 0.3048² m².
func TestWhatSteelCostsToPlace(t *testing.T) {
	f := trial.CompanyFactors(t)
	m := &f.Reinforcement.MeshVsRebar
	paid := func(what figure.Assumed) float64 {
		i := slices.IndexFunc(f.Reinforcement.Assumptions, func(a figure.Assumption) bool { return a.What == what })
		if a := f.Reinforcement.Assumptions[i]; a.From == figure.Setting() || a.Off <= 0 {
			t.Errorf("%s is %+v: want it from the records, with its error", what, a)
		}
		return f.Reinforcement.Assumptions[i].Value
	}
	for units, area := range map[string]float64{"us": 1, "si": 0.3048 * 0.3048} {
		table := tableOn(t, pageOf(t, Pages(f, Options{Units: units}), steelSlug), "Cost per")
		for i, want := range []struct {
			way                  string
			material, labor, all float64
		}{{"mesh", 0.38, paid(steel.MeshPlacing) / 100 * paid(steel.BurdenedWage), m.CostMesh.Value},
			{"rebar", 0.74, paid(steel.RebarPlacing) / 100 * paid(steel.BurdenedWage), m.CostRebar.Value}} {
			row := table.Rows[i]
			if row[0].Text != want.way {
				t.Errorf("row %d is of %q, want %q", i+1, row[0].Text, want.way)
			}
			for k, v := range []float64{want.material, want.labor, want.all - want.material - want.labor, want.all} {
				if shown := shownMoney(t, row[1+k].Text); math.Abs(shown-v/area) > 0.00501+0.004/area { // the company's jobs paid to half a cent of it
					t.Errorf("%s, %s: %s is %q, want %.2f", units, want.way, table.Columns[1+k].Head, row[1+k].Text, v/area)
				}
			}
		}
	}
}

var firstNumber = regexp.MustCompile(`[0-9]+(?:,[0-9]{3})*(?:\.[0-9]+)?`)

// shownMoney is the first amount of a cell.
func shownMoney(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.ReplaceAll(firstNumber.FindString(text), ",", ""), 64)
	if err != nil {
		t.Fatalf("no amount in %q", text)
	}
	return v
}

// TestCracksStillToComeAreSaidOnce: the page says in one place how many slabs
// under warranty should still bring a callback, where the table of it stands, and its
// notes keep all else that goes with the answer.
func TestCracksStillToComeAreSaidOnce(t *testing.T) {
	f := trial.CompanyFactors(t)
	slabs := say.Count(f.Cracks.Later.Slabs)
	if f.Cracks.Later.Slabs < 100 {
		t.Fatalf("only %s sound slabs are under warranty: too few to know the number again", slabs)
	}
	page := pageOf(t, Pages(f, Options{}), cracksSlug)
	var said []string
	for _, s := range words(page) {
		if regexp.MustCompile(`\b` + slabs + `\b.* warranty\b.*\bshould\b`).MatchString(s) {
			said = append(said, s)
		}
	}
	if len(said) != 1 {
		t.Errorf("what the %s sound slabs should still bring is said %d times: %q", slabs, len(said), said)
	}
	if do := strings.Join(page.Do, " "); !strings.Contains(do, "which slabs will crack") {
		t.Errorf("the page does not say what follows from the answer: %q", do)
	}
}
