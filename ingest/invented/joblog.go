package invented

import (
	"slices"

	"pourback/ingest/record"
)

// JobLog is the flat form of a set: the owner's single sheet as it stands on a
// day, one row per placement with the summaries filled in and the columns of
// its job behind them. A job's money stands on its first row only, so that
// nobody can take it for a share or count it twice; the rest is on every row.
// The set is left as it was.
func JobLog(set record.Set, asOf record.Date) []record.Placement {
	h := record.NewHistory(asOf, copyOf(set))
	rows := make([]record.Placement, h.Placements.Len())
	for i := range rows {
		log := h.Jobs.Row(h.JobIndex(i))
		log.JobNo, log.Note = "", ""
		if i > 0 && h.JobIndex(i) == h.JobIndex(i-1) {
			log.ContractPrice, log.ChangeOrders, log.BidCost, log.ActualCost = record.Money{}, record.Money{}, record.Money{}, record.Money{}
		}
		rows[i] = h.Placements.Row(i)
		rows[i].Log = log
	}
	return rows
}

func copyOf(s record.Set) record.Set {
	return record.Set{Jobs: slices.Clone(s.Jobs), Placements: slices.Clone(s.Placements), Loads: slices.Clone(s.Loads),
		Delays: slices.Clone(s.Delays), Labor: slices.Clone(s.Labor), Costs: slices.Clone(s.Costs), Visits: slices.Clone(s.Visits)}
}
