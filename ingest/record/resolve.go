package record

import (
	"fmt"
	"math"
)

// UnlikeEvents is the code of a summary that differs from what its events add
// up to.
const UnlikeEvents = "unlike-events"

// resolvePlacements computes each placement's summaries from its events.
func (h *History) resolvePlacements() {
	if h.loads == nil && h.delays == nil && h.labors == nil && h.visits == nil {
		return
	}
	unsure := h.unsureJobs()
	logged := h.delayLog()
	c := &h.Placements
	var p Placement
	read := c.Columns().Reader(&p)
	for i := range c.Len() {
		p = Placement{} // of what the row before was resolved to
		read(i)
		if !unsure["loads"][p.JobNo] {
			h.resolveLoads(&p, h.LoadsOf(i))
		}
		if !unsure["labor"][p.JobNo] {
			h.resolveLabor(&p, h.LaborOf(i))
		}
		if !unsure["delays"][p.JobNo] {
			h.resolveDelays(&p, h.DelaysOf(i), logged(i))
		}
		if !unsure["visits"][p.JobNo] {
			h.resolveVisits(&p, h.VisitsOf(i))
		}
		c.DeliveredYd.Set(i, p.DeliveredYd)
		c.LaborHours.Set(i, p.LaborHours)
		c.DelayMin.Set(i, p.DelayMin)
		c.Clogs.Set(i, p.Clogs)
		c.ClogMin.Set(i, p.ClogMin)
		c.CallbackOn.Set(i, p.CallbackOn)
		c.CallbackKind.Set(i, p.CallbackKind)
		c.CallbackCost.Set(i, p.CallbackCost)
	}
}

// unsureJobs are, by table, the jobs with events that name none of their
// several placements: a sum over the others would be too small.
func (h *History) unsureJobs() map[string]map[string]bool {
	unsure := map[string]map[string]bool{}
	note := func(table, job, placement string) {
		if placement != "" {
			return
		}
		if unsure[table] == nil {
			unsure[table] = map[string]bool{}
		}
		unsure[table][job] = true
	}
	for i := range h.Loads {
		note("loads", h.Loads[i].JobNo, h.Loads[i].Placement)
	}
	for i := range h.Labor {
		note("labor", h.Labor[i].JobNo, h.Labor[i].Placement)
	}
	for i := range h.Delays {
		note("delays", h.Delays[i].JobNo, h.Delays[i].Placement)
	}
	for i := range h.Visits {
		note("visits", h.Visits[i].JobNo, h.Visits[i].Placement)
	}
	return unsure
}

// delayLog says for which placements having no delay means that none happened.
// A company that hands in delays keeps a log of them: its silence counts for
// jobs recorded by events and for pours since its first entry.
func (h *History) delayLog() func(i int) bool {
	if h.delays == nil {
		return func(int) bool { return false }
	}
	began := h.AsOf + 1
	eventful := map[string]bool{}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if len(h.DelaysOf(i)) > 0 {
			began = min(began, p.PlacedOn())
		}
		if len(h.DelaysOf(i))+len(h.LoadsOf(i))+len(h.LaborOf(i)) > 0 {
			eventful[p.JobNo()] = true
		}
	}
	return func(i int) bool {
		p := h.Placements.At(i)
		return p.PlacedOn() >= began || eventful[p.JobNo()]
	}
}

func (h *History) resolveLoads(p *Placement, loads []Load) {
	if len(loads) == 0 {
		return
	}
	sum := 0.0
	for i := range loads {
		sum += loads[i].Yards.V
	}
	h.settle(p, "delivered_yd", &p.DeliveredYd, steady(sum))
}

func (h *History) resolveLabor(p *Placement, labor []Labor) {
	if len(labor) == 0 {
		return
	}
	sum := 0.0
	for i := range labor {
		sum += labor[i].Hours.V
	}
	h.settle(p, "labor_hours", &p.LaborHours, steady(sum))
}

func (h *History) resolveDelays(p *Placement, delays []Delay, logged bool) {
	if len(delays) == 0 {
		if logged {
			for _, f := range []*Count{&p.Clogs, &p.ClogMin, &p.DelayMin} {
				if !f.OK && (f == &p.DelayMin || p.Pumped()) {
					*f = Some[int64](0)
				}
			}
		}
		return
	}
	var clogs, clogMin, delayMin int64
	for i := range delays {
		delayMin += delays[i].Minutes.V
		if delays[i].Cause == "clog" {
			clogs++
			clogMin += delays[i].Minutes.V
		}
	}
	settleCount(h, p, "delay_min", &p.DelayMin, delayMin)
	if p.Pumped() || clogs > 0 {
		settleCount(h, p, "clogs", &p.Clogs, clogs)
		settleCount(h, p, "clog_min", &p.ClogMin, clogMin)
	}
}

func (h *History) resolveVisits(p *Placement, visits []Visit) {
	var first *Visit
	var cost Money
	for i := range visits {
		v := &visits[i]
		if !v.Callback() || v.SeenOn < p.PlacedOn {
			continue
		}
		if first == nil {
			first = v
		}
		if v.Cost.OK {
			cost = Some(cost.V + v.Cost.V)
		}
	}
	if first == nil {
		return
	}
	kind := first.Finding
	if kind == "sound" {
		kind = "other"
	}
	if p.CallbackOn != 0 && p.CallbackOn != first.SeenOn {
		h.differ(p, "callback_on", p.CallbackOn.String(), first.SeenOn.String())
	}
	if p.CallbackKind != "" && p.CallbackKind != kind {
		h.differ(p, "callback_kind", p.CallbackKind, kind)
	}
	if p.CallbackCost.OK && cost.OK && p.CallbackCost != cost {
		h.differ(p, "callback_cost", p.CallbackCost.V.String(), cost.V.String())
	}
	p.CallbackOn, p.CallbackKind = first.SeenOn, kind
	if cost.OK {
		p.CallbackCost = cost
	}
}

// settle lets the sum of the events win over what is written.
func (h *History) settle(p *Placement, column string, written *Number, sum float64) {
	if written.OK && math.Abs(written.V-sum) > 1e-6 {
		h.differ(p, column, tidy(written.V), tidy(sum))
	}
	*written = Some(sum)
}

func settleCount(h *History, p *Placement, column string, written *Count, sum int64) {
	if written.OK && written.V != sum {
		h.differ(p, column, fmt.Sprint(written.V), fmt.Sprint(sum))
	}
	*written = Some(sum)
}

func (h *History) differ(p *Placement, column, written, events string) {
	h.Checks = append(h.Checks, Problem{Severity: Warning, Code: UnlikeEvents, Job: p.JobNo, Record: p.JobNo + " " + p.Placement,
		Column: column, Value: written, Wrong: "the events add up to " + events, Right: "the events are taken"})
}

// steady rounds a sum to the millionth, so that it equals the same amount
// written down, whatever the order of adding.
func steady(sum float64) float64 { return math.Round(sum*1e6) / 1e6 }

// resolveJobs makes the jobs: what their own rows say, given by their places or
// -1, filled from the rows of a job log, with the actual cost from the costs.
// Most are what a single row of a log says.
func (h *History) resolveJobs(given []int32) {
	first := make([]int32, 0, len(given)) // placement of each job
	for i := range h.jobOf {
		if int(h.jobOf[i]) == len(first) {
			first = append(first, int32(i))
		}
	}
	var job, own Job
	var log Placement
	var logs []Job
	readOwn, readLog := h.Jobs.Columns().Reader(&own), h.Placements.Columns().Reader(&log)
	made := h.Placements.Log.picked(first)
	made.JobNo = h.Placements.JobNo.picked(first)
	into, fields := made.Columns(), job.Fields()
	for j, from := range first {
		to := len(h.jobOf)
		if j+1 < len(first) {
			to = int(first[j+1])
		}
		if to-int(from) == 1 && given[j] < 0 && len(h.CostsOf(j)) == 0 {
			continue
		}
		if job = (Job{}); given[j] >= 0 {
			readOwn(int(given[j]))
			job = own
		}
		logs = logs[:0]
		for i := int(from); i < to; i++ {
			readLog(i)
			logs = append(logs, log.Log)
		}
		job.JobNo = log.JobNo
		fromLog(&job, logs)
		h.fromCosts(&job, h.CostsOf(j))
		into.writeFields(j, fields)
	}
	h.Jobs, h.Placements.Log = made, JobColumns{WonFrom: h.Placements.Log.WonFrom}
}

func fromLog(job *Job, logs []Job) {
	for i := range logs {
		log := &logs[i]
		fill(&job.Site, log.Site)
		fill(&job.Customer, log.Customer)
		fill(&job.WonFrom, log.WonFrom)
		fill(&job.BidOn, log.BidOn)
		fill(&job.WonOn, log.WonOn)
		job.ClosedOn = max(job.ClosedOn, log.ClosedOn)
		if !job.WarrantyMonths.OK {
			job.WarrantyMonths = log.WarrantyMonths
		}
	}
	fillMoney(&job.ContractPrice, logs, func(log *Job) Money { return log.ContractPrice })
	fillMoney(&job.ChangeOrders, logs, func(log *Job) Money { return log.ChangeOrders })
	fillMoney(&job.BidCost, logs, func(log *Job) Money { return log.BidCost })
	fillMoney(&job.ActualCost, logs, func(log *Job) Money { return log.ActualCost })
}

func fill[T comparable](field *T, value T) {
	var missing T
	if *field == missing {
		*field = value
	}
}

// fillMoney takes an amount from a job log's rows: one amount, written once or
// repeated on each row, is the job's; different amounts are shares and add up.
func fillMoney(field *Money, logs []Job, of func(*Job) Money) {
	if field.OK {
		return
	}
	var sum Cents
	same := true
	for i := range logs {
		m := of(&logs[i])
		if !m.OK {
			continue
		}
		same = same && (!field.OK || *field == m)
		*field = m
		sum += m.V
	}
	if !same {
		*field = Some(sum)
	}
}

func (h *History) fromCosts(job *Job, costs []Cost) {
	var sum Cents
	for i := range costs {
		actual := costs[i].Actual()
		if !actual.OK {
			if !job.ActualCost.OK {
				h.Checks = append(h.Checks, Problem{Severity: Warning, Code: "cost-incomplete", Record: "job " + job.JobNo,
					Column: "actual_amount", Wrong: "no actual amount for " + costs[i].Item, Right: "without it the job has no actual cost"})
			}
			return
		}
		sum += actual.V
	}
	if len(costs) == 0 {
		return
	}
	if job.ActualCost.OK && job.ActualCost.V != sum {
		h.Checks = append(h.Checks, Problem{Severity: Warning, Code: UnlikeEvents, Job: job.JobNo, Record: "job " + job.JobNo,
			Column: "actual_cost", Value: job.ActualCost.V.String(), Wrong: "the costs add up to " + sum.String(), Right: "the costs are taken"})
	}
	job.ActualCost = Some(sum)
}
