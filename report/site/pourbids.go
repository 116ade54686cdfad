package site

import (
	"context"
	"slices"
	"sync"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// plan is a kept bid by which is to be poured.
type plan struct {
	ID   int64
	Job  string // "" where the bid names none
	Bid  *bid.Bid
	Crew string
}

// day is the day on which it is to be poured, 0 where that is not known.
func (p *plan) day() record.Date {
	day, err := record.ParseDate(p.Bid.On)
	if err != nil {
		return 0
	}
	return day
}

// pourBids are the bids by which is poured, read once for each version of them: a crew
// asks after each truck, and needs none of what a bid is worked out from.
type pourBids struct {
	mu      sync.Mutex
	version string
	asOf    record.Date
	plans   []plan
}

// plans are the bids that may be poured by, the oldest first: open or won, and neither
// replaced, lost nor made by mistake.
func (c *company) plans(ctx context.Context, asOf record.Date) ([]plan, error) {
	version, err := c.store.Version(ctx)
	if err != nil {
		return nil, err
	}
	b := &c.pours
	b.mu.Lock()
	defer b.mu.Unlock()
	if b.version != "" && b.asOf == asOf && store.SameBids(b.version, version) {
		return b.plans, nil
	}
	all, err := c.shelf.Bids(ctx, c.store)
	if err != nil {
		return nil, err
	}
	kept, err := c.shelf.KeptBy(asOf, all, c.settings.NoNames)
	if err != nil {
		return nil, err
	}
	var plans []plan
	outcomes := bid.Outcomes(record.HistoryOf(asOf, record.Records{}), kept).Outcomes // whether a job has begun is asked of the records themselves
	for i := range outcomes {
		if o := &outcomes[i]; slices.Contains([]bid.Standing{bid.StandsOpen, bid.StandsWon, bid.StandsBegun}, o.Stands) {
			plans = append(plans, plan{o.ID, o.JobNo, kept[i].Bid, kept[i].Bid.Spec.Crew})
		}
	}
	b.version, b.asOf, b.plans = version, asOf, plans
	return plans, nil
}

// plans are the bids by which who asks may pour.
func (a *Ask) plans() ([]plan, error) {
	all, err := a.Company.plans(a.Context(), a.Choice.AsOf)
	var mine []plan
	for _, p := range all {
		if a.sees(p.Crew) {
			mine = append(mine, p)
		}
	}
	return mine, err
}

// planOf is the bid by which a job is poured, nil where there is none.
func (a *Ask) planOf(job string) (*plan, error) {
	all, err := a.plans()
	return planIn(all, job), err
}

// planIn is the latest of some bids by which a job is poured, nil where there is none.
func planIn(all []plan, job string) *plan {
	for i := range slices.Backward(all) {
		if all[i].Job == job && job != "" {
			return &all[i]
		}
	}
	return nil
}
