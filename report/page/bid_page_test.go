package page

import (
	"math"
	"slices"
	"strings"
	"testing"

	"pourback/analysis/clock"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

// TestPlanIsDrawnToScale: the slab and each of its joints have the length on paper
// that they have on the ground, at one scale, and nothing lies outside the drawing.
func TestPlanIsDrawnToScale(t *testing.T) {
	b := trial.MadeUpBid(t)
	a := newBidAuthor(b, Options{})
	j := &b.Placements[0].Joints
	d := a.plan(&b.Placements[0], screenPlan)
	drawn := map[string][]chart.Shape{}
	for _, s := range d.Shapes {
		drawn[s.Class] = append(drawn[s.Class], s)
		for _, p := range s.Points {
			if p.X < 0 || p.Y < 0 || p.X > d.Width || p.Y > d.Height {
				t.Errorf("%s %q lies outside the drawing, at %v", s.Class, s.Words, p)
			}
		}
	}
	long := func(s chart.Shape) float64 {
		return math.Hypot(s.Points[1].X-s.Points[0].X, s.Points[1].Y-s.Points[0].Y)
	}
	if len(drawn["panel"]) != 1 || len(drawn["cut"]) != len(j.Cuts) || len(drawn["apart"]) != 1 || len(drawn["gap"]) != 1 || len(drawn["bar"]) != len(j.Bars) {
		t.Fatalf("drawn %v", drawn)
	}
	scale := long(drawn["panel"][0]) / 40
	for i, c := range j.Cuts {
		if want := math.Hypot(c.X2-c.X1, c.Y2-c.Y1) * scale; !near(long(drawn["cut"][i]), want) {
			t.Errorf("joint %d of %v is drawn %v long, at %v a foot", i, c, long(drawn["cut"][i]), scale)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

// TestBlanksAreTheColumnsOfTheRecords: every blank's name is a column of its
// table, in every language, and every blank says what it means.
func TestBlanksAreTheColumnsOfTheRecords(t *testing.T) {
	for _, lang := range say.Languages() {
		s := PourDaySheet(PourDay{Bid: trial.MadeUpBid(t), ID: 3}, Options{Lang: lang})
		for _, table := range s.Tables {
			holdBlanks(t, lang, record.TableNamed(table.Record), table.Columns)
		}
		for _, facts := range s.Shared {
			holdBlanks(t, lang, record.TableNamed(facts.Record), facts.Columns)
		}
	}
}

func holdBlanks(t *testing.T, lang string, table *record.Table, columns []blankColumn) {
	t.Helper()
	for _, c := range columns {
		if table.Column(c.Name) == nil {
			t.Errorf("%s: %s has no column %s", lang, table.Name, c.Name)
		}
		if c.Gloss == "" {
			t.Errorf("%s: %s.%s does not say what it means", lang, table.Name, c.Name)
		}
	}
}

// TestCautionsStandOnTheSheetInEveryLanguage: each danger of the pour is on the
// crew's sheet, and said in the sheet's language.
func TestCautionsStandOnTheSheetInEveryLanguage(t *testing.T) {
	english := PourDaySheet(PourDay{Bid: trial.MadeUpBid(t), ID: 3}, Options{Lang: "en"}).Cautions
	for _, h := range []say.Hazard{say.PluggedHose, say.HeatIllness, say.CausticConcrete, say.SilicaDust} {
		if !slices.Contains(english, cautionOf(inEnglish, h)) {
			t.Errorf("nothing is said of hazard %d", h)
		}
	}
	if !slices.ContainsFunc(english, func(c Caution) bool { return strings.Contains(c.Text, "90 minutes of batching") }) {
		t.Errorf("nothing is said of the truck's time: %+v", english)
	}
	if !slices.ContainsFunc(english, func(c Caution) bool { return strings.Contains(c.Text, "may dry at up to") }) {
		t.Errorf("nothing is said of the day's air: %+v", english)
	}
	for _, lang := range say.Languages() {
		cautions := PourDaySheet(PourDay{Bid: trial.MadeUpBid(t), ID: 3}, Options{Lang: lang}).Cautions
		if len(cautions) != len(english) {
			t.Fatalf("%s warns of %d dangers, English of %d", lang, len(cautions), len(english))
		}
		for i, c := range cautions {
			if c.Text == "" || c.Source == "" && !strings.Contains(c.Text, "(") && !strings.Contains(english[i].Text, "ready to float") || lang != "en" && c.Text == english[i].Text {
				t.Errorf("%s: %q is not said in it", lang, c.Text)
			}
		}
	}
}

// TestEvenPanelsAreNamedTogether: a side of 76 ft in ten panels is drawn too narrow to
// name each, so it is named as ten of 7 ft 7 in; panels that each have room are named
// one by one, and uneven ones are not named together.
func TestEvenPanelsAreNamedTogether(t *testing.T) {
	b := trial.MadeUpBid(t)
	a := newBidAuthor(b, Options{})
	named := func(marks []float64) (all []string) {
		d := chart.Drawing{Width: 400, Height: 300}
		at := func(x, y float64) chart.Point { return chart.Point{X: 50 + 4*x, Y: 250 - 4*y} }
		a.dimensions(&d, planSides{bottom: marks, left: []float64{0, 40}}, marks[len(marks)-1], 40, at)
		for _, s := range d.Shapes {
			all = append(all, strings.Join(s.Words, " "))
		}
		return all
	}
	ten := make([]float64, 11)
	for i := range ten {
		ten[i] = 7.6 * float64(i)
	}
	if got := named(ten); !slices.Contains(got, "10 × 7′ 7″") || !slices.Contains(got, "76′") {
		t.Errorf("ten panels: %q", got)
	}
	if got := named([]float64{0, 20, 40}); slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "×") }) || !slices.Contains(got, "20′") {
		t.Errorf("two panels: %q", got)
	}
	if got := named([]float64{0, 5, 11, 16}); slices.ContainsFunc(got, func(s string) bool { return strings.Contains(s, "×") }) {
		t.Errorf("uneven panels: %q", got)
	}
}

// TestOneClockForTheSaw: where the day's clock says when to saw, no other hours stand
// beside it; the sheet's first cut names both saws, and each as the clock has it.
func TestOneClockForTheSaw(t *testing.T) {
	b := trial.MadeUpBid(t)
	a := newBidAuthor(b, Options{})
	p := &b.Placements[0]
	if when := a.w.Sawing(p.Joints.Saw); when == "" || !a.sawnByClock(p.Name) {
		t.Fatalf("the bid is no trial: %q", when)
	}
	told := func() bool {
		return slices.ContainsFunc(a.joints(p).Table.Below, func(s string) bool { return strings.HasPrefix(s, "When to saw") })
	}
	if told() {
		t.Error("two clocks say when to saw")
	}
	sheet := PourDaySheet(PourDay{Bid: b}, Options{})
	for i, day := range b.Days {
		first := slices.MinFunc(day.Clock.Saw, func(x, y clock.Saw) int { return x.From.Min - y.From.Min })
		if !first.Early {
			t.Fatalf("day %d begins with a conventional saw", i+1)
		}
		for _, s := range day.Clock.Saw {
			if from := a.w.Time(s.From); s.Placement == first.Placement && !s.Early && !strings.Contains(sheet.Glance[i].Cut.Says, "Conventional saw: "+from) {
				t.Errorf("%q does not say %s", sheet.Glance[i].Cut.Says, from)
			}
		}
	}
	for i := range b.Days {
		b.Days[i].Clock = nil
	}
	if !told() {
		t.Error("without a clock nothing says when to saw")
	}
}

// TestTooLateGoesFirst: that the concrete would come too late is the first thing a
// cost sheet says.
func TestTooLateGoesFirst(t *testing.T) {
	b := trial.MadeUpBid(t)
	if p := BidPage(b, Options{}); strings.Contains(p.Answer, "too late") {
		t.Error(p.Answer)
	}
	day := *b.Days[0].Clock
	day.Notes = append(slices.Clone(day.Notes), clock.Note{Kind: clock.TooFar, Min: 110, Limit: 90})
	b.Days[0].Clock = &day
	const first = "The concrete would come too late: loading and the road take 110 minutes, and a truck has 90 minutes. Use a nearer plant, or agree a retarder and a longer limit with the plant. Order "
	if p := BidPage(b, Options{}); !strings.HasPrefix(p.Answer, first) {
		t.Errorf("%q", p.Answer)
	}
}
