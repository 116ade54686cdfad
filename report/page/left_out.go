package page

import (
	"slices"

	"pourback/ingest/record"
	"pourback/report/say"
)

// standsOn are the pages whose figures a value of a column moves, of the columns
// whose values are left out where they cannot be. The page on the record files
// names all such values in its answer, and the overview those of the pages it
// sums up. That it is so is tested by taking values away.
var standsOn = map[string][]string{
	"area_sqft":      {monthSlug, wasteSlug, crewsSlug, weatherSlug, steelSlug, marginSlug, slabsSlug, bidSlug, backtestSlug},
	"thickness_in":   {monthSlug, wasteSlug, crewsSlug, weatherSlug, cracksSlug, steelSlug, marginSlug, visitsSlug, earlySlug, slabsSlug, bidSlug, backtestSlug},
	"neat_yd":        {monthSlug, wasteSlug, bidSlug, backtestSlug},
	"planned_yd":     {monthSlug, wasteSlug, marginSlug, backtestSlug},
	"delivered_yd":   {monthSlug, wasteSlug, pumpSlug, marginSlug, bidSlug, backtestSlug, bidsSlug},
	"leftover_yd":    {monthSlug, wasteSlug, marginSlug, bidSlug, backtestSlug, bidsSlug},
	"labor_hours":    {monthSlug, crewsSlug, weatherSlug, marginSlug, bidSlug, backtestSlug, bidsSlug},
	"clogs":          {pumpSlug, bidSlug},
	"clog_min":       {pumpSlug, bidSlug},
	"delay_min":      {monthSlug, crewsSlug, pumpSlug, marginSlug, slabsSlug, bidSlug},
	"contract_price": {monthSlug, marginSlug, warrantySlug, bidsSlug},
	"bid_cost":       {monthSlug, marginSlug},
	"actual_cost":    {monthSlug, marginSlug, warrantySlug, bidsSlug},
	"change_orders":  {monthSlug, marginSlug, warrantySlug, bidsSlug},
}

// leftOut names the values that are left out of the figures of a page, as they
// cannot be, and how each is settled.
func leftOut(v *say.Voice, all []record.Problem, slug string) []string {
	return say.Records{Voice: v}.AllLeftOut(movedBy(all, slug))
}

// movedBy are the values that cannot be and would move a figure of a page.
func movedBy(all []record.Problem, slug string) (moved []record.Problem) {
	for _, p := range all {
		if slices.Contains(standsOn[p.Column], slug) || slug == IndexSlug && moves(summedUp, p.Column) {
			moved = append(moved, p)
		}
	}
	return moved
}

// moves says whether a value of the column moves a figure of any of the pages.
func moves(slugs []string, column string) bool {
	return slices.ContainsFunc(slugs, func(slug string) bool { return slices.Contains(standsOn[column], slug) })
}
