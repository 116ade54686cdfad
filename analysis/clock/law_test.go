package clock

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// anyPlan is a day that may be.
func anyPlan(t *rapid.T) Plan {
	num := func(low, high float64, name string) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	whole := func(low, high int, name string) int { return rapid.IntRange(low, high).Draw(t, name) }
	p := Plan{StartMin: whole(0, 1439, "start"), Loads: rapid.SliceOfN(rapid.Float64Range(0.25, 12), 1, 8).Draw(t, "loads"), EdgeMin: whole(1, 120, "edge"), Hours: DefaultStageHours(),
		Going: Going{PlaceMinPerYd: num(0.5, 12, "place"), HaulMin: whole(0, 120, "haul"), LoadMin: whole(0, 20, "load"), WashMin: whole(0, 20, "wash"),
			WashesOnSpot: rapid.Bool().Draw(t, "on spot"), SpacingMin: whole(0, 60, "spacing"), LimitMin: whole(30, 120, "limit"), PrimeMin: whole(0, 20, "prime")}}
	p.PrimeYd = num(0, 0.5, "primer")
	if rapid.Bool().Draw(t, "held") {
		p.Held = &Held{Yd: num(1, 10, "held yd"), CallAtYd: num(0.5, 80, "call at"), LeadMin: whole(0, 150, "lead")}
	}
	for i := range whole(0, 3, "slabs") {
		p.Slabs = append(p.Slabs, Slab{Name: string(rune('A' + i)), NeatYd: num(0.5, 40, "neat"), SlowerHour: num(-1, 2, "slower"), Saw: true, Early: true})
	}
	p.Air.From = FromForecast
	at := 0
	for range whole(0, 6, "readings") {
		at += whole(1, 300, "after")
		p.Air.Hours = append(p.Air.Hours, Reading{Min: at, AirF: num(-10, 120, "air"), HumidityPct: num(0, 100, "humidity"), WindMph: num(0, 40, "wind")})
	}
	return p
}

// No truck starts before the one ahead is empty, and washed out where it stands in
// the way; the times of each go up; the plant keeps its spacing; what is down adds
// up.
func TestTrucksInTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t)
		d := Make(p)
		down := 0.0
		for i, k := range d.Trucks {
			down += k.Yd
			order := []int{k.Batched.Min, k.Leaves.Min, k.Arrives.Min, k.Starts.Min, k.Empty.Min, k.Gone.Min}
			if !slices.IsSorted(order) || k.N != i+1 || k.LimitEnds.Min-k.Batched.Min != p.Going.LimitMin || k.SlackMin != k.LimitEnds.Min-k.Empty.Min || down-k.DownYd > 1e-9 {
				t.Fatalf("truck %+v", k)
			}
			if i == 0 {
				continue
			}
			ahead := d.Trucks[i-1]
			free := ahead.Empty.Min
			if p.Going.WashesOnSpot {
				free += p.Going.WashMin
			}
			if k.Starts.Min < free || k.Batched.Min < ahead.Batched.Min+p.Going.SpacingMin || k.CrewWaits != k.Starts.Min-ahead.Empty.Min || k.WaitsMin != 0 {
				t.Fatalf("truck %+v behind %+v", k, ahead)
			}
		}
		if c := d.Call; c != nil && (c.InTime != (c.IdleMin <= p.EdgeMin) || c.Arrives.Min < c.By.Min+c.LeadMin || c.InTime && c.Latest.Min < c.By.Min) {
			t.Fatalf("call %+v of %+v", c, d.Trucks)
		}
		for _, s := range d.Line {
			if s.To.Min < s.From.Min {
				t.Fatalf("%+v", s)
			}
		}
		for _, s := range d.Saw {
			if !(s.From.Min <= s.FirstTo.Min && s.LastFrom.Min <= s.To.Min && s.From.Min <= s.LastFrom.Min && s.FirstTo.Min <= s.To.Min) {
				t.Fatalf("%+v", s)
			}
		}
	})
}

// More heat makes no stage later and no window wider; a minute is for rounding, of
// both ends.
func TestHeatOnlyHastens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t)
		hot := p
		hot.Air.Hours = slices.Clone(p.Air.Hours)
		for i := range hot.Air.Hours {
			hot.Air.Hours[i].AirF += rapid.Float64Range(0, 30).Draw(t, "hotter")
		}
		a, b := Make(p), Make(hot)
		for i := range a.Line {
			if b.Line[i].From.Min > a.Line[i].From.Min || b.Line[i].To.Min > a.Line[i].To.Min {
				t.Fatalf("%+v, and hotter %+v", a.Line[i], b.Line[i])
			}
		}
		for i, x := range a.Saw {
			y := b.Saw[i]
			if y.From.Min > x.From.Min || y.To.Min > x.To.Min || y.FirstTo.Min-y.From.Min > x.FirstTo.Min-x.From.Min+1 || y.To.Min-y.LastFrom.Min > x.To.Min-x.LastFrom.Min+1 {
				t.Fatalf("%+v, and hotter %+v", x, y)
			}
		}
	})
}

// A longer haul brings no truck earlier and no truck is batched later for it; a
// slower crew, or a yard more on any truck, ends no earlier.
func TestFartherAndMoreTakesLonger(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := anyPlan(t)
		p.Held = nil
		far, slow, more := p, p, p
		far.Going.HaulMin += rapid.IntRange(0, 60).Draw(t, "farther")
		slow.Going.PlaceMinPerYd += rapid.Float64Range(0, 5).Draw(t, "slower")
		more.Loads = slices.Clone(p.Loads)
		more.Loads[rapid.IntRange(0, len(p.Loads)-1).Draw(t, "which")]++
		a := Make(p)
		for i, k := range Make(far).Trucks {
			if k.Arrives.Min < a.Trucks[i].Arrives.Min || k.Batched.Min > a.Trucks[i].Batched.Min {
				t.Fatalf("%+v, and farther %+v", a.Trucks[i], k)
			}
		}
		for what, d := range map[string]*Day{"slower": Make(slow), "more": Make(more), "a truck more": Make(with(p, 3))} {
			if d.LastEmpty.Min < a.LastEmpty.Min {
				t.Fatalf("%s: ends %v, not after %v", what, d.LastEmpty, a.LastEmpty)
			}
		}
	})
}

func with(p Plan, yd float64) Plan {
	p.Loads = append(slices.Clone(p.Loads), yd)
	return p
}

// What has happened is not undone: planned again from what is down as the day goes
// by its plan, the day is the same; after a stop each truck comes that much later
// at most, and none earlier.
func TestPlannedAgainFromWhatIsDown(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plan(rapid.SliceOfN(rapid.Float64Range(1, 10), 2, 6).Draw(t, "loads")...)
		a := Make(p)
		k := rapid.IntRange(1, len(p.Loads)-1).Draw(t, "trucks done")
		stop := rapid.IntRange(0, 60).Draw(t, "stop")
		again := p
		again.Loads, again.DownYd = p.Loads[k:], a.Trucks[k-1].DownYd
		again.NowMin = a.Trucks[k-1].Empty.Min
		again.StartMin = again.NowMin + stop
		for _, tr := range a.Trucks[k:] {
			if tr.Batched.Min <= again.NowMin {
				again.Out = append(again.Out, tr.Batched.Min)
			}
		}
		b := Make(again)
		for i, tr := range b.Trucks {
			was := a.Trucks[k+i]
			if late := tr.Empty.Min - was.Empty.Min; late < 0 || late > stop || tr.Batched.Min < was.Batched.Min {
				t.Fatalf("stopped %d: %+v was %+v", stop, tr, was)
			}
		}
		if last := len(b.Trucks) - 1; b.Trucks[last].DownYd-a.Trucks[k+last].DownYd > 1e-9 {
			t.Fatalf("%v yd down, not %v", b.Trucks[last].DownYd, a.Trucks[k+last].DownYd)
		}
	})
}
