package trial

import (
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"pourback/ingest/invented"
	"pourback/ingest/record"
)

func Cents(c int64) record.Money { return record.Some(record.Cents(c)) }

// SlabAt is a placement poured so many days before the end of 2025, with all
// that the hazard model asks, called back for a crack after so many days (0:
// never).
func SlabAt(job, ago, crackAfter int, steel string) record.Placement {
	p := record.Placement{JobNo: fmt.Sprintf("J%04d", job), Placement: "A", PlacedOn: Day("2025-12-31") - record.Date(ago), Use: "patio",
		AreaSqft: record.Some(400.0), ThicknessIn: record.Some(4.0), JointSpacingFt: record.Some(float64(8 + job%3)),
		Reinforcement: steel, Curing: []string{"none", "compound"}[job%2], JointCut: "saw", SawHours: record.Some(float64(8 + job%7)),
		AirTempF: record.Some(float64(60 + 7*(job%5)))}
	if crackAfter > 0 {
		p.CallbackOn, p.CallbackKind = p.PlacedOn+record.Date(crackAfter), "crack"
	}
	return p
}

// Company makes 60 slabs in turn of mesh and rebar, the first so many of which
// crack after 100 days.
func Company(cracked int) record.Set {
	var s record.Set
	for i := range 60 {
		after := 0
		if i < cracked {
			after = 100 + i
		}
		s.Placements = append(s.Placements, SlabAt(i, 400+11*i, after, []string{"mesh", "rebar"}[i/2%2]))
	}
	return s
}

// Sound writes figures as JSON and holds every one of them to its form.
func Sound(t *testing.T, at string, figures any) {
	t.Helper()
	out, err := json.Marshal(figures)
	if err != nil {
		t.Fatal(err)
	}
	var read any
	if err := json.Unmarshal(out, &read); err != nil {
		t.Fatal(err)
	}
	sound(t, at, read)
}

func sound(t *testing.T, at string, v any) {
	t.Helper()
	switch v := v.(type) {
	case []any:
		for i := range v {
			sound(t, fmt.Sprintf("%s[%d]", at, i), v[i])
		}
	case map[string]any:
		if _, figure := v["method"]; figure {
			value, known := v["value"].(float64)
			low, bounded := v["low"].(float64)
			high, _ := v["high"].(float64)
			if !known && v["why"] == nil || known && bounded && !(low <= value && value <= high || v["high"] == nil) {
				t.Errorf("%s is %v", at, v)
			}
		}
		for name := range v {
			sound(t, at+"."+name, v[name])
		}
	}
}

func Day(s string) record.Date {
	d, err := record.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// Pour is a placement with what most tests need.
func Pour(job, placed, use, method string, neat, used float64) record.Placement {
	return record.Placement{JobNo: job, Placement: "A", PlacedOn: Day(placed), Use: use, Method: method,
		AreaSqft: record.Some(neat * 81), ThicknessIn: record.Some(4.0), NeatYd: record.Some(neat),
		DeliveredYd: record.Some(used + 0.5), LeftoverYd: record.Some(0.5)}
}

func Near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v", what, got, want)
	}
}

// SetOf is the rows of a history as they were resolved.
func SetOf(h *record.History) record.Set {
	s := record.Set{Loads: h.Loads, Delays: h.Delays, Labor: h.Labor, Costs: h.Costs, Visits: h.Visits}
	for i := range h.Placements.Len() {
		s.Placements = append(s.Placements, h.Placements.Row(i))
	}
	for j := range h.Jobs.Len() {
		s.Jobs = append(s.Jobs, h.Jobs.Row(j))
	}
	return s
}

func CopySet(s record.Set) record.Set {
	return record.Set{Jobs: append([]record.Job(nil), s.Jobs...), Placements: append([]record.Placement(nil), s.Placements...),
		Loads: append([]record.Load(nil), s.Loads...), Delays: append([]record.Delay(nil), s.Delays...), Labor: append([]record.Labor(nil), s.Labor...),
		Costs: append([]record.Cost(nil), s.Costs...), Visits: append([]record.Visit(nil), s.Visits...)}
}

// ManySlabs makes n placements of a job log over eight years, of which about
// four in a hundred bring a crack callback, more often when it is hot.
func ManySlabs(n int) *record.History {
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

// FlatHistory is a job log of n placements, three in four jobs with one.
func FlatHistory(n int) *record.History {
	r := rand.New(rand.NewPCG(1, 2))
	s := record.Set{Placements: make([]record.Placement, n)}
	start, job, left := Day("2018-01-01"), 0, 0
	for i := range s.Placements {
		if left == 0 {
			job++
			if left = 1; r.Float64() < 0.25 {
				left = 2 + r.IntN(2)
			}
		}
		left--
		p := &s.Placements[i]
		p.JobNo, p.Placement, p.PlacedOn = fmt.Sprintf("J%07d", job), string(rune('A'+left)), start+record.Date(i*2900/n)
		p.Use, p.Reinforcement, p.Crew, p.Method = "patio", "mesh", fmt.Sprintf("Crew %d", 1+r.IntN(12)), "chute"
		p.AreaSqft, p.ThicknessIn = record.Some(100+900*r.Float64()), record.Some(4.0)
		p.MeasuredThicknessIn = record.Some(4 + 0.2*r.NormFloat64())
		neat := p.Neat().V
		p.PlannedYd, p.DeliveredYd, p.LeftoverYd = record.Some(neat*1.08), record.Some(neat*(1.05+0.05*r.NormFloat64())), record.Some(0.25)
		p.CrewSize, p.DelayMin = record.Some[int64](4), record.Some(int64(r.IntN(30)))
		p.LaborHours = record.Some(p.AreaSqft.V / 15 * (0.8 + 0.4*r.Float64()))
		bid := 1000 + 10*p.AreaSqft.V
		p.Log.BidCost = record.Some(record.Cents(100 * bid))
		p.Log.ActualCost = record.Some(record.Cents(100 * bid * (0.9 + 0.25*r.Float64())))
		p.Log.ContractPrice = record.Some(record.Cents(135 * bid))
		if i > 10 && r.IntN(8) == 0 {
			p.Log.WonFrom = s.Placements[r.IntN(i)].JobNo
		}
	}
	return record.NewHistory(Day("2025-12-31"), s)
}

// InventedOverage is a history of the invented company, with its truth.
func InventedOverage(t *testing.T, seed uint64, adjust func(*invented.Truth)) (*record.History, invented.Truth) {
	t.Helper()
	set, truth, err := invented.Generate(invented.Options{Seed: seed, Until: Day("2026-03-31"), Adjust: adjust})
	if err != nil {
		t.Fatal(err)
	}
	return record.NewHistory(Day("2026-03-31"), set), truth
}

// Share counts how often something held.
type Share struct{ Held, Of int }

func (s *Share) Add(holds bool) {
	s.Of++
	if holds {
		s.Held++
	}
}

func (s Share) And(t Share) Share { return Share{s.Held + t.Held, s.Of + t.Of} }

func (s Share) Within(t *testing.T, what string, low, high float64) {
	t.Helper()
	got := float64(s.Held) / float64(s.Of)
	t.Logf("%s: %d of %d, %.1f %%", what, s.Held, s.Of, 100*got)
	if !(got >= low && got <= high) {
		t.Errorf("%s held %.1f %% of the time, want %.0f to %.0f", what, 100*got, 100*low, 100*high)
	}
}

// Bare is a placement of which hardly anything is recorded.
func Bare(job, placed string) record.Placement {
	return record.Placement{JobNo: job, Placement: "A", PlacedOn: Day(placed), Use: "patio", AreaSqft: record.Some(400.0), ThicknessIn: record.Some(4.0)}
}

// Look is a planned visit, called one that a customer called for.
func Look(job, on, finding string) record.Visit {
	return record.Visit{JobNo: job, Placement: "A", SeenOn: Day(on), Why: "planned", Finding: finding}
}

func Called(job, on, finding, closed string, dollars int64) record.Visit {
	v := Look(job, on, finding)
	v.Why = "callback"
	if closed != "" {
		v.ResolvedOn = Day(closed)
	}
	if dollars > 0 {
		v.Cost = record.Some(record.Cents(100 * dollars))
	}
	return v
}
