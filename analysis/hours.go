package analysis

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/analysis/stat"
	"pourback/analysis/stat/pool"
	"pourback/analysis/stat/regress"
	"pourback/ingest/record"
)

// HoursModel predicts the person-hours of a placement from the company's own:
//
//	log hours = β'x + u_crew + e
//
// with x an intercept, log(area/400 ft²), pumped, mesh, rebar, fiber,
// log(thickness/4 in) and the learning of a new crew, fitted by the engine of
// [pool]. Crew size is left out on purpose: it answers the size of the job.
type HoursModel struct {
	post  *pool.Posterior
	crews []string       // by group number
	began map[string]int // placements of a new crew so far
	n     int

	mean  [hoursColumns]float64 // posterior means of β
	bulge float64               // half the variance of an outcome: exp of it leads from the median to the mean
}

// HoursJob is what the hours depend on.
type HoursJob struct {
	AreaSqft, ThicknessIn float64
	Pumped                bool
	Reinforcement         string // words joined by +
	Crew                  string // "" or one not in the records is an average crew
}

// HoursPriors are beliefs before the records, in the order of the columns.
// They are assumptions, and printed with the result.
type HoursPriors struct {
	Mean   []float64 `json:"mean"`
	SD     []float64 `json:"sd"`
	Sigma  float64   `json:"sigma"`
	Nu     float64   `json:"nu"`
	RScale float64   `json:"r_scale"`
}

// DefaultHoursPriors: 26 hours for 400 ft² at 4 in, hours growing with area to
// the power .85, a little more for rebar, and the 87 % learning rate of Wright
// (1936, Journal of the Aeronautical Sciences 3) as 2^−.2.
func DefaultHoursPriors() HoursPriors {
	return HoursPriors{
		Mean:  []float64{math.Log(26), .85, 0, 0, .1, 0, 0, -.2},
		SD:    []float64{.7, .2, .2, .2, .2, .2, .5, .2},
		Sigma: .25, Nu: 4, RScale: .75,
	}
}

const (
	learned = 25 // placements after which a new crew counts as settled
	newCrew = 90 // days after the first pour on record from which a crew's first is its first
)

// FitHours fits the model to the placements with area, thickness and hours.
func FitHours(h *record.History, priors HoursPriors) (*HoursModel, error) {
	m := &HoursModel{began: map[string]int{}}
	rows := hoursRows(h)
	if len(rows) == 0 {
		return nil, fmt.Errorf("no placement has area, thickness and labor hours: %w", stat.ErrNoData)
	}
	m.n = len(rows)
	d := m.data(h, rows)
	post, err := priors.engine().Fit(d)
	return m.take(post, err)
}

// hoursBefore is the model before any record, by its beliefs alone.
func hoursBefore(priors HoursPriors) (*HoursModel, error) {
	post, err := priors.engine().Before()
	return (&HoursModel{began: map[string]int{}}).take(post, err)
}

// engine is the model in the terms of [pool].
func (p HoursPriors) engine() pool.Model {
	r, _ := pool.DefaultGrid()
	return pool.Model{GridR: r, GridKappa: []float64{0}, Prior: pool.Prior{Mean: p.Mean, SD: p.SD, Sigma: p.Sigma, Nu: p.Nu, RScale: p.RScale}}
}

// take makes the fit the model's own.
func (m *HoursModel) take(post *pool.Posterior, err error) (*HoursModel, error) {
	if err != nil {
		return nil, err
	}
	m.post = post
	for _, cell := range m.post.Cells {
		for j, b := range cell.Beta {
			m.mean[j] += cell.Weight * b
		}
	}
	m.bulge = m.post.Variance(0) / 2
	return m, nil
}

// StandardHours are the hours to expect of an average, settled crew: exp(β'x +
// v/2) at the posterior mean of β, v the variance of an outcome. It answers for
// one job among a million, where ExpectedHours weighs the whole grid.
func (m *HoursModel) StandardHours(j HoursJob) float64 {
	var x [hoursColumns]float64
	j.columns(&x, learned)
	log := m.bulge
	for k, v := range x {
		log += m.mean[k] * v
	}
	return math.Exp(log)
}

// hoursRows are the placements that can be used, in the order of their pours.
func hoursRows(h *record.History) []int {
	var rows []int
	for i := range h.Placements {
		if timed(&h.Placements[i]) {
			rows = append(rows, i)
		}
	}
	slices.SortStableFunc(rows, func(a, b int) int { return int(h.Placements[a].PlacedOn - h.Placements[b].PlacedOn) })
	return rows
}

// timed says whether a placement tells of hours.
func timed(p *record.Placement) bool {
	return p.LaborHours.Or(0) > 0 && p.AreaSqft.Or(0) > 0 && p.ThicknessIn.Or(0) > 0
}

// data lays the rows out for the engine, numbering the crews by name.
func (m *HoursModel) data(h *record.History, rows []int) pool.Data {
	number := map[string]int{}
	for _, i := range rows {
		number[orUnknown(h.Placements[i].Crew)] = 0
	}
	m.crews = sortedNames(number)
	for g, name := range m.crews {
		number[name] = g
	}
	novices := novices(h)
	d := pool.Data{X: make(regress.Design, hoursColumns), Y: make([]float64, len(rows)), Group: make([]int, len(rows))}
	for j := range d.X {
		d.X[j] = make([]float64, len(rows))
	}
	seen := map[string]int{}
	var x [hoursColumns]float64
	for k, i := range rows {
		p := &h.Placements[i]
		crew := orUnknown(p.Crew)
		seen[crew]++
		practice := learned
		if novices[crew] {
			practice = seen[crew]
			m.began[crew] = practice
		}
		hoursJob(p).columns(&x, practice)
		for j, v := range x {
			d.X[j][k] = v
		}
		d.Y[k], d.Group[k] = math.Log(p.LaborHours.V), number[crew]
	}
	return d
}

func hoursJob(p *record.Placement) HoursJob {
	return HoursJob{AreaSqft: p.AreaSqft.V, ThicknessIn: p.ThicknessIn.V, Pumped: p.Pumped(), Reinforcement: p.Reinforcement, Crew: p.Crew}
}

const hoursColumns = 8

// columns writes the job's x; practice is the crew's how-manieth placement.
func (j HoursJob) columns(x *[hoursColumns]float64, practice int) {
	has := func(word string) float64 {
		if strings.Contains(j.Reinforcement, word) {
			return 1
		}
		return 0
	}
	pumped := 0.0
	if j.Pumped {
		pumped = 1
	}
	*x = [hoursColumns]float64{1, math.Log(j.AreaSqft / 400), pumped, has("mesh"), has("rebar"), has("fiber"),
		math.Log(j.ThicknessIn / 4), math.Log(float64(min(practice, learned)) / learned)}
}

// novices are the crews whose first placement is in the records: it came well
// after the company's own first.
func novices(h *record.History) map[string]bool {
	first := map[string]record.Date{}
	var start record.Date
	for i := range h.Placements {
		p := &h.Placements[i]
		crew := orUnknown(p.Crew)
		if at, ok := first[crew]; !ok || p.PlacedOn < at {
			first[crew] = p.PlacedOn
		}
		if i == 0 || p.PlacedOn < start {
			start = p.PlacedOn
		}
	}
	out := map[string]bool{}
	for crew, at := range first {
		out[crew] = crew != "unknown" && at >= start+newCrew
	}
	return out
}

// Next is the law of log hours of the next such job.
func (m *HoursModel) Next(j HoursJob) (pool.Mixture, error) {
	var x [hoursColumns]float64
	crew := slices.Index(m.crews, j.Crew)
	j.columns(&x, m.practice(j.Crew)+1)
	return m.post.Predict(x[:], 0, crew)
}

// Level is the law of the log hours about which such jobs of the crew, or of an
// average one, scatter.
func (m *HoursModel) Level(j HoursJob) (pool.Mixture, error) {
	var x [hoursColumns]float64
	j.columns(&x, m.practice(j.Crew))
	if crew := slices.Index(m.crews, j.Crew); crew >= 0 {
		return m.post.Line(x[:], crew)
	}
	return m.post.Average(x[:])
}

// practice is how many placements a crew has behind it, for learning.
func (m *HoursModel) practice(crew string) int {
	if k, isNew := m.began[crew]; isNew {
		return k
	}
	return learned
}

// ExpectedHours is the mean of the next such job's hours, exp(loc + v/2) with v
// the variance of log hours, and its interval.
func (m *HoursModel) ExpectedHours(j HoursJob, level float64) Figure {
	next, err := m.Next(j)
	if err != nil {
		return unknown("%s", reason(err))
	}
	return Figure{Value: math.Exp(next.Mean() + next.Var()/2), Low: math.Exp(next.Quantile((1 - level) / 2)), High: math.Exp(next.Quantile((1 + level) / 2)),
		Level: level, N: m.n, Method: "hierarchical model of log hours, prediction for the next job", Bounded: true, known: true}
}

func sortedNames(m map[string]int) []string {
	names := make([]string, 0, len(m))
	for name := range m {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
