package record

import (
	"cmp"
	"fmt"
	"strings"
)

// Event is a record of something that happened to a placement. Place points at
// the job and the placement that it names.
type Event interface {
	Record
	Place() (job, placement *string)
}

// Place points at the job and the placement that the load names.
func (l *Load) Place() (job, placement *string) { return &l.JobNo, &l.Placement }

// Place points at the job and the placement that the delay names.
func (d *Delay) Place() (job, placement *string) { return &d.JobNo, &d.Placement }

// Place points at the job and the placement that the hours name.
func (l *Labor) Place() (job, placement *string) { return &l.JobNo, &l.Placement }

// Place points at the job and the placement that the visit names.
func (v *Visit) Place() (job, placement *string) { return &v.JobNo, &v.Placement }

// placeEvents gives each placement its events. An event that names no placement
// belongs to its job's only one; in a job with several, nobody can say whose it
// is, and the summaries of that job are left as written.
func (h *History) placeEvents() {
	names := h.placeNames()
	h.loads = placeAll(h, names, "loads", h.Loads, func(a, b *Load) int { return cmp.Compare(a.TicketNo, b.TicketNo) })
	h.delays = placeAll(h, names, "delays", h.Delays, func(a, b *Delay) int { return cmp.Compare(a.Seq.V, b.Seq.V) })
	h.labors = placeAll(h, names, "labor", h.Labor, func(a, b *Labor) int {
		return cmp.Or(cmp.Compare(a.WorkedOn, b.WorkedOn), cmp.Compare(a.Task, b.Task))
	})
	h.visits = placeAll(h, names, "visits", h.Visits, func(a, b *Visit) int { return cmp.Compare(a.SeenOn, b.SeenOn) })
	h.placeCosts()
}

// names finds placements by job and name, and the only placement of a job.
type names struct {
	at   map[[2]string]int32
	only map[string]string // "" where the job has several
}

func (h *History) placeNames() names {
	n := names{}
	if len(h.Loads)+len(h.Delays)+len(h.Labor)+len(h.Visits) == 0 {
		return n
	}
	n = names{make(map[[2]string]int32, h.Placements.Len()), map[string]string{}}
	for i := range h.Placements.Len() {
		job, placement := h.Placements.JobNo.At(i), h.Placements.Placement.At(i)
		n.at[[2]string{job, placement}] = int32(i)
		if _, several := n.only[job]; several {
			n.only[job] = ""
		} else {
			n.only[job] = placement
		}
	}
	return n
}

// placeAll sorts rows by placement and then by compare, and returns each
// placement's span. Rows that belong to no placement stay behind those that do.
func placeAll[T any, E interface {
	*T
	Event
}](h *History, n names, table string, rows []T, compare func(a, b *T) int) []span {
	if len(rows) == 0 {
		return nil
	}
	for i := range rows {
		job, placement := E(&rows[i]).Place()
		if *placement == "" {
			*placement = n.only[*job]
		}
		if _, ok := n.at[[2]string{*job, *placement}]; !ok {
			h.unplaced(table, *job, *placement, n)
		}
	}
	where := func(r *T) int32 {
		job, placement := E(r).Place()
		if i, ok := n.at[[2]string{*job, *placement}]; ok {
			return i
		}
		return int32(h.Placements.Len())
	}
	order(rows, func(a, b *T) int { return cmp.Or(cmp.Compare(where(a), where(b)), compare(a, b)) })
	spans := make([]span, h.Placements.Len())
	for i := range rows {
		if at := where(&rows[i]); int(at) < len(spans) {
			if spans[at].to == 0 {
				spans[at].from = int32(i)
			}
			spans[at].to = int32(i) + 1
		}
	}
	return spans
}

// unplaced notes an event that no placement owns.
func (h *History) unplaced(table, job, placement string, n names) {
	p := Problem{Severity: Warning, Code: "names-nothing", Record: strings.TrimSpace("job " + job + " " + placement)}
	switch only, known := n.only[job]; {
	case !known:
		p.Wrong = fmt.Sprintf("a row of %s names a job with no placement poured by %s", table, h.AsOf)
		p.Right = "hand in its placements, or mend the job number"
	case placement == "":
		p.Code = "names-no-placement"
		p.Wrong = fmt.Sprintf("a row of %s does not say which of the job's placements it belongs to", table)
		p.Right = "fill in its placement"
	default:
		p.Wrong = fmt.Sprintf("a row of %s names placement %q, which the job does not have", table, placement)
		p.Right = "hand in that placement, or mend the row"
		if only != "" {
			p.Right = fmt.Sprintf("did you mean %q?", only)
		}
	}
	h.Checks = append(h.Checks, p)
}

// placeCosts gives each job its costs.
func (h *History) placeCosts() {
	if len(h.Costs) == 0 {
		return
	}
	at := 0
	for i := range h.jobOf {
		if j := int(h.jobOf[i]); j == len(h.costs) {
			no := h.Placements.JobNo.At(i)
			for at < len(h.Costs) && h.Costs[at].JobNo < no {
				at++
			}
			from := at
			for at < len(h.Costs) && h.Costs[at].JobNo == no {
				at++
			}
			h.costs = append(h.costs, span{int32(from), int32(at)})
		}
	}
}
