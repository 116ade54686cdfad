package bid

import (
	"math"
	"slices"
	"testing"

	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// explained are bids that have every kind of line between them.
func explained(t *testing.T) map[string]*Bid {
	pumped := Placement{Use: "patio", LengthFt: 30, WidthFt: 20, ThicknessIn: 4, Method: "pump", Base: "crushed base", Reinforcement: "rebar", Bar: "#5", BarSpacingIn: 12}
	set := setting.DefaultBidPractice()
	set.Overhead, set.Contingency = 0.12, 0.05
	leaning, err := MakeLeaning(stranger(), driveAndWalk(), setting.Options{}, leanOf([]float64{.1, .02, .2, .15, .08}, []float64{.02, .02, .02, .02, .02}, 0.1, 0.9))
	if err != nil {
		t.Fatal(err)
	}
	return map[string]*Bid{
		"leaning": leaning,
		"records": bidOf(t, saltgrass(t, 200, 1), driveAndWalk(), setting.Options{}),
		"nothing": bidOf(t, stranger(), driveAndWalk(), setting.Options{}),
		"pumped": bidOf(t, stranger(), Spec{On: "1", Placements: []Placement{pumped, {Use: "driveway", AreaSqft: 500, ThicknessIn: 5, Reinforcement: "fiber", JointCut: "tooled", Day: 2}},
			Prices: Prices{PumpPerHour: 180, PumpPerYd: 5, BasePerSqft: 0.8, ExcavationPerSqft: 1.1, SealPerSqft: 0.4, ColdPerYd: 8, Permits: 120, ConcretePerYd: 171.25},
			Items:  []Item{{"stamp", 415.5}}, CrewSize: 3.5}, setting.Options{Bid: set}),
	}
}

// TestExplainedFigures: what the terms come to is the figure, the last term named
// where it is what the draws came to beside that; and no working hides in its rest.
func TestExplainedFigures(t *testing.T) {
	for name, b := range explained(t) {
		items, met := 0, map[Worked]Working{}
		for _, w := range Explain(b) {
			met[w.Figure] = w
			if got := w.Comes(); math.Abs(got-w.Is.Value) > leastRest(w.Is.Unit) {
				t.Errorf("%s: %s %s: comes to %v, is %v", name, w.Figure, w.Of, got, w.Is.Value)
			}
			if w.Figure == WorkCost {
				items++
			}
			last := w.Terms[len(w.Terms)-1]
			for _, term := range w.Terms {
				if term[0].Name == InAsKept || term[0].Name == InOther {
					t.Errorf("%s: %s %s %s: %v of %v is not explained", name, w.Figure, w.Of, w.Item.Item, product(term), w.Is.Value)
				}
			}
			if rest := math.Abs(product(last)); last[0].Name == InRest && rest > 0.04*math.Abs(w.Is.Value)+5 {
				t.Errorf("%s: %s %s: %v of %v is luck of the draws", name, w.Figure, w.Item.Item, rest, w.Is.Value)
			}
			if last[0].Name == InRoundedUp && !slices.Contains([]Worked{WorkPrice, WorkAsked}, w.Figure) {
				t.Errorf("%s: %s is rounded up", name, w.Figure)
			}
		}
		if items != len(b.Cost.Items) {
			t.Errorf("%s: %d lines of cost explained, of %d", name, items, len(b.Cost.Items))
		}
		for _, w := range []Worked{WorkNeat, WorkUsed, WorkOrder, WorkHours, WorkTask, WorkWaitCost, WorkReserve, WorkTotal, WorkPrice, WorkAsked, WorkMargin, WorkLoss} {
			if len(met[w].Terms) == 0 {
				t.Errorf("%s: no %s", name, w)
			}
		}
		if up := met[WorkAsked].Is.Value - met[WorkPrice].Is.Value; up < 0 || up >= b.Price.Step {
			t.Errorf("%s: %v is asked for %v, in steps of %v", name, met[WorkAsked].Is.Value, met[WorkPrice].Is.Value, b.Price.Step)
		}
	}
}

// TestExplainedLines: single figures by hand. Area × thickness over 324 is the trade's
// own rule (27 ft³ in a yd³, 12 in in a ft).
func TestExplainedLines(t *testing.T) {
	b := bidOf(t, stranger(), Spec{Prices: Prices{ConcretePerYd: 200, LaborPerHour: 40}, TargetMargin: 0.3, Certainty: 0.8,
		Placements: []Placement{{Use: "driveway", LengthFt: 36, WidthFt: 18, ThicknessIn: 5, Reinforcement: "none"}}}, setting.Options{})
	want := map[Worked][][]float64{
		WorkNeat:  {{648, 5, 324}},
		WorkPrice: {{b.Cost.Loaded.P80, 0.7}},
	}
	for _, w := range Explain(b) {
		terms := want[w.Figure]
		for i := range terms {
			for k, v := range terms[i] {
				if got := w.Terms[i][k].Value; math.Abs(got-v) > 1e-9 {
					t.Errorf("%s: term %d has %v, want %v", w.Figure, i, got, v)
				}
			}
		}
		delete(want, w.Figure)
		if w.Item.Item == CostLabor && (w.Terms[0][1].Value != 40 || w.Terms[0][1].Basis.From != FromSpec || math.Abs(w.Terms[0][0].Value-b.Labor.Mean.Figure.Value) > 1e-9) {
			t.Errorf("labor is %+v", w.Terms)
		}
		if w.Item.Item == CostConcrete && (w.Terms[0][0].Value != b.Days[0].Order.Yd || w.Terms[0][1].Value != 200) {
			t.Errorf("concrete is %+v", w.Terms)
		}
	}
	if len(want) > 0 {
		t.Errorf("not explained: %v", want)
	}
}

// TestReplacedBidsCountOnce: a later version that is not void counts in the place of
// those before it, among the bids won and beside the jobs.
func TestReplacedBidsCountOnce(t *testing.T) {
	b := bidOf(t, stranger(), Spec{Draws: 100, Placements: []Placement{plainSlab()}}, setting.Options{})
	kept := func(v2, v3 Fate) []Kept {
		return []Kept{{ID: 1, MadeOn: 100, Version: 1, Bid: b}, {ID: 4, MadeOn: 105, Version: 2, Revises: 1, First: 1, Fate: v2, Bid: b},
			{ID: 7, MadeOn: 108, Version: 3, Revises: 4, First: 1, Fate: v3, Bid: b}, {ID: 8, MadeOn: 90, Version: 1, Fate: Lost, FateOn: 110, Bid: b}}
	}
	for _, c := range []struct {
		v2, v3 Fate
		stands []Standing
		won    int
		oldest int64
	}{
		{"", "", []Standing{StandsReplaced, StandsReplaced, StandsOpen, StandsLost}, 0, 7},
		{"", Won, []Standing{StandsReplaced, StandsReplaced, StandsWon, StandsLost}, 1, 0},
		{Won, Void, []Standing{StandsReplaced, StandsWon, StandsVoid, StandsLost}, 1, 0},
		{Void, Void, []Standing{StandsOpen, StandsVoid, StandsVoid, StandsLost}, 0, 1},
	} {
		h := record.NewHistory(120, record.Set{})
		r := Outcomes(h, kept(c.v2, c.v3))
		for i, o := range r.Outcomes {
			if o.Stands != c.stands[i] {
				t.Errorf("%q, %q: bid %d stands %s, want %s", c.v2, c.v3, o.ID, o.Stands, c.stands[i])
			}
		}
		open := len(r.Standing(StandsOpen))
		if r.Wins.Won != c.won || r.Wins.Lost != 1 || r.Wins.Open != open {
			t.Errorf("%q, %q: %+v", c.v2, c.v3, r.Wins)
		}
		switch o := r.Oldest(); {
		case c.oldest == 0 && o != nil, c.oldest != 0 && (o == nil || o.ID != c.oldest):
			t.Errorf("%q, %q: the oldest is %+v", c.v2, c.v3, o)
		case o != nil && o.Days != int(120-o.MadeOn):
			t.Errorf("open for %d days", o.Days)
		}
	}
}

// TestFateOnADay: what was said after the data date is not known by then.
func TestFateOnADay(t *testing.T) {
	said := []Said{{On: 10, Did: "mark", After: "won"}, {On: 12, Did: "job", After: "J-1"}, {On: 20, Did: "mark", Before: "won"}, {On: 30, Did: "mark", After: "lost"}}
	for day, want := range map[record.Date]Fate{5: "", 10: Won, 15: Won, 20: "", 29: "", 30: Lost, 99: Lost} {
		fate, on := FateOn(day, Lost, 30, said)
		if fate != want || (on == 0) != (want == "") {
			t.Errorf("on day %d it is %q, since %d; want %q", day, fate, on, want)
		}
	}
	if fate, on := FateOn(5, Won, 0, nil); fate != Won || on != 0 {
		t.Errorf("a mark of no day is %q, since %d", fate, on)
	}
}
