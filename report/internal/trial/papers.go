package trial

import (
	"strconv"
	"testing"
	"time"

	"pourback/analysis/bid"
	"pourback/analysis/clock"
)

// JobOf is a made-up bid of so many placements on a day in July, on the clock,
// with something of everything that its papers may hold. names are put on its
// placements and its site, in turn; made-up ones where there are none.
func JobOf(t testing.TB, placements int, names ...string) *bid.Bid {
	b := MadeUpBid(t)
	b.On, b.Spec.Site = "2026-07-14", "14 Mesquite Lane, Low Mesa"
	first, uses := b.Placements[0], []string{"driveway", "walkway", "patio", "shed slab", "garage slab", "steps"}
	b.Placements, b.Spec.Placements, b.Days[0].Placements = nil, nil, nil
	plan := clock.Plan{Day: time.Date(2026, 7, 14, 0, 0, 0, 0, time.UTC), Place: time.UTC, StartMin: 6*60 + 30, Loads: []float64{9}, EdgeMin: 45, PrimeYd: 0.25, Hours: clock.DefaultStageHours(),
		Held:  &clock.Held{Yd: 1.5, CallAtYd: 6, LeadMin: 50},
		Going: clock.Going{PlaceMinPerYd: 4, HaulMin: 35, LoadMin: 10, WashMin: 10, SpacingMin: 20, LimitMin: 90, PrimeMin: 8}}
	for i := range placements {
		p, asked := first, bid.Placement{Use: uses[i%len(uses)], ThicknessIn: 4, Method: "pump", JointCut: "saw", Reinforcement: "rebar", Bar: "#3", Base: "crushed base", Finish: "broom", Curing: "compound", MixPSI: 4000}
		p.Name, p.Use = []string{"drive", "front walk", "patio", "shed", "garage", "back steps"}[i%6], uses[i%len(uses)]
		if len(names) > 0 {
			p.Name = names[i%len(names)] + " " + strconv.Itoa(i+1)
		}
		asked.Name = p.Name
		if i%2 == 1 {
			p.Method, asked.Method, asked.JointCut, asked.Base = "chute", "chute", "", ""
		}
		b.Placements, b.Spec.Placements, b.Days[0].Placements = append(b.Placements, p), append(b.Spec.Placements, asked), append(b.Days[0].Placements, p.Name)
		plan.Slabs = append(plan.Slabs, clock.Slab{Name: p.Name, NeatYd: 9.63, Saw: true, Early: i == 0})
		if i > 0 {
			plan.Loads = append(plan.Loads, 10)
		}
	}
	b.Days[0].Clock = clock.Make(plan)
	b.Days[0].Hold.Loads = plan.Loads
	if len(names) > 0 {
		b.Name, b.Spec.Name = names[0], names[0]
	}
	known := func(v, low, high float64) bid.Number { return bid.Number{Figure: Fig(t, v, low, high, 0)} }
	b.Days[0].Asked = []bid.Mix{{Placements: b.Days[0].Placements, PSI: known(4000, 0, 0), AggregateIn: known(0.75, 0, 0), SlumpIn: known(4.5, 4, 5), AirPct: known(0, 0, 0), Pumped: true,
		Admixtures: []bid.Admixture{{Word: "retarder", Dose: "3 oz/cwt"}}}}
	return b
}
