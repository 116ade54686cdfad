package bid

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// kinds are thin walkways that use 4 % more than is drawn and thick, large garage slabs
// that use 20 % more and take more hours, both by chute.
func kinds() *record.History {
	rng := rand.New(rand.NewPCG(9, 9))
	var s record.Set
	for i := range 80 {
		use, neat, thick, over, pace := "walkway", 2+rng.Float64(), 4.0, 1.04, 26.0
		if i%2 == 0 {
			use, neat, thick, over, pace = "garage slab", 11+4*rng.Float64(), 6, 1.20, 45
		}
		p := trial.Pour(fmt.Sprintf("J%02d", i), "2025-06-02", use, "chute", neat, neat*(over+0.02*rng.NormFloat64()))
		p.ThicknessIn, p.AreaSqft = record.Some(thick), record.Some(neat*324/thick)
		p.LaborHours = record.Some(pace * math.Pow(p.AreaSqft.V/400, 0.85) * math.Exp(0.1*rng.NormFloat64()))
		s.Placements = append(s.Placements, p)
	}
	return record.NewHistory(trial.Day("2026-03-01"), s)
}

// A kind that is not on record borrows from the one like it in thickness and size, says
// so, and is no surer than that kind itself; a kind on record borrows nothing.
func TestANewKindBorrowsFromKindsLikeIt(t *testing.T) {
	h := kinds()
	bid := func(use string, area, thick float64) *Bid {
		return bidOf(t, h, Spec{Draws: 2000, Placements: []Placement{{Use: use, AreaSqft: area, ThicknessIn: thick}}}, setting.Options{})
	}
	like := func(b *Bid) string {
		for _, n := range b.Notes {
			if n.Kind == NoteNewKind {
				return n.Like
			}
		}
		return ""
	}
	over := func(b *Bid) float64 { return b.UsedYd.Mean/b.NeatYd.Figure.Value - 1 }
	apart := func(b *Bid) float64 { return (b.UsedYd.P90 - b.UsedYd.P10) / b.NeatYd.Figure.Value }
	thick, thin, known := bid("equipment pad", 650, 6), bid("stoop", 200, 4), bid("garage slab", 650, 6)
	if like(thick) != "garage slab" || like(thin) != "walkway" || like(known) != "" {
		t.Errorf("borrow from %q, %q and %q", like(thick), like(thin), like(known))
	}
	if a, b := over(thick), over(thin); a < b+0.03 || a > over(known) || a < (over(known)+over(bid("walkway", 200, 4)))/2 {
		t.Errorf("%.3f over for a pad like garage slabs (%.3f), %.3f for a stoop like walkways", a, over(known), b)
	}
	if apart(thick) <= apart(known) {
		t.Errorf("a new kind is spread %.3f, the known one %.3f", apart(thick), apart(known))
	}
	far := bid("wall footing", 300, 24) // nothing on record is like it
	if like(far) != "" {
		t.Errorf("a footing of 24 in borrows from %q", like(far))
	}
	// What it borrows the draws have too.
	trial.Near(t, "concrete", item(thick, CostConcrete).Mean, thick.Days[0].Order.Cost, 0.02*thick.Days[0].Order.Cost)
	if pad, other := thick.Labor.Mean.Figure.Value, known.Labor.Mean.Figure.Value; pad < 0.6*other || pad > 1.2*other {
		t.Errorf("%v hours for the pad, %v for a garage slab as large", pad, other)
	}
}
