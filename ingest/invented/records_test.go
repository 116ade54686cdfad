package invented

import (
	"fmt"
	"hash/fnv"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"pourback/ingest/record"
)

var until = record.DateOf(2025, 6, 30)

// someOptions draws a small company of any size, time and seed.
func someOptions(t *rapid.T) Options {
	return Options{
		Jobs:  rapid.IntRange(1, 60).Draw(t, "jobs"),
		Seed:  rapid.Uint64().Draw(t, "seed"),
		Until: record.DateOf(2010, 1, 1) + record.Date(rapid.IntRange(0, 10_000).Draw(t, "until")),
		Years: rapid.Float64Range(0.1, 5).Draw(t, "years"),
	}
}

func generate(t interface{ Fatal(...any) }, opt Options) (record.Set, Truth) {
	set, truth, err := Generate(opt)
	if err != nil {
		t.Fatal(err)
	}
	return set, truth
}

// rows are all rows of a set, table by table.
func rows(s *record.Set) []record.Record {
	var all []record.Record
	for i := range s.Jobs {
		all = append(all, &s.Jobs[i])
	}
	for i := range s.Placements {
		all = append(all, &s.Placements[i])
	}
	for i := range s.Loads {
		all = append(all, &s.Loads[i])
	}
	for i := range s.Delays {
		all = append(all, &s.Delays[i])
	}
	for i := range s.Labor {
		all = append(all, &s.Labor[i])
	}
	for i := range s.Costs {
		all = append(all, &s.Costs[i])
	}
	for i := range s.Visits {
		all = append(all, &s.Visits[i])
	}
	return all
}

// digest sums up every value of a set in one number; columns that came after the
// first release only where they hold a value.
func digest(s *record.Set) (sum uint64) {
	var buf []byte
	for _, r := range rows(s) {
		h := fnv.New64a()
		for i, f := range r.Fields() {
			buf = buf[:0]
			if c := &r.Table().Columns[i]; c.Later {
				if record.IsMissing(f) {
					continue
				}
				buf = append(append(buf, c.Name...), 0x1e)
			}
			buf = append(record.AppendField(buf, f), 0x1f)
			h.Write(buf)
		}
		sum = sum*1099511628211 ^ h.Sum64()
	}
	return sum
}

func TestSameSeedSameRecords(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opt := someOptions(t)
		one, _ := generate(t, opt)
		two, _ := generate(t, opt)
		if digest(&one) != digest(&two) {
			t.Fatal("the same options gave two histories")
		}
		opt.Seed++
		other, _ := generate(t, opt)
		if digest(&one) == digest(&other) {
			t.Fatal("another seed gave the same history")
		}
	})
}

// TestSameRecordsEverywhere pins one small history to the byte. It changes with
// any number of the truth; what it must not change with is the machine: run it
// with GOARCH=386, whose logarithms are computed otherwise, and with
// GOAMD64=v3, which fuses multiplications into additions.
func TestSameRecordsEverywhere(t *testing.T) {
	set, _ := generate(t, Options{Jobs: 40, Seed: 7, Until: until})
	const want = 0xc0989a8741a60737
	if got := digest(&set); got != want {
		t.Errorf("digest %#x, pinned %#x: if the truth or the process was changed on purpose, pin the new one", got, uint64(want))
	}
}

// TestRowsAreValid holds every row to all the rules of its table: words, ranges,
// lengths, keys, rules across columns. No row may be an error, and the only
// warning that an invented history may earn is a load past the time limit.
func TestRowsAreValid(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opt := someOptions(t)
		set, _ := generate(t, opt)
		if got := len(set.Jobs); got != opt.Jobs {
			t.Fatalf("%d jobs, asked for %d", got, opt.Jobs)
		}
		keys := map[string]bool{}
		for _, r := range rows(&set) {
			key := r.Table().Name + record.Key(r)
			if keys[key] {
				t.Fatalf("two rows of %s have one key: %+v", r.Table().Name, r)
			}
			keys[key] = true
			for _, p := range r.Check(opt.Until) {
				if p.Code != "over-time-limit" {
					t.Fatalf("%+v: %s", r, p)
				}
			}
			checkFields(t, r)
		}
	})
}

func checkFields(t *rapid.T, r record.Record) {
	fields := r.Fields()
	for i := range r.Table().Columns {
		c := &r.Table().Columns[i]
		text := record.FieldText(fields[i])
		if c.Required && text == "" {
			t.Fatalf("%+v: no %s", r, c.Name)
		}
		if c.MaxChars > 0 && len(text) > c.MaxChars {
			t.Fatalf("%s %q is too long", c.Name, text)
		}
		if c.Kind != record.KindMoney && text != "" && strings.ContainsAny(text[:1], "=+-@") {
			t.Fatalf("%s %q: a spreadsheet would run it", c.Name, text)
		}
		if n, ok := numberOf(fields[i]); ok {
			if math.IsNaN(n) || math.IsInf(n, 0) || len(text) > 12 {
				t.Fatalf("%s %q is not rounded", c.Name, text)
			}
			if p, bad := c.RangeProblem(n); bad {
				t.Fatalf("%+v: %s", r, p)
			}
		}
		if c.Kind == record.KindWord && text != "" {
			checkWords(t, c, text)
		}
	}
}

// checkWords holds words to our own terms: an invented record needs no synonym.
func checkWords(t *rapid.T, c *record.Column, text string) {
	words := []string{text}
	if c.Words.Joined {
		words = strings.Split(text, "+")
	}
	for _, w := range words {
		if term, ok := c.Words.Find(w); !ok || term != w {
			t.Fatalf("%s %q is none of %v", c.Name, w, c.Words.Words)
		}
	}
}

func numberOf(field any) (float64, bool) {
	switch f := field.(type) {
	case *record.Number:
		return f.V, f.OK
	case *record.Count:
		return float64(f.V), f.OK
	case *record.Money:
		return f.V.Dollars(), f.OK
	}
	return 0, false
}

// TestNothingAfterTheLastDay looks at every date and time of every row.
func TestNothingAfterTheLastDay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opt := someOptions(t)
		set, _ := generate(t, opt)
		for _, r := range rows(&set) {
			for i, f := range r.Fields() {
				var day record.Date
				switch f := f.(type) {
				case *record.Date:
					day = *f
				case *record.Moment:
					day = f.Date()
				}
				if day > opt.Until {
					t.Fatalf("%s of %+v is after %s", r.Table().Columns[i].Name, r, opt.Until)
				}
			}
		}
	})
}

// TestEventsHangTogether checks what the tables do not: loads within a truck in
// quarter yards, tickets of their own, events of one placement in order,
// callbacks of one kind whose money is the job's.
func TestEventsHangTogether(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		opt := someOptions(t)
		set, truth := generate(t, opt)
		checkLoads(t, set.Loads)
		h := record.NewHistory(opt.Until, copyOf(set))
		if len(h.Checks) > 0 {
			t.Fatalf("the history found %s", h.Checks[0])
		}
		called := make([]record.Cents, h.Jobs.Len())
		for i := range h.Placements.Len() {
			p := h.Placements.Row(i)
			if s := &truth.Slabs[i]; s.JobNo != p.JobNo || s.Placement != p.Placement {
				t.Fatalf("slab %d is %s %s, its placement %s %s", i, s.JobNo, s.Placement, p.JobNo, p.Placement)
			}
			checkPlacement(t, &p, len(set.Delays) > 0)
			called[h.JobIndex(i)] += checkVisits(t, &p, h.VisitsOf(i))
		}
		for j := range h.Jobs.Len() {
			checkMoney(t, new(h.Jobs.Row(j)), h.CostsOf(j), called[j])
		}
	})
}

func checkLoads(t *rapid.T, loads []record.Load) {
	tickets := map[string]bool{}
	for _, l := range loads {
		if tickets[l.TicketNo] {
			t.Fatalf("ticket %s twice", l.TicketNo)
		}
		tickets[l.TicketNo] = true
		if yd := l.Yards.V; yd <= 0 || yd > truckYd || yd*4 != math.Trunc(yd*4) {
			t.Fatalf("a load of %v yd", yd)
		}
	}
}

// checkPlacement knows whether the company logged any delay: where it never did,
// nobody can say that there was no clog.
func checkPlacement(t *rapid.T, p *record.Placement, logged bool) {
	if n := p.Neat().V; n < leastYd-0.01 || n > mostYd+0.01 {
		t.Fatalf("%s %s: %v neat yd", p.JobNo, p.Placement, n)
	}
	if u := p.Used(); u.OK && u.V > p.DeliveredYd.V {
		t.Fatalf("%s %s: used %v of %v yd", p.JobNo, p.Placement, u.V, p.DeliveredYd.V)
	}
	if p.Pumped() != (p.PumpOutfit != "") || logged && p.Pumped() != p.Clogs.OK {
		t.Fatalf("%s %s: method %s, outfit %q, clogs %v", p.JobNo, p.Placement, p.Method, p.PumpOutfit, p.Clogs)
	}
	if p.Log != (record.Job{}) {
		t.Fatalf("%s %s: the full form has job columns on a placement", p.JobNo, p.Placement)
	}
}

// checkVisits returns what the placement's callbacks cost.
func checkVisits(t *rapid.T, p *record.Placement, visits []record.Visit) (cost record.Cents) {
	kind, plannedVisits := "", 0
	for _, v := range visits {
		if v.SeenOn <= p.PlacedOn {
			t.Fatalf("%s %s: a visit on %s, the pour on %s", p.JobNo, p.Placement, v.SeenOn, p.PlacedOn)
		}
		if !v.Callback() {
			plannedVisits++
			continue
		}
		if kind != "" && kind != v.Finding {
			t.Fatalf("%s %s: callbacks for %s and %s", p.JobNo, p.Placement, kind, v.Finding)
		}
		kind = v.Finding
		if v.Cost.OK != (v.ResolvedOn != 0) {
			t.Fatalf("%s %s: a callback closed %s cost %v", p.JobNo, p.Placement, v.ResolvedOn, v.Cost)
		}
		cost += v.Cost.V
	}
	if plannedVisits > len(planned) {
		t.Fatalf("%s %s: %d planned visits", p.JobNo, p.Placement, plannedVisits)
	}
	return cost
}

func checkMoney(t *rapid.T, j *record.Job, costs []record.Cost, called record.Cents) {
	var bid, callback record.Cents
	for _, c := range costs {
		if c.Item == "extra work" { // a lump, less than zero for work taken off
			if (c.ActualAmount.V < 0) != (j.ChangeOrders.V < 0) || c.PlannedAmount.OK {
				t.Fatalf("%+v: beside a change order of %s", c, j.ChangeOrders.V)
			}
			continue
		}
		planned, _ := record.TimesRate(c.PlannedQty.V, c.PlannedRate.V)
		actual, _ := record.TimesRate(c.ActualQty.V, c.ActualRate.V)
		if planned != c.PlannedAmount.V || actual != c.ActualAmount.V {
			t.Fatalf("%+v: not quantity × rate", c)
		}
		bid += planned
		if c.Item == "callback" {
			callback += actual
		}
	}
	if j.BidCost.V != bid || callback != called {
		t.Fatalf("%s: bid %s, lines %s; callbacks %s, visits %s", j.JobNo, j.BidCost.V, bid, callback, called)
	}
}

func TestGenerateRefuses(t *testing.T) {
	for _, c := range []struct {
		opt  Options
		want string
	}{
		{Options{}, "last day"},
		{Options{Until: 5}, "between 1900 and 9999"},
		{Options{Until: until, Jobs: -1}, "-1 jobs"},
		{Options{Until: until, Jobs: mostJobs + 1}, "500001 jobs"},
		{Options{Until: until, Years: -2}, "-2 years"},
		{Options{Until: until, Years: math.NaN()}, "NaN years"},
		{Options{Until: until, Years: 51}, "51 years"},
	} {
		set, _, err := Generate(c.opt)
		if err == nil || !strings.Contains(err.Error(), c.want) || len(set.Jobs) > 0 {
			t.Errorf("%+v: %v, want an error about %q", c.opt, err, c.want)
		}
	}
}

// TestUsualCompany holds the default to what it is said to be.
func TestUsualCompany(t *testing.T) {
	for seed := range uint64(5) {
		set, _ := generate(t, Options{Seed: seed, Until: until})
		if n := len(set.Placements); len(set.Jobs) != 430 || n < 560 || n > 645 {
			t.Errorf("seed %d: %d jobs, %d placements", seed, len(set.Jobs), n)
		}
		names := map[string]bool{}
		lastWeek, gaps := 0, 0
		for i := range set.Placements {
			p := &set.Placements[i]
			names[p.Crew], names[p.PumpOutfit] = true, true
			if p.PlacedOn > until-10 {
				lastWeek++
			}
			if !p.HumidityPct.OK {
				gaps++
			}
		}
		for _, n := range []string{"Heron", "Kestrel", "Wren", "P1", "P2", "P3", "P4"} {
			if !names[n] {
				t.Errorf("seed %d: no %s", seed, n)
			}
		}
		if lastWeek == 0 || gaps == 0 {
			t.Errorf("seed %d: %d poured in the last days, %d without humidity", seed, lastWeek, gaps)
		}
	}
}

func ExampleGenerate() {
	set, truth, err := Generate(Options{Seed: 1, Until: record.DateOf(2025, 6, 30)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(len(set.Jobs), "jobs,", len(set.Placements), "placements")
	fmt.Printf("a 6 yd driveway by chute on native soil takes %.1f %% over neat\n", 100*truth.Overage("driveway", "chute", "native", 6))
	// Output:
	// 430 jobs, 595 placements
	// a 6 yd driveway by chute on native soil takes 8.2 % over neat
}
