package main

import (
	"context"
	"errors"
	"io"
	"slices"

	"pourback/analysis/bid"
	"pourback/ingest/invented"
	"pourback/ingest/record"
	"pourback/ingest/spec"
	"pourback/ingest/store"
	"pourback/report/desk"
)

// demoBids is how many of the latest jobs the demo bids on after the fact, on
// what was known the day before each bid went out.
const demoBids = 8

// bids keeps bids on the latest jobs, and a bid for a job to come, which it
// writes as its three papers. It returns the one to come.
func (d *demo) bids(ctx context.Context, st *store.Store) (*bid.Bid, int64, error) {
	h, opt, err := d.history(ctx, st)
	if err != nil {
		return nil, 0, err
	}
	for _, j := range latestJobs(h, demoBids) {
		made := max(h.Jobs.At(j).BidOn(), firstPour(h, j)-365)
		known, err := st.History(ctx, made-1)
		if err != nil {
			return nil, 0, err
		}
		offer, err := bid.Make(known, specOf(h, j), opt)
		if err != nil {
			return nil, 0, err
		}
		if _, err := desk.Keep(ctx, st, known, opt, offer, 0, made, d.inEnglish()); err != nil {
			return nil, 0, err
		}
	}
	next, problems := spec.Read("bid.yaml", invented.BidSpec, nil, d.sheetOptions())
	if next == nil {
		return nil, 0, errors.New(problems[0].String())
	}
	asked, err := desk.SpecOf(next)
	if err != nil {
		return nil, 0, err
	}
	if _, err := d.folder.Write("bid.yaml", func(w io.Writer) error { _, err := w.Write(invented.BidSpec); return err }); err != nil {
		return nil, 0, err
	}
	known, err := d.knows(ctx, st, h, opt)
	if err != nil {
		return nil, 0, err
	}
	offer, id, err := d.bid(ctx, st, known, asked, 0, true)
	if err != nil {
		return nil, 0, err
	}
	reckoner, err := known.Ground.Reckoner(asked)
	if err != nil {
		return nil, 0, err
	}
	papers := bidCommand{app: d.app, reckoner: reckoner}
	for _, p := range papers.papers() {
		if _, err := d.folder.Write(demoPapers[p.flag], func(w io.Writer) error { return p.write(w, offer, id, d.reportOptions()) }); err != nil {
			return nil, 0, err
		}
	}
	return offer, id, nil
}

// demoPapers are the files of a bid's papers, by their flags.
var demoPapers = map[string]string{"out": "bid.html", "proposal": "proposal.html", "pour-day": "pour-day.html"}

// latestJobs are the places of the last jobs that can be bid on and whose
// records say how they turned out.
func latestJobs(h *record.History, n int) []int {
	var jobs []int
	for j := range h.Jobs.Len() {
		if h.Jobs.At(j).ActualCost().OK && h.Jobs.At(j).ContractPrice().OK && len(bid.Check(specOf(h, j)).Fatal()) == 0 {
			jobs = append(jobs, j)
		}
	}
	slices.SortStableFunc(jobs, func(a, b int) int { return int(firstPour(h, a) - firstPour(h, b)) })
	return jobs[max(0, len(jobs)-n):]
}

// firstPour is the day of a job's first pour, or 0.
func firstPour(h *record.History, job int) record.Date {
	from, to := h.PlacementsOf(job)
	var first record.Date
	for i := from; i < to; i++ {
		if on := h.Placements.At(i).PlacedOn(); first == 0 || on < first {
			first = on
		}
	}
	return first
}

// specOf is the spec of a bid on a job as it was poured.
func specOf(h *record.History, job int) bid.Spec {
	from, to := h.PlacementsOf(job)
	first := firstPour(h, job)
	s := bid.Spec{Name: h.Jobs.At(job).Site(), JobNo: h.Jobs.At(job).JobNo(), On: first.String()}
	for i := from; i < to; i++ {
		p := h.Placements.At(i)
		s.Crew = p.Crew()
		s.Placements = append(s.Placements, bid.Placement{Name: p.Placement(), Use: p.Use(), AreaSqft: p.AreaSqft().V, ThicknessIn: p.ThicknessIn().V,
			Day: 1 + int(p.PlacedOn()-first), Method: p.Method(), PumpOutfit: p.PumpOutfit(), Base: p.Base(), Reinforcement: p.Reinforcement(), Bar: p.Bar(),
			JointSpacingFt: p.JointSpacingFt().V, JointCut: p.JointCut()})
	}
	return s
}
