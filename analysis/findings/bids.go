package findings

import (
	"cmp"
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
	kind              bidKind
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
	for _, kindOf := range []func(j *money.Job) (bidKind, bool){
		func(j *money.Job) (bidKind, bool) { return bidKind{use: j.Use}, j.Use != "unknown" },
		thirdByArea(jobs),
	} {
		cells := y.compareBids(jobs, kindOf)
		for i, law := range shrinkBids(cells) {
			out = append(out, cells[i].candidate(y, law))
		}
	}
	return out
}

// bidKind is a use, or a range of areas in ft² of which 0 is no limit.
type bidKind struct {
	use      string
	from, to float64
}

// compareKinds is the order in which kinds are added up, which decides the last
// digits: uses by name, and of the thirds the smallest, which has no lower limit,
// behind the others.
func compareKinds(a, b bidKind) int {
	low := func(k bidKind) float64 {
		if k.from == 0 {
			return math.Inf(1)
		}
		return k.from
	}
	return cmp.Or(cmp.Compare(a.use, b.use), cmp.Compare(low(a), low(b)))
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

// thirdByArea says which third of the jobs by area one belongs to, where areas
// differ enough for thirds.
func thirdByArea(jobs []*money.Job) func(*money.Job) (bidKind, bool) {
	areas := make([]float64, len(jobs))
	for i, j := range jobs {
		areas[i] = j.AreaSqft
	}
	third, err := interval.Quantiles(areas, 1.0/3, 2.0/3)
	if err != nil || third[0] == third[1] {
		return func(*money.Job) (bidKind, bool) { return bidKind{}, false }
	}
	return func(j *money.Job) (bidKind, bool) {
		switch {
		case j.AreaSqft < third[0]:
			return bidKind{to: third[0]}, true
		case j.AreaSqft < third[1]:
			return bidKind{from: third[0], to: third[1]}, true
		}
		return bidKind{from: third[1]}, true
	}
}

// compareBids makes a cell of each kind with jobs enough and compares it with
// the rest.
func (y *lastYear) compareBids(jobs []*money.Job, kindOf func(*money.Job) (bidKind, bool)) []bidCell {
	var all bidCell
	kinds := map[bidKind]*bidCell{}
	for _, j := range jobs {
		all.add(j, y.from)
		kind, known := kindOf(j)
		if !known {
			continue
		}
		c := kinds[kind]
		if c == nil {
			c = &bidCell{kind: kind}
			kinds[kind] = c
		}
		c.add(j, y.from)
	}
	var cells []bidCell
	for _, kind := range slices.SortedFunc(maps.Keys(kinds), compareKinds) {
		if c := kinds[kind]; c.n >= figure.LeastForRate && all.n-c.n >= figure.LeastForRate && c.compare(&all) {
			cells = append(cells, *c)
		}
	}
	return cells
}

func (c *bidCell) add(j *money.Job, from record.Date) {
	gap, revenue := j.AgainstBid().Dollars(), j.Revenue.Dollars()
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
func (c *bidCell) candidate(y *lastYear, law pool.Mixture) candidate {
	short := func(ratio float64) float64 { return (c.restRatio - ratio) * c.yearRevenue * y.scale }
	worth := figure.Total(short(law.Mean()), int(c.n), "bid cost less cost over revenue, drawn towards the other kinds, against the other jobs × revenue of the last twelve months")
	sure := law.CDF(c.restRatio)
	if worth.Value >= LeastWorth && sure >= LeastSure {
		worth.Low, worth.High = short(law.Quantile((1+y.level)/2)), short(law.Quantile((1-y.level)/2))
		worth.Level, worth.Bounded = y.level, true
	}
	told := KindOfBid{Use: c.kind.use, From: c.kind.from, To: c.kind.to, Gap: law.Mean(), Others: c.restRatio, Jobs: int(c.n)}
	return compared(gain("margin", "kinds of bid", worth, told), sure, c.p)
}
