package out

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pourback/report/chart"
)

func lineKind() chart.LinePlot {
	p := chart.LinePlot{ID: "kind-lines", Says: "What to add to the drawing by size, a line for each way of placing.", Across: chart.Axis{Name: "on the drawing, yd"}, Up: chart.Axis{Name: "to add, %", From: chart.At(0)},
		And: inEnglish.List, Notes: []chart.Note{{X: 2, Y: 38, Text: "small jobs by pump"}}}
	for _, l := range []struct {
		method string
		add    [4]float64
	}{{"pump", [4]float64{38, 25, 16, 15}}, {"barrow", [4]float64{25, 19, 16, 12}}, {"buggy", [4]float64{25, 19, 12.2, 12}}, {"chute", [4]float64{25, 19, 12.2, 12}}} {
		s := chart.Series{Name: l.method, Hue: chart.HueOf(l.method), Dots: true}
		for i, yd := range []float64{2, 4, 8, 12} {
			s.At = append(s.At, chart.Spot{X: yd, Y: l.add[i], Tip: fmt.Sprint(l.method, " ", yd)})
		}
		p.Lines = append(p.Lines, s)
	}
	return p
}

// manyLinesKind has more lines than can bear their names at their ends.
func manyLinesKind() chart.LinePlot {
	p := chart.LinePlot{ID: "kind-many-lines", Says: "Seven lines with a legend and a level to compare with.", Across: chart.Axis{Name: "placements"}, Up: chart.Axis{Name: "hours"}, Rules: []chart.Rule{{Name: "an average crew", At: 100}}}
	for k := range 7 {
		s := chart.Series{Name: fmt.Sprint("a crew of the name of ", k+1), Step: k == 6}
		for i := range 20 {
			s.At = append(s.At, chart.Spot{X: float64(i), Y: 90 + float64(k) + 80/float64(i+k+1), Tip: fmt.Sprint(i)})
		}
		p.Lines = append(p.Lines, s)
	}
	return p
}

func rowKind() chart.RowPlot {
	return chart.RowPlot{ID: "kind-rows", Says: "Two marks for each task, with their ranges.", Scale: "person-hours for 100 sq ft", Zero: true,
		Series: []chart.RowSeries{{Name: "Heron", Hue: chart.CrewHue(0)}, {Name: "Kestrel", Hue: chart.CrewHue(1)}},
		Rows: []chart.Row{{Label: "form", Amounts: []chart.Amount{ranged(1.4, 1.3, 1.5), ranged(1.7, 1.6, 1.9)}},
			{Label: "place and strike off with the screed", Amounts: []chart.Amount{ranged(1.5, 1.4, 1.6), ranged(1.8, 1.5, math.Inf(1))}}, {Label: "strip", Amounts: []chart.Amount{ranged(.3, .2, .4), chart.None()}}}}
}

func ranged(value, low, high float64) chart.Amount {
	return chart.Amount{Value: value, Low: low, High: high, Tip: fmt.Sprintf("%v (%v to %v)", value, low, high)}
}

func columnKind() chart.ColumnPlot {
	p := chart.ColumnPlot{ID: "kind-columns", Says: "A column for each month, with a tick for what is usual.", Up: "callbacks", Usual: "usual", Marked: "stands out"}
	for i := range 24 {
		a := ranged(float64(i*7%5), math.NaN(), math.NaN())
		p.Columns = append(p.Columns, chart.Column{Label: fmt.Sprintf("%s %d", [...]string{"Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec"}[i%12], 2025+i/12), Amount: a, Usual: 1.2, UsualTip: "1.2 is usual", Out: a.Value == 4})
	}
	return p
}

func scatterKind() chart.ScatterPlot {
	p := chart.ScatterPlot{ID: "kind-scatter", Says: "A dot for each pour by temperature and drying rate, those that cracked as triangles, over the region where cracks threaten.",
		Across: chart.Axis{Name: "air, °F"}, Up: chart.Axis{Name: "drying, lb/ft²/h", From: chart.At(0)}, Others: "no crack", Those: "cracked", Region: chart.Region{Name: "where cracks threaten", Ring: []chart.Spot{{X: 0, Y: .2}, {X: 200, Y: .2}, {X: 200, Y: 9}, {X: 0, Y: 9}}},
		Notes: []chart.Note{{X: 98, Y: .31, Text: "Lot 14, windy"}}}
	for i := range 120 {
		f := 50 + float64(i*37%53)
		p.Points = append(p.Points, chart.ScatterPoint{Spot: chart.Spot{X: f, Y: .04 + .0028*(f-50) + .001*float64(i*13%70), Tip: fmt.Sprint("pour ", i)}, Marked: i%11 == 0})
	}
	p.Points = append(p.Points, chart.ScatterPoint{Spot: chart.Spot{X: 98, Y: .31, Tip: "Lot 14"}, Marked: true})
	return p
}

func gridKind() chart.GridPlot {
	return chart.GridPlot{ID: "kind-grid", Says: "Slabs by joint spacing and reinforcement, the darker the more.", Across: "joint spacing", Columns: []string{"6 to 8 ft", "8 to 10 ft", "10 to 12 ft", "12 to 15 ft", "not known"}, Nothing: "–",
		Rows: []chart.GridRow{{Label: "none", Cells: []chart.GridCell{{Value: 13}, {Value: 24}, {Value: 27}, {Value: 25}, {Value: 1}}}, {Label: "mesh", Cells: []chart.GridCell{{Value: 40}, {Value: 71}, {Value: 60}, {Value: 75}, {Value: 2}}},
			{Label: "mesh and fiber", Cells: []chart.GridCell{{}, {Value: 4}, {Value: 1}, {Value: 2}}}, {Label: "rebar", Cells: []chart.GridCell{{Value: 35}, {Value: 61}, {Value: 49, Tip: "49 slabs"}, {Value: 54}, {Value: 2}}}}}
}

func monthKind() chart.MonthPlot {
	november, december := chart.CalendarMonth{Name: "November 2026", Year: 2026, Month: 11, Today: 17}, chart.CalendarMonth{Name: "December 2026", Year: 2026, Month: 12}
	for _, d := range []int{2, 2, 4, 9, 10, 10, 10, 10, 17} {
		november.Marks = append(november.Marks, chart.DayMark{Day: d, Kind: 0, Tip: "a driveway"})
	}
	november.Marks = append(november.Marks, chart.DayMark{Day: 5, Kind: 2, Tip: "Lot 27"}, chart.DayMark{Day: 10, Kind: 2, Tip: "Lot 70"}, chart.DayMark{Day: 19, Kind: 1, Tip: "Lot 93"})
	for range 14 {
		december.Marks = append(december.Marks, chart.DayMark{Day: 3, Kind: 1, Tip: "Lot 14"})
	}
	return chart.MonthPlot{ID: "kind-month", Says: "The days of November and December 2026 with pours and visits.", Days: [7]string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"},
		Kinds: []chart.DayKind{{Name: "pour", Hue: chart.Own}, {Name: "visit due", Hue: chart.Bid}, {Name: "overdue", Hue: chart.Worse}}, Today: "today", Months: []chart.CalendarMonth{november, december}}
}

func tornadoKind() chart.TornadoPlot {
	return chart.TornadoPlot{ID: "kind-tornado", Says: "What mesh saves, by what is least sure; it turns at zero.", Scale: "mesh saves, $ a year", Middle: chart.Rule{Name: "as things are", At: 2600}, Turn: chart.Rule{Name: "rebar pays from here", At: 0},
		Rows: []chart.Swing{{Label: "cost of a callback", AtLow: 4100, AtHigh: -400, LowText: "$300", HighText: "$2,100", Tip: "from $300 to $2,100"}, {Label: "cracks with mesh, times those with rebar", AtLow: 3600, AtHigh: 900, LowText: "0.6", HighText: "1.9"},
			{Label: "rebar, a foot", AtLow: 1800, AtHigh: 3300, LowText: "$0.65", HighText: "$0.95"}}}
}

// smallKinds are pictures that are read at a glance.
func smallKinds() []interface{ Chart() *chart.Chart } {
	line := func(values ...float64) (at []chart.Spot) {
		for i, v := range values {
			at = append(at, chart.Spot{X: float64(i), Y: v})
		}
		return at
	}
	one := []chart.RowSeries{{Name: "rate", Hue: chart.Own}}
	row := func(name string, a chart.Amount) chart.Row { return chart.Row{Label: name, Amounts: []chart.Amount{a}} }
	bar := []chart.RowSeries{{Name: "cost", Hue: chart.Own, Bar: true}}
	sum := func(v float64, text string) chart.Row { return row("", ranged(v, math.NaN(), math.NaN()).With(text)) }
	return []interface{ Chart() *chart.Chart }{
		chart.LinePlot{ID: "small-margin", Says: "Margin by month: below the bids in all of 13 months.", Small: true, Across: chart.Axis{Marks: []chart.Rule{{Name: "Oct 25", At: 0}, {Name: "Oct 26", At: 12}}},
			Lines: []chart.Series{{Name: "bid 27", Hue: chart.Bid, At: line(28, 27, 26, 25, 27, 26, 27, 26, 26, 27, 26, 26, 27)}, {Name: "kept 22", Hue: chart.Own, Last: true, At: line(19, 23, 19, 22, 24, 21, 24, 25, 19, 22, 24, 23, 22)}}},
		chart.LinePlot{ID: "small-orders", Says: "What to add by size: more for small jobs, more by pump.", Small: true, Up: chart.Axis{Marks: []chart.Rule{{Name: "38 %", At: 38}, {Name: "10 %", At: 10}}, From: chart.At(8)},
			Across: chart.Axis{Marks: []chart.Rule{{Name: "2 yd", At: 0}, {Name: "8 yd", At: 3}, {Name: "12 yd", At: 5}}}, Lines: []chart.Series{{Name: "pump", Hue: chart.Pump, At: line(38, 25, 20, 17, 15.5, 15)}, {Name: "chute", Hue: chart.Chute, At: line(25, 19, 15, 13, 12.4, 12)}}},
		chart.RowPlot{ID: "small-steel", Says: "Cost a square foot: mesh 0.75, rebar 1.11 dollars.", Small: true, Series: bar, Ends: [2]string{"a square foot, callbacks counted", ""},
			Rows: []chart.Row{row("mesh", ranged(.75, .7, .84).With("$0.75").As(chart.Mesh)), row("rebar", ranged(1.11, 1.06, 1.2).With("$1.11").As(chart.Rebar))}},
		chart.RowPlot{ID: "small-crews", Says: "Hours against an average crew: Heron 9 percent fewer.", Small: true, Ratio: true, Series: one, Rule: chart.Rule{Name: "average", At: 1}, Sides: [2]string{"fewer hours", "more"},
			Rows: []chart.Row{row("Heron", ranged(.91, .88, .94)), row("Kestrel", ranged(1.05, 1.01, 1.09)), row("Wren", ranged(1.04, .99, 1.09))}},
		chart.RowPlot{ID: "small-pump", Says: "Clogs in 100 yards by outfit: P2 plugs most.", Small: true, Zero: true, Series: one, Ends: [2]string{"0", "7 in 100 yd"},
			Rows: []chart.Row{row("P1", ranged(1.3, .6, 2.6)), row("P2", ranged(4, 2.8, 7)), row("P3", ranged(2.1, 1.2, 3.5))}},
		chart.LinePlot{ID: "small-cracks", Says: "Share of slabs without a crack callback: 95 of 100 after a year.", Small: true, Up: chart.Axis{Marks: []chart.Rule{{Name: "100", At: 100}, {Name: "90", At: 90}}, From: chart.At(90)},
			Across: chart.Axis{Marks: []chart.Rule{{Name: "1 yr", At: 4}, {Name: "2 yr", At: 8}}}, Lines: []chart.Series{{Name: "", Hue: chart.Own, Step: true, At: line(100, 99.4, 98.4, 97.4, 96, 95, 94.2, 93.6, 92.2)}}},
		chart.RowPlot{ID: "small-worth", Says: "Worth a year: 7,800, 6,300 and 3,100 dollars.", Small: true, Series: bar, Rows: []chart.Row{sum(7800, "$7,800"), sum(6300, "$6,300"), sum(3100, "$3,100")}},
	}
}

// TestLinesThatCoincideShareAName: the one drawn over the other is dashed, so that
// both are seen, and one name says both.
func TestLinesThatCoincideShareAName(t *testing.T) {
	d := lineKind().Chart().Drawing()
	over, named := 0, false
	for _, s := range d.Shapes {
		if strings.Contains(s.Class, "over") {
			over++
		}
		named = named || strings.Join(s.Words, " ") == "buggy and chute"
	}
	if over < 2 || !named { // buggy on barrow for a part, chute on buggy throughout
		t.Errorf("%d stretches are drawn over others; named together: %v", over, named)
	}
}

// TestSmallPicturesAreSmall: they keep to what a tile has room for.
func TestSmallPicturesAreSmall(t *testing.T) {
	for _, k := range smallKinds() {
		c := k.Chart()
		if d := c.Drawing(); d.Width != 330 || d.Height < 60 || d.Height > 112 || d.Class != "small" {
			t.Errorf("%s is %v by %v, %s", c.ID, d.Width, d.Height, d.Class)
		}
	}
}
