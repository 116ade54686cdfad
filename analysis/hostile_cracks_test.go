package analysis

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

// Whatever the records lack, every figure is finite, lies inside its limits or
// says why it is missing.
func TestAnyRecordsAreAnswered(t *testing.T) {
	for seed := range uint64(25) {
		dice := rand.New(rand.NewPCG(seed, 7))
		var s record.Set
		for i := range 5 + dice.IntN(80) {
			after := 0
			if dice.IntN(1+int(seed%6)) == 0 {
				after = dice.IntN(600)
			}
			p := trial.SlabAt(i/2, 1+dice.IntN(1500), after, []string{"mesh", "rebar", "none", "fiber", "mesh+fiber", ""}[dice.IntN(6)])
			p.Placement = string(rune('A' + i%2))
			if p.CallbackOn > trial.Day("2025-12-31") || dice.IntN(10) == 0 {
				p.CallbackKind = "scaling"
			}
			for _, v := range []*record.Number{&p.AirTempF, &p.JointSpacingFt, &p.AreaSqft, &p.ThicknessIn, &p.SawHours} {
				if dice.IntN(12) == 0 {
					*v = record.Number{}
				}
			}
			s.Placements = append(s.Placements, p)
		}
		f := answer(t, s, "2025-12-31", setting.Options{Topics: []string{"cracks", "reinforcement"}})
		trial.Sound(t, fmt.Sprintf("seed %d", seed), f)
	}
}
