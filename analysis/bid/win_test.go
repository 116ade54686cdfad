package bid

import (
	"math"
	"math/rand/v2"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/stat/interval"
)

// sold are bids at a cost of 1,000 on 100 ft², each with its markup and fate.
func sold(markups []float64, fate func(i int) Fate) (kept []Kept) {
	for i, m := range markups {
		k := Kept{ID: int64(i + 1), Fate: fate(i), Bid: &Bid{}}
		k.Bid.Cost.Total.Mean, k.Bid.Price.Price, k.Bid.Price.PerSqft = 1000, 1000*(1+m), 10*(1+m)
		kept = append(kept, k)
	}
	return kept
}

func priced(markup float64) *Bid {
	return sold([]float64{markup}, func(int) Fate { return Open })[0].Bid
}

// By hand: of 15 bids the five cheapest are all won, the middle five three times and
// the dearest never; Wilson's limits are those of the reference. Void bids and those
// that nobody marked count nowhere.
func TestWonByBandByHand(t *testing.T) {
	markups := make([]float64, 17)
	for i := range markups {
		markups[i] = 0.20 + 0.02*float64(i)
	}
	w := WinsOf(sold(markups, func(i int) Fate {
		switch {
		case i == 15:
			return Void
		case i == 16:
			return Open
		case i < 5 || i == 5 || i == 7 || i == 9:
			return Won
		}
		return Lost
	}))
	if w.Won != 8 || w.Lost != 7 || w.Open != 1 || len(w.ByMarkup) != 3 || len(w.ByPrice) != 3 {
		t.Fatalf("%+v", w)
	}
	for k, won := range []int{5, 3, 0} {
		want, err := interval.Wilson(won, 5, heldLevel)
		if b := w.ByMarkup[k]; err != nil || b.N != 5 || b.Share.Value != want.Value || b.Share.High != want.High || math.Abs(b.From-markups[5*k]) > 1e-12 {
			t.Errorf("band %d: %+v, want %+v", k, b, want)
		}
	}
	trial.Near(t, "price a ft²", w.ByPrice[2].To, 14.8, 1e-9)
	if few := WinsOf(sold(markups[:9], func(int) Fate { return Won })); len(few.ByMarkup) != 0 || !few.Share.Known() {
		t.Errorf("%+v", few)
	}
	if few := WinsOf(sold(markups[:4], func(int) Fate { return Won })); few.Share.Why != (TooFewMarked{N: 4, Least: 5}) {
		t.Errorf("%+v", few.Share)
	}
}

// Where bids are won by a known curve, the chance is found within its range and the
// best price near the best of the truth; no price beyond those tried gets a chance,
// and the bid itself is as it was.
func TestThePriceThatWins(t *testing.T) {
	truth := func(m float64) float64 { return 1 / (1 + math.Exp(-(0.5 - 18*math.Log((1+m)/1.35)))) }
	rng := rand.New(rand.NewPCG(4, 4))
	markups := make([]float64, 400)
	for i := range markups {
		markups[i] = 0.15 + 0.5*rng.Float64()
	}
	w := WinsOf(sold(markups, func(i int) Fate {
		if rng.Float64() < truth(markups[i]) {
			return Won
		}
		return Lost
	}))
	b := priced(0.35)
	before := *b
	n := w.For(b, 0.9)
	if !n.Tells || n.Best < 0 || n.Chance.Low > truth(0.35) || n.Chance.High < truth(0.35) || n.Chance.High-n.Chance.Low > 0.2 {
		t.Errorf("%+v, the truth is %.3f", n.Chance, truth(0.35))
	}
	best := 0.0
	for _, p := range n.Prices {
		trial.Near(t, "expected margin", p.Expected, p.Margin*p.Chance.Value, 1e-9)
		if p.Chance.Low > truth(p.Markup)+0.03 || p.Chance.High < truth(p.Markup)-0.03 {
			t.Errorf("at %.2f: %+v, the truth is %.3f", p.Markup, p.Chance, truth(p.Markup))
		}
		best = max(best, p.Markup*truth(p.Markup))
	}
	if at := n.Prices[n.Best].Markup; at*truth(at) < 0.95*best {
		t.Errorf("%+v is called best", n.Prices[n.Best])
	}
	if b.Price.Price != before.Price.Price || b.Cost.Total != before.Cost.Total {
		t.Error("the bid was moved")
	}
	if out := w.For(priced(0.9), 0.9); out.Chance.Known() || len(out.Prices) != 5 {
		t.Errorf("%+v: 90 %% over cost was never bid", out.Chance)
	}
}

// Few marks say nothing, and won or lost without regard to the price says nothing of
// the price.
func TestTooFewToSayWhatWins(t *testing.T) {
	markups := []float64{.2, .25, .3, .35, .4, .45, .2, .25, .3, .35, .4, .45}
	n := WinsOf(sold(markups[:7], func(i int) Fate { return []Fate{Won, Lost}[i%2] })).For(priced(0.3), 0.9)
	if n.Chance.Why != (TooFewEither{Won: 4, Lost: 3, Least: 5}) || len(n.Prices) != 0 || n.Best != -1 {
		t.Errorf("%+v", n)
	}
	n = WinsOf(sold(markups, func(i int) Fate { return []Fate{Won, Lost}[i/6] })).For(priced(0.3), 0.9)
	if n.Tells || n.Best != -1 || !n.Chance.Known() || math.Abs(n.Chance.Value-0.5) > 0.01 {
		t.Errorf("%+v", n)
	}
}
