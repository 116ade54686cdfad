package score

import (
	"fmt"
	"math"

	gonum "gonum.org/v1/gonum/stat"

	"pourback/analysis/stat"
	"pourback/analysis/stat/interval"
)

// Split is one origin: what happened in rows 0 ≤ i < From is known, rows
// From ≤ i < To, all of one period, are to be forecast.
type Split struct{ From, To int }

// Splits cuts rows in order of time into origins, one a period (a month, or
// each row its own), skipping periods with fewer than warmup rows before them.
// Rows of a period never serve to forecast each other.
//
// Periods that step back give [stat.ErrDomain], no period left to forecast
// [stat.ErrTooFew].
func Splits(periods []int, warmup int) ([]Split, error) {
	var splits []Split
	for from := 0; from < len(periods); {
		to := from + 1
		for to < len(periods) && periods[to] == periods[from] {
			to++
		}
		if to < len(periods) && periods[to] < periods[from] {
			return nil, fmt.Errorf("row %d is of period %d, after one of %d: %w", to, periods[to], periods[from], stat.ErrDomain)
		}
		if from >= max(1, warmup) {
			splits = append(splits, Split{from, to})
		}
		from = to
	}
	if len(splits) == 0 {
		return nil, fmt.Errorf("%d rows leave no period after %d to warm up: %w", len(periods), max(1, warmup), stat.ErrTooFew)
	}
	return splits, nil
}

// EachItsOwn numbers n rows as n periods, for one-step forecasts.
func EachItsOwn(n int) []int {
	periods := make([]int, n)
	for i := range periods {
		periods[i] = i
	}
	return periods
}

// Forecast is what is said of one value before it is seen.
type Forecast struct {
	Quantile  float64 // at the tau of the plan
	Low, High float64 // at the level of the plan
	Mean, SD  float64 // of a normal, for the ranked probability score
}

// Plan says what the forecasts claim.
type Plan struct {
	Tau   float64 // the quantile forecast
	Level float64 // of the interval forecast
}

// Record is every forecast with what came and its losses, in order of rows.
type Record struct {
	Plan                         Plan
	Rows                         []int
	Actual                       []float64
	Forecasts                    []Forecast
	Pinball, IntervalScore, CRPS []float64
}

// Roll asks for the forecasts of each origin's rows and scores them. The
// function forecast must use nothing of rows From and later.
func Roll(ys []float64, splits []Split, plan Plan, forecast func(Split) ([]Forecast, error)) (*Record, error) {
	if err := stat.Finite("value", ys...); err != nil {
		return nil, err
	}
	if len(splits) == 0 {
		return nil, fmt.Errorf("no origins: %w", stat.ErrNoData)
	}
	if err := checkTau(plan.Tau); err != nil {
		return nil, err
	}
	if err := stat.CheckLevel(plan.Level); err != nil {
		return nil, err
	}
	r := &Record{Plan: plan}
	for _, s := range splits {
		if s.From < 0 || s.To <= s.From || s.To > len(ys) {
			return nil, fmt.Errorf("origin of rows %d to %d among %d: %w", s.From, s.To, len(ys), stat.ErrShape)
		}
		fs, err := forecast(s)
		if err != nil {
			return nil, fmt.Errorf("forecast from the first %d rows: %w", s.From, err)
		}
		if len(fs) != s.To-s.From {
			return nil, fmt.Errorf("%d forecasts of %d rows: %w", len(fs), s.To-s.From, stat.ErrShape)
		}
		for i, f := range fs {
			if err := r.add(s.From+i, ys[s.From+i], f); err != nil {
				return nil, err
			}
		}
	}
	return r, nil
}

func (r *Record) add(row int, y float64, f Forecast) error {
	if err := stat.Finite(fmt.Sprintf("forecast of row %d", row), f.Quantile, f.Low, f.High, f.Mean, f.SD); err != nil {
		return err
	}
	if f.Low > f.High || f.SD < 0 {
		return fmt.Errorf("forecast of row %d: interval %v to %v, spread %v: %w", row, f.Low, f.High, f.SD, stat.ErrDomain)
	}
	p, i, c := pinball(y, f.Quantile, r.Plan.Tau), intervalScore(y, f.Low, f.High, r.Plan.Level), crpsNormal(y, f.Mean, f.SD)
	r.Rows = append(r.Rows, row)
	r.Actual = append(r.Actual, y)
	r.Forecasts = append(r.Forecasts, f)
	r.Pinball = append(r.Pinball, p)
	r.IntervalScore = append(r.IntervalScore, i)
	r.CRPS = append(r.CRPS, c)
	return stat.Finite(fmt.Sprintf("loss of row %d", row), p, i, c)
}

// Summary is how the forecasts did on average.
type Summary struct {
	N             int
	Pinball       float64
	IntervalScore float64
	CRPS          float64
	Coverage      stat.Estimate // of the intervals, to hold against Plan.Level
	Below         stat.Estimate // share not above the quantile, to hold against Plan.Tau
}

// Summary averages the record, with Wilson limits at a confidence level.
func (r *Record) Summary(level float64) (Summary, error) {
	if r == nil || len(r.Actual) == 0 {
		return Summary{}, fmt.Errorf("no forecasts: %w", stat.ErrNoData)
	}
	lows, highs := make([]float64, len(r.Forecasts)), make([]float64, len(r.Forecasts))
	below := 0
	for i, f := range r.Forecasts {
		lows[i], highs[i] = f.Low, f.High
		if r.Actual[i] <= f.Quantile {
			below++
		}
	}
	s := Summary{N: len(r.Actual), Pinball: gonum.Mean(r.Pinball, nil), IntervalScore: gonum.Mean(r.IntervalScore, nil), CRPS: gonum.Mean(r.CRPS, nil)}
	var err error
	if s.Coverage, err = Coverage(r.Actual, lows, highs, level); err != nil {
		return Summary{}, err
	}
	s.Below, err = interval.Wilson(below, s.N, level)
	return s, err
}

// NextOfSample forecasts the next of a normal sample: Student-t with n−1
// degrees of freedom about the mean, of scale s√(1+1/n). It is the rule that a
// finer one has to beat.
//
// Source: Hahn & Meeker (1991), Statistical Intervals §4.7.
func NextOfSample(past []float64, plan Plan) (Forecast, error) {
	if err := stat.Finite("past value", past...); err != nil {
		return Forecast{}, err
	}
	if len(past) < 2 {
		return Forecast{}, fmt.Errorf("%d past values, want at least 2: %w", len(past), stat.ErrTooFew)
	}
	n := float64(len(past))
	mean, sd := gonum.MeanStdDev(past, nil)
	scale := sd * math.Sqrt(1+1/n)
	q, err := interval.StudentQuantile(plan.Tau, n-1)
	if err != nil {
		return Forecast{}, err
	}
	t, err := interval.StudentQuantile((1+plan.Level)/2, n-1)
	if err != nil {
		return Forecast{}, err
	}
	return Forecast{Quantile: mean + q*scale, Low: mean - t*scale, High: mean + t*scale, Mean: mean, SD: scale}, nil
}
