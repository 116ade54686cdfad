package analysis

import (
	"cmp"
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// bidCell is a kind of job whose bids are held against what came of them, in
// dollars: gaps are bid cost − cost.
type bidCell struct {
	name              string
	gaps, revenues    []float64
	squares           [3]float64 // Σ gap², Σ gap·revenue, Σ revenue²
	yearRevenue       float64
	ratio, se         float64 // Σ gaps/Σ revenues
	restRatio, restSE float64 // of all other jobs
	p                 float64 // that the cell and the rest are alike
}

// bidFindings look through kinds of job, by use and by size, for one whose bids
// come out worse than the others'. The dollars are of the estimate drawn
// towards the other kinds (normal levels with a half-Cauchy spread), against
// the bids of all other jobs.
func bidFindings(y *lastYear) []candidate {
	if y.f.Margin == nil {
		return nil
	}
	jobs := y.f.Margin.bidJobs()
	var out []candidate
	for _, look := range []struct {
		says string
		name func(j *MarginJob) string
	}{
		{"%s jobs", func(j *MarginJob) string { return j.Use }},
		{"jobs %s", thirdByArea(jobs)},
	} {
		cells := y.compareBids(jobs, look.name)
		for i, law := range shrinkBids(cells) {
			out = append(out, cells[i].candidate(y, law, capital(fmt.Sprintf(look.says, cells[i].name))))
		}
	}
	return out
}

// bidJobs are the jobs with a bid and a price to compare it with.
func (m *Margin) bidJobs() []*MarginJob {
	var jobs []*MarginJob
	for i := range m.Jobs {
		if j := &m.Jobs[i]; j.BidCost.OK && j.Revenue > 0 {
			jobs = append(jobs, j)
		}
	}
	return jobs
}

// thirdByArea names the third of the jobs by area that one belongs to.
func thirdByArea(jobs []*MarginJob) func(*MarginJob) string {
	areas := make([]float64, len(jobs))
	for i, j := range jobs {
		areas[i] = j.AreaSqft
	}
	third, err := interval.Quantiles(areas, 1.0/3, 2.0/3)
	return func(j *MarginJob) string {
		switch {
		case err != nil || third[0] == third[1]:
			return "unknown"
		case j.AreaSqft < third[0]:
			return fmt.Sprintf("under %.0f ft²", third[0])
		case j.AreaSqft < third[1]:
			return fmt.Sprintf("of %.0f to %.0f ft²", third[0], third[1])
		}
		return fmt.Sprintf("of %.0f ft² and more", third[1])
	}
}

// compareBids makes a cell of each kind with jobs enough and compares it with
// the rest.
func (y *lastYear) compareBids(jobs []*MarginJob, name func(*MarginJob) string) []bidCell {
	by := groupBy(len(jobs), func(i int) (string, bool) { n := name(jobs[i]); return n, n != "unknown" })
	var all bidCell
	for _, j := range jobs {
		all.add(j, y.from)
	}
	var cells []bidCell
	for _, kind := range by.sorted(cmp.Compare) {
		c := bidCell{name: kind}
		for _, i := range by.rows[kind] {
			c.add(jobs[i], y.from)
		}
		if len(c.gaps) >= leastForRate && len(all.gaps)-len(c.gaps) >= leastForRate && c.compare(&all) {
			cells = append(cells, c)
		}
	}
	return cells
}

func (c *bidCell) add(j *MarginJob, from record.Date) {
	gap, revenue := (j.BidCost.V - j.Cost).Dollars(), j.Revenue.Dollars()
	c.gaps, c.revenues = append(c.gaps, gap), append(c.revenues, revenue)
	for k, v := range [3]float64{gap * gap, gap * revenue, revenue * revenue} {
		c.squares[k] += v
	}
	if j.Last > from {
		c.yearRevenue += revenue
	}
}

// compare holds the cell against the rest of all: Welch's comparison of two
// ratios of totals (Cochran 1977 §6.4), with the degrees of freedom of the
// smaller, which errs on the quiet side. It is false where there is no spread
// to hold it against.
func (c *bidCell) compare(all *bidCell) bool {
	var err error
	if c.ratio, c.se, err = interval.RatioSE(c.gaps, c.revenues); err != nil || !(c.se > 0) {
		return false
	}
	n, m := float64(len(c.gaps)), float64(len(all.gaps)-len(c.gaps))
	revenue := sumOf(all.revenues) - sumOf(c.revenues)
	if !(revenue > 0) {
		return false
	}
	r := (sumOf(all.gaps) - sumOf(c.gaps)) / revenue
	about := func(s [3]float64) float64 { return s[0] - 2*r*s[1] + r*r*s[2] } // Σ(gap − r·revenue)²
	c.restRatio = r
	c.restSE = math.Sqrt(max(0, about(all.squares)-about(c.squares))/((m-1)*m)) / (revenue / m)
	t := math.Abs(c.ratio-r) / math.Hypot(c.se, c.restSE)
	c.p = min(1, 2*distuv.StudentsT{Mu: 0, Sigma: 1, Nu: min(n, m) - 1}.Survival(t))
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

// candidate puts a cell in dollars: what its bids fall short of the others'.
func (c *bidCell) candidate(y *lastYear, law pool.Mixture, who string) candidate {
	short := func(level float64) float64 { return (c.restRatio - law.Quantile(level)) * c.yearRevenue * y.scale }
	worth := Figure{Value: (c.restRatio - law.Mean()) * c.yearRevenue * y.scale, Low: short((1 + y.level) / 2), High: short((1 - y.level) / 2),
		Level: y.level, N: len(c.gaps), Method: "bid cost less cost over revenue, drawn towards the other kinds, against the other jobs × revenue of the last twelve months", Bounded: true, known: true}
	return compared(gain("margin", "kinds of bid", worth, fmt.Sprintf("%s earned %s than bid, all others %s (%s): %s; raise the hours and allowances in such bids.",
		who, centsAgainst(law.Mean()), centsAgainst(c.restRatio), countOf(len(c.gaps), "job"), y.aYear(worth))), law.CDF(c.restRatio), c.p)
}

// centsAgainst is a gap in cents of a dollar: "6.1 cents of each dollar less".
func centsAgainst(gap float64) string {
	s := fmt.Sprintf("%.1f cents of each dollar ", math.Abs(100*gap))
	if gap < 0 {
		return s + "less"
	}
	return s + "more"
}
