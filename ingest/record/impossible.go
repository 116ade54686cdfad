package record

import (
	"cmp"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
)

// LeftOut is the code of a value that cannot be, held against its own row. It
// stays on record and counts in no figure until the owner says that it is right.
const LeftOut = "impossible-beside-its-row"

const saidRightDoc = "values that look impossible and that the owner says are right, as `column=value` with semicolons between; " +
	"`pourback fix` writes it"

// SayRight adds to what was said to be right that a column's value, in its
// canonical text, is. What was said of an earlier value lapses.
func SayRight(said, column, value string) string {
	var kept []string
	for _, s := range strings.Split(said, ";") {
		if s = strings.TrimSpace(s); s != "" && !strings.HasPrefix(s, column+"=") {
			kept = append(kept, s)
		}
	}
	return strings.Join(append(kept, column+"="+value), "; ")
}

// SaysRight says whether the value of a column, in its canonical text, was said
// to be right.
func SaysRight(said, column, value string) bool {
	for _, s := range strings.Split(said, ";") {
		if strings.TrimSpace(s) == column+"="+value {
			return true
		}
	}
	return false
}

// Confirm notes on a job or a placement that the value of a column is right as
// it stands there. It is false for rows of other tables, which have no such note,
// and for a value that is missing.
func Confirm(r Record, column string) bool {
	t, fields := r.Table(), r.Fields()
	i, note := t.Index(column), t.Index("said_right")
	if i < 0 || note < 0 || IsMissing(fields[i]) {
		return false
	}
	said := fields[note].(*string)
	*said = SayRight(*said, column, FieldText(fields[i]))
	return true
}

// The bounds of possibility. They are far wider than anything a sound pour or
// an odd one does: common practice, no published source.
const (
	mostTimesNeat  = 3   // of the neat volume can have been used, with a little on top
	usedOnTop      = 2   // yd³, where the leftover is known
	deliveredOnTop = 10  // yd³, a whole truck, where it is not
	plannedOnTop   = 6   // yd³: a plant's least load, and more
	leastOfNeat    = 0.2 // of the neat volume fills no slab
	neatApart      = 8   // times area × thickness, either way: curbs and steps are odd, but not that odd
	mostSqftHour   = 400 // of a person: a screed on a warehouse floor makes 150
	leastSqftHour  = 0.25
	longestWork    = 40   // person-hours, below which slow work is no sign of anything
	dayMinutes     = 1440 // a pour has one day
	moneyApart     = 40   // times: price and cost of one job
)

// misfit is a value that cannot be.
type misfit struct {
	column string
	field  any
	wrong  string
	right  string
}

// Impossible are the values of the placement that cannot be beside its others,
// save those that were said to be right.
func (p *Placement) Impossible() []Problem {
	found := p.misfitting()
	if len(found) == 0 {
		return nil // and no names are put together for it, in a million rows
	}
	return told(found, p.SaidRight, p.JobNo, p.JobNo+"/"+p.Placement, p.JobNo+" "+p.Placement)
}

// settled says whether a value is impossible, which is said by itself, or said
// to be right.
func (p *Placement) settled(column string, field any) bool {
	return SaysRight(p.SaidRight, column, FieldText(field)) || slices.ContainsFunc(p.misfitting(), func(m misfit) bool { return m.column == column })
}

// misfitting holds volumes and hours against the size of the slab. Where two of
// them point the same way it is the size that is wrong: the thickness where the
// hours suit the area, else the area.
func (p *Placement) misfitting() []misfit {
	byArea, neat := p.byArea(), p.Neat()
	drawn, planned, used, worked := apart(p.NeatYd, byArea, neatApart), beyondNeat(p.PlannedYd, byArea, plannedOnTop), p.usedBeyond(byArea), beyondArea(p.LaborHours, p.AreaSqft)
	if n := drawn + planned + used + worked; n >= 2 || n <= -2 {
		return []misfit{p.wrongSize(drawn, planned, used, worked)}
	}
	var found []misfit
	if drawn != 0 {
		found = append(found, misfit{"neat_yd", &p.NeatYd, "area × thickness gives " + yards(byArea), near(p.NeatYd.V, byArea.V)})
		neat = byArea
	}
	if v := p.DeliveredYd; p.usedBeyond(neat) < 0 && beyondNeat(v, neat, deliveredOnTop) == 0 {
		found = append(found, misfit{"leftover_yd", &p.LeftoverYd, "it leaves too little of " + yards(v) + " for the slab's neat volume, " + yards(neat), ""})
	} else if p.usedBeyond(neat) != 0 {
		found = append(found, misfit{"delivered_yd", &p.DeliveredYd, "the slab's neat volume is " + yards(neat), near(v.V, neat.V)})
	}
	if v := p.PlannedYd; beyondNeat(v, neat, plannedOnTop) != 0 {
		found = append(found, misfit{"planned_yd", &p.PlannedYd, "the slab's neat volume is " + yards(neat), near(v.V, neat.V)})
	}
	if worked != 0 {
		found = append(found, misfit{"labor_hours", &p.LaborHours, "no crew lays " + tidy(p.AreaSqft.V) + " ft² in that time", ""})
	}
	if p.Clogs.V > 20 && float64(p.Clogs.V) > 2*p.DeliveredYd.Or(math.Inf(1)) {
		found = append(found, misfit{"clogs", &p.Clogs, "more than two for each yard", ""})
	}
	if p.ClogMin.V > dayMinutes {
		found = append(found, misfit{"clog_min", &p.ClogMin, "more minutes than a day has", ""})
	}
	if p.DelayMin.V > dayMinutes {
		found = append(found, misfit{"delay_min", &p.DelayMin, "more minutes than a day has", ""})
	}
	return found
}

// wrongSize says that the slab is not as large as its row says, by what does not
// suit it.
func (p *Placement) wrongSize(drawn, planned, used, worked int) misfit {
	var beside []string
	for _, one := range []struct {
		sign   int
		column string
	}{{drawn, "neat_yd"}, {planned, "planned_yd"}, {used, "delivered_yd"}, {worked, "labor_hours"}} {
		if one.sign != 0 {
			beside = append(beside, one.column)
		}
	}
	wrong := "cannot be beside " + strings.Join(beside, " and ")
	if p.LaborHours.OK && worked == 0 {
		return misfit{"thickness_in", &p.ThicknessIn, wrong, ""}
	}
	return misfit{"area_sqft", &p.AreaSqft, wrong, ""}
}

func yards(v Number) string { return tidy(math.Round(v.V*100)/100) + " yd³" }

// byArea is area × thickness in yd³.
func (p *Placement) byArea() Number {
	if !p.AreaSqft.OK || !p.ThicknessIn.OK {
		return Number{}
	}
	return Some(NeatYd(p.AreaSqft.V, p.ThicknessIn.V))
}

// usedBeyond is 1 where what was delivered cannot have gone into the volume, and
// -1 where it cannot have filled it.
func (p *Placement) usedBeyond(neat Number) int {
	if used := p.Used(); used.OK && used.V >= 0 {
		return beyondNeat(used, neat, usedOnTop)
	}
	return beyondNeat(p.DeliveredYd, neat, deliveredOnTop)
}

// beyondNeat is 1 where so much concrete cannot have gone into the volume, with
// so much on top, and -1 where so little cannot have filled it.
func beyondNeat(yd, neat Number, onTop float64) int {
	switch {
	case !yd.OK || !neat.OK || neat.V <= 0:
		return 0
	case yd.V > mostTimesNeat*neat.V+onTop:
		return 1
	case yd.V < leastOfNeat*neat.V:
		return -1
	}
	return 0
}

// beyondArea is 1 where so many hours cannot go into the area, and -1 where so
// few cannot do.
func beyondArea(hours, area Number) int {
	switch {
	case !hours.OK || !area.OK || hours.V <= 0:
		return 0
	case area.V/hours.V > mostSqftHour:
		return -1
	case area.V/hours.V < leastSqftHour && hours.V > longestWork:
		return 1
	}
	return 0
}

// apart is 1 where v is more than so many times the other, -1 where it is less
// than one part in so many, and 0 where nothing can be said.
func apart(v, other Number, times float64) int {
	switch {
	case !v.OK || !other.OK || v.V <= 0 || other.V <= 0:
		return 0
	case v.V > times*other.V:
		return 1
	case v.V*times < other.V:
		return -1
	}
	return 0
}

// Impossible are the amounts of the job that cannot be beside its others, save
// those that were said to be right.
func (j *Job) Impossible() []Problem { return j.impossible(j.JobNo, j.SaidRight) }

func (j *Job) impossible(jobNo, said string) []Problem {
	found := j.misfitting()
	if len(found) == 0 {
		return nil
	}
	return told(found, said, jobNo, jobNo, "job "+jobNo)
}

// misfitting holds the job's amounts against each other. Of three the one that
// is far from both others is wrong; of two it is the larger, for a decimal point
// is lost more often than one too many is written.
func (j *Job) misfitting() []misfit {
	var room [3]amount
	known := room[:0]
	for _, a := range [...]amount{{"contract_price", &j.ContractPrice}, {"bid_cost", &j.BidCost}, {"actual_cost", &j.ActualCost}} {
		if a.field.V > 0 {
			known = append(known, a)
		}
	}
	wrong := func(a amount, beside string) misfit {
		return misfit{a.column, a.field, "cannot be beside " + beside, ""}
	}
	var found []misfit
	switch len(known) {
	case 2:
		if a, b := known[0], known[1]; far(a, b) {
			if a.field.V < b.field.V {
				a, b = b, a
			}
			found = append(found, wrong(a, b.column+" "+b.field.V.String()))
		}
	case 3:
		for i, a := range known {
			b, c := known[(i+1)%3], known[(i+2)%3]
			if far(a, b) && far(a, c) && !far(b, c) {
				found = append(found, wrong(a, b.column+" "+b.field.V.String()+" and "+c.column+" "+c.field.V.String()))
			}
		}
	}
	if co, price := j.ChangeOrders, j.ContractPrice; price.V > 0 && math.Abs(co.V.Dollars()) > moneyApart*price.V.Dollars() {
		found = append(found, misfit{"change_orders", &j.ChangeOrders, "cannot be beside contract_price " + price.V.String(), ""})
	}
	return found
}

// amount is one of a job's amounts.
type amount struct {
	column string
	field  *Money
}

// far says whether one of two amounts is far too large beside the other.
func far(a, b amount) bool {
	return a.field.V > moneyApart*b.field.V || b.field.V > moneyApart*a.field.V
}

// told makes problems of what was not said to be right.
func told(found []misfit, said, job, where, name string) []Problem {
	var problems []Problem
	for _, m := range found {
		value := FieldText(m.field)
		if SaysRight(said, m.column, value) {
			continue
		}
		problems = append(problems, Problem{Severity: Warning, Code: LeftOut, Job: job, Record: name, Column: m.column, Value: value,
			Wrong: m.wrong + ": kept, and left out of every figure",
			Right: cmp.Or(m.right, "correct it") + fmt.Sprintf("; if it is right, say so: pourback fix %s %s=%s", where, m.column, value)})
	}
	return problems
}

// near offers the slip of a decimal point that would bring v near to what is
// expected of it.
func near(v, expected float64) string {
	for _, slip := range []float64{10, 100, 1000, 0.1, 0.01} {
		if r := v / slip / expected; r > 0.7 && r < 1.6 {
			return "did you mean " + tidy(v/slip) + "?"
		}
	}
	return ""
}

// leaveOut takes the values that cannot be out of the history, and notes each.
func (h *History) leaveOut() {
	rows := h.Placements.Columns()
	var whole Placement
	all := rows.Reader(&whole)
	for _, i := range h.misfits() {
		all(i)
		if found := whole.Impossible(); len(found) > 0 {
			rows.drop(i, new(Placement), found)
			h.Checks = append(h.Checks, found...)
		}
	}
	var job Job
	jobs := h.Jobs.Columns()
	read := jobs.Reader(&job)
	for j := range h.Jobs.Len() {
		if read(j); len(job.misfitting()) > 0 {
			h.leaveOutOfJob(j)
		}
	}
}

// misfits are the placements with a value that cannot be, said to be right or not,
// looked for on all processors.
func (h *History) misfits() []int {
	const part = 1 << 14
	parts := make([][]int, (h.Placements.Len()+part-1)/part)
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(len(parts), runtime.GOMAXPROCS(0)) {
		wait.Go(func() {
			var p Placement
			read := h.Placements.Columns().Reader(&p, "area_sqft", "thickness_in", "neat_yd", "planned_yd", "delivered_yd", "leftover_yd", "labor_hours", "clogs", "clog_min", "delay_min")
			for k := int(next.Add(1)) - 1; k < len(parts); k = int(next.Add(1)) - 1 {
				for i := k * part; i < min(h.Placements.Len(), (k+1)*part); i++ {
					if read(i); len(p.misfitting()) > 0 {
						parts[k] = append(parts[k], i)
					}
				}
			}
		})
	}
	wait.Wait()
	return slices.Concat(parts...)
}

// leaveOutOfJob does it for the money of a job, which may have been said to be
// right on any of its rows.
func (h *History) leaveOutOfJob(j int) {
	var job Job
	jobs, rows := h.Jobs.Columns(), h.Placements.Columns()
	jobs.Reader(&job)(j)
	from, to := h.PlacementsOf(j)
	said := job.SaidRight
	for i := from; i < to; i++ {
		said += ";" + h.Placements.SaidRight.At(i)
	}
	found := job.impossible(job.JobNo, said)
	jobs.drop(j, new(Job), found)
	h.Checks = append(h.Checks, found...)
	for i := from; i < to; i++ {
		rows.drop(i, new(Placement), found)
		h.Placements.SaidRight.Set(i, said)
	}
}

// drop takes the values that problems are about out of row i, by way of an
// empty row of the table.
func (c Columns) drop(i int, row Record, found []Problem) {
	c.Reader(row)(i)
	fields := row.Fields()
	for _, p := range found {
		ClearField(fields[row.Table().Index(p.Column)])
	}
	c.Write(i, row)
}

// LeftOut are the values on record that count in no figure, as they cannot be.
func (h *History) LeftOut() []Problem {
	var out []Problem
	for _, p := range h.Checks {
		if p.Code == LeftOut {
			out = append(out, p)
		}
	}
	return out
}
