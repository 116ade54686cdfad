package bid

import (
	"errors"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	gstat "gonum.org/v1/gonum/stat"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat"
	"pourback/ingest/record"
)

// Lean is how far the next bid leans by how past ones turned out: their jobs bid on
// anew by today's method, each on what was known the day before its bid was made, and
// held against what they then cost. What older methods had wrong leans on nothing.
type Lean struct {
	Bids  int           `json:"bids"`       // bid on anew
	Over  int           `json:"cost_more"`  // of them came to more than the bid's middle value
	Raw   float64       `json:"mean_share"` // mean of actual over that, less 1
	Share figure.Figure `json:"share"`      // what is added to the cost: the mean drawn to nothing; not known where too few

	mean, sd float64 // of the logarithm
}

// leanBids is how many of the latest bids are made anew, leanDraws how often each job
// is drawn: enough for its middle value.
const (
	leanBids  = 12
	leanDraws = 1000
)

// LeanOf bids anew on the jobs of the latest kept bids that count, with known giving
// the history as of a day, of several days at once. Bids that today's check would
// refuse are left out.
func LeanOf(h *record.History, kept []Kept, opt setting.Options, known func(record.Date) (*record.History, error)) (Lean, error) {
	var all []rebid // the latest first
	for i, o := range slices.Backward(Outcomes(h, kept).Outcomes) {
		if actual := o.actual(Costs); o.Counted && actual.OK && actual.V > 0 && o.But.Kind == "" {
			all = append(all, rebid{kept: &kept[i], actual: actual.V})
		}
	}
	var off, apart []float64
	for len(off) < leanBids && len(all) > 0 {
		n := min(leanBids-len(off), len(all))
		if err := bidAnew(all[:n], opt, known); err != nil {
			return Lean{}, err
		}
		for _, r := range all[:n] {
			if r.cost.P10 > 0 {
				off = append(off, math.Log(r.actual/r.cost.P50))
				const middle80 = 2.563 // standard deviations, of a normal law
				apart = append(apart, math.Pow(math.Log(r.cost.P90/r.cost.P10)/middle80, 2))
			}
		}
		all = all[n:]
	}
	opt, err := opt.Complete()
	return leanOf(off, apart, opt.Bid.LeanSD, opt.Level), err
}

// rebid is a kept bid, made anew.
type rebid struct {
	kept   *Kept
	actual float64 // what its job cost
	cost   Spread  // by today's method; none where the bid cannot be made
}

// bidAnew makes bids anew, those of a day from one history and the days side by side.
func bidAnew(bids []rebid, opt setting.Options, known func(record.Date) (*record.History, error)) error {
	var days [][]rebid
	for from, to := 0, 1; to <= len(bids); to++ {
		if to == len(bids) || bids[to].kept.MadeOn != bids[from].kept.MadeOn {
			days, from = append(days, bids[from:to]), to
		}
	}
	errs := make([]error, len(days))
	stat.InParallel(len(days), func(k int) {
		var then *record.History
		if then, errs[k] = known(days[k][0].kept.MadeOn - 1); errs[k] != nil {
			return
		}
		for i := range days[k] {
			spec := days[k][i].kept.Bid.Spec
			spec.Draws = leanDraws
			if b, err := makeBid(then, spec, opt, Lean{Share: figure.Unknown(TooFewRebid{Least: figure.LeastForRate})}, true); err == nil {
				days[k][i].cost = b.Cost.Total
			}
		}
	})
	return errors.Join(errs...)
}

// leanOf draws the mean of the logarithms to nothing, where bids run by N(0, sd²)
// beforehand (normal-normal, Raiffa & Schlaifer 1961 ch. 11). They scatter as their
// own ranges say or, where that is more, as they did.
func leanOf(off, apart []float64, sd, level float64) Lean {
	n := len(off)
	l := Lean{Bids: n, Share: figure.Unknown(TooFewRebid{N: n, Least: figure.LeastForRate})}
	if n == 0 {
		return l
	}
	for _, e := range off {
		if e > 0 {
			l.Over++
		}
	}
	mean := figure.SumOf(off) / float64(n)
	l.Raw = math.Expm1(mean)
	if n < figure.LeastForRate || sd == 0 {
		return l
	}
	scatter := max(figure.SumOf(apart)/float64(n), gstat.Variance(off, nil))
	precision := 1/(sd*sd) + float64(n)/scatter
	l.mean, l.sd = float64(n)/scatter*mean/precision, 1/math.Sqrt(precision)
	z := distuv.UnitNormal.Quantile((1 + level) / 2)
	l.Share = figure.Figure{Value: math.Expm1(l.mean), Low: math.Expm1(l.mean - z*l.sd), High: math.Expm1(l.mean + z*l.sd), Level: level, N: n,
		Method: "mean log ratio of actual to bid, drawn to nothing", Bounded: true, OK: true}
	return l
}

// actual is what the job came to in a quantity.
func (o *Outcome) actual(what Quantity) record.Number {
	for _, l := range o.Lines {
		if l.What == what {
			return l.Actual
		}
	}
	return record.Number{}
}
