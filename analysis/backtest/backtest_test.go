package backtest

import (
	"flag"
	"fmt"
	"math"
	"os"
	"reflect"
	"strings"
	"testing"

	"pourback/analysis/concrete"
	"pourback/analysis/internal/trial"
	"pourback/analysis/money"
	"pourback/analysis/setting"
	"pourback/analysis/stat/score"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func backtestOf(t *testing.T, s record.Set, asOf string, opt setting.Options) *Backtest {
	t.Helper()
	b, err := New(record.NewHistory(trial.Day(asOf), s), opt)
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// What an order came to, by hand: concrete at $150, disposal $50, an extra load
// $300, at least 1 yd and by quarters, a short load under 4 yd at $30 a yard it
// lacks, trucks of 10 yd.
//
//	12 yd for 11.4 used: 200·12 − 50·11.4 + 30·2            = 1890
//	11 yd for 11.4 used: 1 yd more, 200·12 − 570 + 300 + 30·3 = 2220
//	11 yd for 12.3 used: 1.5 yd more, 200·12.5 − 615 + 300 + 90 = 2275
//
// The perfect order for 11.4 is 11.5: 200·11.5 − 570 + 30·2.5 = 1805.
func TestWhatAnOrderCameToByHand(t *testing.T) {
	money := setting.OrderCosts{PricePerYd: 150, DisposalPerYd: 50, ExtraLoad: 300, LeastBalanceYd: 1, IncrementYd: .25, TruckYd: 10, ShortLoadYd: 4, ShortLoadPerYd: 30}.Money()
	for _, c := range []struct{ ordered, used, want float64 }{{12, 11.4, 1890}, {11, 11.4, 2220}, {11, 12.3, 2275}} {
		got, err := concrete.CameTo(money, c.ordered, c.used)
		if err != nil {
			t.Fatal(err)
		}
		trial.Near(t, fmt.Sprintf("%v yd for %v used", c.ordered, c.used), got.Cost, c.want, 1e-9)
	}
	best, err := perfect(money, 11.4)
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "the perfect order", best.Cost, 1805, 1e-9)
}

// No order, however made, costs less than the perfect one.
func TestNoOrderBeatsThePerfectOne(t *testing.T) {
	money := setting.DefaultOrderCosts().Money()
	for used := 0.5; used < 24; used += 0.37 {
		best, err := perfect(money, used)
		if err != nil {
			t.Fatal(err)
		}
		for q := 0.25; q < 30; q += 0.25 {
			if o, err := concrete.CameTo(money, q, used); err != nil || o.Cost < best.Cost-1e-9 {
				t.Fatalf("%v yd for %v used cost %v, the perfect order %v (%v)", q, used, o.Cost, best.Cost, err)
			}
		}
	}
}

// Every rule's order by hand for one placement after a year that used 10 % more
// than its drawings: of 20 placements of 10 yd neat, 19 used 11 yd and the
// last, of the month before, 11.
func TestSimpleRulesByHand(t *testing.T) {
	var s record.Set
	for i := range 20 {
		s.Placements = append(s.Placements, trial.Pour(fmt.Sprintf("%02d", i), "2024-01-10", "patio", "chute", 10, 11+float64(i%2)/10))
	}
	for _, month := range []string{"2024-02-10", "2024-03-10"} {
		p := trial.Pour(month, month, "patio", "chute", 10.1, 11)
		p.PlannedYd = record.Some(10.75)
		s.Placements = append(s.Placements, p)
	}
	b := backtestOf(t, s, "2024-12-31", setting.Options{})
	if b.From != "2024-02" || b.To != "2024-03" || b.Placements != 2 {
		t.Fatalf("walked %s to %s, %d placements", b.From, b.To, b.Placements)
	}
	// 10.1 yd: flat 5 % is 10.605 → 10.75 and short of 11; 10 % 11.11 → 11.25;
	// 15 % 11.615 → 11.75; the year before, 11.05/10, 11.16 → 11.25; three in four
	// stayed under 1.11: 11.211 → 11.25.
	for name, want := range map[Name]struct {
		short int
		over  float64
	}{"flat_5": {2, 2 * .75}, "flat_10": {0, 2 * .25}, "flat_15": {0, 2 * .75}, "last_year": {0, 2 * .25}, "p75": {0, 2 * .25}, "as_ordered": {2, 2 * .75}} {
		r := b.Find(name)
		if r == nil {
			t.Fatalf("no rule %s", name)
		}
		if r.Short != want.short || math.Abs(r.LeftoverYd-want.over) > 1e-9 {
			t.Errorf("%s: %d short, %v yd over; want %d and %v", name, r.Short, r.LeftoverYd, want.short, want.over)
		}
	}
}

// What comes later moves no order made before it.
func TestBacktestLooksOnlyBack(t *testing.T) {
	set, _, err := invented.Generate(invented.Options{Seed: 5, Jobs: 120, Until: trial.Day("2026-03-31")})
	if err != nil {
		t.Fatal(err)
	}
	orders := func(s record.Set) (first [][]float64) {
		opt, err := setting.Options{}.Complete()
		if err != nil {
			t.Fatal(err)
		}
		h := record.NewHistory(trial.Day("2026-03-31"), s)
		w := &walk{h: h, opt: opt, rows: concrete.RowsOf(h).ByDate(h), every: 1}
		months := make([]int, len(w.rows.Points))
		for i, p := range w.rows.Points {
			months[i] = money.MonthNumber(h.Placements.At(p.Index).PlacedOn())
		}
		if w.splits, err = score.Splits(months, leastKnown); err != nil {
			t.Fatal(err)
		}
		split := w.splits[len(w.splits)/2]
		past := w.past(split)
		for row := split.From; row < split.To; row++ {
			next, err := past.model.Next(w.job(row))
			if err != nil {
				t.Fatal(err)
			}
			var of []float64
			for _, rule := range backtestRules {
				of = append(of, rule.order(past, row, w.job(row), next))
			}
			first = append(first, of)
		}
		return first
	}
	want := orders(set)
	half := set.Placements[len(set.Placements)/2].PlacedOn
	later := map[[2]string]bool{}
	for i := range set.Placements {
		p := &set.Placements[i]
		if later[[2]string{p.JobNo, p.Placement}] = p.PlacedOn > half+120; p.PlacedOn > half+120 && p.DeliveredYd.OK {
			p.DeliveredYd = record.Some(2 * p.DeliveredYd.V)
		}
	}
	for i := range set.Loads { // delivered yards are the sum of the loads
		if l := &set.Loads[i]; later[[2]string{l.JobNo, l.Placement}] {
			l.Yards = record.Some(2 * l.Yards.V)
		}
	}
	if got := orders(set); !reflect.DeepEqual(got, want) {
		t.Errorf("orders moved with what came later:\n%v\n%v", got, want)
	}
}

func TestBacktestOfAShortPast(t *testing.T) {
	for n := range 22 {
		var s record.Set
		for i := range n {
			s.Placements = append(s.Placements, trial.Pour(fmt.Sprintf("%02d", i), fmt.Sprintf("2024-%02d-10", 1+i/2), "patio", "chute", 10, 11))
		}
		b := backtestOf(t, s, "2025-12-31", setting.Options{})
		if b.Middle80.Known() || b.Middle80.Why != (TooShort{N: n, Least: leastKnown}) || len(b.Rules) != 0 {
			t.Errorf("%d placements: %+v", n, b.Middle80)
		}
	}
}

var backtestSeeds = flag.Int("backtest-seeds", 3, "invented companies to walk; 50 write testdata/backtest.md anew")

// On companies whose truth has fixed losses, the factors lose fewer dollars
// than each flat rule, in the mean and nearly always.
func TestBacktestBeatsFlatRules(t *testing.T) {
	lost, wins := map[string]float64{}, map[string]int{}
	names, inside, n := []string{}, 0.0, 0
	for seed := range uint64(*backtestSeeds) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		b := backtestOf(t, set, "2026-03-31", setting.Options{})
		names = names[:0]
		for _, r := range b.Rules {
			names = append(names, string(r.Rule))
			lost[string(r.Rule)] += r.Lost.Value / float64(*backtestSeeds)
			if r.Lost.Value > b.Rules[0].Lost.Value {
				wins[string(r.Rule)]++
			}
		}
		inside += b.Middle80.Value * float64(b.Placements)
		n += b.Placements
	}
	for _, flat := range []string{"flat_5", "flat_10", "flat_15"} {
		if lost[flat] <= lost["factors"] || wins[flat] < *backtestSeeds*9/10 {
			t.Errorf("%s lost $%.0f a placement and the factors $%.0f, which were better for %d of %d companies", flat, lost[flat], lost["factors"], wins[flat], *backtestSeeds)
		}
	}
	if share := inside / float64(n); share < 0.76 || share > 0.86 {
		t.Errorf("the 80 %% ranges held %.3f of %d uses", share, n)
	}
	if *backtestSeeds >= 50 {
		writeBacktestTable(t, names, lost, wins, inside/float64(n), n)
	}
}

func writeBacktestTable(t *testing.T, names []string, lost map[string]float64, wins map[string]int, inside float64, n int) {
	var s strings.Builder
	fmt.Fprintf(&s, "# What the factors are worth on %d invented companies\n\n", *backtestSeeds)
	s.WriteString("Each company's past is walked month by month; every placement is ordered for by what was known then, at the default\n" +
		"prices and fees. A loss is dollars a placement above orders that knew every use beforehand.\n\n" +
		fmt.Sprintf("Made by `go test ./analysis/backtest -run TestBacktestBeatsFlatRules -backtest-seeds %d -timeout 60m`.\n\n", *backtestSeeds) +
		"| rule | lost, $ a placement | worse than the factors, of companies |\n| --- | ---: | ---: |\n")
	for _, name := range names {
		worse := fmt.Sprintf("%d of %d", wins[name], *backtestSeeds)
		if name == "factors" {
			worse = ""
		}
		fmt.Fprintf(&s, "| %s | %.0f | %s |\n", name, lost[name], worse)
	}
	fmt.Fprintf(&s, "\nThe 80 %% ranges of use held %.1f %% of %d placements.\n", 100*inside, n)
	s.WriteString("\n" +
		"What orders by the factors are said to save a year lies a little under what the year after brings (on 50 companies $11,700\n" +
		"against $12,700, standard error $400): the claim averages all months that were walked, and in the early ones the factors knew\n" +
		"less. On 40 others they lost $89 a placement at first, $86 in the year before the last and $86 in the last; orders as made\n" +
		"lost $153, $152 and $156. The rest is within the error. Held by `go test ./analysis/backtest -run TestClaims -claim-companies 50`.\n")
	if err := os.WriteFile("../../testdata/backtest.md", []byte(s.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}
