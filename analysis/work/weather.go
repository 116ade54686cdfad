package work

import (
	"cmp"
	"math"
	"slices"
	"time"

	"pourback/analysis/cracks"
	"pourback/analysis/figure"
	"pourback/analysis/setting"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/regress"
	"pourback/analysis/stat/resample"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Weather is what the air did to each pour, and what that did to the work.
type Weather struct {
	Placements Evaporations `json:"placements"`
	HotCount   int          `json:"hot_count"`  // pours that dried at trade.PrecautionLbFt2 and faster
	Known      int          `json:"known"`      // pours with all that the rate needs
	ColdCount  int          `json:"cold_count"` // pours in air under ColdF
	HasAir     int          `json:"air_known"`  // pours with their air temperature
	// Hours on hot pours over those on others, for the same job.
	HotHours figure.Figure `json:"hours_hot_vs_other"`
	SetPace  figure.Figure `json:"set_pace_hot"` // how much faster concrete sets on hot pours than at 68 °F

	Months  []MonthOfYear `json:"-"` // those with pours whose rate is known
	Hottest time.Month    `json:"-"` // with the largest share of hot pours, of the months that have several; 0 where none stands out
	Lacking []Lacking     `json:"-"` // the column that most pours lack first
}

// MonthOfYear is what the pours of one month had, over all years.
type MonthOfYear struct {
	Month      time.Month
	Pours, Hot int
	Fastest    float64 // rate, in lb/ft²/h
}

// Lacking is how many pours lack a column that the rate needs.
type Lacking struct {
	Column string
	Pours  int
}

// Why the hours on hot pours are not compared with those on others.
type (
	NoTimedPours struct{ figure.Because } // no placement has area, thickness and labor hours
	FewHotPours  struct {                 // fewer than [figure.LeastForRate] of either with hours
		figure.Because
		Hot, Others int
	}
)

// ColdF is the air temperature in °F under which ACI 306R calls weather cold.
const ColdF = 40

// Evaporation is the rate at which water left the fresh surface of one pour,
// in lb/ft²/h, good to about ±40 % (Hover 2020).
type Evaporation struct {
	JobNo, Placement string
	PlacedOn         record.Date
	Rate             record.Number
	AirF             float64 // of the air, where the rate is known
	Lacks            Lacks   // why the rate is not known
	Cracked          bool    // a customer has called about a crack
}

// Over says whether the pour dried fast enough for precautions.
func (e *Evaporation) Over() bool { return e.Rate.OK && e.Rate.V >= trade.PrecautionLbFt2 }

// Lacks are the columns that a pour lacks for its rate, one bit for each of
// evaporationColumns.
type Lacks uint8

// evaporationColumns are what the rate needs, in the order of the bits.
var evaporationColumns = [...]string{"concrete_temp_f", "air_temp_f", "humidity_pct", "wind_mph"}

// outOfRange is the bit of a pour that has it all, and some of it is nothing
// that the formula holds for.
const outOfRange Lacks = 1 << len(evaporationColumns)

// MostLacks is the number of different Lacks.
const MostLacks = 2 * outOfRange

// Columns are the names of the missing columns.
func (l Lacks) Columns() []string {
	var names []string
	for i, name := range evaporationColumns {
		if l&(1<<i) != 0 {
			names = append(names, name)
		}
	}
	return names
}

// Evaporations are in the order of job and placement.
type Evaporations []Evaporation

// WeatherOf is the weather of a history's pours; the hours on hot pours are held
// against a model of hours, where there is one.
func WeatherOf(h *record.History, hours *HoursModel, level float64) *Weather {
	w := &Weather{Placements: evaporations(h)}
	for i := range h.Placements.Len() {
		p := h.Placements.At(i)
		if p.AirTempF().OK {
			w.HasAir++
			if p.AirTempF().V < ColdF {
				w.ColdCount++
			}
		}
		if w.Placements[i].Rate.OK {
			w.Known++
		}
		if w.Placements[i].Over() {
			w.HotCount++
		}
	}
	w.HotHours = w.hotHours(h, hours, level)
	w.SetPace = w.setPace(h, level)
	w.byMonth()
	w.lacking()
	return w
}

// byMonth gathers the pours of each month of the year.
func (w *Weather) byMonth() {
	var all [13]MonthOfYear
	for i := range w.Placements {
		e := &w.Placements[i]
		if !e.Rate.OK {
			continue
		}
		m := &all[e.PlacedOn.Time().Month()]
		m.Pours++
		m.Fastest = max(m.Fastest, e.Rate.V)
		if e.Over() {
			m.Hot++
		}
	}
	most := 0.0
	for i, m := range all {
		if m.Month = time.Month(i); m.Pours == 0 {
			continue
		}
		w.Months = append(w.Months, m)
		// More than one hot pour makes a month stand out, and of such the one with
		// the largest share of its pours.
		if share := float64(m.Hot) / float64(m.Pours); m.Hot > 1 && share > most {
			most, w.Hottest = share, m.Month
		}
	}
	if len(w.Months) < 2 {
		w.Hottest = 0
	}
}

// lacking counts what pours lack, the commonest first.
func (w *Weather) lacking() {
	var n [len(evaporationColumns)]int
	for i := range w.Placements {
		for k := range n {
			if w.Placements[i].Lacks&(1<<k) != 0 {
				n[k]++
			}
		}
	}
	for k, name := range evaporationColumns {
		if n[k] > 0 {
			w.Lacking = append(w.Lacking, Lacking{name, n[k]})
		}
	}
	slices.SortStableFunc(w.Lacking, func(x, y Lacking) int { return cmp.Or(cmp.Compare(y.Pours, x.Pours), cmp.Compare(x.Column, y.Column)) })
}

// InMonth counts the pours of a month, such as 2025-06, that dried fast enough
// for precautions, among those whose rate is known.
func (w *Weather) InMonth(month string) (hot, known int) {
	for i := range w.Placements {
		if e := &w.Placements[i]; e.Rate.OK && e.PlacedOn.Month() == month {
			known++
			if e.Over() {
				hot++
			}
		}
	}
	return hot, known
}

func evaporations(h *record.History) Evaporations {
	out := make(Evaporations, h.Placements.Len())
	resample.Blocks(len(out), func() func(block, lo, hi int) {
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = EvaporationOf(h.Placements.At(i))
				out[i].Cracked = cracks.CrackOn(h, i, setting.EventCallback) != 0
			}
		}
	})
	return out
}

// hotHours compares the logs of hours over what the job would take an average
// crew in cool air, on hot pours and on the others whose weather is known.
func (w *Weather) hotHours(h *record.History, m *HoursModel, level float64) figure.Figure {
	if m == nil {
		return figure.Unknown(NoTimedPours{})
	}
	n := h.Placements.Len()
	excess, heat := make([]float64, 0, n), make([]float64, 0, n)
	hot := 0
	for i := range n {
		p := h.Placements.At(i)
		if !Timed(p) || !w.Placements[i].Rate.OK {
			continue
		}
		job := JobOf(p)
		job.AirTempF = record.Some(70.0)
		excess = append(excess, math.Log(p.LaborHours().V/m.StandardHours(job)))
		heat = append(heat, 0)
		if w.Placements[i].Over() {
			heat[len(heat)-1] = 1
			hot++
		}
	}
	if hot < figure.LeastForRate || len(heat)-hot < figure.LeastForRate {
		return figure.Unknown(FewHotPours{Hot: hot, Others: len(heat) - hot})
	}
	fit, err := regress.OLS(regress.Design{regress.Ones(len(heat)), heat}, excess)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	slope, err := fit.Interval(1, level)
	if err != nil {
		return figure.Unknown(figure.ReasonOf(err))
	}
	return figure.Figure{Value: math.Exp(slope.Value), Low: math.Exp(slope.Low), High: math.Exp(slope.High), Level: level, N: len(heat),
		Method: "mean log of hours over those of the hours model, hot pours against others", Bounded: true, OK: true}
}

// setPace is how many hours' worth of hardening at 68 °F an hour brings at the
// concrete's temperature on hot pours, on average: Arrhenius with an activation
// energy over the gas constant of 5000 K (ASTM C1074).
func (w *Weather) setPace(h *record.History, level float64) figure.Figure {
	var pace []float64
	for i := range h.Placements.Len() {
		if !w.Placements[i].Over() {
			continue
		}
		age, err := trade.EquivalentAge([]trade.Warmth{{Hours: 1, TempC: trade.Celsius(h.Placements.At(i).ConcreteTempF().V)}}, 5000, 20)
		if err == nil {
			pace = append(pace, age)
		}
	}
	mean, err := interval.MeanT(pace, level)
	return figure.OrBare(mean, err, figure.SumOf(pace)/float64(len(pace)), len(pace), "mean")
}

// EvaporationOf is the rate of one pour.
func EvaporationOf(p record.PlacementRow) Evaporation {
	e := Evaporation{JobNo: p.JobNo(), Placement: p.Placement(), PlacedOn: p.PlacedOn()}
	for i, value := range [len(evaporationColumns)]record.Number{p.ConcreteTempF(), p.AirTempF(), p.HumidityPct(), p.WindMPH()} {
		if !value.OK {
			e.Lacks |= 1 << i
		}
	}
	if e.Lacks != 0 {
		return e
	}
	rate, err := trade.Evaporation(p.ConcreteTempF().V, p.AirTempF().V, p.HumidityPct().V, p.WindMPH().V)
	if err != nil {
		e.Lacks = outOfRange
		return e
	}
	e.Rate, e.AirF = record.Some(rate), p.AirTempF().V
	return e
}

// MarshalJSON writes one object a pour. The report writes the reason of a rate
// that is null beside it, in words.
func (es Evaporations) MarshalJSON() ([]byte, error) { return es.AppendJSON(nil, nil), nil }

// AppendJSON writes them as a list, with why a rate is null where words for it
// are given.
func (es Evaporations) AppendJSON(b []byte, why func(Lacks) string) []byte {
	b = append(slices.Grow(b, 80*len(es)+2), '[')
	for i := range es {
		e := &es[i]
		if i > 0 {
			b = append(b, ',')
		}
		b = figure.AppendString(append(b, `{"job_no":`...), e.JobNo)
		b = figure.AppendString(append(b, `,"placement":`...), e.Placement)
		b = figure.AppendNumber(append(b, `,"evaporation_lb_ft2_h":`...), e.Rate.V, e.Rate.OK)
		if !e.Rate.OK && why != nil {
			b = figure.AppendString(append(b, `,"why":`...), why(e.Lacks))
		}
		b = append(b, '}')
	}
	return append(b, ']')
}
