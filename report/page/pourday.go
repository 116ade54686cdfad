package page

import (
	"cmp"
	"html/template"
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
	Times                                  say.PourTimes
	Company, Name, Site, When, JobNo, Foot string
	Phones                                 []Call
	Glance                                 []pourGlance
	Orders                                 []pourOrder
	Clocks                                 []pourClock
	Parts                                  []pourPart
	Saws                                   bool // the clocks say when to saw
	Sawing                                 []string
	Cautions                               []Caution
	Roomy                                  bool   // the blanks have a sheet to themselves
	Form                                   string // the address of the job's form, "" where there is no site
	Code                                   template.HTML
	Shared                                 []blankFacts // of all that is poured on a day
	Tables                                 []blankTable
	Back                                   Back
}

type pourPart struct {
	Name, Area, Thickness, Neat, What string
	Drawing                           *chart.Drawing
	Says                              []string
}

type pourOrder struct {
	Day      string
	Mixes    []string
	Big      string
	Lines    []string
	Trucks   []pourTruck
	Rests    string // what their times rest on
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
	Title, Record string
	Names         string // what stands in the first cell of each row, "" where all are blank
	Columns       []blankColumn
	Rows          []string // the name of each
	Words         []string
}

// blankColumn is a value to be filled in: what people call it, and the record's
// column.
type blankColumn struct {
	Gloss, Name string
	Wide        bool
}

// Parts are those of the column's name between which a line may end.
func (c blankColumn) Parts() []string { return strings.SplitAfter(c.Name, "_") }

// blankFacts are values to be filled in once.
type blankFacts struct {
	Title, Record string
	Columns       []blankColumn
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
	d := pourDayAuthor{a, say.PourDay{Bid: a.w}, p.Reckoner, p.number(), opt.Letterhead}.sheet()
	d.Back = opt.Back
	return d
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

	letterhead Letterhead
}

func (a pourDayAuthor) sheet() PourSheet {
	b := a.b
	d := PourSheet{PourWords: a.p.Words(), Times: a.p.Times(), Company: a.company, Name: a.p.Name(b), Site: siteOf(b), JobNo: say.Clean(b.JobNo, say.ShortName), When: a.when(), Foot: a.p.Foot(a.id, b.AsOf), Cautions: a.care(),
		Phones: a.letterhead.Phones.calls(a.Voice), Roomy: len(b.Placements) <= 2, Form: a.letterhead.formOf(b.JobNo)}
	d.Code = chart.Code(cmp.Or(d.Form, b.JobNo), a.p.Code(d.JobNo, d.Form))
	loads := 0
	for i := range b.Days {
		day := &b.Days[i]
		d.Glance = append(d.Glance, a.glance(day))
		d.Orders = append(d.Orders, a.pourOrder(day))
		if day.Clock != nil && len(day.Clock.Trucks) > 0 {
			d.Clocks = append(d.Clocks, a.clock(day))
			d.Saws = d.Saws || len(day.Clock.Saw) > 0
		}
		d.Shared = append(d.Shared, a.shared(day))
		loads = max(loads, len(day.Order.Loads))
	}
	for i := range b.Placements {
		d.Parts = append(d.Parts, a.pourPart(i))
		if when := a.p.SawWhen(b.Placements[i].Joints.Saw); when != "" && !d.Saws && !slices.Contains(d.Sawing, when) {
			d.Sawing = append(d.Sawing, when) // where no clock tells
		}
	}
	d.Tables = []blankTable{a.slabs(), a.blank(record.Loads, min(loads+3, 14)), a.blank(record.Delays, max(2, 5-len(b.Placements))), a.blank(record.Labors, 6)}
	return d
}

// when is the day of the pour, where it is known.
func (a pourDayAuthor) when() string {
	if d, err := record.ParseDate(a.b.On); err == nil {
		return a.Day(d)
	}
	return ""
}

// pourPart is the i-th placement.
func (a pourDayAuthor) pourPart(i int) pourPart {
	p, asked := &a.b.Placements[i], askedOf(a.b, i)
	out := pourPart{Name: say.Clean(p.Name, say.ShortName), Area: a.p.Area(p.AreaSqft), Thickness: a.p.Thick(asked, p.ThicknessIn), Neat: a.p.Volume(p.NeatYd.Figure.Value),
		What: a.p.What(p.Use, asked.Reinforcement, asked.Bar, asked.Base, p.Method), Drawing: a.plan(p, paperPlan), Says: a.p.PlanNotes(&p.Joints, asked)}
	if out.Drawing != nil {
		markFirst(out.Drawing)
		out.Drawing.Says = a.p.Plan(out.Name, &p.Joints)
	}
	return out
}

func (a pourDayAuthor) pourOrder(d *bid.Day) pourOrder {
	o := pourOrder{Big: a.p.OrderBig(d)}
	o.Day = a.dayName(d)
	for i := range d.Asked {
		o.Mixes = append(o.Mixes, a.p.AskFor(&d.Asked[i], len(d.Asked) > 1))
	}
	if d.TwoSteps() {
		o.Reckoner = a.reckon(d.Day)
	}
	if d.Clock != nil && len(d.Clock.Trucks) > 0 {
		o.Trucks, o.Rests = a.trucks(d.Clock), a.p.TimesRest(d.Clock)
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
	list, told := a.clockNotes()
	if text, source := a.p.Fast(a.b.Weather); text != "" && !told {
		list = append(list, Caution{text, source})
	}
	text, source := a.p.TruckTime()
	return append(append(list, Caution{text, source}), a.beware(a.hazards()...)...)
}

// dayName names a day of several by what is poured on it, "" where there is one.
func (a pourDayAuthor) dayName(d *bid.Day) string {
	if len(a.b.Days) < 2 {
		return ""
	}
	return strconv.Itoa(d.Day) + ". " + say.Clean(strings.Join(d.Placements, ", "), say.LongName)
}

// shared are the facts that are the same for all that is poured on a day.
func (a pourDayAuthor) shared(d *bid.Day) blankFacts {
	f := blankFacts{Title: cmp.Or(a.dayName(d), a.p.Words().OfDay), Record: record.Placements.Name}
	f.Columns = a.columns("placed_on", "crew", "crew_size", "mix", "air_temp_f", "concrete_temp_f", "humidity_pct", "wind_mph")
	if slices.ContainsFunc(a.b.Placements, func(p bid.Part) bool { return p.Day == d.Day && p.Method == "pump" }) {
		f.Columns = append(f.Columns, a.columns("pump_outfit", "hose_in")...)
	}
	return f
}

// slabs are the facts of each placement that are known only on the day.
func (a pourDayAuthor) slabs() blankTable {
	s := blankTable{Title: a.p.Table(record.Placements), Record: record.Placements.Name, Names: a.p.Words().Placement,
		Columns: a.columns("delivered_yd", "leftover_yd", "measured_thickness_in", "joint_cut", "joint_depth_in", "saw_hours", "finish", "curing")}
	for i := range a.b.Placements {
		s.Rows = append(s.Rows, say.Clean(a.b.Placements[i].Name, say.ShortName))
	}
	for _, name := range []string{"joint_cut", "curing"} {
		s.Words = append(s.Words, a.p.WordsOf(record.Placements.Column(name)))
	}
	return s
}

func (a pourDayAuthor) columns(names ...string) []blankColumn {
	var columns []blankColumn
	for _, name := range names {
		columns = append(columns, a.column(record.Placements.Column(name)))
	}
	return columns
}

// blank is a record table with so many empty rows. The job's number is at the
// head of the sheet, and wages are no matter for the crew; the placement is
// asked for where there are several.
func (a pourDayAuthor) blank(t *record.Table, rows int) blankTable {
	b := blankTable{Title: a.p.Table(t), Record: t.Name, Rows: make([]string, rows)}
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Name == "job_no" || c.Name == "rate" || c.Name == "placement" && len(a.b.Placements) == 1 {
			continue
		}
		b.Columns = append(b.Columns, a.column(c))
		if c.Words != nil {
			b.Words = append(b.Words, a.p.WordsOf(c))
		}
	}
	return b
}

func (a pourDayAuthor) column(c *record.Column) blankColumn {
	return blankColumn{a.p.Gloss(c.Name), c.Name, c.Name == "note"}
}
