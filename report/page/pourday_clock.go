package page

import (
	"math"
	"slices"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
	"pourback/report/chart"
	"pourback/report/say"
)

// pourGlance is what a foreman looks for first on a day: the trucks, the call,
// the first cut.
type pourGlance struct {
	Day    string
	Trucks []pourComes
	Call   pourTile
	Plant  *Call // to call the last load in at
	Cut    *pourTile
}

type pourComes struct {
	At, Load string
	Held     bool
}

type pourTile struct{ Big, Says string }

// pourClock is what is done when on a day, by placement.
type pourClock struct {
	Day   string
	Works []string
	Line  []pourLine
}

type pourTruck struct {
	N, Load, Here, Empty, Limit, Down string
	Late                              bool
}

type pourLine struct {
	Name  string
	Cells []pourCell
}

// pourCell is when a work is done: once, or with each of several kinds of saw.
type pourCell struct {
	Work string
	When []pourWhen
}

type pourWhen struct{ Kind, When string }

// stages are those of the slab that a crew plans by.
var stages = []clock.Work{clock.Placing, clock.Bleeding, clock.Floating, clock.Brooming, clock.Curing}

// glance is a day at a glance. Without a clock it has no trucks and no cut.
func (a pourDayAuthor) glance(d *bid.Day) pourGlance {
	g := pourGlance{Day: a.dayName(d)}
	g.Call.Big, g.Call.Says = a.p.Calling(d)
	if calls := (Phones{Plant: a.letterhead.Phones.Plant}).calls(a.Voice); calls != nil {
		g.Plant = &calls[0]
	}
	if d.Clock == nil {
		return g
	}
	for _, t := range d.Clock.Trucks {
		at, load := a.p.Comes(t)
		g.Trucks = append(g.Trucks, pourComes{at, load, t.Held})
	}
	if len(d.Clock.Saw) > 0 {
		first := slices.MinFunc(d.Clock.Saw, func(x, y clock.Saw) int { return x.From.Min - y.From.Min })
		g.Cut = &pourTile{a.p.Until(first.From, first.FirstTo), a.p.FirstCut(first.Placement, a.firstCutFt(first.Placement))}
		if i := slices.IndexFunc(d.Clock.Saw, func(s clock.Saw) bool { return s.Placement == first.Placement && s.Early != first.Early }); i >= 0 {
			g.Cut.Says += " " + a.p.OtherSaw(d.Clock.Saw[i])
		}
	}
	return g
}

// firstCutFt is how long the joint of a placement is that is cut first, or 0.
func (a pourDayAuthor) firstCutFt(name string) float64 {
	for i := range a.b.Placements {
		if p := &a.b.Placements[i]; p.Name == name && len(p.Joints.Cuts) > 0 {
			c := p.Joints.Cuts[0]
			return math.Hypot(c.X2-c.X1, c.Y2-c.Y1)
		}
	}
	return 0
}

func (a pourDayAuthor) trucks(d *clock.Day) (trucks []pourTruck) {
	for _, t := range d.Trucks {
		trucks = append(trucks, pourTruck{say.Count(t.N), a.p.TruckLoad(t), a.p.Time(t.Arrives), a.p.Time(t.Empty), a.p.Time(t.LimitEnds), a.p.Ordered(t.DownYd), t.SlackMin < 0})
	}
	return trucks
}

func (a pourDayAuthor) clock(d *bid.Day) pourClock {
	c, times := pourClock{Day: a.dayName(d)}, a.p.Times()
	for _, s := range stages {
		c.Works = append(c.Works, a.p.Stage(s))
	}
	if len(d.Clock.Saw) > 0 {
		c.Works = append(c.Works, times.FirstCut, times.LastCut)
	}
	for _, name := range d.Placements {
		line := pourLine{Name: say.Clean(name, say.ShortName)}
		for _, stage := range stages {
			cell := pourCell{Work: a.p.Stage(stage)}
			if i := slices.IndexFunc(d.Clock.Line, func(s clock.Span) bool { return s.Placement == name && s.Work == stage }); i >= 0 {
				cell.When = []pourWhen{{"", a.p.Until(d.Clock.Line[i].From, d.Clock.Line[i].To)}}
			}
			line.Cells = append(line.Cells, cell)
		}
		if len(d.Clock.Saw) > 0 {
			line.Cells = append(line.Cells, a.cuts(d.Clock, name)...)
		}
		c.Line = append(c.Line, line)
	}
	return c
}

// cuts are when a placement's joints are cut, the first and the last, by the kind
// of saw where the day has both.
func (a pourDayAuthor) cuts(d *clock.Day, name string) []pourCell {
	times := a.p.Times()
	first, last := pourCell{Work: times.FirstCut}, pourCell{Work: times.LastCut}
	several := slices.ContainsFunc(d.Saw, func(s clock.Saw) bool { return s.Early != d.Saw[0].Early })
	for _, s := range d.Saw {
		if s.Placement != name {
			continue
		}
		kind := ""
		if several {
			kind = a.p.SawKind(s.Early)
		}
		first.When = append(first.When, pourWhen{kind, a.p.Until(s.From, s.FirstTo)})
		last.When = append(last.When, pourWhen{kind, a.p.Until(s.LastFrom, s.To)})
	}
	return []pourCell{first, last}
}

// clockNotes are what the clocks do not allow and what the air asks for, each
// once, and whether the air is told of.
func (a pourDayAuthor) clockNotes() (list []Caution, air bool) {
	for i := range a.b.Days {
		if a.b.Days[i].Clock == nil {
			continue
		}
		for _, n := range a.b.Days[i].Clock.Notes {
			if c := (Caution{Text: a.p.ClockNote(n)}); c.Text != "" && !slices.Contains(list, c) {
				list = append(list, c)
			}
			air = air || n.Kind == clock.DriesFast || n.Kind == clock.DriesSome
		}
	}
	return list, air
}

// markFirst marks the joint that is cut first, which is the first that is drawn.
func markFirst(d *chart.Drawing) {
	for _, s := range d.Shapes {
		if s.Class != "cut" || len(s.Points) != 2 {
			continue
		}
		x, y := (s.Points[0].X+s.Points[1].X)/2, (s.Points[0].Y+s.Points[1].Y)/2
		d.Shapes = append(d.Shapes, chart.Shape{Kind: chart.DotShape, Class: "first", Points: []chart.Point{{X: x, Y: y}}, Size: 9})
		d.Words("firstly", "middle", "1", x, y+4.5)
		return
	}
}
