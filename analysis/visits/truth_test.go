package visits

import (
	"math"
	"testing"

	"pourback/analysis/cracks"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// The truth is known for the invented company: its slabs and the day on which
// each first cracked, seen or not.

// TestTurnbullFindsTheTruth: dating cracks between two looks comes closer to the
// true share of cracked slabs by day 180 than dating them to the visit, which is
// up to five months late, and is right on the whole.
func TestTurnbullFindsTheTruth(t *testing.T) {
	until := record.DateOf(2026, 10, 31)
	var biasVisit, biasBetween, inside, n float64
	for seed := range uint64(16) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: until})
		if err != nil {
			t.Fatal(err)
		}
		cracked, old := 0.0, 0.0
		for i, slab := range truth.Slabs {
			if age := float64(until - set.Placements[i].PlacedOn); age >= 180 {
				old++
				cracked += cracks.Indicator(slab.FirstCrackDays > 0 && slab.FirstCrackDays <= 180)
			}
		}
		v := VisitsOf(t, set, until.String(), setting.Options{Seed: seed})
		for _, at := range v.Seen.Ages {
			if at.AgeDays == 180 {
				biasVisit += at.Seen.Value - cracked/old
				biasBetween += at.Between.Value - cracked/old
				inside += cracks.Indicator(at.Between.Low <= cracked/old && cracked/old <= at.Between.High)
				n++
			}
		}
	}
	t.Logf("by day 180: dated to the visit %.3f from the truth, between two looks %.3f; %v of %v ranges hold it", biasVisit/n, biasBetween/n, inside, n)
	if n != 16 || biasVisit/n > -0.01 || math.Abs(biasBetween/n) > 0.01 || math.Abs(biasBetween) > math.Abs(biasVisit)/2 || inside < 12 {
		t.Errorf("dated to the visit %v off, between two looks %v off, %v of %v ranges hold the truth", biasVisit/n, biasBetween/n, inside, n)
	}
}

// TestWhatIsToComeComes asks ten companies a year before their records end what
// slabs under warranty will still bring, and counts what they brought.
func TestWhatIsToComeComes(t *testing.T) {
	until := record.DateOf(2026, 10, 31)
	asOf := until - 370
	var expected, spread, came, chance, cracked float64
	for seed := range uint64(10) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: until})
		if err != nil {
			t.Fatal(err)
		}
		early := trial.CopySet(set)
		opt, _ := setting.Options{}.Complete()
		h := record.NewHistory(asOf, early)
		a := newAfter(h, cracks.SlabsOf(h, opt), opt)
		w := a.warranty()
		expected += w.Callbacks.Value
		spread += math.Pow((w.Callbacks.High-w.Callbacks.Low)/2/1.645, 2)
		later := map[[2]string]record.Visit{}
		for _, v := range set.Visits {
			k := [2]string{v.JobNo, v.Placement}
			if first, met := later[k]; v.Callback() && (!met || v.SeenOn < first.SeenOn) {
				later[k] = v
			}
		}
		for i := range h.Placements.Len() {
			p, f := h.Placements.At(i), &a.slab[i]
			if f.warrantyEnd <= asOf || f.to > f.from {
				continue
			}
			mean, _ := a.risk.expected(i, f.state, a.slabs.Age[i], float64(f.warrantyEnd-p.PlacedOn()))
			chance += -math.Expm1(-mean)
			if v, called := later[[2]string{p.JobNo(), p.Placement()}]; called && v.SeenOn <= f.warrantyEnd {
				came++
				cracked += cracks.Indicator(v.Finding == "crack")
			}
		}
	}
	t.Logf("expected %.1f callbacks ± %.1f, %.0f came; %.1f about cracks by the hazard, %.0f came", expected, math.Sqrt(spread), came, chance, cracked)
	if math.Abs(came-expected) > 2*math.Sqrt(spread) {
		t.Errorf("%v callbacks came where %v ± %v were expected", came, expected, math.Sqrt(spread))
	}
	if math.Abs(cracked-chance) > 2.5*math.Sqrt(chance) {
		t.Errorf("%v crack callbacks came where the chances add up to %v", cracked, chance)
	}
}

// TestRiskTellsSlabsApart: slabs that the model puts in the upper half of the
// risk crack more often, by the truth, than those in the lower half.
func TestRiskTellsSlabsApart(t *testing.T) {
	until := record.DateOf(2026, 10, 31)
	var hazards, slabs [2]float64 // below the usual risk, and above
	for seed := range uint64(16) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: until})
		if err != nil {
			t.Fatal(err)
		}
		opt, _ := setting.Options{}.Complete()
		h := record.NewHistory(until, set)
		a := newAfter(h, cracks.SlabsOf(h, opt), opt)
		for i := range h.Placements.Len() {
			side := int(cracks.Indicator(a.risk.ratio[i] > 1))
			hazards[side] += math.Exp(truth.LogHazard(truth.Slabs[i].Covariates))
			slabs[side]++
		}
	}
	if above, below := hazards[1]/slabs[1], hazards[0]/slabs[0]; !(above > 1.5*below) {
		t.Errorf("the mean true hazard is %v above the usual risk and %v below", above, below)
	}
}
