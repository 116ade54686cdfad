package backtest

import (
	"flag"
	"math"
	"slices"
	"testing"

	"gonum.org/v1/gonum/stat"

	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

var companies = flag.Int("claim-companies", 6, "how many invented companies hold what is claimed against the year after")

// TestClaimsHoldInTheYearAfter holds what orders by the factors are said to save
// a year against what they would have saved in the twelve months that followed,
// over many invented companies: on average the claim is kept. It is a little low: see
// the end of testdata/backtest.md.
func TestClaimsHoldInTheYearAfter(t *testing.T) {
	var off, claims, realised []float64
	held := 0
	for seed := range uint64(*companies) {
		asOf := record.DateOf(2026, 3, 31)
		s, _, err := invented.Generate(invented.Options{Seed: seed + 100, Until: asOf})
		if err != nil {
			t.Fatal(err)
		}
		later, knownLater := Ordered(record.NewHistory(asOf, s), setting.Options{})
		s.Placements = slices.DeleteFunc(s.Placements, func(p record.Placement) bool { return p.PlacedOn > asOf-365 })
		now, known := Ordered(record.NewHistory(asOf-365, s), setting.Options{})
		if !known || !knownLater || later.N <= now.N {
			t.Fatalf("seed %d: %+v, %+v", seed, now, later)
		}
		year := now.YearlySaving.Value / now.AgainstOurs.Value // placements
		each := (later.AgainstOurs.Value*float64(later.N) - now.AgainstOurs.Value*float64(now.N)) / float64(later.N-now.N)
		claims, realised, off = append(claims, now.YearlySaving.Value), append(realised, each*year), append(off, now.YearlySaving.Value-each*year)
		if f := now.YearlySaving; f.Low <= each*year && each*year <= f.High {
			held++
		}
	}
	mean, sd := stat.MeanStdDev(off, nil)
	t.Logf("claimed %.0f a year, realised %.0f in the year after; off by %.0f (se %.0f); the year lay in the range %d times in %d",
		stat.Mean(claims, nil), stat.Mean(realised, nil), mean, sd/math.Sqrt(float64(len(off))), held, len(off))
	if se := sd / math.Sqrt(float64(len(off))); math.Abs(mean) > 3*se {
		t.Errorf("claims are off by %.0f on average, with a standard error of %.0f", mean, se)
	}
}
