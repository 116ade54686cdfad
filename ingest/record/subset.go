package record

import "slices"

// Subset is the history as if only some placements were on record: those that
// keep says, their events, and their jobs. It shares nothing with h that either
// would change.
//
// What is known of a job as a whole, its price and its costs, belongs to all of
// its placements: where only some of them are kept it is left out, and cut
// counts such jobs.
func (h *History) Subset(keep func(i int) bool) (sub *History, cut int) {
	sub = &History{AsOf: h.AsOf}
	var rows, jobs []int32
	whole := map[int]bool{} // the jobs kept, and whether all of them is
	for j := range h.Jobs.Len() {
		from, to := h.PlacementsOf(j)
		before := len(rows)
		for i := from; i < to; i++ {
			if keep(i) {
				rows = append(rows, int32(i))
				sub.jobOf = append(sub.jobOf, int32(len(jobs)))
			}
		}
		if n := len(rows) - before; n > 0 {
			jobs = append(jobs, int32(j))
			whole[j] = n == to-from
		}
	}
	sub.Placements, sub.Jobs = h.Placements, h.Jobs.picked(jobs)
	sub.Placements.Columns().gather(rows)
	sub.Loads, sub.loads = kept(h.Loads, h.loads, rows)
	sub.Delays, sub.delays = kept(h.Delays, h.delays, rows)
	sub.Labor, sub.labors = kept(h.Labor, h.labors, rows)
	sub.Visits, sub.visits = kept(h.Visits, h.visits, rows)
	var full []int32
	for at, j := range jobs {
		if whole[int(j)] {
			full = append(full, j)
			continue
		}
		cut++
		sub.withoutMoney(at)
		full = append(full, -1)
	}
	sub.Costs, sub.costs = kept(h.Costs, h.costs, full)
	sub.keepChecks(h)
	return sub, cut
}

// withoutMoney takes the money out of a job.
func (h *History) withoutMoney(j int) {
	for _, m := range []*Values[Money]{&h.Jobs.ContractPrice, &h.Jobs.ChangeOrders, &h.Jobs.BidCost, &h.Jobs.ActualCost} {
		if m.Len() > j {
			m.Set(j, Money{})
		}
	}
}

// kept are the rows of some spans, and their spans; there are none at -1.
func kept[T any](all []T, spans []span, rows []int32) (out []T, of []span) {
	if spans == nil {
		return nil, nil
	}
	of = make([]span, len(rows))
	for k, i := range rows {
		if i < 0 {
			continue
		}
		from := int32(len(out))
		out = append(out, all[spans[i].from:spans[i].to]...)
		if int32(len(out)) > from {
			of[k] = span{from, int32(len(out))}
		}
	}
	return out, of
}

// keepChecks keeps what was found about records that are kept.
func (h *History) keepChecks(whole *History) {
	of := map[string]bool{}
	for i := range h.Placements.Len() {
		of[h.Placements.JobNo.At(i)+" "+h.Placements.Placement.At(i)] = true
	}
	for j := range h.Jobs.Len() {
		of["job "+h.Jobs.JobNo.At(j)] = true
	}
	h.Checks = slices.DeleteFunc(slices.Clone(whole.Checks), func(p Problem) bool { return !of[p.Record] })
}
