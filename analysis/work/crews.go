package work

import (
	"math"
	"strings"

	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/pool"
	"pourback/ingest/record"
)

// Crew is how much a crew places in an hour of one person's work.
type Crew struct {
	Crew           string        `json:"crew"`
	N              int           `json:"n"`                // placements with area and labor hours
	SqftPerHour    figure.Figure `json:"sqft_per_hour"`    // as worked, whatever the jobs were
	Adjusted       figure.Figure `json:"adjusted"`         // ft² an hour on the reference job
	HoursVsAverage figure.Figure `json:"hours_vs_average"` // on the same job, 1 is the average crew
	HoursLost      figure.Figure `json:"hours_lost_to_delay"`
	CostLost       figure.Figure `json:"cost_of_delay"` // of those hours, at the labor rate
	AreaSqft       float64       `json:"area_sqft"`
	LaborHours     float64       `json:"labor_hours"`
	Tasks          []TaskRate    `json:"-"` // known from events alone
	areas, hours   []float64
}

// TaskRate is the work of one task for each 100 ft².
type TaskRate struct {
	Task      string
	N         int           // placements
	HoursPer1 figure.Figure // person-hours for 100 ft²
}

// Labor is what holds for all crews.
type Labor struct {
	ReferenceJob HoursJob       `json:"-"` // what adjusted figures speak of
	Reference    figure.Figure  `json:"reference_hours"`
	LearningRate figure.Figure  `json:"learning_rate"` // hours at twice the placements, of a new crew
	NewCrews     []string       `json:"new_crews"`
	Heat         figure.Figure  `json:"hours_per_10f_above_80f"` // times the hours, for each 10 °F of air above 80 °F
	Uses         []UseHours     `json:"uses"`
	Assumptions  HoursPriors    `json:"assumptions"`
	TurnedBy     []figure.Lever `json:"turned_by"` // the two inputs that turn most easily which crew needs fewer hours
	Rivals       Rivals         `json:"-"`         // the crews that it is about
	Apart        []Crew         `json:"-"`         // crews that need clearly fewer or more hours than an average one
	Model        *HoursModel    `json:"-"`
}

// UseHours are the hours of a use over those of the average use, for the same
// size, thickness, method, reinforcement, heat and crew.
type UseHours struct {
	Use       string        `json:"use"`
	N         int           `json:"n"` // placements
	VsAverage figure.Figure `json:"hours_vs_average"`
}

// reference is the job on which crews are compared: of the company's most
// frequent use, of an average one where none is frequent.
func (m *HoursModel) reference() HoursJob {
	return HoursJob{Use: m.usual, AreaSqft: 400, ThicknessIn: 4, AirTempF: record.Some(70.0)}
}

// CrewsOf are the crews in the order of their names; placements without a crew are one
// more, called unknown.
func CrewsOf(h *record.History, fitted func() (*HoursModel, error), opt setting.Options) ([]Crew, *Labor) {
	labor := &Labor{Assumptions: DefaultHoursPriors(), NewCrews: []string{}, Uses: []UseHours{}}
	model, err := fitted()
	var average *pool.FromAverage
	if err == nil {
		average = model.Post.FromAverage()
	}
	byCrew := figure.GroupBy(h.Placements.Len(), func(i int) (string, bool) { return figure.OrUnknown(h.Placements.At(i).Crew()), true })
	out := []Crew{}
	for _, name := range byCrew.Sorted(strings.Compare) {
		c := Crew{Crew: name}
		for _, i := range byCrew.Rows[name] {
			c.add(h.Placements.At(i))
		}
		c.HoursLost = hoursLost(h, byCrew.Rows[name])
		c.CostLost = priced(c.HoursLost, opt.Rates.LaborPerHour)
		if name == "unknown" && c.N == 0 && !c.HoursLost.Known() {
			continue
		}
		rate, ratioErr := interval.Ratio(c.areas, c.hours, opt.Level)
		c.SqftPerHour = figure.OrBare(rate, ratioErr, c.AreaSqft/c.LaborHours, c.N, "ratio of totals")
		c.Tasks = taskRates(h, byCrew.Rows[name], opt.Level)
		c.adjust(model, average, err, opt.Level)
		out = append(out, c)
	}
	labor.conclude(model, err, out, opt.Level)
	labor.TurnedBy, labor.Rivals = labor.turnedBy(out, opt.Rates.LaborPerHour.Dollars())
	return out, labor
}

func (c *Crew) add(p record.PlacementRow) {
	if !p.AreaSqft().OK || !p.LaborHours().OK || p.LaborHours().V <= 0 {
		return
	}
	c.N++
	c.AreaSqft += p.AreaSqft().V
	c.LaborHours += p.LaborHours().V
	c.areas = append(c.areas, p.AreaSqft().V)
	c.hours = append(c.hours, p.LaborHours().V)
}

// adjust fills what the model says of the crew on one and the same job.
func (c *Crew) adjust(m *HoursModel, average *pool.FromAverage, err error, level float64) {
	switch {
	case err != nil:
		c.Adjusted = figure.Unknown(figure.ReasonOf(err))
	case c.N < figure.LeastForRate:
		c.Adjusted = figure.Unknown(figure.FewPlacements{N: c.N})
	default:
		job := m.reference()
		job.Crew = c.Crew
		law, err := m.Level(job)
		c.Adjusted = fromLaw(law, err, level, c.N, "hierarchical model of log hours, ft² an hour", func(logHours float64) float64 { return job.AreaSqft / math.Exp(logHours) })
		effect, err := average.Of(m.crew(c.Crew))
		c.HoursVsAverage = fromLaw(effect, err, level, c.N, "hierarchical model of log hours, against the average of the crews", math.Exp)
		return
	}
	c.HoursVsAverage = c.Adjusted
}

// ofHeat is what 10 °F of air above WarmF do to the hours of the same job.
func (m *HoursModel) ofHeat(level float64) figure.Figure {
	if m.hot < figure.LeastForRate {
		return figure.Unknown(FewHotHours{Placements: m.hot})
	}
	law, err := m.Post.Coef(heatColumn)
	return fromLaw(law, err, level, m.hot, "hierarchical model of log hours, hours for each 10 °F of air above 80 °F", math.Exp)
}

// ofUses compares the uses with each other on the same job.
func (m *HoursModel) ofUses(level float64) (out []UseHours) {
	x := make([]float64, hoursColumns+len(m.uses))
	for k, use := range m.uses {
		for j := range m.uses {
			x[hoursColumns+j] = -1 / float64(len(m.uses))
		}
		x[hoursColumns+k]++
		law, err := m.Post.Average(x)
		out = append(out, UseHours{use, m.ofUse[k], fromLaw(law, err, level, m.ofUse[k], "hierarchical model of log hours, against the average of the uses", math.Exp)})
	}
	return out
}

// fromLaw is the median of a law with its central interval, in the terms of to,
// which may rise or fall.
func fromLaw(law pool.Mixture, err error, level float64, n int, method string, to func(float64) float64) figure.Figure {
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	a, b := to(law.Quantile((1-level)/2)), to(law.Quantile((1+level)/2))
	return figure.Figure{Value: to(law.Quantile(0.5)), Low: min(a, b), High: max(a, b), Level: level, N: n, Method: method, Bounded: true, OK: true}
}

// hoursLost are the person-hours that placements lost to delays.
func hoursLost(h *record.History, rows []int) figure.Figure {
	lost := waited(h, rows, func(p record.PlacementRow) record.Count { return p.DelayMin() })
	if lost.N == 0 {
		return figure.Unknown(NoWait{})
	}
	lost.Method = "sum of delay minutes × crew size"
	return lost
}

// waited adds up minutes × crew size, in hours, over the rows that record both.
func waited(h *record.History, rows []int, of func(record.PlacementRow) record.Count) figure.Figure {
	var minutes int64
	n := 0
	for _, i := range rows {
		p := h.Placements.At(i)
		if m := of(p); m.OK && p.CrewSize().OK {
			minutes += m.V * p.CrewSize().V
			n++
		}
	}
	return figure.Total(float64(minutes)/60, n, "")
}

// priced turns hours into money.
func priced(hours figure.Figure, rate record.Cents) figure.Figure {
	if !hours.Known() {
		return hours
	}
	return figure.Total(figure.RoundCents(hours.Value*float64(rate)).Dollars(), hours.N, hours.Method+", at the labor rate")
}

// taskRates are the hours of each task, in the order of the vocabulary, over
// the placements that record it.
func taskRates(h *record.History, rows []int, level float64) []TaskRate {
	if len(h.Labor) == 0 {
		return nil
	}
	var out []TaskRate
	for _, task := range record.Labors.Column("task").Words.Words {
		var hours, hundreds []float64
		for _, i := range rows {
			sum, worked := 0.0, false
			for _, l := range h.LaborOf(i) {
				if l.Task == task {
					sum, worked = sum+l.Hours.V, true
				}
			}
			if area := h.Placements.At(i).AreaSqft(); worked && area.OK {
				hours, hundreds = append(hours, sum), append(hundreds, area.V/100)
			}
		}
		if len(hours) == 0 {
			continue
		}
		rate, err := interval.Ratio(hours, hundreds, level)
		out = append(out, TaskRate{task, len(hours), figure.OrBare(rate, err, figure.SumOf(hours)/figure.SumOf(hundreds), len(hours), "ratio of totals")})
	}
	return out
}

// conclude says what holds for all crews, and what to do with it.
func (l *Labor) conclude(m *HoursModel, err error, crews []Crew, level float64) {
	l.Model = m
	if err != nil {
		why := figure.Unknown(figure.ReasonOf(err))
		l.Reference, l.LearningRate, l.Heat = why, why, why
		return
	}
	l.ReferenceJob = m.reference()
	l.Reference = m.ExpectedHours(m.reference(), level)
	l.Heat = m.ofHeat(level)
	l.Uses = append(l.Uses, m.ofUses(level)...)
	l.NewCrews = append(l.NewCrews, figure.SortedNames(m.began)...)
	if len(l.NewCrews) == 0 {
		l.LearningRate = figure.Unknown(NoNewCrew{})
	} else {
		slope, err := m.Post.Coef(learningColumn)
		l.LearningRate = fromLaw(slope, err, level, m.n, "coefficient of log practice, 2^coefficient (Wright 1936)", pool.LearningRate)
	}
	for _, c := range crews {
		if v := c.HoursVsAverage; v.Known() && (v.High < 1 || v.Low > 1) {
			l.Apart = append(l.Apart, c)
		}
	}
}

// AtPractice is Wright's rule: the hours of a new crew at its k-th placement
// over those of a settled crew.
func (l *Labor) AtPractice(k int) figure.Figure {
	at := func(rate float64) float64 { return math.Pow(rate, math.Log2(float64(k)/Learned)) }
	f := l.LearningRate
	a, b := at(f.Low), at(f.High)
	f.Value, f.Low, f.High = at(f.Value), min(a, b), max(a, b)
	return f
}
