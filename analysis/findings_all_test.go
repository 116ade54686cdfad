package analysis

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/analysis/findings"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/invented"
	"pourback/ingest/record"
)

// The invented owner bids by one figure of ft² an hour whatever the size, so
// small jobs are bid too low; Kestrel is the slowest crew. Most companies are
// told both; none is told that the fastest crew is slow.
func TestFindingsFindTheTruth(t *testing.T) {
	small, kestrel := 0, 0
	const seeds = 6
	for seed := range uint64(seeds) {
		set, _, err := invented.Generate(invented.Options{Seed: seed + 1, Until: trial.Day("2026-03-31")})
		if err != nil {
			t.Fatal(err)
		}
		f := answer(t, set, "2026-03-31", setting.Options{})
		for _, x := range f.Findings {
			checkFinding(t, x)
			if strings.Contains(x.Sentence, "Jobs under") || strings.Contains(x.Sentence, "jobs earned") {
				small++
			}
			if x.Topic == "crews" && strings.HasPrefix(x.Sentence, "Kestrel") {
				kestrel++
			}
			if strings.HasPrefix(x.Sentence, "Heron") {
				t.Errorf("seed %d: %s", seed+1, x.Sentence)
			}
		}
	}
	t.Logf("bids of a kind of job: %d of %d; the slowest crew: %d", small, seeds, kestrel)
	if small < seeds*2/3 || kestrel < seeds/2 {
		t.Errorf("bids of a kind of job were told %d times of %d, the slowest crew %d times", small, seeds, kestrel)
	}
}

func TestNothingStandsOut(t *testing.T) {
	quiet := func(n, days int) record.Set {
		var s record.Set
		for i := range n {
			p := trial.Pour(fmt.Sprint(i), "2025-12-31", "patio", "chute", 10, 10)
			p.PlacedOn -= record.Date(i * days / n)
			p.DeliveredYd, p.LeftoverYd = record.Some(10.0), record.Some(0.0)
			s.Placements = append(s.Placements, p)
		}
		return s
	}
	for _, c := range []struct {
		set  record.Set
		says string
	}{
		{record.Set{}, "no placements"}, {quiet(30, 60), "59 days"}, {quiet(4, 300), "too few"}, {quiet(40, 700), "Nothing stands out: no fact"},
	} {
		f := answer(t, c.set, "2025-12-31", setting.Options{})
		if f.Findings == nil || len(f.Findings) != 0 || !strings.Contains(f.FindingsSay, c.says) {
			t.Errorf("%d findings, %q; want none, for %q", len(f.Findings), f.FindingsSay, c.says)
		}
		if out, err := json.Marshal(f); err != nil || !strings.Contains(string(out), `"findings":[]`) {
			t.Errorf("%s %v", out, err)
		}
	}
}

func TestFindingsNeedAllTopics(t *testing.T) {
	out, err := json.Marshal(answer(t, record.Set{}, "2025-12-31", setting.Options{Topics: []string{"margin"}}))
	if err != nil || strings.Contains(string(out), "findings") {
		t.Errorf("%s %v", out, err)
	}
}

func TestFindingsOfHostileHistories(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s record.Set
		n := rapid.IntRange(0, 24).Draw(t, "placements")
		for i := range n {
			no := fmt.Sprint(i / 2)
			p := trial.Pour(no, "2025-12-31", rapid.SampledFrom([]string{"", "patio", "curb"}).Draw(t, "use"), rapid.SampledFrom([]string{"chute", "pump"}).Draw(t, "method"),
				rapid.SampledFrom([]float64{1e-6, 3, 30, 600, 20000}).Draw(t, "neat"), rapid.SampledFrom([]float64{1e-6, 3.1, 900, 40000}).Draw(t, "used"))
			p.Placement = fmt.Sprint(i % 2)
			p.PlacedOn -= record.Date(rapid.IntRange(0, 500).Draw(t, "ago"))
			p.PlannedYd = record.Some(rapid.SampledFrom([]float64{1e-6, 3.25, 33, 22000}).Draw(t, "planned"))
			p.Crew, p.PumpOutfit = rapid.SampledFrom([]string{"", "Heron", "Wren"}).Draw(t, "crew"), rapid.SampledFrom([]string{"", "P1", "P2"}).Draw(t, "outfit")
			p.LaborHours, p.CrewSize = record.Some(rapid.SampledFrom([]float64{0, 0.25, 30, 1e5}).Draw(t, "hours")), record.Some(rapid.SampledFrom([]int64{1, 4, 200}).Draw(t, "size"))
			p.Clogs, p.ClogMin, p.DelayMin = record.Some(rapid.Int64Range(0, 3).Draw(t, "clogs")), record.Some[int64](20), record.Some(rapid.Int64Range(0, 20000).Draw(t, "delay"))
			if rapid.IntRange(0, 3).Draw(t, "called") == 0 {
				p.CallbackOn, p.CallbackKind, p.CallbackCost = p.PlacedOn, rapid.SampledFrom([]string{"crack", "finish", ""}).Draw(t, "kind"), trial.Cents(rapid.SampledFrom([]int64{0, 500_00, 1e12}).Draw(t, "cost"))
			}
			if i%2 == 0 {
				money := func(label string) record.Money {
					return record.Money{V: record.Cents(rapid.SampledFrom([]int64{0, 1, 5000_00, 6000_00, 1e13}).Draw(t, label)), OK: rapid.IntRange(0, 5).Draw(t, "has "+label) > 0}
				}
				s.Jobs = append(s.Jobs, record.Job{JobNo: no, ContractPrice: money("price"), BidCost: money("bid"), ActualCost: money("cost"), WonFrom: rapid.SampledFrom([]string{"", "0", "7"}).Draw(t, "from")})
			}
			s.Placements = append(s.Placements, p)
		}
		f, err := Run(record.NewHistory(trial.Day("2025-12-31"), s), setting.Options{})
		if err != nil {
			t.Fatal(err)
		}
		if f.FindingsSay == "" || len(f.Findings) > findings.MostFindings {
			t.Errorf("%d findings, %q", len(f.Findings), f.FindingsSay)
		}
		for _, x := range f.Findings {
			checkFinding(t, x)
		}
		if out, err := json.Marshal(f); err != nil {
			t.Errorf("%s %v", out, err)
		}
	})
}

func checkFinding(t interface{ Errorf(string, ...any) }, x findings.Finding) {
	switch d := x.Dollars; {
	case x.Rank < 1 || x.Rank > findings.MostFindings || x.Topic == "" || !strings.HasSuffix(x.Sentence, ".") || !strings.Contains(x.Sentence, "$"):
		t.Errorf("%+v", x)
	case !d.Known() || d.Value < findings.LeastWorth || d.Method == "" || d.N == 0 || d.Bounded && !(d.Low <= d.Value && d.Value <= d.High):
		t.Errorf("%+v", d)
	case !(x.Sure >= findings.LeastSure && x.Sure <= 1):
		t.Errorf("%+v", x)
	}
}
