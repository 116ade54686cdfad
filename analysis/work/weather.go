package work

import (
	"fmt"
	"math"
	"strconv"

	"pourback/analysis/figure"
	"pourback/analysis/stat/interval"
	"pourback/analysis/stat/regress"
	"pourback/analysis/stat/resample"
	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Weather is what the air did to each pour, and what that did to the work.
type Weather struct {
	Placements Evaporations `json:"placements"`
	Answer     string       `json:"answer"`
	HotCount   int          `json:"hot_count"`  // pours that dried at trade.PrecautionLbFt2 and faster
	Known      int          `json:"known"`      // pours with all that the rate needs
	ColdCount  int          `json:"cold_count"` // pours in air under coldF
	HasAir     int          `json:"air_known"`  // pours with their air temperature
	// Hours on hot pours over those on others, for the same job.
	HotHours figure.Figure `json:"hours_hot_vs_other"`
	SetPace  figure.Figure `json:"set_pace_hot"` // how much faster concrete sets on hot pours than at 68 °F
	Notes    []string      `json:"notes"`
}

// ColdF is the air temperature in °F under which ACI 306R calls weather cold.
const ColdF = 40

// Evaporation is the rate at which water left the fresh surface of one pour,
// in lb/ft²/h, good to about ±40 % (Hover 2020).
type Evaporation struct {
	JobNo, Placement string
	PlacedOn         record.Date
	Rate             record.Number
	Lacks            []string // the columns that are missing or out of range
}

// Evaporations are in the order of job and placement.
type Evaporations []Evaporation

func WeatherOf(h *record.History, hours *HoursModel, level float64) *Weather {
	w := &Weather{Placements: evaporations(h)}
	for i := range h.Placements {
		p := &h.Placements[i]
		if p.AirTempF.OK {
			w.HasAir++
			if p.AirTempF.V < ColdF {
				w.ColdCount++
			}
		}
		if w.Placements[i].Rate.OK {
			w.Known++
		}
		if w.hot(i) {
			w.HotCount++
		}
	}
	w.HotHours = w.hotHours(h, hours, level)
	w.SetPace = w.setPace(h, level)
	w.conclude()
	return w
}

func evaporations(h *record.History) Evaporations {
	out := make(Evaporations, len(h.Placements))
	resample.Blocks(len(out), func() func(block, lo, hi int) {
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				out[i] = EvaporationOf(&h.Placements[i])
			}
		}
	})
	return out
}

// hot says whether placement i dried fast enough for precautions.
func (w *Weather) hot(i int) bool {
	rate := w.Placements[i].Rate
	return rate.OK && rate.V >= trade.PrecautionLbFt2
}

// hotHours compares the logs of hours over what the job would take an average
// crew in cool air, on hot pours and on the others whose weather is known.
func (w *Weather) hotHours(h *record.History, m *HoursModel, level float64) figure.Figure {
	if m == nil {
		return figure.UnknownFor("no placement has area, thickness and labor hours")
	}
	var excess, heat []float64
	hot := 0
	for i := range h.Placements {
		p := &h.Placements[i]
		if !Timed(p) || !w.Placements[i].Rate.OK {
			continue
		}
		job := JobOf(p)
		job.AirTempF = record.Some(70.0)
		excess = append(excess, math.Log(p.LaborHours.V/m.StandardHours(job)))
		heat = append(heat, 0)
		if w.hot(i) {
			heat[len(heat)-1] = 1
			hot++
		}
	}
	if hot < figure.LeastForRate || len(heat)-hot < figure.LeastForRate {
		return figure.UnknownFor("%d hot pours and %d others with hours: a comparison needs %d of each", hot, len(heat)-hot, figure.LeastForRate)
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
	for i := range h.Placements {
		if !w.hot(i) {
			continue
		}
		age, err := trade.EquivalentAge([]trade.Warmth{{Hours: 1, TempC: trade.Celsius(h.Placements[i].ConcreteTempF.V)}}, 5000, 20)
		if err == nil {
			pace = append(pace, age)
		}
	}
	mean, err := interval.MeanT(pace, level)
	return figure.OrBare(mean, err, figure.SumOf(pace)/float64(len(pace)), len(pace), "mean")
}

func (w *Weather) conclude() {
	w.Notes = []string{"A rate is an estimate, good to about 40 % either way (Hover 2020): it tells which days want care, not whether a slab will crack."}
	if w.Known == 0 {
		w.Answer = "No placement records air and concrete temperature, humidity and wind together, so nobody can say how fast the slabs dried."
		return
	}
	if w.HotCount == 0 {
		w.Answer = fmt.Sprintf("None of the %d pours with their weather on record dried at 0.2 lb/ft² an hour or faster, where precautions are due", w.Known)
	} else {
		w.Answer = fmt.Sprintf("%d of %d pours with their weather on record dried at 0.2 lb/ft² an hour or faster: on such days have fog, windbreaks or an evaporation retarder ready before the truck", w.HotCount, w.Known)
		if w.SetPace.Known() {
			w.Answer += fmt.Sprintf(", and count on concrete that sets about %.1f times as fast as at 68 °F", w.SetPace.Value)
		}
	}
	w.Answer += "; " + w.hoursSay() + "."
}

func (w *Weather) hoursSay() string {
	switch f := w.HotHours; {
	case !f.Known():
		return "too few hot pours record their hours to say what heat costs"
	case f.Low > 1:
		return fmt.Sprintf("the same job took about %.0f %% more hours then (between %.0f and %.0f)", 100*(f.Value-1), 100*(f.Low-1), 100*(f.High-1))
	case f.High < 1:
		return fmt.Sprintf("the same job took about %.0f %% fewer hours then (between %.0f and %.0f)", 100*(1-f.Value), 100*(1-f.High), 100*(1-f.Low))
	}
	return "the same job took no more hours then than on other days, as far as the records can tell"
}

func EvaporationOf(p *record.Placement) Evaporation {
	e := Evaporation{JobNo: p.JobNo, Placement: p.Placement, PlacedOn: p.PlacedOn}
	for _, need := range []struct {
		column string
		value  record.Number
	}{{"concrete_temp_f", p.ConcreteTempF}, {"air_temp_f", p.AirTempF}, {"humidity_pct", p.HumidityPct}, {"wind_mph", p.WindMPH}} {
		if !need.value.OK {
			e.Lacks = append(e.Lacks, need.column)
		}
	}
	if len(e.Lacks) > 0 {
		return e
	}
	rate, err := trade.Evaporation(p.ConcreteTempF.V, p.AirTempF.V, p.HumidityPct.V, p.WindMPH.V)
	if err != nil {
		e.Lacks = []string{err.Error()}
		return e
	}
	e.Rate = record.Some(rate)
	return e
}

// MarshalJSON writes one object a pour; a rate that cannot be computed is null
// with why.
func (es Evaporations) MarshalJSON() ([]byte, error) {
	b := append(make([]byte, 0, 80*len(es)+2), '[')
	for i, e := range es {
		if i > 0 {
			b = append(b, ',')
		}
		b = figure.AppendString(append(b, `{"job_no":`...), e.JobNo)
		b = figure.AppendString(append(b, `,"placement":`...), e.Placement)
		b = append(b, `,"evaporation_lb_ft2_h":`...)
		if e.Rate.OK {
			b = strconv.AppendFloat(b, e.Rate.V, 'g', -1, 64)
		} else {
			b = figure.AppendString(append(b, `null,"why":`...), e.why())
		}
		b = append(b, '}')
	}
	return append(b, ']'), nil
}

func (e Evaporation) why() string {
	s := "lacks"
	for i, c := range e.Lacks {
		if i > 0 {
			s += ","
		}
		s += " " + c
	}
	return s
}
