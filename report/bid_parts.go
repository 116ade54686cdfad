package report

import (
	"fmt"
	"strings"
	"time"

	"pourback/analysis/bid"
)

// order is what to order for a day, and what may come of it.
func (a *bidAuthor) order(d *bid.Day) Exhibit {
	title, caption := "The order", "The order and what may come of it"
	if len(a.b.Days) > 1 {
		title = fmt.Sprintf("The order of day %d: %s", d.Day, clean(strings.Join(d.Placements, ", "), shortName))
		caption += fmt.Sprintf(", day %d", d.Day)
	}
	v, o := a.units.volume, d.Order
	drawn, used := bid.Basis{From: bid.FromDrawing}, d.UsedYd.Basis
	x := Exhibit{Title: title}
	lines := []fact{
		{"Neat volume, as drawn", Cell{Text: quantity(v, d.NeatYd, 2)}, drawn},
		{"What it will use", tenthsOf(v).known(spreadOf(d.UsedYd)), used},
		{"Order all at once", Cell{Text: a.inLoads(o.Yd, o.Loads)}, used},
		{"Allowance over neat", Cell{Text: grouped(100*o.Allowance, 1) + "%"}, used},
		a.number("Chance of running short", o.ChanceShort),
		{"Left over on average", Cell{Text: quantity(v, o.LeftoverYd, 2)}, used},
		{"Cost on average, with disposal and short loads", Cell{Text: a.amount(o.Cost, 0)}, used},
	}
	if h := d.Hold; twoSteps(d) {
		lines = append(lines,
			fact{"Better in two steps: order first", Cell{Text: a.inLoads(h.FirstYd, h.Loads)}, used},
			fact{"Hold back for the last load, about", Cell{Text: a.roughly(h.HoldYd)}, used},
			fact{"Call it in when so much is placed", Cell{Text: a.yards(h.CallAtYd) + ", " + grouped(100*h.CallAt, 0) + "% covered"}, used},
			fact{"Chance of running short then", Cell{Text: timesIn100(h.Short)}, used},
			fact{"Saves on average", Cell{Text: a.amount(h.Saves, 0)}, used})
	}
	x.Table = a.facts(caption, lines)
	x.Table.Below = a.whyThisOrder(d)
	return x
}

// whyThisOrder says in plain words why the order is no larger, and what a
// larger one would cost.
func (a *bidAuthor) whyThisOrder(d *bid.Day) []string {
	yard, short := a.settingOf("concrete").Value+a.settingOf("disposal of concrete left over").Value, a.settingOf("balance load called in unplanned").Value
	v := a.units.volume
	if yard == 0 || short == 0 {
		return nil // made with prices that are not told
	}
	says := []string{"Why not more: each" + v.unit + " too many costs " + a.amount(yard/v.factor, 0) + ", its concrete and its disposal, each time; an unplanned load costs " + a.amount(short, 0) +
		" and its concrete, but only when it comes to that. This order costs least over many pours."}
	if len(d.Safer) == 0 {
		return says
	}
	safer := make([]string, len(d.Safer))
	for i, s := range d.Safer {
		safer[i] = a.yards(s.Yd) + " runs short " + timesIn100(s.ChanceShort) + " and costs " + a.amount(max(0, s.CostsMore), 0) + " more on average"
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
func tenthsOf(m measure) measure {
	m.digits = tenths
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
	v := a.units.volume
	texts := make([]string, len(yd))
	for i, l := range yd {
		texts[i] = quantity(measure{factor: v.factor}, l, 2)
	}
	return strings.Join(texts, " + ")
}

// hours are those of the job by task.
func (a *bidAuthor) hours() Exhibit {
	l := a.b.Labor
	h := measure{factor: 1, unit: " h"}
	tasks := append([]bid.Task{{Task: "all tasks", Share: 1, Hours: a.allHours()}}, l.Tasks...)
	who := "an average crew"
	if l.Crew != "" {
		who = clean(l.Crew, shortName)
	}
	table := tableOf("Labor-hours for "+who+", "+quantity(measure{factor: 1}, l.Size.Figure.Value, 1)+" people at "+a.amount(l.Wage.Figure.Value, 2)+" an hour", tasks,
		column[bid.Task]{head: "Task", cell: func(t bid.Task) Cell { return word(t.Task) }},
		column[bid.Task]{head: "Labor-hours", number: true, cell: func(t bid.Task) Cell { return h.cell(t.Hours.Figure) }},
		column[bid.Task]{head: "Share", number: true, cell: func(t bid.Task) Cell { return percent.exact(t.Share).with("%") }},
		column[bid.Task]{head: "Stands on", cell: func(t bid.Task) Cell { return a.standsOn(t.Hours.Basis) }})
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

// with puts words behind a cell's figure.
func (c Cell) with(words string) Cell {
	c.Text += words
	return c
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
	h := measure{factor: 1, unit: " h"}
	table := tableOf("Reinforcement of "+a.part(p)+", each way", p.Steel,
		column[bid.SteelWay]{head: "Way", cell: func(w bid.SteelWay) Cell {
			if w.Chosen {
				return Cell{Text: clean(w.Way, shortName) + " (this bid)"}
			}
			return word(w.Way)
		}},
		column[bid.SteelWay]{head: "Material and placing", number: true, cell: func(w bid.SteelWay) Cell { return a.cell(w.Cost) }},
		column[bid.SteelWay]{head: "Material", number: true, cell: func(w bid.SteelWay) Cell { return a.cell(w.Material) }},
		column[bid.SteelWay]{head: "Labor-hours", number: true, cell: func(w bid.SteelWay) Cell { return h.cell(w.Hours.Figure) }},
		column[bid.SteelWay]{head: "Quantity", number: true, cell: func(w bid.SteelWay) Cell {
			if w.Quantity == 0 {
				return Cell{Text: "—"}
			}
			return Cell{Text: quantity(a.measureOf(w.Unit), w.Quantity, 0)}
		}},
		column[bid.SteelWay]{head: "What it is", cell: func(w bid.SteelWay) Cell { return Cell{Text: a.said(w.Detail)} }},
		column[bid.SteelWay]{head: "Stands on", cell: func(w bid.SteelWay) Cell { return a.standsOn(w.Cost.Basis) }})
	return Exhibit{Title: "Reinforcement: " + a.part(p), Table: table}
}

// part names a placement.
func (a *bidAuthor) part(p *bid.Part) string {
	name := clean(p.Use, shortName)
	if len(a.b.Placements) > 1 {
		name = clean(p.Name, shortName) + ", " + name
	}
	return name
}

// weather is what the month does to a fresh surface.
func (a *bidAuthor) weather() Exhibit {
	w := a.b.Weather
	e := a.units.evaporation
	month := time.Month(a.b.Weather.Month).String()
	var lines []fact
	if w.Pours > 0 {
		rate := func(what string, v float64) fact { return fact{what, a.rate(v).with(e.unit), w.Rate.Basis} }
		lines = append(lines, rate("Half of the pours of "+month+" dried slower than", w.Rate.P50), rate("One in ten dried faster than", w.Rate.P90))
	}
	lines = append(lines, a.number("Pours of "+month+" at or over "+a.units.limit, w.Share))
	x := Exhibit{Title: "Drying weather in " + month, Table: a.facts("How fast the air dries a fresh surface", lines)}
	x.Table.Below = []string{a.said(strings.ReplaceAll(w.Caution, "0.2 lb/ft² an hour", a.units.limit))}
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
	table := tableOf("Every rate, price and belief of this bid", a.b.Settings,
		column[bid.Setting]{head: "Setting", cell: func(s bid.Setting) Cell { return Cell{Text: a.said(s.Name)} }},
		column[bid.Setting]{head: "Value", number: true, cell: a.settingCell},
		column[bid.Setting]{head: "Stands on", cell: func(s bid.Setting) Cell { return a.standsOn(s.Basis) }})
	return Exhibit{Title: "What the bid goes by", Table: table}
}

func (a *bidAuthor) settingCell(s bid.Setting) Cell {
	if per, isMoney := strings.CutPrefix(s.Unit, moneyUnit); isMoney {
		per, ofOne := a.perUnit(clean(per, shortName))
		return Cell{Text: a.amount(s.Value*ofOne, 2) + per}
	}
	if per, ofOne := a.perUnit(s.Unit); ofOne != 1 {
		return Cell{Text: quantity(measure{factor: ofOne, unit: " " + per}, s.Value, 2)}
	}
	switch s.Unit {
	case "share":
		return Cell{Text: quantity(percent, s.Value, 1)}
	case "":
		return Cell{Text: quantity(plain, s.Value, 3)}
	case "yd":
		return Cell{Text: quantity(a.units.volume, s.Value, 2)}
	case "share of the price":
		return Cell{Text: quantity(percent, s.Value, 1) + " of the price"}
	case "chance":
		return Cell{Text: inHundred.at(s.Value)}
	}
	return Cell{Text: quantity(measure{factor: 1, unit: " " + clean(s.Unit, shortName)}, s.Value, 3)}
}

// perUnit is the end of a rate's unit, behind its slash, as it is read, with
// what brings the rate to it.
func (a *bidAuthor) perUnit(unit string) (read string, factor float64) {
	if !a.units.si {
		return unit, 1
	}
	for _, u := range []struct {
		end, read string
		m         measure
	}{{"/yd", "/m³", a.units.volume}, {"/100 ft²", "/100 m²", a.units.area}, {"/ft²", "/m²", a.units.area}, {"/ft", "/m", a.units.spacing}} {
		if start, found := strings.CutSuffix(unit, u.end); found {
			return start + u.read, 1 / u.m.factor
		}
	}
	return unit, 1
}
