package work

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
	"pourback/analysis/stat/resample"
	"pourback/ingest/record"
)

// HoursModel predicts the person-hours of a placement from the company's own:
//
//	log hours = β'x + u_crew + e
//
// with x an intercept, log(area/400 ft²), pumped, mesh, rebar, fiber,
// log(thickness/4 in), the learning of a new crew, heat, and one column for each
// use that has records enough, fitted by the engine of [pool]. Crew size is left
// out on purpose: it answers the size of the job.
type HoursModel struct {
	Post  *pool.Posterior
	Crews []string       // by group number, in the order of the alphabet
	uses  []string       // by column after the others
	ofUse []int          // placements of each
	usual string         // the most frequent of the uses, "" where none has a column
	began map[string]int // placements of a new crew so far
	heat  float64        // mean over the placements with their air temperature
	hot   int            // placements in air above WarmF
	n     int

	mean []float64 // posterior means of β

	borrows map[string]map[string]float64 // shares of uses, by use that the records do not hold
	bulge   float64                       // half the variance of an outcome: exp of it leads from the median to the mean
}

// HoursJob is what the hours depend on.
type HoursJob struct {
	Use                   string // "" or one without a column is an average use
	AreaSqft, ThicknessIn float64
	Pumped                bool
	Reinforcement         string        // words joined by +
	AirTempF              record.Number // of the company's mean heat where missing
	Crew                  string        // "" or one not in the records is an average crew
}

// The columns of the model that are asked for by name; those of the uses follow.
const (
	learningColumn = 7
	heatColumn     = 8
	hoursColumns   = 9
)

// WarmF is the air temperature in °F from which heat counts, in steps of 10 °F.
const WarmF = 80

const (
	Learned = 25 // placements after which a new crew counts as settled
	newCrew = 90 // days after the first pour on record from which a crew's first is its first
)

// FitHours fits the model to the placements with area, thickness and hours.
func FitHours(h *record.History, priors HoursPriors) (*HoursModel, error) {
	return FitHoursRows(h, HoursRows(h), priors)
}

// fitHours fits it to some of them, in the order of their pours.
func FitHoursRows(h *record.History, rows []int, priors HoursPriors) (*HoursModel, error) {
	m := &HoursModel{began: map[string]int{}}
	if len(rows) == 0 {
		return nil, fmt.Errorf("no placement has area, thickness and labor hours: %w", stat.ErrNoData)
	}
	m.n = len(rows)
	d := m.data(h, rows)
	post, err := priors.engine(len(m.uses)).Fit(d)
	return m.fitted(post, err)
}

// HoursBefore is the model before any record, by its beliefs alone.
func HoursBefore(priors HoursPriors) (*HoursModel, error) {
	post, err := priors.engine(0).Before()
	return (&HoursModel{began: map[string]int{}}).fitted(post, err)
}

// fitted makes the posterior the model's own.
func (m *HoursModel) fitted(post *pool.Posterior, err error) (*HoursModel, error) {
	if err != nil {
		return nil, err
	}
	m.Post, m.mean = post, make([]float64, len(post.Model.Mean))
	for _, cell := range m.Post.Cells {
		for j, b := range cell.Beta {
			m.mean[j] += cell.Weight * b
		}
	}
	m.bulge = m.Post.Variance(0) / 2
	return m, nil
}

// StandardHours are the hours to expect of an average, settled crew: exp(β'x +
// v/2) at the posterior mean of β, v the variance of an outcome. It answers for
// one job among a million, where ExpectedHours weighs the whole grid.
func (m *HoursModel) StandardHours(j HoursJob) float64 {
	var x [hoursColumns]float64
	m.columns(&x, j, Learned)
	log := m.bulge
	for k, v := range x {
		log += m.mean[k] * v
	}
	if k := slices.Index(m.uses, j.Use); k >= 0 {
		log += m.mean[hoursColumns+k]
	}
	return math.Exp(log)
}

// HoursRows are the placements that can be used, in the order of their pours.
func HoursRows(h *record.History) []int {
	rows := figure.Where(h.Placements.Len(), func(i int) bool { return Timed(h.Placements.At(i)) })
	order := figure.ByDay(len(rows), func(k int) record.Date { return h.Placements.PlacedOn.At(rows[k]) })
	for k, at := range order {
		order[k] = rows[at]
	}
	return order
}

// Timed says whether a placement tells of hours.
func Timed(p record.PlacementRow) bool {
	return p.LaborHours().Or(0) > 0 && p.AreaSqft().Or(0) > 0 && p.ThicknessIn().Or(0) > 0
}

// data lays the rows out for the engine, numbering the crews by name.
func (m *HoursModel) data(h *record.History, rows []int) pool.Data {
	crew := figure.LabelsIn(&h.Placements.Crew, len(rows), func(k int) int { return rows[k] })
	use := figure.LabelsIn(&h.Placements.Use, len(rows), func(k int) int { return rows[k] })
	m.Crews = crew.Names
	m.take(use)
	m.warm(h, rows)
	d := pool.Data{X: make(regress.Design, hoursColumns+len(m.uses)), Y: make([]float64, len(rows)), Group: crew.Of}
	for j := range d.X {
		d.X[j] = make([]float64, len(rows))
	}
	practice := m.practices(h, crew)
	resample.Blocks(len(rows), func() func(block, lo, hi int) {
		var x [hoursColumns]float64
		return func(_, lo, hi int) {
			for k := lo; k < hi; k++ {
				p := h.Placements.At(rows[k])
				m.columns(&x, JobOf(p), practice[k])
				for j, v := range x {
					d.X[j][k] = v
				}
				d.Y[k] = math.Log(p.LaborHours().V)
			}
		}
	})
	for c, name := range m.uses {
		number, _ := slices.BinarySearch(use.Names, name)
		for k, u := range use.Of {
			if u == number {
				d.X[hoursColumns+c][k] = 1
			}
		}
	}
	return d
}

// practices are, for each row in the order of their pours, the how-manieth
// placement of its crew it was; of settled crews, enough.
func (m *HoursModel) practices(h *record.History, crew figure.Labels) []int {
	novices := novices(h)
	isNew := make([]bool, len(m.Crews))
	for g, name := range m.Crews {
		isNew[g] = novices[name]
	}
	seen, out := make([]int, len(m.Crews)), make([]int, len(crew.Of))
	for k, g := range crew.Of {
		seen[g]++
		out[k] = Learned
		if isNew[g] {
			out[k] = seen[g]
		}
	}
	for g, name := range m.Crews {
		if isNew[g] {
			m.began[name] = seen[g]
		}
	}
	return out
}

// take gives a column to each use with records enough. One use alone has
// nothing to be compared with.
func (m *HoursModel) take(use figure.Labels) {
	if m.uses = figure.Frequent(use, "unknown"); len(m.uses) < 2 {
		m.uses = nil
		return
	}
	counts := use.Counts()
	most := 0
	for _, name := range m.uses {
		k, _ := slices.BinarySearch(use.Names, name)
		m.ofUse = append(m.ofUse, counts[k])
		if counts[k] > most {
			m.usual, most = name, counts[k]
		}
	}
}

// heatOf is by how much the air was warmer than WarmF, in steps of 10 °F.
func heatOf(airF float64) float64 { return max(0, airF-WarmF) / 10 }

// warm finds the company's usual heat.
func (m *HoursModel) warm(h *record.History, rows []int) {
	sum, n := 0.0, 0
	for _, i := range rows {
		if air := h.Placements.At(i).AirTempF(); air.OK {
			sum += heatOf(air.V)
			n++
			if air.V > WarmF {
				m.hot++
			}
		}
	}
	m.heat = sum / float64(max(n, 1))
}

func JobOf(p record.PlacementRow) HoursJob {
	return HoursJob{Use: figure.OrUnknown(p.Use()), AreaSqft: p.AreaSqft().V, ThicknessIn: p.ThicknessIn().V, Pumped: p.Pumped(), Reinforcement: p.Reinforcement(),
		AirTempF: p.AirTempF(), Crew: p.Crew()}
}

// columns writes the job's x but for its use; practice is the crew's
// how-manieth placement.
func (m *HoursModel) columns(x *[hoursColumns]float64, j HoursJob, practice int) {
	is := func(yes bool) float64 {
		if yes {
			return 1
		}
		return 0
	}
	has := func(word string) float64 { return is(strings.Contains(j.Reinforcement, word)) }
	heat := m.heat
	if j.AirTempF.OK {
		heat = heatOf(j.AirTempF.V)
	}
	*x = [hoursColumns]float64{1, math.Log(j.AreaSqft / 400), is(j.Pumped), has("mesh"), has("rebar"), has("fiber"),
		math.Log(j.ThicknessIn / 4), math.Log(float64(min(practice, Learned)) / Learned), heat}
}

// Row is the job's whole x.
func (m *HoursModel) Row(j HoursJob, practice int) []float64 {
	var x [hoursColumns]float64
	m.columns(&x, j, practice)
	out := append(x[:], make([]float64, len(m.uses))...)
	if k := slices.Index(m.uses, j.Use); k >= 0 {
		out[hoursColumns+k] = 1
	} else {
		for k, name := range m.uses {
			out[hoursColumns+k] = m.borrows[j.Use][name]
		}
	}
	return out
}

// Borrow has a use that the records do not hold take shares of how uses that they
// hold differ from the average.
func (m *HoursModel) Borrow(use string, shares map[string]float64) {
	if m.borrows == nil {
		m.borrows = map[string]map[string]float64{}
	}
	m.borrows[use] = shares
}

// novices are the crews whose first placement is in the records: it came well
// after the company's own first.
func novices(h *record.History) map[string]bool {
	crew := figure.LabelsIn(&h.Placements.Crew, h.Placements.Len(), func(i int) int { return i })
	first := make([]record.Date, len(crew.Names))
	var start record.Date
	for i, g := range crew.Of {
		on := h.Placements.At(i).PlacedOn()
		if first[g] == 0 || on < first[g] {
			first[g] = on
		}
		if i == 0 || on < start {
			start = on
		}
	}
	out := map[string]bool{}
	for g, name := range crew.Names {
		out[name] = name != "unknown" && first[g] >= start+newCrew
	}
	return out
}

// crew is the number of a crew, or -1 where it is not in the records.
func (m *HoursModel) crew(name string) int {
	if number, found := slices.BinarySearch(m.Crews, name); found {
		return number
	}
	return -1
}

// Next is the law of log hours of the next such job.
func (m *HoursModel) Next(j HoursJob) (pool.Mixture, error) {
	return m.Post.Predict(m.Row(j, m.Practice(j.Crew)+1), 0, m.crew(j.Crew))
}

// Level is the law of the log hours about which such jobs of the crew, or of an
// average one, scatter.
func (m *HoursModel) Level(j HoursJob) (pool.Mixture, error) {
	x := m.Row(j, m.Practice(j.Crew))
	if crew := m.crew(j.Crew); crew >= 0 {
		return m.Post.Line(x, crew)
	}
	return m.Post.Average(x)
}

// Practice is how many placements a crew has behind it, for learning.
func (m *HoursModel) Practice(crew string) int {
	if k, isNew := m.began[crew]; isNew {
		return k
	}
	return Learned
}

// ExpectedHours is the mean of the next such job's hours, exp(loc + v/2) with v
// the variance of log hours, and its interval.
func (m *HoursModel) ExpectedHours(j HoursJob, level float64) figure.Figure {
	next, err := m.Next(j)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Figure{Value: math.Exp(next.Mean() + next.Var()/2), Low: math.Exp(next.Quantile((1 - level) / 2)), High: math.Exp(next.Quantile((1 + level) / 2)),
		Level: level, N: m.n, Method: "hierarchical model of log hours, prediction for the next job", Bounded: true, OK: true}
}

// Standard is the model of hours, or nil where the records hold too few
// placements with hours to be a standard.
func Standard(fitted func() (*HoursModel, error)) *HoursModel {
	if model, err := fitted(); err == nil && model.n >= figure.LeastForRate {
		return model
	}
	return nil
}
