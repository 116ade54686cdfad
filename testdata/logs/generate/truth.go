package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// A truth is what an attentive clerk reads off a log.
type truth struct {
	Flags       []string                     `json:"flags"`
	Heads       []string                     `json:"heads"`       // record columns that the log has
	Implausible [][3]string                  `json:"implausible"` // job, column, as written
	Map         map[string]map[string]string `json:"map"`         // sheet ("" for all), heading, column
	Repeated    []string                     `json:"repeated"`    // a job number typed on another site's row too
	Row         map[string]int               `json:"row"`         // as the spreadsheet numbers it
	Rows        map[string]map[string]any    `json:"rows"`        // job (job#2 its second slab), column, value; null: empty
	Unreadable  [][3]string                  `json:"unreadable"`  // job, column, as written
	Unusable    []string                     `json:"unusable"`    // without a date or a size
}

// A book is one owner's log: the sheets as kept, and their truth.
type book struct {
	sheets []*sheet
	truth  truth
	odd    []odd
	r      *rand.Rand
	above  map[string]any // what the row above says, for an owner who writes ditto
}

func newBook(seed uint64, odd []odd) *book {
	return &book{odd: odd, r: rand.New(rand.NewPCG(seed, 7)), truth: truth{
		Flags: []string{}, Implausible: [][3]string{}, Repeated: []string{}, Unreadable: [][3]string{}, Unusable: []string{},
		Map: map[string]map[string]string{"": {}}, Row: map[string]int{}, Rows: map[string]map[string]any{}}}
}

// A column is one of the owner's: what it is to the record ("" of no use), and how the owner writes it.
type column struct {
	group, head, is string
	write           func(e *entry) any
}

// name is the heading as a reader of two heading rows would say it.
func (c column) name() string {
	if c.group == "" {
		return c.head
	}
	return c.group + " / " + c.head
}

func headings(columns []column) []any {
	heads := make([]any, len(columns))
	for i, c := range columns {
		heads[i] = c.head
	}
	return heads
}

// An odd cell was written once, by hand: nobody can read it, or it cannot be.
type odd struct {
	job, head, column, text string
	impossible              bool
	also                    []string // columns that the cell would have said as well
}

// An entry is one row while it is written; reads is what it says.
type entry struct {
	*job
	*slab
	second bool
	r      *rand.Rand
	reads  map[string]any
	above  map[string]any // what the row above says
}

// read notes that a clerk reads v (nil: nothing) in the column.
func (e *entry) read(column string, v any) {
	if column == "" {
		return // a column of no use
	}
	switch t := v.(type) {
	case string:
		if t == "" {
			v = nil
		}
	case float64:
		if t == 0 && column == "bar_spacing_in" {
			v = nil
		}
	}
	e.reads[column] = v
}

// once leaves the cell of a second slab empty: the owner writes the job's money on its first row only.
func once(column string, write func(e *entry) any) func(e *entry) any {
	return func(e *entry) any {
		if e.second {
			e.read(column, nil)
			return nil
		}
		return write(e)
	}
}

// promised are the columns that a job has which was never poured.
var promised = []string{"job_no", "placed_on", "customer", "site", "use", "size", "length", "width", "thickness_in", "contract_price", "bid_on", "note"}

// keep writes a job's rows into the sheet and what they say into the truth.
func (b *book) keep(s *sheet, columns []column, j *job) {
	for i, slab := range j.slabs {
		e := &entry{j, slab, i > 0, b.r, map[string]any{}, b.above}
		cells := make([]any, len(columns))
		for k, c := range columns {
			cells[k] = b.leave(e, c, c.write(e))
			if !e.second {
				cells[k] = b.spoil(e, c.name(), cells[k])
			}
			if (e.fate == "cancelled" || e.fate == "no date") && !slices.Contains(promised, c.is) {
				cells[k] = nil
			}
		}
		row := s.add(cells...)
		b.note(e, row)
		if b.above = e.reads; e.fate != "" {
			b.above = nil
		}
	}
}

// leave leaves some cells empty that owners do leave empty: one in twenty-five, of columns that nothing hangs on.
func (b *book) leave(e *entry, c column, cell any) any {
	if b.r.IntN(25) != 0 || cell == nil {
		return cell
	}
	switch c.is {
	case "air_temp_f":
		e.read(c.is, nil)
		for _, too := range []string{"concrete_temp_f", "wind_mph"} { // in the same cell
			if _, said := e.reads[too]; said {
				e.read(too, nil)
			}
		}
	case "humidity_pct", "leftover_yd", "mix_psi", "base", "finish", "bid_cost", "labor_hours":
		e.read(c.is, nil)
	case "joint_spacing_ft":
		e.read(c.is, nil)
		e.read("joint_cut", nil)
	default:
		return cell
	}
	return oneOf[any](b.r, nil, nil, "?", "-")
}

// spoil puts the odd cell where the owner wrote one.
func (b *book) spoil(e *entry, head string, cell any) any {
	for _, o := range b.odd {
		if o.job != e.no || o.head != head || e.fate != "" {
			continue
		}
		e.read(o.column, nil)
		for _, c := range o.also {
			e.read(c, nil)
		}
		if o.impossible {
			e.read(o.column, "implausible")
			b.truth.Implausible = append(b.truth.Implausible, [3]string{o.job, o.column, o.text})
		} else {
			b.truth.Unreadable = append(b.truth.Unreadable, [3]string{o.job, o.column, o.text})
		}
		return o.text
	}
	return cell
}

func (b *book) note(e *entry, row int) {
	switch {
	case e.fate == "repeat":
		b.truth.Repeated = append(b.truth.Repeated, e.no)
	case e.fate != "":
		b.truth.Unusable = append(b.truth.Unusable, e.no)
		b.truth.Row[e.no] = row
	case e.second:
		b.truth.Rows[e.no+"#2"] = e.reads
	default:
		b.truth.Rows[e.no] = e.reads
		b.truth.Row[e.no] = row
	}
}

// has notes record columns that the log has, under a heading of their own or not.
func (b *book) has(columns ...string) {
	for _, c := range columns {
		if !slices.Contains(b.truth.Heads, c) {
			b.truth.Heads = append(b.truth.Heads, c)
		}
	}
}

// explain says in the truth what the headings are.
func (b *book) explain(sheet string, columns []column) {
	if b.truth.Map[sheet] == nil {
		b.truth.Map[sheet] = map[string]string{}
	}
	for _, c := range columns {
		b.truth.Map[sheet][c.name()] = c.is
		switch c.is {
		case "", "labor.job_no", "labor.worked_on", "labor.task", "loads.job_no", "loads.ticket_no", "loads.batched_at":
		case "length", "width":
			b.has("area_sqft")
		case "size":
			b.has("area_sqft", "thickness_in")
		case "labor.hours":
			b.has("labor_hours")
		case "loads.yards":
			b.has("delivered_yd")
		case "jobs.job_no", "visits.job_no", "visits.note", "visits.resolved_on":
		case "visits.seen_on":
			b.has("callback_on")
		case "visits.finding":
			b.has("callback_kind")
		case "visits.cost":
			b.has("callback_cost")
		default:
			b.has(strings.TrimPrefix(c.is, "jobs."))
		}
	}
}

// standsAt gives jobs their fates, and a cancelled one its note.
func standsAt(jobs []*job, fates map[string]string, cancelled string) {
	for _, j := range jobs {
		j.fate = fates[j.no]
		if j.fate == "cancelled" {
			j.note = cancelled
		}
		if j.fate != "" {
			j.slabs, j.back = j.slabs[:1], nil
		}
	}
}

// spoiled says whether every odd cell was written, and every fate met.
func (b *book) spoiled(fates int) error {
	if n := len(b.truth.Unreadable) + len(b.truth.Implausible); n != len(b.odd) {
		return fmt.Errorf("%s: %d of %d odd cells written", b.sheets[0].name, n, len(b.odd))
	}
	if n := len(b.truth.Unusable); n != fates {
		return fmt.Errorf("%s: %d rows without a date or size, not %d", b.sheets[0].name, n, fates)
	}
	return nil
}
