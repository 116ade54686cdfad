package page

import (
	"fmt"
	"strings"
	"time"

	"pourback/analysis/bid"
	"pourback/report/say"
)

// order is what to order for a day, and what may come of it.
func (a *bidAuthor) order(d *bid.Day) Exhibit {
	title, caption := "The order", "The order and what may come of it"
	if len(a.b.Days) > 1 {
		title = fmt.Sprintf("The order of day %d: %s", d.Day, say.Clean(strings.Join(d.Placements, ", "), say.ShortName))
		caption += fmt.Sprintf(", day %d", d.Day)
	}
	v, o := a.Units.Volume, d.Order
	drawn, used := bid.Basis{From: bid.FromDrawing}, d.UsedYd.Basis
	x := Exhibit{Title: title}
	lines := []fact{
		{"Neat volume, as drawn", say.Cell{Text: quantity(v, d.NeatYd, 2)}, drawn},
		{"What it will use", a.Known(tenthsOf(v), spreadOf(d.UsedYd)), used},
		{"Order all at once", say.Cell{Text: a.inLoads(o.Yd, o.Loads)}, used},
		{"Allowance over neat", say.Cell{Text: say.Grouped(100*o.Allowance, 1) + "%"}, used},
		a.number("Chance of running short", o.ChanceShort),
		{"Left over on average", say.Cell{Text: quantity(v, o.LeftoverYd, 2)}, used},
		{"Cost on average, with disposal and short loads", say.Cell{Text: a.Amount(o.Cost, 0)}, used},
	}
	if h := d.Hold; twoSteps(d) {
		lines = append(lines,
			fact{"Better in two steps: order first", say.Cell{Text: a.inLoads(h.FirstYd, h.Loads)}, used},
			fact{"Hold back for the last load, about", say.Cell{Text: a.roughly(h.HoldYd)}, used},
			fact{"Call it in when so much is placed", say.Cell{Text: a.yards(h.CallAtYd) + ", " + say.Grouped(100*h.CallAt, 0) + "% covered"}, used},
			fact{"Chance of running short then", say.Cell{Text: timesIn100(h.Short)}, used},
			fact{"Saves on average", say.Cell{Text: a.Amount(h.Saves, 0)}, used})
	}
	x.Table = a.facts(caption, lines)
	x.Table.Below = a.whyThisOrder(d)
	return x
}

// whyThisOrder says in plain words why the order is no larger, and what a
// larger one would cost.
func (a *bidAuthor) whyThisOrder(d *bid.Day) []string {
	yard, short := a.settingOf("concrete").Value+a.settingOf("disposal of concrete left over").Value, a.settingOf("balance load called in unplanned").Value
	v := a.Units.Volume
	if yard == 0 || short == 0 {
		return nil // made with prices that are not told
	}
	says := []string{"Why not more: each" + v.Unit + " too many costs " + a.Amount(yard/v.Factor, 0) + ", its concrete and its disposal, each time; an unplanned load costs " + a.Amount(short, 0) +
		" and its concrete, but only when it comes to that. This order costs least over many pours."}
	if len(d.Safer) == 0 {
		return says
	}
	safer := make([]string, len(d.Safer))
	for i, s := range d.Safer {
		safer[i] = a.yards(s.Yd) + " runs short " + timesIn100(s.ChanceShort) + " and costs " + a.Amount(max(0, s.CostsMore), 0) + " more on average"
	}
	return append(says, "To be safer, all at once: "+strings.Join(safer, "; ")+".")
}

// settingOf is a setting of the bid by its name.
func (a *bidAuthor) settingOf(name string) bid.Setting {
	for _, s := range a.b.Settings {
		if s.Name == name {
			return s
		}
	}
	return bid.Setting{}
}

// tenthsOf shows every figure of a measure to a tenth.
func tenthsOf(m say.Measure) say.Measure {
	m.Digits = say.Tenths
	return m
}

// inLoads is an order with its trucks, where it takes several: "13.5 yd³ (9 + 4.5)".
func (a *bidAuthor) inLoads(yd float64, loads []float64) string {
	if len(loads) < 2 {
		return a.yards(yd)
	}
	return a.yards(yd) + " (" + a.loads(loads) + ")"
}

func (a *bidAuthor) loads(yd []float64) string {
	v := a.Units.Volume
	texts := make([]string, len(yd))
	for i, l := range yd {
		texts[i] = quantity(say.Measure{Factor: v.Factor}, l, 2)
	}
	return strings.Join(texts, " + ")
}

// hours are those of the job by task.
func (a *bidAuthor) hours() Exhibit {
	l := a.b.Labor
	h := say.Measure{Factor: 1, Unit: " h"}
	tasks := append([]bid.Task{{Task: "all tasks", Share: 1, Hours: a.allHours()}}, l.Tasks...)
	who := "an average crew"
	if l.Crew != "" {
		who = say.Clean(l.Crew, say.ShortName)
	}
	table := TableOf("Labor-hours for "+who+", "+quantity(say.Measure{Factor: 1}, l.Size.Figure.Value, 1)+" people at "+a.Amount(l.Wage.Figure.Value, 2)+" an hour", tasks,
		ColumnOf[bid.Task]{Head: "Task", Cell: func(t bid.Task) say.Cell { return say.Word(t.Task) }},
		ColumnOf[bid.Task]{Head: "Labor-hours", Number: true, Cell: func(t bid.Task) say.Cell { return a.Cell(h, t.Hours.Figure) }},
		ColumnOf[bid.Task]{Head: "Share", Number: true, Cell: func(t bid.Task) say.Cell { return a.Exact(say.Percent, t.Share).With("%") }},
		ColumnOf[bid.Task]{Head: "Stands on", Cell: func(t bid.Task) say.Cell { return a.standsOn(t.Hours.Basis) }})
	return Exhibit{Title: "Hours by task", Table: table}
}

// allHours are the hours of the whole job, with the range of this one job.
func (a *bidAuthor) allHours() bid.Number {
	n := a.b.Labor.Mean
	if s := a.b.Labor.Hours; !n.Figure.Bounded && s.P90 > s.P10 {
		n.Figure.Low, n.Figure.High, n.Figure.Bounded = s.P10, s.P90, true
	}
	return n
}

// waiting is what clogs and other delays may take.
func (a *bidAuthor) waiting() Exhibit {
	d := a.b.Delay
	lines := []fact{}
	if d.ClogChance.Figure.Known() {
		lines = append(lines, a.number("Chance of a plugged line, once or more", d.ClogChance), a.number("Minutes lost to clogs, on average", d.ClogMin))
	}
	waiting := "Minutes lost to waiting, on average"
	if len(lines) > 0 {
		waiting = "Minutes lost to all other waiting, on average"
	}
	lines = append(lines, a.number(waiting, d.OtherMin), a.number("What the waiting crew costs", d.CrewCost))
	return Exhibit{Title: "Delays and clogs", Table: a.facts("What waiting may take", lines)}
}

// steel is one placement's reinforcement, each way it may be done.
func (a *bidAuthor) steel(p *bid.Part) Exhibit {
	h := say.Measure{Factor: 1, Unit: " h"}
	table := TableOf("Reinforcement of "+a.part(p)+", each way", p.Steel,
		ColumnOf[bid.SteelWay]{Head: "Way", Cell: func(w bid.SteelWay) say.Cell {
			if w.Chosen {
				return say.Cell{Text: say.Clean(w.Way, say.ShortName) + " (this bid)"}
			}
			return say.Word(w.Way)
		}},
		ColumnOf[bid.SteelWay]{Head: "Material and placing", Number: true, Cell: func(w bid.SteelWay) say.Cell { return a.numberCell(w.Cost) }},
		ColumnOf[bid.SteelWay]{Head: "Material", Number: true, Cell: func(w bid.SteelWay) say.Cell { return a.numberCell(w.Material) }},
		ColumnOf[bid.SteelWay]{Head: "Labor-hours", Number: true, Cell: func(w bid.SteelWay) say.Cell { return a.Cell(h, w.Hours.Figure) }},
		ColumnOf[bid.SteelWay]{Head: "Quantity", Number: true, Cell: func(w bid.SteelWay) say.Cell {
			if w.Quantity == 0 {
				return say.Cell{Text: "—"}
			}
			return say.Cell{Text: quantity(a.measureOf(w.Unit), w.Quantity, 0)}
		}},
		ColumnOf[bid.SteelWay]{Head: "What it is", Cell: func(w bid.SteelWay) say.Cell { return say.Cell{Text: a.Said(w.Detail)} }},
		ColumnOf[bid.SteelWay]{Head: "Stands on", Cell: func(w bid.SteelWay) say.Cell { return a.standsOn(w.Cost.Basis) }})
	return Exhibit{Title: "Reinforcement: " + a.part(p), Table: table}
}

// part names a placement.
func (a *bidAuthor) part(p *bid.Part) string {
	name := say.Clean(p.Use, say.ShortName)
	if len(a.b.Placements) > 1 {
		name = say.Clean(p.Name, say.ShortName) + ", " + name
	}
	return name
}

// weather is what the month does to a fresh surface.
func (a *bidAuthor) weather() Exhibit {
	w := a.b.Weather
	e := a.Units.Evaporation
	month := time.Month(a.b.Weather.Month).String()
	var lines []fact
	if w.Pours > 0 {
		rate := func(what string, v float64) fact { return fact{what, a.rate(v).With(e.Unit), w.Rate.Basis} }
		lines = append(lines, rate("Half of the pours of "+month+" dried slower than", w.Rate.P50), rate("One in ten dried faster than", w.Rate.P90))
	}
	lines = append(lines, a.number("Pours of "+month+" at or over "+a.Units.Limit, w.Share))
	x := Exhibit{Title: "Drying weather in " + month, Table: a.facts("How fast the air dries a fresh surface", lines)}
	x.Table.Below = []string{a.Said(strings.ReplaceAll(w.Caution, "0.2 lb/ft² an hour", a.Units.Limit))}
	return x
}

// reserve is what is set aside for callbacks.
func (a *bidAuthor) reserve() Exhibit {
	r := a.b.Reserve
	return Exhibit{Title: "Callback reserve", Table: a.facts("What is set aside for callbacks within the warranty", []fact{
		a.number("Warranty", r.Months), a.number("Callbacks expected, all placements", r.Callbacks),
		a.number("Cost of one, goodwill included", r.EachCost), a.number("Set aside", r.Cost)})}
}

// settings are the prices and beliefs that the bid stands on.
func (a *bidAuthor) settings() Exhibit {
	table := TableOf("Every rate, price and belief of this bid", a.b.Settings,
		ColumnOf[bid.Setting]{Head: "Setting", Cell: func(s bid.Setting) say.Cell { return say.Cell{Text: a.Said(s.Name)} }},
		ColumnOf[bid.Setting]{Head: "Value", Number: true, Cell: a.settingCell},
		ColumnOf[bid.Setting]{Head: "Stands on", Cell: func(s bid.Setting) say.Cell { return a.standsOn(s.Basis) }})
	return Exhibit{Title: "What the bid goes by", Table: table}
}

func (a *bidAuthor) settingCell(s bid.Setting) say.Cell {
	if per, isMoney := strings.CutPrefix(s.Unit, moneyUnit); isMoney {
		per, ofOne := a.perUnit(say.Clean(per, say.ShortName))
		return say.Cell{Text: a.Amount(s.Value*ofOne, 2) + per}
	}
	if per, ofOne := a.perUnit(s.Unit); ofOne != 1 {
		return say.Cell{Text: quantity(say.Measure{Factor: ofOne, Unit: " " + per}, s.Value, 2)}
	}
	switch s.Unit {
	case "share":
		return say.Cell{Text: quantity(say.Percent, s.Value, 1)}
	case "":
		return say.Cell{Text: quantity(say.Plain, s.Value, 3)}
	case "yd":
		return say.Cell{Text: quantity(a.Units.Volume, s.Value, 2)}
	case "share of the price":
		return say.Cell{Text: quantity(say.Percent, s.Value, 1) + " of the price"}
	case "chance":
		return say.Cell{Text: a.At(say.InHundred, s.Value)}
	}
	return say.Cell{Text: quantity(say.Measure{Factor: 1, Unit: " " + say.Clean(s.Unit, say.ShortName)}, s.Value, 3)}
}

// perUnit is the end of a rate's unit, behind its slash, as it is read, with
// what brings the rate to it.
func (a *bidAuthor) perUnit(unit string) (read string, factor float64) {
	if !a.Units.Si {
		return unit, 1
	}
	for _, u := range []struct {
		end, read string
		m         say.Measure
	}{{"/yd", "/m³", a.Units.Volume}, {"/100 ft²", "/100 m²", a.Units.Area}, {"/ft²", "/m²", a.Units.Area}, {"/ft", "/m", a.Units.Spacing}} {
		if start, found := strings.CutSuffix(unit, u.end); found {
			return start + u.read, 1 / u.m.Factor
		}
	}
	return unit, 1
}
