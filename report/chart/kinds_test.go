package chart

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourback/analysis/figure"
)

// hostile names are what a record may hold.
var hostile = []string{
	`</title></svg><script>alert(1)</script>`, `"><img src=x onerror=alert(1)>`, "\u2068حفارة\u2069", "עגורן 3", "a\x00b\u0007", "two\nlines\ttab", strings.Repeat("W", 500),
	strings.Repeat("👷🏽", 60), "&lt;b&gt; &amp;", "\xff\xfe broken", "", " ", strings.Repeat("long words ", 30), "e\u0301\u0301\u0301\u0301",
}

// made-up values: mostly sound, some that no chart can draw.
func value(t *rapid.T) float64 {
	return rapid.OneOf(rapid.Float64Range(0, 100), rapid.Float64Range(-1e3, 1e3), rapid.Float64Range(-1e12, 1e12), rapid.Float64Range(1, 1.0001),
		rapid.SampledFrom([]float64{0, 1, 5, math.NaN(), math.Inf(1), math.Inf(-1), 1e300, -1e300, 5e-324, 1e15})).Draw(t, "v")
}

func name(t *rapid.T) string {
	return rapid.OneOf(rapid.SampledFrom(hostile), rapid.SampledFrom([]string{"mesh", "rebar", "pump", "Heron", "driveway, chute", "found, dated to the visit", "Jan 2026"})).Draw(t, "name")
}

func several[T any](t *rapid.T, most int, of func(*rapid.T) T) []T {
	n := rapid.OneOf(rapid.IntRange(0, 3), rapid.IntRange(0, most)).Draw(t, "n")
	all := make([]T, n)
	for i := range all {
		all[i] = of(t)
	}
	return all
}

func amount(t *rapid.T) Amount {
	a := Amount{Value: value(t), Low: value(t), High: value(t), Tip: name(t)}
	if rapid.Bool().Draw(t, "texts") {
		a.Text = name(t)
	}
	if a.Low > a.High {
		a.Low, a.High = a.High, a.Low
	}
	return a
}

func spot(t *rapid.T) Spot { return Spot{value(t), value(t), name(t)} }

func rule(t *rapid.T) Rule { return Rule{name(t), value(t)} }

func note(t *rapid.T) Note { return Note{value(t), value(t), name(t)} }

func reaches(t *rapid.T, most int) []Reach {
	return several(t, most, func(t *rapid.T) Reach { a := amount(t); return Reach{value(t), a.Low, a.High} })
}

func hue(t *rapid.T) Hue {
	return rapid.SampledFrom([]Hue{Plain, Own, Bid, Mesh, Pump, CrewHue(2), ""}).Draw(t, "hue")
}

func series(t *rapid.T) Series {
	s := Series{Name: name(t), Hue: hue(t), At: several(t, 60, spot), Band: reaches(t, 20), Step: rapid.Bool().Draw(t, "step"), Dots: rapid.Bool().Draw(t, "dots")}
	slices.SortFunc(s.At, func(a, b Spot) int { return compare(a.X, b.X) })
	return s
}

func axis(t *rapid.T) Axis {
	a := Axis{Name: name(t)}
	if rapid.Bool().Draw(t, "marked") {
		a.Marks = several(t, 30, rule)
	}
	if rapid.Bool().Draw(t, "zero") {
		a.From = At(0)
	}
	return a
}

func and(names []string) string { return strings.Join(names, " and ") }

func few(n, least int) string { return fmt.Sprintf("No chart: %d of %d.", n, least) }

// anyChart is a chart of any kind, filled with anything.
var anyChart = map[string]func(t *rapid.T) *Chart{
	"lines": func(t *rapid.T) *Chart {
		return LinePlot{Says: "s", Across: axis(t), Up: axis(t), Lines: several(t, 9, series), Rules: several(t, 3, rule), Notes: several(t, 3, note),
			Small: rapid.Bool().Draw(t, "small"), And: and, Undrawn: "none"}.Chart()
	},
	"rows": func(t *rapid.T) *Chart {
		p := RowPlot{Says: "s", Scale: name(t), Rule: rule(t), Notes: several(t, 3, note), Undrawn: "none",
			Sides: [2]string{name(t), name(t)}, Ends: [2]string{name(t), name(t)},
			Zero: rapid.Bool().Draw(t, "zero"), Small: rapid.Bool().Draw(t, "small"), Ratio: rapid.Bool().Draw(t, "ratio")}
		p.Series = append(several(t, 4, func(t *rapid.T) RowSeries { return RowSeries{name(t), hue(t), rapid.Bool().Draw(t, "bar")} }), RowSeries{Name: "one"})
		p.Rows = several(t, 20, func(t *rapid.T) Row { return Row{name(t), several(t, 6, amount)} })
		return p.Chart()
	},
	"survival": func(t *rapid.T) *Chart {
		return SurvivalPlot{Says: "s", Across: name(t), Up: name(t), Watched: name(t), Undrawn: "none", And: and, Notes: several(t, 2, note),
			Curves: several(t, 8, func(t *rapid.T) NamedCurve {
				c := NamedCurve{Name: name(t), Hue: hue(t), End: rapid.Float64Range(0, 30).Draw(t, "end"), Watched: func(age float64) int { return 100_000 - int(age) }}
				for age := range rapid.IntRange(0, 30).Draw(t, "steps") {
					c.Steps = append(c.Steps, CurveStep{Age: float64(age) / 7, Share: figure.Figure{Value: float64(age) / 40, Low: 0, High: value(t), Bounded: rapid.Bool().Draw(t, "bounded")}, Tip: name(t)})
				}
				return c
			})}.Chart()
	},
	"forest": func(t *rapid.T) *Chart {
		return ForestPlot{Says: "s", Scale: name(t), None: name(t), Undrawn: "none", Rows: several(t, 20, func(t *rapid.T) ForestRow {
			a := amount(t)
			return ForestRow{Label: name(t), Ratio: figure.Figure{Value: a.Value, Low: a.Low, High: a.High, Bounded: true, OK: true}, Tip: name(t)}
		})}.Chart()
	},
	"funnel": func(t *rapid.T) *Chart {
		return FunnelPlot{Says: "s", Basis: name(t), Rate: name(t), All: name(t), Center: value(t), Inner: reaches(t, 40), Outer: reaches(t, 40),
			Words:  FunnelWords{name(t), name(t), name(t), name(t), "too few"},
			Points: several(t, 14, func(t *rapid.T) FunnelPoint { return FunnelPoint{spot(t), name(t), rapid.Bool().Draw(t, "out")} })}.Chart()
	},
	"pareto": func(t *rapid.T) *Chart {
		return ParetoPlot{Says: "s", Scale: name(t), Running: name(t), Few: few,
			Rows: several(t, 20, func(t *rapid.T) ParetoRow { return ParetoRow{name(t), value(t), .5, name(t), name(t)} })}.Chart()
	},
	"bridge": func(t *rapid.T) *Chart {
		step := func(t *rapid.T) BridgeStep { return BridgeStep{name(t), value(t), name(t), name(t)} }
		return BridgePlot{Says: "s", Scale: name(t), First: step(t), Steps: several(t, 12, step), Last: name(t), LastText: name(t),
			Worse: name(t), Better: name(t), NoSteps: "none", NoAmount: "none"}.Chart()
	},
	"control": func(t *rapid.T) *Chart {
		return ControlPlot{Says: "s", Scale: name(t), Value: name(t), Center: rule(t), Limits: [2]Rule{rule(t), rule(t)}, Marked: name(t), Few: few, Notes: several(t, 2, note),
			Points: append(several(t, 40, func(t *rapid.T) ControlPoint {
				return ControlPoint{name(t), value(t), rapid.Bool().Draw(t, "signal"), name(t)}
			}), make([]ControlPoint, 8)...)}.Chart()
	},
	"fit": func(t *rapid.T) *Chart {
		return FitPlot{Says: "s", Across: name(t), Up: name(t), Even: name(t), Few: few, Fits: several(t, 5, func(t *rapid.T) Fit {
			return Fit{name(t), hue(t), several(t, 60, spot), several(t, 10, spot), reaches(t, 10)}
		})}.Chart()
	},
	"boxes": func(t *rapid.T) *Chart {
		return BoxPlot{Says: "s", Scale: name(t), None: func(int) string { return "none" }, Rows: several(t, 20, func(t *rapid.T) BoxRow {
			five := []float64{value(t), value(t), value(t), value(t), value(t)}
			slices.Sort(five)
			return BoxRow{name(t), [5]float64(five), rapid.IntRange(1, 9).Draw(t, "n"), name(t), name(t)}
		})}.Chart()
	},
	"columns": func(t *rapid.T) *Chart {
		return ColumnPlot{Says: "s", Up: name(t), Usual: name(t), Marked: name(t), Undrawn: "none", Notes: several(t, 2, note), Columns: several(t, 40, func(t *rapid.T) Column {
			return Column{name(t), amount(t), value(t), name(t), rapid.Bool().Draw(t, "out")}
		})}.Chart()
	},
	"scatter": func(t *rapid.T) *Chart {
		p := ScatterPlot{Says: "s", Across: axis(t), Up: axis(t), Others: name(t), Those: name(t), Region: Region{name(t), several(t, 6, spot)},
			Rules: several(t, 3, rule), Notes: several(t, 3, note), Undrawn: "none",
			Points: several(t, 100, func(t *rapid.T) ScatterPoint { return ScatterPoint{spot(t), rapid.Bool().Draw(t, "marked")} })}
		if rapid.Bool().Draw(t, "dates") {
			p.Across = Axis{Calendar: &Calendar{Month: func(m string) string { return m }}}
			for i := range p.Points {
				p.Points[i].X = float64(rapid.IntRange(700_000, 740_000).Draw(t, "day"))
			}
		}
		return p.Chart()
	},
	"grid": func(t *rapid.T) *Chart {
		return GridPlot{Says: "s", Across: name(t), Nothing: "–", Undrawn: "none", Columns: several(t, 12, name), Rows: several(t, 20, func(t *rapid.T) GridRow {
			return GridRow{name(t), several(t, 12, func(t *rapid.T) GridCell { return GridCell{value(t), name(t), name(t)} })}
		})}.Chart()
	},
	"month": func(t *rapid.T) *Chart {
		return MonthPlot{Says: "s", Days: [7]string{name(t), name(t), "T", "W", "T", "F", "S"}, Today: name(t),
			Kinds: several(t, 5, func(t *rapid.T) DayKind { return DayKind{name(t), Own} }),
			Months: several(t, 3, func(t *rapid.T) CalendarMonth {
				return CalendarMonth{Name: name(t), Year: rapid.IntRange(1990, 2100).Draw(t, "year"), Month: time.Month(rapid.IntRange(1, 12).Draw(t, "month")), Today: rapid.IntRange(0, 31).Draw(t, "today"),
					Marks: several(t, 90, func(t *rapid.T) DayMark {
						return DayMark{rapid.IntRange(-1, 33).Draw(t, "day"), rapid.IntRange(-1, 5).Draw(t, "kind"), name(t)}
					})}
			})}.Chart()
	},
	"day": func(t *rapid.T) *Chart {
		p := DayPlot{Says: "s", Rule: rule(t), Undrawn: "none", Keys: several(t, 3, func(t *rapid.T) DayKey { return DayKey{name(t), hue(t)} }),
			Clock: func(min int) string { return fmt.Sprint(min / 60) }}
		p.Rows = several(t, 30, func(t *rapid.T) DayRow {
			return DayRow{name(t), several(t, 5, func(t *rapid.T) DayBar {
				return DayBar{value(t), value(t), hue(t), rapid.Bool().Draw(t, "thin"), name(t)}
			}), several(t, 3, spot), several(t, 5, rule)}
		})
		return p.Chart()
	},
	"tornado": func(t *rapid.T) *Chart {
		return TornadoPlot{Says: "s", Scale: name(t), Middle: rule(t), Turn: rule(t), Undrawn: "none",
			Rows: several(t, 12, func(t *rapid.T) Swing { return Swing{name(t), value(t), value(t), name(t), name(t), name(t)} })}.Chart()
	},
}

// TestAnythingIsDrawnSoundly: whatever a kind is filled with, its words stand
// within the drawing and none on another, every place is a number, and the markup
// is well-formed and holds text as text.
func TestAnythingIsDrawnSoundly(t *testing.T) {
	for kind, of := range anyChart {
		t.Run(kind, rapid.MakeCheck(func(t *rapid.T) {
			c := of(t)
			if c == nil {
				return // nothing to draw, and no word why
			}
			if c.Why != "" {
				if c.Drawing() != nil {
					t.Fatal("drawn, with a reason why it is not")
				}
				return
			}
			if wrong := unsound(c.Drawing()); wrong != "" {
				t.Fatal(wrong)
			}
			if one, other := c.Drawing().SVG(""), c.Drawing().SVG(""); one != other {
				t.Fatal("drawn twice, it is not the same")
			}
		}))
	}
}

// unsound says what is wrong with a drawing.
func unsound(d *Drawing) string {
	if d.Width <= 0 || d.Height <= 0 || d.Height > 1500 || !finite(d.Height) {
		return fmt.Sprintf("it is %v by %v", d.Width, d.Height)
	}
	var words []Shape
	for _, s := range d.Shapes {
		for _, p := range s.Points {
			if s.Kind != LineShape && !p.finite() {
				return fmt.Sprintf("a %s is nowhere: %v", s.Class, s.Points)
			}
			if p.finite() && (p.X < -20 || p.X > d.Width+20 || p.Y < -20 || p.Y > d.Height+20) {
				return fmt.Sprintf("a %s lies at %v of %v by %v", s.Class, p, d.Width, d.Height)
			}
		}
		if s.Kind == WordShape {
			words = append(words, s)
		}
	}
	if wrong := crowded(d, words); wrong != "" {
		return wrong
	}
	return malformed(string(d.SVG("")))
}

// crowded says which words of a drawing stand beyond it, or on others.
func crowded(d *Drawing, words []Shape) string {
	const slack = .05
	f := face{size: figureWords}
	if d.Class == "small" {
		f.size = smallWords
	}
	var boxes []box
	for _, s := range words {
		at := boxOf(s, f)
		if at.x1 < -slack || at.x2 > d.Width+slack || at.y1 < -slack || at.y2 > d.Height+slack {
			return fmt.Sprintf("%q stands at %v of %v by %v", s.Words, at, d.Width, d.Height)
		}
		inner := box{at.x1 + slack, at.y1 + slack, at.x2 - slack, at.y2 - slack}
		for k, other := range boxes {
			if inner.x1 < inner.x2 && inner.overlaps(other) {
				return fmt.Sprintf("%q at %v stands on %q at %v", s.Words, at, words[k].Words, other)
			}
		}
		boxes = append(boxes, at)
	}
	return ""
}

// malformed says what is wrong with markup: other elements than ours, numbers that
// are none, or what no reader of XML takes.
func malformed(text string) string {
	if strings.Contains(text, "NaN") || strings.Contains(text, "Inf") {
		return "a number that is none: " + text
	}
	in := xml.NewDecoder(strings.NewReader(strings.ToValidUTF8(strings.Map(printable, text), "?")))
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return ""
		}
		if err != nil {
			return err.Error() + ": " + text
		}
		if e, ok := token.(xml.StartElement); ok && !slices.Contains([]string{"svg", "g", "path", "rect", "circle", "text", "tspan", "title"}, e.Name.Local) {
			return "an element " + e.Name.Local
		}
	}
}

// printable leaves out what XML has no place for and pages clean away before.
func printable(r rune) rune {
	if r < ' ' && r != '\n' && r != '\t' {
		return -1
	}
	return r
}

func TestNothingToDraw(t *testing.T) {
	none := func(int) string { return "why" }
	for _, c := range []*Chart{LinePlot{Undrawn: "why"}.Chart(), RowPlot{Undrawn: "why"}.Chart(), SurvivalPlot{Undrawn: "why"}.Chart(), ForestPlot{Undrawn: "why"}.Chart(),
		FunnelPlot{Words: FunnelWords{TooFew: "why"}}.Chart(), ParetoPlot{Few: few}.Chart(), BridgePlot{NoSteps: "why"}.Chart(), ControlPlot{Few: few}.Chart(),
		FitPlot{Few: few}.Chart(), BoxPlot{None: none}.Chart(), ColumnPlot{Undrawn: "why"}.Chart(), ScatterPlot{Undrawn: "why"}.Chart(), GridPlot{Undrawn: "why"}.Chart(), TornadoPlot{Undrawn: "why"}.Chart()} {
		if c == nil || c.Why == "" || c.Drawing() != nil {
			t.Errorf("%+v", c)
		}
	}
	for _, c := range []*Chart{LinePlot{}.Chart(), RowPlot{}.Chart(), ColumnPlot{}.Chart(), ScatterPlot{}.Chart(), GridPlot{}.Chart(), TornadoPlot{}.Chart()} {
		if c != nil {
			t.Errorf("a chart of nothing that does not say why: %+v", c)
		}
	}
}
