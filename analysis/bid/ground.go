package bid

import (
	"sync"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/steel"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// Ground is what bids stand on: a history and settings, with what is worked out of
// them once, whatever is asked for. Bids of one ground may be made side by side; each
// is what [MakeLeaning] makes of the same.
type Ground struct {
	h       *record.History
	opt     setting.Options
	watched *cracks.Slabs
	records RecordsUsed
	steel   func() steel.MeshVsRebar
	models  func() (models, error)
	clogs   func() (*work.ClogRates, error)
}

// GroundOf is the ground of a history, which nobody may change from then on.
func GroundOf(h *record.History, opt setting.Options) (*Ground, error) {
	opt, err := opt.Complete()
	if err != nil {
		return nil, err
	}
	g := &Ground{h: h, opt: opt, watched: cracks.SlabsOf(h, opt), records: recordsUsed(h)}
	g.models, g.clogs = sync.OnceValues(g.fit), sync.OnceValues(g.fitClogs)
	g.steel = sync.OnceValue(func() steel.MeshVsRebar {
		if h.Placements.Len() < figure.LeastForRate {
			return steel.MeshVsRebar{}
		}
		return steel.Of(h, g.watched, opt).MeshVsRebar
	})
	return g, nil
}

// AsOf is the data date.
func (g *Ground) AsOf() record.Date { return g.h.AsOf }

// Make is the bid for a job, its cost leaning by how past bids turned out.
func (g *Ground) Make(spec Spec, lean Lean) (*Bid, error) { return g.make(spec, lean, false) }

func (g *Ground) make(spec Spec, lean Lean, light bool) (*Bid, error) {
	problems := Check(spec)
	if fatal := problems.Fatal(); len(fatal) > 0 {
		return nil, fatal
	}
	w, err := g.work(spec)
	if err != nil {
		return nil, err
	}
	b := w.b
	w.light = light
	b.Cautions, b.Lean = append(append([]Problem{}, problems...), g.unlikely(spec)...), lean
	for _, part := range []func() error{w.volumes, w.labor, w.delays, w.reserve, w.joints, w.steel, w.cost} {
		if err := part(); err != nil {
			return nil, err
		}
	}
	b.Price = w.price()
	if sd := w.opt.Bid.LeanSD; lean.Bids >= figure.LeastForRate {
		w.setting(SetLeanSD, "share", sourced{sd, asSet(sd, setting.DefaultBidPractice().LeanSD)})
	}
	b.Settings, b.Winning = w.settings, (&Wins{}).For(b, w.opt.Level)
	return b, nil
}
