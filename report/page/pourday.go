package page

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"pourback/analysis"
	"pourback/analysis/bid"
	"pourback/analysis/trade"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/say"
)

// pourDay is the crew's sheet as its template sees it.
type PourSheet struct {
	*phrases
	Company, Name, When string
	Foot, Metric        string
	JobNo               string
	Parts               []pourPart
	Orders              []pourOrder
	Sawing              []string
	Cautions            []Caution
	Tables              []blankTable
	Slab                slabBlanks
}

type pourPart struct {
	Name, Area, Thickness, Neat, What string
	Drawing                           *chart.Drawing
	Says                              []string
}

type pourOrder struct {
	Day      string
	Big      string
	Lines    []string
	Reckoner *pourReckoner
}

// pourReckoner is a table to read the last load off.
type pourReckoner struct {
	Head    string
	Columns int
	Rows    []pourReckonerRow
}

type pourReckonerRow struct {
	Covered string
	Cells   []struct{ Placed, Have string }
}

// blankTable is a record table to be filled in by hand.
type blankTable struct {
	Title, Words string
	Columns      []blankColumn
	Rows         []struct{}
}

type blankColumn struct {
	Name, Gloss string
	Wide        bool
}

// Parts are those of the name between which a line may end.
func (c blankColumn) Parts() []string { return strings.SplitAfter(c.Name, "_") }

// slabBlanks are the facts of each placement.
type slabBlanks struct {
	Title   string
	Names   []string
	Columns []blankColumn
}

// PourDay is what the crew's sheet is made of.
type PourDay struct {
	Bid      *bid.Bid
	ID       int64          // the kept bid's number, or 0
	Reckoner []bid.Reckoner // to read the last load off
	Lang     string         // one of [Languages]
}

// PourDaySheet is the crew's sheet for the pour of a bid, in English or Spanish:
// the order, the joints, cautions, and blanks that are named as the columns of
// the record files.
func PourDaySheet(p PourDay, opt Options) PourSheet {
	a := &bidAuthor{Author: NewAuthor(&analysis.Factors{AsOf: p.Bid.AsOf}, opt), b: p.Bid}
	return pourDayAuthor{a, phrasesOf(p.Lang), p.Reckoner}.sheet(p.ID)
}

type pourDayAuthor struct {
	*bidAuthor
	p        *phrases
	reckoner []bid.Reckoner
}

func (a pourDayAuthor) sheet(id int64) PourSheet {
	b := a.b
	d := PourSheet{phrases: a.p, Company: a.company,
		Name: strings.TrimPrefix(a.title(), "Bid: "), JobNo: say.Clean(b.JobNo, say.ShortName), When: a.when(), Foot: fmt.Sprintf(a.p.Page, id, b.AsOf), Cautions: a.care()}
	if id == 0 {
		d.Foot = strings.TrimSpace(strings.Replace(d.Foot, " 0", "", 1))
	}
	for i := range b.Placements {
		d.Parts = append(d.Parts, a.pourPart(i))
	}
	d.Sawing = a.sawing()
	loads := 0
	for i := range b.Days {
		d.Orders = append(d.Orders, a.pourOrder(&b.Days[i], id))
		loads = max(loads, len(b.Days[i].Order.Loads))
	}
	if a.Units.Si {
		d.Metric = a.p.Metric
	}
	d.Slab = a.slab()
	d.Tables = []blankTable{a.blank(record.Loads, min(loads+3, 14)), a.blank(record.Delays, max(2, 5-len(b.Placements))), a.blank(record.Labors, 6)}
	return d
}

// when is the day of the pour, where it is known.
func (a pourDayAuthor) when() string {
	if _, err := record.ParseDate(a.b.On); err == nil {
		return a.b.On
	}
	return ""
}

func (a pourDayAuthor) month(m int) string {
	if a.p == spanish && m >= 1 && m <= 12 {
		return monthsInSpanish[m]
	}
	return time.Month(m).String()
}

// pourPart is the i-th placement.
func (a pourDayAuthor) pourPart(i int) pourPart {
	p := &a.b.Placements[i]
	j := &p.Joints
	out := pourPart{Name: say.Clean(p.Name, say.ShortName), Area: quantity(a.Units.Area, p.AreaSqft, 0), Thickness: quantity(a.measureOf("in"), p.ThicknessIn, 1),
		Neat: quantity(a.Units.Volume, p.NeatYd.Figure.Value, 2), What: a.what(i), Drawing: a.plan(p)}
	if out.Drawing != nil {
		out.Drawing.Says = out.Name + ": " + fmt.Sprintf(a.p.Panels, len(j.Panels), a.side(j.LongestFt))
		if !j.Drawn {
			out.Says = append(out.Says, a.p.AreaAlone)
		}
	}
	if j.CutFt.Figure.Value > 0 {
		depth := strings.Replace(a.depth(j.DepthIn).Text, " to ", a.p.To, 1)
		out.Says = append(out.Says, fmt.Sprintf(a.p.Cut, depth, quantity(a.measureOf("ft"), j.CutFt.Figure.Value, 0)))
	}
	return out
}

// what is a placement's use, reinforcement, base and method.
func (a pourDayAuthor) what(i int) string {
	p := &a.b.Placements[i]
	words := []string{p.Use}
	if i < len(a.b.Spec.Placements) {
		s := &a.b.Spec.Placements[i]
		words = append(append(words, strings.Split(s.Reinforcement, "+")...), s.Bar, s.Base)
	}
	var said []string
	for _, w := range append(words, p.Method) {
		switch w {
		case "":
		case "none":
			said = append(said, a.p.Plain)
		default:
			said = append(said, a.p.both(say.Clean(w, say.ShortName)))
		}
	}
	return strings.Join(said, ", ")
}

// sawing is when to saw, each way of saying it once. The bid says it in
// English; in Spanish the sheet says the guide itself.
func (a pourDayAuthor) sawing() []string {
	var all []string
	for i := range a.b.Placements {
		s := say.Clean(a.b.Placements[i].Joints.Saw, say.LongText)
		if s == "" {
			continue
		}
		if s = fmt.Sprintf(english.Saw, s); a.p == spanish {
			s = fmt.Sprintf(a.p.Saw, trade.SawWarm.From, trade.SawWarm.To, trade.SawCold.To)
		}
		if !slices.Contains(all, s) {
			all = append(all, s)
		}
	}
	return all
}

func (a pourDayAuthor) pourOrder(d *bid.Day, id int64) pourOrder {
	o := pourOrder{}
	if len(a.b.Days) > 1 {
		o.Day = fmt.Sprint(d.Day, ". ", say.Clean(strings.Join(d.Placements, ", "), say.LongName))
	}
	short := a.often(d.Order.ChanceShort.Figure.Value)
	if !twoSteps(d) {
		o.Big = fmt.Sprintf(a.p.OrderOnce, a.yards(d.Order.Yd)) + a.trucks(d.Order.Loads)
		o.Lines = []string{fmt.Sprintf(a.p.Empty, short)}
		return o
	}
	o.Big = fmt.Sprintf(a.p.OrderFirst, a.yards(d.Hold.FirstYd)) + a.trucks(d.Hold.Loads)
	o.Lines = []string{
		fmt.Sprintf(a.p.Hold, a.roughly(d.Hold.HoldYd)),
		fmt.Sprintf(a.p.CallAt, a.yards(d.Hold.CallAtYd), say.Grouped(100*d.Hold.CallAt, 0)+"%"),
		fmt.Sprintf(a.p.Short, a.yards(d.Order.Yd), short)}
	if o.Reckoner = a.reckon(d.Day); o.Reckoner == nil && id > 0 {
		o.Lines = append(o.Lines, fmt.Sprintf(a.p.Balance, fmt.Sprintf("pourback balance --bid %d --placed-yd __ --covered __", id)))
	}
	return o
}

// reckon is the table to read a day's last load off, or nil.
func (a pourDayAuthor) reckon(day int) *pourReckoner {
	volume := say.Measure{Factor: a.Units.Volume.Factor}
	for _, r := range a.reckoner {
		if r.Day != day {
			continue
		}
		out := &pourReckoner{Head: fmt.Sprintf(a.p.Down, a.Units.Volume.Unit)}
		for _, row := range r.Rows {
			line := pourReckonerRow{Covered: say.Grouped(100*row.Covered, 0) + "%"}
			for _, c := range row.Cells {
				line.Cells = append(line.Cells, struct{ Placed, Have string }{quantity(volume, c.PlacedYd, 2), quantity(volume, c.HaveYd, 2)})
			}
			out.Columns = max(out.Columns, len(line.Cells))
			out.Rows = append(out.Rows, line)
		}
		return out
	}
	return nil
}

func (a pourDayAuthor) trucks(loads []float64) string {
	if len(loads) < 2 {
		return ""
	}
	return ", " + fmt.Sprintf(a.p.Loads, a.loads(loads))
}

// often is a chance in the sheet's language.
func (a pourDayAuthor) often(chance float64) string {
	if a.p == spanish {
		return fmt.Sprintf("%d de cada 100 veces", int(100*chance+0.5))
	}
	return timesIn100(chance)
}

// care are the dangers of this pour, and what the weather asks for.
func (a pourDayAuthor) care() []Caution {
	atTruck := truckTime
	if a.Units.Si {
		atTruck = metricWater
	}
	list := append([]Caution{atTruck}, a.cautions()...)
	var out []Caution
	switch w := a.b.Weather; {
	case !w.Share.Figure.Known():
		out = append(out, Caution{fmt.Sprintf(a.p.Hot, a.Units.Limit) + " " + a.p.LimitDo, "ACI 305R"})
	case w.Share.Figure.Value > 0:
		out = append(out, Caution{fmt.Sprintf(a.p.Limit, say.Grouped(100*w.Share.Figure.Value, 0)+"%", a.month(w.Month), a.Units.Limit) + " " + a.p.LimitDo, "ACI 305R"})
	}
	for _, c := range list {
		if c == noDesign {
			continue
		}
		if said, ok := a.p.cautions[c]; ok {
			c.Text, c.Source = said, strings.Replace(c.Source, english.Memory, a.p.Memory, 1)
		}
		out = append(out, c)
	}
	return out
}

// slab are the facts of the placements table that are known only on the day.
func (a pourDayAuthor) slab() slabBlanks {
	s := slabBlanks{Title: a.p.tables["placements"]}
	for i := range a.b.Placements {
		s.Names = append(s.Names, say.Clean(a.b.Placements[i].Name, say.ShortName))
	}
	for _, name := range []string{"placed_on", "crew", "crew_size", "delivered_yd", "leftover_yd", "measured_thickness_in",
		"air_temp_f", "concrete_temp_f", "humidity_pct", "wind_mph", "pump_outfit", "hose_in",
		"joint_cut", "joint_depth_in", "saw_hours", "finish", "curing", "mix"} {
		s.Columns = append(s.Columns, a.column(record.Placements.Column(name)))
	}
	return s
}

// blank is a record table with so many empty rows. The job's number is at the
// head of the sheet, and wages are no matter for the crew; the placement is
// asked for where there are several.
func (a pourDayAuthor) blank(t *record.Table, rows int) blankTable {
	b := blankTable{Title: a.p.tables[t.Name], Rows: make([]struct{}, rows)}
	var lists []string
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Name == "job_no" || c.Name == "rate" || c.Name == "placement" && len(a.b.Placements) == 1 {
			continue
		}
		b.Columns = append(b.Columns, a.column(c))
		if c.Words != nil {
			words := make([]string, len(c.Words.Words))
			for k, w := range c.Words.Words {
				words[k] = a.p.both(w)
			}
			lists = append(lists, c.Name+": "+strings.Join(words, ", "))
		}
	}
	b.Words = strings.Join(lists, ". ")
	return b
}

func (a pourDayAuthor) column(c *record.Column) blankColumn {
	gloss, ok := a.p.gloss[c.Name]
	if !ok && c.Unit != nil {
		gloss = c.Unit.Label
	}
	return blankColumn{c.Name, gloss, c.Name == "note"}
}
