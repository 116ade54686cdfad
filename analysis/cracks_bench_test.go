package analysis

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/ingest/record"
)

// manySlabs makes n placements of a job log over eight years, of which about
// four in a hundred bring a crack callback, more often when it is hot.
func manySlabs(n int) *record.History {
	dice := rand.New(rand.NewPCG(1, 2))
	last := record.DateOf(2025, 12, 31)
	var s record.Set
	s.Placements = make([]record.Placement, n)
	job, left := 0, 0
	for i := range s.Placements {
		if left == 0 {
			job, left = job+1, 1+dice.IntN(3)
		}
		left--
		p := &s.Placements[i]
		ago := record.Date(2922 * (n - i) / n)
		season := math.Cos(2 * math.Pi * float64(ago) / 365.25)
		air := math.Round(62 + 20*season + 8*dice.NormFloat64())
		*p = record.Placement{JobNo: fmt.Sprintf("J%07d", job), Placement: string(rune('A' + left)), PlacedOn: last - ago,
			Use: []string{"driveway", "patio", "walkway"}[dice.IntN(3)], AreaSqft: record.Some(200 + 600*dice.Float64()),
			ThicknessIn: record.Some(float64(4 + dice.IntN(3))), JointSpacingFt: record.Some(float64(8 + dice.IntN(6))),
			Reinforcement: []string{"none", "mesh", "rebar", "fiber"}[dice.IntN(4)], JointCut: []string{"saw", "tooled"}[dice.IntN(2)],
			Curing: []string{"none", "compound"}[dice.IntN(2)], SawHours: record.Some(math.Round(12 + 4*dice.NormFloat64())),
			AirTempF: record.Some(air), ConcreteTempF: record.Some(air + 5), HumidityPct: record.Some(40.0), WindMPH: record.Some(8.0)}
		after := record.Date(1 + 40000*math.Pow(dice.ExpFloat64()*math.Exp(-0.025*(air-62)), 1/0.8))
		if after <= ago {
			p.CallbackOn, p.CallbackKind, p.CallbackCost = p.PlacedOn+after, "crack", record.Some[record.Cents](800_00)
		}
	}
	return record.NewHistory(last, s)
}

func BenchmarkCracks(b *testing.B) {
	for _, n := range []int{600, 10_000, 100_000, 1_000_000} {
		h := manySlabs(n)
		for _, topic := range []string{"cracks", "reinforcement"} {
			b.Run(fmt.Sprintf("%s/%d", topic, n), func(b *testing.B) {
				opt, err := Options{Topics: []string{topic}}.complete()
				if err != nil {
					b.Fatal(err)
				}
				for b.Loop() {
					s := slabsOf(h, opt)
					if topic == "cracks" {
						cracks(h, s, opt)
					} else {
						reinforcement(h, s, opt)
					}
				}
			})
		}
		b.Run(fmt.Sprintf("columns/%d", n), func(b *testing.B) {
			for b.Loop() {
				slabsOf(h, Options{Event: EventCallback, Bands: DefaultBands})
			}
		})
	}
}
