package site

import (
	"net/http"
	"net/url"
	"slices"

	"pourback/analysis/bid"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/desk"
	"pourback/report/say"
)

// slabRows are the rows of a slab as its forms need them: read as they stand, for no
// answer has to be worked out for them.
type slabRows struct {
	site   string // "" where it is not known or not to be shown
	is     *record.Placement
	loads  []*record.Load
	visits []*record.Visit // the oldest first
}

// slabRows reads the slab that an address is about, which who asks may see.
func (a *Ask) slabRows() (*slabRows, error) {
	job, placement := a.PathValue("job"), a.PathValue("placement")
	rows, err := a.Store().RecordsOf(a.Context(), job, record.Jobs, record.Placements, record.Loads, record.Visits)
	if err != nil {
		return nil, err
	}
	s, names, several := &slabRows{}, []string{}, 0
	for _, r := range rows {
		switch r := r.(type) {
		case *record.Job:
			s.site = r.Site
		case *record.Placement:
			if several++; !a.sees(r.Crew) { // as good as none
				continue
			}
			names = append(names, r.Placement)
			if r.Placement == placement {
				s.is = r
			}
		}
	}
	if s.is == nil {
		return nil, noSlab(job, placement, names)
	}
	s.events(rows, several == 1)
	if s.site == "" {
		s.site = s.is.Log.Site
	}
	if a.Company.settings.NoNames {
		s.site = ""
	}
	return s, nil
}

// events takes over the slab's loads and visits; those of a job's only placement may
// stand without its name.
func (s *slabRows) events(rows []record.Record, only bool) {
	for _, r := range rows {
		e, ok := r.(record.Event)
		if !ok {
			continue
		}
		if _, name := e.Place(); *name != s.is.Placement && !(only && *name == "") {
			continue
		}
		switch r := r.(type) {
		case *record.Load:
			s.loads = append(s.loads, r)
		case *record.Visit:
			s.visits = append(s.visits, r)
		}
	}
	slices.SortStableFunc(s.visits, func(x, y *record.Visit) int { return int(x.SeenOn - y.SeenOn) })
}

// call is the callback of a day, nil where there was none.
func (s *slabRows) call(day string) *record.Visit {
	i := slices.IndexFunc(s.visits, func(v *record.Visit) bool { return v.Callback() && v.SeenOn.String() == day })
	if i < 0 {
		return nil
	}
	return s.visits[i]
}

// name is what the slab is called.
func (s *slabRows) name(w say.Site) string { return w.SlabName(s.site, s.is.JobNo, s.is.Placement) }

// path is the address of the slab's page.
func (s *slabRows) path() string { return slabPath(s.is.JobNo, s.is.Placement) }

func slabPath(job, placement string) string {
	return "/slabs/" + url.PathEscape(job) + "/" + url.PathEscape(placement)
}

func noSlab(job, placement string, names []string) error {
	near, _ := record.Nearest(placement, names)
	if near != "" {
		near = job + "/" + near
	}
	return &Fail{http.StatusNotFound, func(w say.Site) string { return w.NoSlab(job + "/" + placement) }, func(w say.Site) string { return w.NoSlabDo(near) }, nil}
}

// joints is how a slab was bid: the latest of its job's bids that somebody may have
// poured by; nil where there is none.
func (a *Ask) joints(of *record.Placement) (*bid.JointPlan, error) {
	bids, err := a.Store().BidsOf(a.Context(), of.JobNo)
	if err != nil {
		return nil, err
	}
	for _, kept := range slices.Backward(bids) {
		if kept.Fate == string(bid.Void) || kept.Fate == string(bid.Lost) {
			continue
		}
		if plan, err := jointsIn(kept, of.Placement); plan != nil || err != nil {
			return plan, err
		}
	}
	return nil, nil
}

// jointsIn is the plan of a placement in a kept bid, nil where it has none such.
func jointsIn(kept store.Bid, placement string) (*bid.JointPlan, error) {
	offer, err := desk.BidOf(kept)
	if err != nil {
		return nil, err
	}
	for i := range offer.Placements {
		if p := &offer.Placements[i]; p.Name == placement {
			return &p.Joints, nil
		}
	}
	return nil, nil
}
