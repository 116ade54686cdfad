package main

import (
	"fmt"
	"slices"
)

// columnsOfJobs are those of the tab of jobs, lost ones among them.
var columnsOfJobs = []column{
	{"", "Job number", "jobs.job_no", func(e *entry) any { return e.no }},
	{"", "Who it's for", "jobs.customer", func(e *entry) any { return e.customer }},
	{"", "Where", "jobs.site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"", "How they found us", "", func(e *entry) any { return oneOf(e.r, "Neighbor", "Yard sign", "Online", "Repeat", "Builder") }},
	{"", "Day we bid it", "jobs.bid_on", func(e *entry) any { e.read("bid_on", iso(e.quoted)); return dayOfI(e, e.quoted) }},
	{"", "Day they said yes", "jobs.won_on", saidYesOfI},
	{"", "Price we gave", "jobs.contract_price", func(e *entry) any { e.read("contract_price", e.price+e.change); return priceOfI(e, e.price) }},
	{"", "Added on later", "jobs.change_orders", addedOfI},
	{"", "Cost I figured", "jobs.bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return priceOfI(e, e.bid) }},
	{"", "Cost for real", "jobs.actual_cost", costOfI},
	{"", "Deposit in?", "", func(e *entry) any { return oneOf(e.r, "Yes", "Yes", "No") }},
	{"", "Text them at", "", func(e *entry) any { return fmt.Sprintf("555-01%02d", e.r.IntN(100)) }},
}

var columnsOfCalls = []column{
	{"", "Day they called", "visits.seen_on", func(e *entry) any { e.read("callback_on", iso(e.back.on)); return dayOfI(e, e.back.on) }},
	{"", "Which job", "visits.job_no", whichJobOfI},
	{"", "What they said", "visits.finding", saidOfI},
	{"", "What we did about it", "visits.note", func(e *entry) any {
		return oneOf(e.r, "went and looked", "patched it", "made it right", "explained it, they're ok")
	}},
	{"", "What it cost us", "visits.cost", callCostOfI},
	{"", "Done with it on", "visits.resolved_on", func(e *entry) any {
		return oneOf[any](e.r, e.back.on.AddDate(0, 0, 4+e.r.IntN(9)), e.back.on.AddDate(0, 0, 3), "not yet", "")
	}},
}

func saidYesOfI(e *entry) any {
	if e.fate == "lost" {
		return oneOf(e.r, "nope", "went with somebody cheaper", "never called back")
	}
	won := e.quoted.AddDate(0, 0, 2+e.r.IntN(6))
	e.read("won_on", iso(won))
	return dayOfI(e, won)
}

func priceOfI(e *entry, x float64) any { return oneOf[any](e.r, x, x, x, dollars(x)) }

func addedOfI(e *entry) any {
	if e.change == 0 {
		e.read("change_orders", nil)
		return nil
	}
	e.read("change_orders", e.change)
	return priceOfI(e, e.change)
}

func costOfI(e *entry) any {
	if e.fate == "lost" || e.fate == "no date" {
		return nil
	}
	e.read("actual_cost", e.cost())
	return priceOfI(e, e.cost())
}

// whichJobOfI is the number, four times as it came to mind.
func whichJobOfI(e *entry) any {
	if loose := map[string]string{"J124": "j124", "J132": "132", "J154": "154", "J157": "Job 157"}[e.no]; loose != "" {
		return loose
	}
	return e.no
}

func saidOfI(e *entry) any {
	e.read("callback_kind", e.back.kind)
	return oneOf(e.r, map[string][]string{"crack": {"crack by the front corner", "hairline crack clear across", "cracked, right beside the joint"},
		"scaling": {"the top is flaking off", "surface is scaling by the street"}, "settlement": {"one side sank about an inch", "slab settled by the steps"},
		"ponding": {"water sits in the low spot", "puddle that never drains"}, "other": {"our truck left ruts in the lawn"}}[e.back.kind]...)
}

func callCostOfI(e *entry) any {
	e.read("callback_cost", e.back.cost)
	if e.back.cost == 0 {
		return "nothing"
	}
	return oneOf[any](e.r, e.back.cost, e.back.cost, dollars(e.back.cost))
}

// threeTabs writes log i.
func threeTabs() *book {
	b := newBook(24, oddOfI)
	jobs := jobsOfI()
	b.explain("Pours", columnsOfPours)
	b.explain("Jobs", columnsOfJobs)
	b.explain("Callbacks", columnsOfCalls)
	b.truth.Heads = append(b.truth.Heads, "bar_spacing_in", "wind_mph")
	pours, listed := &sheet{name: "Pours"}, []*job{}
	pours.add(headings(columnsOfPours)...)
	pours.add(hintsOfPours...)
	for i, j := range jobs {
		if i > 0 && i%6 == 0 {
			listed = append(listed, lostBefore(j, i))
		}
		listed = append(listed, j)
		b.keep(pours, columnsOfPours, j)
		if j.no == "J123" {
			again := twiceTyped(j, "Ocarina", "77 Ballad Blvd")
			b.keep(pours, columnsOfPours, again)
			listed = append(listed, again)
		}
	}
	b.sheets = []*sheet{b.jobList(listed), pours, b.callList(jobs)}
	return b
}

// lostBefore is a bid that came to nothing, under the number before j's.
func lostBefore(j *job, i int) *job {
	var n int
	fmt.Sscanf(j.no, "J%d", &n)
	return &job{no: fmt.Sprintf("J%d", n-1), customer: []string{"Kazoo", "Harp", "Gong"}[i/6%3], site: fmt.Sprintf("%d Octave Ave", 12+i*7),
		slabs: j.slabs, quoted: j.quoted.AddDate(0, 0, -1), price: j.price + 600, bid: j.bid + 310, fate: "lost"}
}

// line writes one row of a tab that has a job's own columns; what it says goes into reads.
func (b *book) line(s *sheet, columns []column, j *job, reads map[string]any) {
	e := &entry{job: j, slab: j.slabs[0], r: b.r, reads: reads}
	cells := make([]any, len(columns))
	for k, c := range columns {
		cells[k] = b.spoil(e, c.name(), c.write(e))
	}
	s.add(cells...)
}

// rowOf is the truth's row of a job, or one that nobody keeps where the job has none of its own.
func (b *book) rowOf(j *job) map[string]any {
	if rows := b.truth.Rows[j.no]; rows != nil && j.fate == "" {
		return rows
	}
	return map[string]any{}
}

func (b *book) jobList(jobs []*job) *sheet {
	s := &sheet{name: "Jobs"}
	s.add("one line a job. NEW NUMBER EVERY TIME!!")
	s.add(headings(columnsOfJobs)...)
	won := 0
	for _, j := range jobs {
		b.line(s, columnsOfJobs, j, b.rowOf(j))
		if second := b.truth.Rows[j.no+"#2"]; second != nil && j.fate == "" {
			second["site"] = j.site
		}
		if j.fate != "lost" {
			won++
		}
	}
	s.add()
	s.add(nil, fmt.Sprintf("got %d out of %d", won, len(jobs)))
	return s
}

// callList is the tab of callbacks in the order of the calls. A call about a job with two slabs does not say which of
// them it was; of two calls about one slab the first is the record's, and what both cost together nobody asked.
func (b *book) callList(jobs []*job) *sheet {
	s := &sheet{name: "Callbacks"}
	s.add("people who called us back :(")
	s.add()
	s.add(headings(columnsOfCalls)...)
	var calls []*job
	for _, j := range jobs {
		switch {
		case j.back != nil:
			calls = append(calls, j)
		case j.fate == "":
			b.neverCalled(j)
		}
		if j.no == "J130" {
			again := *j
			again.back, again.fate = &callback{j.back.on.AddDate(0, 0, 52), "crack", 90}, "called again"
			calls = append(calls, &again)
		}
	}
	slices.SortStableFunc(calls, func(x, y *job) int { return x.back.on.Compare(y.back.on) })
	for _, j := range calls {
		reads := b.rowOf(j)
		if len(j.slabs) > 1 {
			reads = map[string]any{}
		}
		b.line(s, columnsOfCalls, j, reads)
	}
	delete(b.truth.Rows["J130"], "callback_cost")
	return s
}

func (b *book) neverCalled(j *job) {
	for _, of := range []string{j.no, j.no + "#2"} {
		if rows := b.truth.Rows[of]; rows != nil {
			rows["callback_on"], rows["callback_kind"], rows["callback_cost"] = nil, nil, nil
		}
	}
}
