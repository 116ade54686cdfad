package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/report/chart"
	"pourback/report/say"
)

// PourSheet is the crew's sheet as its template sees it.
type PourSheet struct {
	say.PourWords
	Company, Name, When, JobNo, Foot string
	Parts                            []pourPart
	Orders                           []pourOrder
	Sawing                           []string
	Cautions                         []Caution
	Tables                           []blankTable
	Slab                             slabBlanks
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
}

// PourDaySheet is the crew's sheet for the pour of a bid: the order, the joints, cautions, and blanks that are named as the columns
// of the record files.
func PourDaySheet(p PourDay, opt Options) PourSheet {
	a := newBidAuthor(p.Bid, opt)
	return pourDayAuthor{a, say.PourDay{Bid: a.w}, p.Reckoner, p.number()}.sheet()
}

// number is the kept bid's, "" where it is not kept.
func (p PourDay) number() string {
	if p.ID == 0 {
		return ""
	}
	return strconv.FormatInt(p.ID, 10)
}

type pourDayAuthor struct {
	*bidAuthor
	p        say.PourDay
	reckoner []bid.Reckoner
	id       string // the kept bid's number, "" where it is not kept
}

func (a pourDayAuthor) sheet() PourSheet {
	b := a.b
	d := PourSheet{PourWords: a.p.Words(), Company: a.company, Name: a.p.Name(b), JobNo: say.Clean(b.JobNo, say.ShortName), When: a.when(), Foot: a.p.Foot(a.id, b.AsOf), Cautions: a.care()}
	for i := range b.Placements {
		d.Parts = append(d.Parts, a.pourPart(i))
		if when := a.p.SawWhen(b.Placements[i].Joints.Saw); when != "" && !slices.Contains(d.Sawing, when) {
			d.Sawing = append(d.Sawing, when)
		}
	}
	loads := 0
	for i := range b.Days {
		d.Orders = append(d.Orders, a.pourOrder(&b.Days[i]))
		loads = max(loads, len(b.Days[i].Order.Loads))
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

// pourPart is the i-th placement.
func (a pourDayAuthor) pourPart(i int) pourPart {
	p := &a.b.Placements[i]
	var asked bid.Placement
	if i < len(a.b.Spec.Placements) {
		asked = a.b.Spec.Placements[i]
	}
	out := pourPart{Name: say.Clean(p.Name, say.ShortName), Area: a.p.Area(p.AreaSqft), Thickness: a.p.Thick(asked, p.ThicknessIn), Neat: a.p.Volume(p.NeatYd.Figure.Value),
		What: a.p.What(p.Use, asked.Reinforcement, asked.Bar, asked.Base, p.Method), Drawing: a.plan(p), Says: a.p.PlanNotes(&p.Joints, asked)}
	if out.Drawing != nil {
		out.Drawing.Says = a.p.Plan(out.Name, &p.Joints)
	}
	return out
}

func (a pourDayAuthor) pourOrder(d *bid.Day) pourOrder {
	o := pourOrder{Big: a.p.OrderBig(d)}
	if len(a.b.Days) > 1 {
		o.Day = strconv.Itoa(d.Day) + ". " + say.Clean(strings.Join(d.Placements, ", "), say.LongName)
	}
	if d.TwoSteps() {
		o.Reckoner = a.reckon(d.Day)
	}
	o.Lines = a.p.OrderLines(d, o.Reckoner != nil, a.id)
	return o
}

// reckon is the table to read a day's last load off, or nil.
func (a pourDayAuthor) reckon(day int) *pourReckoner {
	for _, r := range a.reckoner {
		if r.Day != day {
			continue
		}
		out := &pourReckoner{Head: a.p.Reckoner()}
		for _, row := range r.Rows {
			line := pourReckonerRow{Covered: a.Percent(row.Covered)}
			for _, c := range row.Cells {
				line.Cells = append(line.Cells, struct{ Placed, Have string }{a.p.Reckoned(c.PlacedYd), a.p.Reckoned(c.HaveYd)})
			}
			out.Columns = max(out.Columns, len(line.Cells))
			out.Rows = append(out.Rows, line)
		}
		return out
	}
	return nil
}

// care are the dangers of this pour, and what the weather asks for. That records
// design nothing the sheet says at the end of its list.
func (a pourDayAuthor) care() []Caution {
	var list []Caution
	if text, source := a.p.Fast(a.b.Weather); text != "" {
		list = append(list, Caution{text, source})
	}
	text, source := a.p.TruckTime()
	return append(append(list, Caution{text, source}), a.beware(a.hazards()...)...)
}

// slab are the facts of the placements table that are known only on the day.
func (a pourDayAuthor) slab() slabBlanks {
	s := slabBlanks{Title: a.p.Table(record.Placements)}
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
	b := blankTable{Title: a.p.Table(t), Rows: make([]struct{}, rows)}
	var lists []string
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Name == "job_no" || c.Name == "rate" || c.Name == "placement" && len(a.b.Placements) == 1 {
			continue
		}
		b.Columns = append(b.Columns, a.column(c))
		if c.Words != nil {
			lists = append(lists, a.p.WordsOf(c))
		}
	}
	b.Words = strings.Join(lists, ". ")
	return b
}

func (a pourDayAuthor) column(c *record.Column) blankColumn {
	unit := ""
	if c.Unit != nil {
		unit = c.Unit.Label
	}
	return blankColumn{c.Name, cmp.Or(a.p.Gloss(c.Name), unit), c.Name == "note"}
}
