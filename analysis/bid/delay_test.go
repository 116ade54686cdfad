package bid

import (
	"strconv"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/analysis/stat/pool"
	"pourback/analysis/work"
	"pourback/ingest/record"
)

// A bid's chance of a clog is that of the page on clogs: for as many yards of the
// same outfit, the same number, where the records carry a rate.
func TestClogsAreThoseOfTheirPage(t *testing.T) {
	h := saltgrass(t, 300, 3)
	p := work.PumpOf(h, setting.Options{Level: 0.9})
	rates, err := work.ClogRatesOf(h, pool.RateBelief{Rate: 1, Events: practiceWeight})
	if err != nil {
		t.Fatal(err)
	}
	if rates.Believed || rates.Clogs != p.All.Clogs || len(p.Outfits) < 2 {
		t.Fatalf("%d clogs of %d outfits: want enough", rates.Clogs, len(p.Outfits))
	}
	for _, o := range p.Outfits {
		mix, err := rates.Outfit(o.Outfit)
		if err != nil {
			t.Fatal(err)
		}
		got := (rateLaw{GammaMixture: mix}).chance(0.1, 0.9)
		trial.Near(t, o.Outfit, got.Value, o.NextClog.Value, 1e-12)
		trial.Near(t, o.Outfit+", at least", got.Low, o.NextClog.Low, 1e-12)
		trial.Near(t, o.Outfit+", at most", got.High, o.NextClog.High, 1e-12)
	}
	spec := driveAndWalk()
	for i := range spec.Placements {
		spec.Placements[i].Method, spec.Placements[i].PumpOutfit = "pump", p.Outfits[0].Outfit
	}
	b := bidOf(t, h, spec, setting.Options{})
	mix, _ := rates.Outfit(p.Outfits[0].Outfit)
	part := b.Placements[0]
	if want := (rateLaw{GammaMixture: mix}).chance(part.UsedYd.Mean/100, 0.9); part.Delay.ClogChance.Figure.Value != want.Value {
		t.Errorf("the bid says %v, the law %v", part.Delay.ClogChance.Figure.Value, want.Value)
	}
}

// Before any record the belief stands alone; clogs that come together on a job
// tell less of the rate than as many apart.
func TestClogRatesBelieveAndDisperse(t *testing.T) {
	mean := func(clogs ...int64) float64 {
		var set record.Set
		for i, c := range clogs {
			p := trial.Pour(strconv.Itoa(i), "2025-01-02", "driveway", "pump", 10, 10.5)
			p.PumpOutfit, p.Clogs = "P1", record.Some(c)
			set.Placements = append(set.Placements, p)
		}
		rates, err := work.ClogRatesOf(record.NewHistory(trial.Day("2025-12-31"), set), pool.RateBelief{Rate: 1, Events: practiceWeight})
		if err != nil {
			t.Fatal(err)
		}
		law, err := rates.Outfit("P1")
		if err != nil || !rates.Believed {
			t.Fatal(err, rates.Believed)
		}
		return law.Mean()
	}
	belief := mean()
	if belief < 0.8 || belief > 1.3 {
		t.Errorf("%v without a record: want about the belief", belief)
	}
	apart, together := mean(1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0), mean(6, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0)
	if !(belief < together && together < apart-0.2) {
		t.Errorf("six clogs of one job say %v, six apart %v: want the first nearer to the belief of %v", together, apart, belief)
	}
}
