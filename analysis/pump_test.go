package analysis

import (
	"testing"

	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// TestClogRatesFindTheTruth asks the invented company for its outfits' true
// rates over seeds. The exact interval never holds less often than it says; the
// pooled one is nearer the truth on average, which is what it is for.
func TestClogRatesFindTheTruth(t *testing.T) {
	exact, pooled, asked := 0, 0, 0
	var rawError, pooledError float64
	for seed := range uint64(40) {
		set, truth, err := invented.Generate(invented.Options{Seed: seed + 1, Until: day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		p := pump(record.NewHistory(day("2026-03-31"), set), Options{Level: 0.90})
		for _, o := range p.Outfits {
			want := truth.ClogRate(o.Outfit)
			asked++
			if o.ClogsPer100.Low <= want && want <= o.ClogsPer100.High {
				exact++
			}
			if o.Pooled.Low <= want && want <= o.Pooled.High {
				pooled++
			}
			rawError += (o.ClogsPer100.Value - want) * (o.ClogsPer100.Value - want)
			pooledError += (o.Pooled.Value - want) * (o.Pooled.Value - want)
		}
	}
	t.Logf("of %d: exact held %d, pooled %d; squared error %.2f raw, %.2f pooled", asked, exact, pooled, rawError/float64(asked), pooledError/float64(asked))
	if share := float64(exact) / float64(asked); share < 0.86 {
		t.Errorf("the exact 90 %% interval held %.2f of the time", share)
	}
	if share := float64(pooled) / float64(asked); share < 0.85 {
		t.Errorf("the pooled 90 %% interval held %.2f of the time", share)
	}
	if pooledError >= rawError {
		t.Errorf("pooling did not help: squared error %.3f against %.3f", pooledError, rawError)
	}
}

func TestPumpWithoutClogs(t *testing.T) {
	p := pour("1", "2025-01-02", "driveway", "pump", 48, 49.5)
	p.PumpOutfit, p.Clogs = "P1", record.Some[int64](0)
	f := answer(t, record.Set{Placements: []record.Placement{p}}, "2025-12-31", Options{})
	o := f.Pump.Outfits[0]
	if !o.ClogsPer100.Known() || o.ClogsPer100.Value != 0 || o.ClogsPer100.High <= 0 {
		t.Errorf("no clogs in 50 yd are %+v: want 0 with an upper limit", o.ClogsPer100)
	}
	if o.Pooled.Known() || f.Pump.SameRate.Known() {
		t.Errorf("without a clog there is nothing to pool or compare: %+v %+v", o.Pooled, f.Pump.SameRate)
	}
}

// Causes are ordered by the minutes they cost, and their shares add up.
func TestDelaysByHand(t *testing.T) {
	delay := func(seq int64, cause, spot string, minutes int64) record.Delay {
		return record.Delay{JobNo: "1", Placement: "A", Seq: record.Some(seq), Cause: cause, Spot: spot, Minutes: record.Some(minutes)}
	}
	s := record.Set{Placements: []record.Placement{pour("1", "2025-01-02", "driveway", "pump", 48, 49.5)},
		Delays: []record.Delay{delay(1, "clog", "hose", 20), delay(2, "clog", "manifold", 40), delay(3, "truck late", "", 90), delay(4, "weather", "", 50)},
		Loads: []record.Load{{JobNo: "1", TicketNo: "1", Yards: record.Some(9.0), BatchedAt: record.MomentOf(1, 0), PourEnd: record.MomentOf(1, 121*60)},
			{JobNo: "1", TicketNo: "2", Yards: record.Some(9.0), BatchedAt: record.MomentOf(1, 0), PourEnd: record.MomentOf(1, 60*60)}, {JobNo: "1", TicketNo: "3", Yards: record.Some(9.0)}}}
	d := answer(t, s, "2025-12-31", Options{}).Pump.Delays
	if len(d.Causes) != 3 || d.Causes[0].Name != "truck late" || d.Causes[1].Name != "clog" || d.Causes[1].Minutes != 60 || d.Causes[2].Running != 1 {
		t.Errorf("causes %+v", d.Causes)
	}
	near(t, "share of the first", d.Causes[0].Share, 0.45, 1e-12)
	if len(d.Spots) != 2 || d.Spots[0].Name != "manifold" {
		t.Errorf("spots %+v", d.Spots)
	}
	if d.Late.Known != 2 || d.Late.Late != 1 {
		t.Errorf("late loads %+v, want 1 of 2", d.Late)
	}
}
