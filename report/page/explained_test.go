package page

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis/bid"
	"pourback/analysis/setting"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// printed is a number as the page prints it, with how far it may be off by rounding.
type printed struct{ value, off float64 }

var digits = regexp.MustCompile(`[0-9][0-9,]*(\.[0-9]+)?`)

// readPrinted reads a number: percent as shares; what ends in nothing but zeros is
// printed without them, so that how far it may be off goes by what it is a number of.
func readPrinted(t *testing.T, text string) printed {
	t.Helper()
	number := digits.FindString(text)
	v, err := strconv.ParseFloat(strings.ReplaceAll(number, ",", ""), 64)
	if err != nil {
		t.Fatalf("%q: %v", text, err)
	}
	switch {
	case strings.Contains(text, "%"):
		return printed{v / 100, 0.00005}
	case strings.Contains(text, "$") && strings.Contains(text, "/"): // a rate: cents exactly, or to the hundredth of one
		return printed{v, 0.00005}
	case strings.Contains(text, "$"), strings.HasSuffix(text, " yd"), strings.HasSuffix(text, " h"), strings.HasSuffix(text, " min"), strings.HasSuffix(text, " m³"), strings.HasSuffix(text, " people"), strings.HasSuffix(text, " months"):
		return printed{v, 0.005}
	case strings.Contains(text, "/100 ft²"), strings.Contains(text, "/100 m²"), strings.HasSuffix(text, " ft²"), strings.HasSuffix(text, " ft"), strings.HasSuffix(text, " in"), strings.HasSuffix(text, " m²"), strings.HasSuffix(text, " m"), strings.HasSuffix(text, " mm"):
		return printed{v, 0.0005}
	}
	return printed{v, v * 5e-5} // five digits that count
}

// times is a product with how far it may be off.
func (p printed) times(q printed) printed {
	return printed{p.value * q.value, math.Abs(p.value)*q.off + math.Abs(q.value)*p.off + p.off*q.off}
}

// reckoned works a printed line out as a pencil does. What counts units (324, 1,000, 100,
// 60, 12) is exact.
func reckoned(t *testing.T, line string) printed {
	t.Helper()
	sum := printed{}
	for _, term := range strings.Split(strings.ReplaceAll(line, " − ", " + −"), " + ") {
		term, minus := strings.CutPrefix(term, "−")
		product := printed{1, 0}
		for _, factor := range strings.Split(strings.ReplaceAll(term, " ÷ ", " × ÷ "), " × ") {
			divisor, over := strings.CutPrefix(factor, "÷ ")
			by := readPrinted(t, divisor)
			if slices.Contains([]string{"324", "1,000", "100", "60", "12"}, divisor) {
				by.off = 0
			}
			if over {
				by = printed{1 / by.value, by.off / (by.value * by.value)}
			}
			product = product.times(by)
		}
		if minus {
			product.value = -product.value
		}
		sum = printed{sum.value + product.value, sum.off + product.off}
	}
	return sum
}

// explainedBids are bids of several kinds.
func explainedBids(t *testing.T) map[string]*bid.Bid {
	set := setting.DefaultBidPractice()
	set.Overhead, set.Contingency = 0.12, 0.05
	made := func(spec bid.Spec, opt setting.Options) *bid.Bid {
		b, err := bid.Make(record.NewHistory(record.DateOf(2026, 1, 2), record.Set{}), spec, opt)
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	return map[string]*bid.Bid{
		"made up": trial.MadeUpBid(t),
		"plain":   made(bid.Spec{Placements: []bid.Placement{{Use: "driveway", LengthFt: 36.5, WidthFt: 18, ThicknessIn: 4.5, Reinforcement: "mesh"}}}, setting.Options{}),
		"much": made(bid.Spec{On: "1", CrewSize: 3.5, Items: []bid.Item{{Item: "stamp", Amount: 415.55}}, Prices: bid.Prices{PumpPerHour: 180, PumpPerYd: 5, BasePerSqft: 0.815, ColdPerYd: 8, Permits: 120},
			Placements: []bid.Placement{{Use: "patio", Outline: [][]float64{{0, 0}, {30, 0}, {30, 20}, {0, 20}}, Holes: [][][]float64{{{5, 5}, {9, 5}, {9, 9}, {5, 9}}}, ThicknessIn: 4, Method: "pump", Base: "crushed base", Reinforcement: "rebar", Bar: "#5", BarSpacingIn: 12},
				{Use: "driveway", AreaSqft: 500, ThicknessIn: 5, Reinforcement: "fiber", Day: 2}}}, setting.Options{Bid: set}),
	}
}

// TestExplainedPageAddsUp works every printed line of the page out again, in both
// systems of units: each sum and product comes to what is printed beside it, to the
// rounding of what it is made of.
func TestExplainedPageAddsUp(t *testing.T) {
	for name, b := range explainedBids(t) {
		for _, units := range []string{"us", "si"} {
			lines := 0
			for _, e := range ExplainedPage(b, Options{Units: units}).Exhibits {
				if len(e.Table.Columns) != 3 || e.Table.Columns[2].Head != "How it is worked out" {
					continue
				}
				for _, row := range e.Table.Rows {
					_, numbers, found := strings.Cut(row[2].Text, " = ")
					if !found {
						t.Errorf("%s, %s: %q is not worked out", name, row[0].Text, row[2].Text)
						continue
					}
					lines++
					got, want := reckoned(t, numbers), readPrinted(t, row[1].Text)
					if minus := strings.HasPrefix(row[1].Text, "−"); minus {
						want.value = -want.value
					}
					if off := math.Abs(got.value - want.value); off > got.off+want.off+1e-9 || got.off > 0.02*math.Abs(want.value)+0.5 {
						t.Errorf("%s in %s, %s: %s comes to %.4f ± %.4f, and %s is printed", name, units, row[0].Text, numbers, got.value, got.off, row[1].Text)
					}
				}
			}
			if lines < 25 {
				t.Errorf("%s: %d lines were worked out", name, lines)
			}
		}
	}
}

// TestExplainedInputsSayWhatTheyStandOn: every number that goes in has a line with what
// it stands on.
func TestExplainedInputsSayWhatTheyStandOn(t *testing.T) {
	for name, b := range explainedBids(t) {
		if name == "made up" { // by hand, without all settings
			continue
		}
		met := map[string]bool{}
		for _, e := range ExplainedPage(b, Options{}).Exhibits {
			if len(e.Table.Columns) == 3 && e.Table.Columns[2].Head == "Where it comes from" {
				for _, row := range e.Table.Rows {
					if met[row[0].Text] = true; row[2].Text == "—" || row[2].Text == "" || row[1].Text == "" {
						t.Errorf("%s: %q stands on %q", name, row[0].Text, row[2].Text)
					}
				}
			}
		}
		for _, want := range []string{"area", "wage with its burden", "price of concrete", "what the margin leaves", "waste on average", "pace for such a slab", "callbacks a year"} {
			if !met[want] {
				t.Errorf("%s: %q is not said to stand on anything; %v", name, want, met)
			}
		}
	}
}

// TestComparedPageMarks what differs, and leaves out of a revision what does not.
func TestComparedPageMarks(t *testing.T) {
	a := trial.MadeUpBid(t)
	b := *a
	b.Price.Asked, b.Spec.Crew = a.Price.Asked+650, "Wren"
	c := bid.Compare(&bid.Kept{ID: 3, Bid: a}, &bid.Kept{ID: 5, Version: 2, Bid: &b})
	p := ComparedPage(c, Options{})
	if p.Answer != "Bid 5 asks $650 more than bid 3." {
		t.Error(p.Answer)
	}
	marked := 0
	for _, row := range p.Exhibits[0].Table.Rows {
		if strings.HasPrefix(row[0].Text, "● ") {
			if marked++; row[3].Text != "+$650" {
				t.Errorf("%v", row)
			}
		} else if row[3].Text != "–" {
			t.Errorf("%v", row)
		}
	}
	revised := RevisedPage(c, Options{})
	if marked != 1 || len(revised.Exhibits[0].Table.Rows) != 1 || revised.Answer != "Bid 5 takes the place of bid 3, as version 2. It asks $650 more." || len(revised.Exhibits) != 2 || revised.Exhibits[1].Table.Rows[0][2].Text != "Wren" {
		t.Errorf("%d marked; %s %v", marked, revised.Answer, revised.Exhibits)
	}
}
