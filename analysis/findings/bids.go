package findings

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/figure"
	"pourback/analysis/money"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// bidCell adds up the jobs of a kind, whose bids are held against what came of
// them: gaps are bid cost − cost, in dollars as all else.
type bidCell struct {
	name              string
	n                 float64
	gaps, revenue     float64    // sums
	squares           [3]float64 // Σ gap², Σ gap·revenue, Σ revenue²
	yearRevenue       float64
	ratio, se, restSE float64 // Σ gaps/Σ revenues
	restRatio         float64 // of all other jobs
	p                 float64 // of so large a difference, were the cell and the rest alike
}

// bidFindings look through kinds of job, by use and by size, for one whose bids
// come out worse than the others'. The dollars are of the estimate drawn
// towards the other kinds (normal levels with a half-Cauchy spread), against
// the bids of all other jobs.
func bidFindings(y *lastYear) []candidate {
	if y.f.Margin == nil {
		return nil
	}
	jobs := bidJobs(y.f.Margin)
	var out []candidate
	for _, look := range []struct {
		says string
		name func(j *money.Job) string
	}{
		{"%s jobs", func(j *money.Job) string { return j.Use }},
		{"jobs %s", thirdByArea(jobs)},
	} {
		cells := y.compareBids(jobs, look.name)
		for i, law := range shrinkBids(cells) {
			out = append(out, cells[i].candidate(y, law, figure.Capital(fmt.Sprintf(look.says, cells[i].name))))
		}
	}
	return out
}

// bidJobs are the jobs with a bid and a price to compare it with.
func bidJobs(m *money.Margin) []*money.Job {
	var jobs []*money.Job
	for i := range m.Jobs {
		if j := &m.Jobs[i]; j.BidCost.OK && j.Revenue > 0 {
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// thirdByArea names the third of the jobs by area that one belongs to.
func thirdByArea(jobs []*money.Job) func(*money.Job) string {
	areas := make([]float64, len(jobs))
	for i, j := range jobs {
		areas[i] = j.AreaSqft
	}
	third, err := interval.Quantiles(areas, 1.0/3, 2.0/3)
	if err != nil || third[0] == third[1] {
		return func(*money.Job) string { return "unknown" }
	}
	small, large := fmt.Sprintf("under %.0f ft²", third[0]), fmt.Sprintf("of %.0f ft² and more", third[1])
	middle := fmt.Sprintf("of %.0f to %.0f ft²", third[0], third[1])
	return func(j *money.Job) string {
		switch {
		case j.AreaSqft < third[0]:
			return small
		case j.AreaSqft < third[1]:
			return middle
		}
		return large
	}
}

// compareBids makes a cell of each kind with jobs enough and compares it with
// the rest.
func (y *lastYear) compareBids(jobs []*money.Job, name func(*money.Job) string) []bidCell {
	var all bidCell
	kinds := map[string]*bidCell{}
	for _, j := range jobs {
		all.add(j, y.from)
		kind := name(j)
		c := kinds[kind]
		if c == nil {
			c = &bidCell{name: kind}
			kinds[kind] = c
		}
		c.add(j, y.from)
	}
	delete(kinds, "unknown")
	var cells []bidCell
	for _, kind := range slices.Sorted(maps.Keys(kinds)) {
		if c := kinds[kind]; c.n >= figure.LeastForRate && all.n-c.n >= figure.LeastForRate && c.compare(&all) {
			cells = append(cells, *c)
		}
	}
	return cells
}

func (c *bidCell) add(j *money.Job, from record.Date) {
	gap, revenue := (j.BidCost.V - j.Cost).Dollars(), j.Revenue.Dollars()
	c.n++
	c.gaps += gap
	c.revenue += revenue
	c.squares[0] += gap * gap
	c.squares[1] += gap * revenue
	c.squares[2] += revenue * revenue
	if j.Last > from {
		c.yearRevenue += revenue
	}
}

// less is the sums of all jobs but those of c.
func (all *bidCell) less(c *bidCell) bidCell {
	rest := bidCell{n: all.n - c.n, gaps: all.gaps - c.gaps, revenue: all.revenue - c.revenue}
	for k := range rest.squares {
		rest.squares[k] = all.squares[k] - c.squares[k]
	}
	return rest
}

// estimate is the ratio of totals and its standard error √[Σ(gap −
// r·revenue)²/((n−1)n)]/mean revenue (Cochran 1977 §6.4), from sums. It is false
// where there is no spread, to within what sums can tell.
func (c *bidCell) estimate() (r, se float64, ok bool) {
	r = c.gaps / c.revenue
	about := c.squares[0] - 2*r*c.squares[1] + r*r*c.squares[2]
	if !(c.revenue > 0) || !(about > 1e-9*c.squares[0]) {
		return 0, 0, false
	}
	return r, math.Sqrt(about/((c.n-1)*c.n)) / (c.revenue / c.n), true
}

// compare holds the cell against the rest of all: Welch's comparison of two
// means, with the degrees of freedom of the smaller group, which errs on the
// quiet side.
func (c *bidCell) compare(all *bidCell) bool {
	rest := all.less(c)
	var ok, okRest bool
	c.ratio, c.se, ok = c.estimate()
	c.restRatio, c.restSE, okRest = rest.estimate()
	if !ok || !okRest {
		return false
	}
	t := math.Abs(c.ratio-c.restRatio) / math.Hypot(c.se, c.restSE)
	c.p = min(1, 2*distuv.StudentsT{Mu: 0, Sigma: 1, Nu: min(c.n, rest.n) - 1}.Survival(t))
	return true
}

// bidSpread is the median of the spread between kinds of job believed before
// the records: five cents of a dollar.
const bidSpread = 0.05

// shrinkBids are the laws of the cells' gaps, each drawn towards the others, in
// the cells' order. They are none where there are fewer than two cells.
func shrinkBids(cells []bidCell) []pool.Mixture {
	ys, ses := make([]float64, len(cells)), make([]float64, len(cells))
	for i, c := range cells {
		ys[i], ses[i] = c.ratio, c.se
	}
	post, err := pool.HalfCauchy(ys, ses, bidSpread, math.Inf(1))
	if len(cells) < 2 || err != nil {
		return nil
	}
	laws := make([]pool.Mixture, len(cells))
	for i := range cells {
		if laws[i], err = post.Theta(i); err != nil {
			return nil
		}
	}
	return laws
}

// candidate puts a cell in dollars: what its bids fall short of the others'. Of
// one that cannot be told its limits are not worked out: among thousands of kinds
// they are what takes the time.
func (c *bidCell) candidate(y *lastYear, law pool.Mixture, who string) candidate {
	short := func(ratio float64) float64 { return (c.restRatio - ratio) * c.yearRevenue * y.scale }
	worth := figure.Total(short(law.Mean()), int(c.n), "bid cost less cost over revenue, drawn towards the other kinds, against the other jobs × revenue of the last twelve months")
	sure := law.CDF(c.restRatio)
	if worth.Value >= LeastWorth && sure >= LeastSure {
		worth.Low, worth.High = short(law.Quantile((1+y.level)/2)), short(law.Quantile((1-y.level)/2))
		worth.Level, worth.Bounded = y.level, true
	}
	return compared(gain("margin", "kinds of bid", worth, fmt.Sprintf("%s earned %s than bid, all others %s (%s): %s; raise the hours and allowances in such bids.",
		who, centsAgainst(law.Mean()), centsAgainst(c.restRatio), figure.CountOf(int(c.n), "job"), y.aYear(worth))), sure, c.p)
}

// centsAgainst is a gap in cents of a dollar: "6.1 cents of each dollar less".
func centsAgainst(gap float64) string {
	s := fmt.Sprintf("%.1f cents of each dollar ", math.Abs(100*gap))
	if gap < 0 {
		return s + "less"
	}
	return s + "more"
}
