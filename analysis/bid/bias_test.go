package bid

import (
	"math"
	"strconv"
	"testing"

	"pourback/analysis/figure"
	"pourback/analysis/internal/trial"
	"pourback/analysis/setting"
	"pourback/ingest/record"
)

func lines(what Quantity, predicted float64, actual ...float64) (all []Line) {
	for _, a := range actual {
		all = append(all, Line{What: what, Predicted: predicted, Actual: record.Some(a)})
	}
	return all
}

// Seven of eight margins under the bid come by luck 2 × (1 + 8)/256 = 7 times in
// 100 (the sign test, by counting), so they run under, by their mean; five of eight
// about the same size tell nothing, and four say nothing however far off.
func TestBiasByHand(t *testing.T) {
	for _, c := range []struct {
		what   Quantity
		actual []float64
		runs   Side
	}{
		{Margin, []float64{.22, .20, .26, .18, .21, .24, .19, .31}, RunsBelow},
		{Margin, []float64{.25, .20, .32, .31, .26, .24, .30, .24}, NoSide},
		{Margin, []float64{.05, .05, .06, .04}, NoSide},
		{Margin, []float64{.30, .31, .29, .33, .30, .27}, RunsAbove},
	} {
		b := biasOf(c.what, lines(c.what, 0.275, c.actual...))
		mean := figure.SumOf(c.actual)/float64(len(c.actual)) - 0.275
		if b.Runs != c.runs || math.Abs(b.Shift.Value-mean) > 1e-12 || b.Below+b.Above != len(c.actual) {
			t.Errorf("%v: %+v, want %q", c.actual, b, c.runs)
		}
	}
	// As a share of what was predicted: 110 and more of 100 hours are a tenth over.
	if b := biasOf(Hours, lines(Hours, 100, 110, 108, 112, 111, 109)); b.Runs != RunsAbove || b.Points() != 10 {
		t.Errorf("%+v", b)
	}
	if b := biasOf(Hours, nil); b.Shift.Known() || b.Runs != NoSide {
		t.Errorf("%+v", b)
	}
}

// The lean by hand: eight jobs at 1.1 times their bids that scatter by a tenth,
// where companies run by N(0, 0.1²): the mean log 0.0953 times 8/(8 + 1).
func TestLeanByHand(t *testing.T) {
	off, apart := make([]float64, 8), make([]float64, 8)
	for i := range off {
		off[i], apart[i] = math.Log(1.1), 0.01
	}
	l := leanOf(off, apart, 0.1, 0.9)
	trial.Near(t, "lean", math.Log1p(l.Share.Value), math.Log(1.1)*8/9, 1e-12)
	trial.Near(t, "its spread", math.Log1p(l.Share.High)-math.Log1p(l.Share.Value), 1.644854*math.Sqrt(0.01/9), 1e-6)
	if l.Bids != 8 || l.Over != 8 {
		t.Errorf("%+v", l)
	}
	for _, none := range []Lean{leanOf(off[:4], apart[:4], 0.1, 0.9), leanOf(off, apart, 0, 0.9), leanOf(nil, nil, 0.1, 0.9)} {
		if none.Share.Known() || none.sd != 0 {
			t.Errorf("%+v leans", none)
		}
	}
}

// The lean is of today's method as of each bid's date, whatever the kept bids said:
// jobs that cost a quarter more than today's bid lean the next one up, by less than
// that, and it costs that much more; nothing is known then of what came later.
func TestTheLeanIsOfTodaysMethod(t *testing.T) {
	spec := Spec{Draws: 1000, Placements: []Placement{plainSlab()}}
	today := bidOf(t, stranger(), spec, setting.Options{})
	var kept []Kept
	var s record.Set
	for i := range 8 {
		no := strconv.Itoa(i)
		on := trial.Day("2025-05-01") + record.Date(10*i)
		p := trial.Pour(no, on.String(), "patio", "chute", 5, 5.3)
		s.Placements = append(s.Placements, p)
		s.Jobs = append(s.Jobs, record.Job{JobNo: no, ActualCost: record.Some(record.Cents(100 * math.Round(1.25*today.Cost.Total.P50*(1+0.02*float64(i%3-1)))))})
		old := *today
		old.Cost.Total = Spread{Mean: 1, P10: 1, P50: 1, P90: 2} // of a method long improved
		kept = append(kept, Kept{ID: int64(i), MadeOn: on - 5, JobNo: no, Bid: &old})
	}
	h := record.NewHistory(trial.Day("2026-03-01"), s)
	asked := 0
	l, err := LeanOf(h, kept, setting.Options{}, func(on record.Date) (*record.History, error) {
		if asked++; on >= kept[7].MadeOn {
			t.Errorf("asked what was known on %v", on)
		}
		return record.NewHistory(on, record.Set{}), nil
	})
	if err != nil || l.Bids != 8 || l.Over != 8 || asked != 8 {
		t.Fatalf("%+v, %v", l, err)
	}
	trial.Near(t, "raw", l.Raw, 0.25, 0.02)
	if v := l.Share.Value; v < 0.1 || v > 0.24 {
		t.Errorf("leans by %v", v)
	}
	leaning, err := MakeLeaning(h, spec, setting.Options{}, l)
	plain := bidOf(t, h, spec, setting.Options{})
	if err != nil {
		t.Fatal(err)
	}
	trial.Near(t, "cost", leaning.Cost.Total.Mean/plain.Cost.Total.Mean-1, l.Share.Value, 0.02)
	sum := 0.0
	for _, i := range leaning.Cost.Items {
		sum += i.Cost.Mean
	}
	trial.Near(t, "items", sum, leaning.Cost.Total.Mean, 1e-6*sum)
	if leaning.Price.Price <= plain.Price.Price || plain.Lean.Share.Known() {
		t.Errorf("prices %v and %v", leaning.Price.Price, plain.Price.Price)
	}
}

// Without a kept bid whose job is on record nothing is bid on anew: the past is
// not even read.
func TestNothingIsRebidWithoutKeptBids(t *testing.T) {
	h := saltgrass(t, 40, 3)
	for _, kept := range [][]Kept{nil, {{ID: 1, MadeOn: h.AsOf - 90, Fate: Void, JobNo: h.Jobs.At(0).JobNo(), Bid: &Bid{}}, {ID: 2, MadeOn: h.AsOf - 90, JobNo: "no such job", Bid: &Bid{}}}} {
		l, err := LeanOf(h, kept, setting.Options{}, func(record.Date) (*record.History, error) {
			t.Error("the past was read")
			return h, nil
		})
		if err != nil || l.Bids != 0 || l.Share.Known() {
			t.Errorf("%+v, %v", l, err)
		}
	}
}
