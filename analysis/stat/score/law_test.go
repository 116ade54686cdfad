package score

import (
	"math"
	"math/big"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// The honest quantile of a sample loses no more than any other of its values:
// at τ the least mean pinball loss is at a τ-quantile.
func TestPinballIsProper(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ys := rapid.SliceOfN(rapid.Float64Range(-10, 10), 1, 25).Draw(t, "ys")
		tau := rapid.Float64Range(.05, .95).Draw(t, "tau")
		mean := func(q float64) (sum float64) {
			for _, y := range ys {
				p, err := Pinball(y, q, tau)
				if err != nil {
					t.Fatal(err)
				}
				sum += p
			}
			return sum
		}
		sorted := slices.Sorted(slices.Values(ys))
		own := mean(sorted[int(math.Ceil(tau*float64(len(ys))))-1])
		for _, q := range ys {
			if mean(q) < own-1e-9 {
				t.Fatalf("%v loses less than the %v-quantile", q, tau)
			}
		}
	})
}

// An interval score is 2/α times the pinball losses of its two ends
// (Gneiting & Raftery 2007), and never below the width.
func TestIntervalScoreIsTwoPinballs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.Float64Range(-10, 10).Draw(t, "y")
		low := rapid.Float64Range(-10, 10).Draw(t, "low")
		high := low + rapid.Float64Range(0, 10).Draw(t, "width")
		level := rapid.Float64Range(.1, .98).Draw(t, "level")
		s, err := IntervalScore(y, low, high, level)
		if err != nil {
			t.Fatal(err)
		}
		a, err := Pinball(y, low, (1-level)/2)
		if err != nil {
			t.Fatal(err)
		}
		b, err := Pinball(y, high, (1+level)/2)
		if err != nil {
			t.Fatal(err)
		}
		if want := 2 / (1 - level) * (a + b); math.Abs(s-want) > 1e-9*(1+want) || s < high-low {
			t.Fatalf("score %v, from pinballs %v", s, want)
		}
	})
}

// The ranked probability score is the integral of (F(x) − 1(x ≥ y))², scales
// with the unit, and comes to the absolute error as the spread goes.
func TestCRPSLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		y := rapid.Float64Range(-3, 3).Draw(t, "y")
		sd := rapid.Float64Range(.2, 2).Draw(t, "sd")
		got, err := CRPSNormal(y, 0, sd)
		if err != nil {
			t.Fatal(err)
		}
		var sum float64
		const steps = 4000
		lo, hi := min(y, 0)-9*sd, max(y, 0)+9*sd
		h := (hi - lo) / steps
		for i := range steps {
			x := lo + (float64(i)+.5)*h
			f := math.Erfc(-x/sd/math.Sqrt2) / 2
			if x >= y {
				f--
			}
			sum += f * f * h
		}
		if math.Abs(got-sum) > 2*h {
			t.Fatalf("CRPS %v, integrated %v", got, sum)
		}
		scaled, err := CRPSNormal(7*y, 0, 7*sd)
		if err != nil || math.Abs(scaled-7*got) > 1e-9 {
			t.Fatalf("seven times as large: %v, %v", scaled, err)
		}
		sharp, err := CRPSNormal(y, 0, 1e-12)
		if err != nil || math.Abs(sharp-math.Abs(y)) > 1e-9 {
			t.Fatalf("without spread: %v, %v", sharp, err)
		}
	})
}

// No origin sees its own period, every row past the warm-up is forecast once.
func TestSplitsLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		steps := rapid.SliceOfN(rapid.IntRange(0, 2), 2, 40).Draw(t, "steps")
		periods := make([]int, len(steps))
		for i := 1; i < len(steps); i++ {
			periods[i] = periods[i-1] + steps[i]
		}
		splits, err := Splits(periods, rapid.IntRange(0, 10).Draw(t, "warmup"))
		if err != nil {
			return // all of one period, or all warm-up: nothing to see
		}
		for i, s := range splits {
			if periods[s.From-1] >= periods[s.From] || periods[s.From] != periods[s.To-1] {
				t.Fatalf("origin %v mixes periods", s)
			}
			if i > 0 && splits[i-1].To != s.From {
				t.Fatalf("rows between %v and %v are lost", splits[i-1], s)
			}
		}
		if splits[len(splits)-1].To != len(periods) {
			t.Fatal("the last rows are lost")
		}
	})
}

// Adjusted values are no smaller than the given, keep their order, do not
// depend on the order of asking, and stand to each other as published:
// BH ≤ Hochberg ≤ Holm ≤ Bonferroni, BH ≤ BY.
func TestMultiplicityLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.SliceOfN(rapid.Float64Range(0, 1), 1, 20).Draw(t, "p")
		adjusted := func(f func([]float64) ([]float64, error), p []float64) []float64 {
			out, err := f(p)
			if err != nil {
				t.Fatal(err)
			}
			return out
		}
		bh, hochberg := adjusted(BenjaminiHochberg, p), adjusted(Hochberg, p)
		holm, bonferroni, by := adjusted(Holm, p), adjusted(Bonferroni, p), adjusted(BenjaminiYekutieli, p)
		const e = 1e-12
		for i := range p {
			if bh[i] < p[i] || hochberg[i] < bh[i]-e || holm[i] < hochberg[i]-e || bonferroni[i] < holm[i]-e || by[i] < bh[i] || bonferroni[i] > 1 || by[i] > 1 {
				t.Fatalf("p %v: BH %v, Hochberg %v, Holm %v, Bonferroni %v, BY %v", p[i], bh[i], hochberg[i], holm[i], bonferroni[i], by[i])
			}
			for j := range p {
				if p[i] < p[j] && (bh[i] > bh[j] || holm[i] > holm[j] || by[i] > by[j]) {
					t.Fatal("the order of the p-values is lost")
				}
			}
		}
		backwards := slices.Clone(p)
		slices.Reverse(backwards)
		again := adjusted(Holm, backwards)
		slices.Reverse(again)
		if !slices.Equal(again, holm) {
			t.Fatal("the order of asking matters")
		}
	})
}

func drawLine(t *rapid.T, name string) ExactLine {
	return ExactLine{
		Quantity: rapid.Int64Range(0, 500_000).Draw(t, name+" quantity"),
		Price:    rapid.Int64Range(-100_000, 3_000_000).Draw(t, name+" price"),
	}
}

func (l ExactLine) float() Line {
	return Line{float64(l.Quantity) / 1000, float64(l.Price) / 10_000}
}

// Cents add up, and no part is a cent from the same in floating point.
func TestVarianceInCents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		actual, standard := drawLine(t, "actual"), drawLine(t, "standard")
		c, err := PriceUsageCents(actual, standard)
		if err != nil {
			t.Fatal(err)
		}
		v, err := PriceUsage(actual.float(), standard.float())
		if err != nil {
			t.Fatal(err)
		}
		within(t, "price", c.Price, v.Price)
		within(t, "usage", c.Usage, v.Usage)
		within(t, "total", c.Total, v.Total)
		if c.Price+c.Usage != c.Total {
			t.Fatalf("%+v does not add up", c)
		}
	})
}

func within(t *rapid.T, name string, cents int64, dollars float64) {
	t.Helper()
	if math.Abs(float64(cents)-100*dollars) > 1+1e-6 {
		t.Fatalf("%s: %d cents for $%v", name, cents, dollars)
	}
}

// The four causes add up to the total, and those of quantity to the usage.
func TestMaterialInCents(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		q := rapid.Int64Range(0, 200_000)
		m := Material{
			Planned: q.Draw(t, "planned"), Built: q.Draw(t, "built"), Used: q.Draw(t, "used"), Delivered: q.Draw(t, "delivered"),
			StandardPrice: rapid.Int64Range(0, 3_000_000).Draw(t, "standard"), ActualPrice: rapid.Int64Range(0, 3_000_000).Draw(t, "actual"),
		}
		v, err := m.Variance()
		if err != nil {
			t.Fatal(err)
		}
		if v.Price+v.Geometry+v.Use+v.Leftover != v.Total {
			t.Fatalf("%+v does not add up", v)
		}
		two, err := PriceUsageCents(ExactLine{m.Delivered, m.ActualPrice}, ExactLine{m.Planned, m.StandardPrice})
		if err != nil {
			t.Fatal(err)
		}
		if v.Total != two.Total || math.Abs(float64(v.Geometry+v.Use+v.Leftover-two.Usage)) > 3 {
			t.Fatalf("four parts %+v, two %+v", v, two)
		}
	})
}

// Bennet: cents add up; looking back from the later month turns every sign;
// a thing that does not change changes neither price nor quantity.
func TestBennetLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(1, 5).Draw(t, "things")
		var before, after []ExactLine
		var b, a []Line
		for range n {
			before, after = append(before, drawLine(t, "before")), append(after, drawLine(t, "after"))
			b, a = append(b, before[len(before)-1].float()), append(a, after[len(after)-1].float())
		}
		cents, err := BennetCents(before, after)
		if err != nil {
			t.Fatal(err)
		}
		c, err := Bennet(b, a)
		if err != nil {
			t.Fatal(err)
		}
		back, err := Bennet(a, b)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "price", cents.Price, c.Price)
		within(t, "volume", cents.Volume, c.Volume)
		within(t, "mix", cents.Mix, c.Mix)
		within(t, "total", cents.Total, c.Total)
		if cents.Price+cents.Volume+cents.Mix != cents.Total {
			t.Fatalf("%+v does not add up", cents)
		}
		scale := 1e-9 * (1 + math.Abs(c.Price) + math.Abs(c.Volume) + math.Abs(c.Mix))
		if math.Abs(c.Price+back.Price) > scale || math.Abs(c.Volume+back.Volume) > scale || math.Abs(c.Mix+back.Mix) > scale {
			t.Fatalf("there %+v, back %+v", c, back)
		}
		still, err := Bennet(b, b)
		if err != nil || still.Price != 0 || still.Quantity != 0 || still.Total != 0 {
			t.Fatalf("nothing moved: %+v, %v", still, err)
		}
	})
}

// Parts of any number of cents, rounded, add up and stay within a cent.
func TestApportionLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		nums := rapid.SliceOfN(rapid.Int64Range(-10_000, 10_000), 1, 12).Draw(t, "numerators")
		den := rapid.Int64Range(1, 97).Draw(t, "denominator")
		sum := new(big.Rat)
		var parts []*big.Rat
		for _, n := range nums {
			parts = append(parts, big.NewRat(n, den))
			sum.Add(sum, parts[len(parts)-1])
		}
		total, err := wholeCents(sum)
		if err != nil {
			t.Fatal(err)
		}
		got, err := Apportion(total, parts)
		if err != nil {
			t.Fatal(err)
		}
		var check int64
		for i, c := range got {
			check += c
			exact, _ := parts[i].Float64()
			if math.Abs(float64(c)-exact) >= 1+1e-9 {
				t.Fatalf("part %v became %d", exact, c)
			}
		}
		if check != total {
			t.Fatalf("parts of %d add up to %d", total, check)
		}
	})
}

// A rule against itself differs by nothing; against one that always loses a
// unit more, by that unit, settled.
func TestPairedDifferenceLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SliceOfN(rapid.Float64Range(0, 9), 4, 30).Draw(t, "losses")
		b, months := make([]float64, len(a)), make([]int, len(a))
		for i := range a {
			b[i], months[i] = a[i]+1, i/2
		}
		same, err := PairedDifference(a, a, months, 99, 4, .9)
		if err != nil {
			t.Fatal(err)
		}
		if same.Value != 0 || same.Settled {
			t.Fatalf("a rule against itself: %+v", same)
		}
		worse, err := PairedDifference(a, b, months, 99, 4, .9)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(worse.Value+1) > 1e-12 || !worse.Settled || worse.High > -.999 {
			t.Fatalf("a unit less each time: %+v", worse)
		}
	})
}
