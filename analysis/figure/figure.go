package figure

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"

	"pourback/analysis/stat"
)

// Figure is a number with its evidence: the interval at a confidence level,
// what it rests on and the method that made it. A figure that the records
// cannot support says why instead.
type Figure struct {
	Value, Low, High float64
	Level            float64
	N                int
	Method           string
	Bounded          bool   // Low and High are meant
	Why              string // why there is no value, or no interval
	OK               bool
}

// Known says whether the figure has a value.
func (f Figure) Known() bool { return f.OK }

// unknown is a figure that the records cannot support.
func Unknown(why string, args ...any) Figure { return Figure{Why: fmt.Sprintf(why, args...)} }

// leastForRate is the fewest placements from which a modelled rate is shown;
// under it a group is pooled or refused.
const LeastForRate = 5

// leastEvents is the fewest events from which groups are compared.
const LeastEvents = 3

// total is an exact sum over n records: it has no interval.
func Total(value float64, n int, method string) Figure {
	return Figure{Value: value, N: n, Method: method, OK: true}
}

// estimated is what a method answers, or why it has no answer.
func Estimated(e stat.Estimate, err error) Figure {
	if err != nil {
		return Unknown("%s", Reason(err))
	}
	return Figure{Value: e.Value, Low: e.Low, High: e.High, Level: e.Level, N: e.N, Method: e.Method, Bounded: true, OK: true}
}

// orBare is what a method answers; where it cannot bound the value, the value
// alone and why it is not bounded.
func OrBare(e stat.Estimate, err error, value float64, n int, method string) Figure {
	if err == nil || n == 0 {
		return Estimated(e, err)
	}
	return Figure{Value: value, N: n, Method: method, Why: Reason(err), OK: true}
}

// reason says a method's error in the owner's words.
func Reason(err error) string {
	for _, r := range []struct {
		is   error
		says string
	}{
		{stat.ErrNoData, "no record has what this needs"},
		{stat.ErrTooFew, "one record alone shows no spread"},
		{stat.ErrNoVariation, "the records are all alike, so their spread is unknown"},
		{stat.ErrNoEvents, "nothing of the kind has happened yet"},
	} {
		if errors.Is(err, r.is) {
			return r.says
		}
	}
	return err.Error()
}

// MarshalJSON writes {"value", "low", "high", "level", "n", "method"}, with
// null for what is not known and "why" beside it.
func (f Figure) MarshalJSON() ([]byte, error) {
	b := make([]byte, 0, 160)
	b = AppendNumber(append(b, `{"value":`...), f.Value, f.OK)
	b = AppendNumber(append(b, `,"low":`...), f.Low, f.OK && f.Bounded)
	b = AppendNumber(append(b, `,"high":`...), f.High, f.OK && f.Bounded)
	b = AppendNumber(append(b, `,"level":`...), f.Level, f.OK && f.Bounded)
	b = strconv.AppendInt(append(b, `,"n":`...), int64(f.N), 10)
	b = append(b, `,"method":`...)
	if f.OK {
		b = AppendString(b, f.Method)
	} else {
		b = append(b, "null"...)
	}
	if f.Why != "" {
		b = AppendString(append(b, `,"why":`...), f.Why)
	}
	return append(b, '}'), nil
}

// UnmarshalJSON reads what MarshalJSON writes.
func (f *Figure) UnmarshalJSON(b []byte) error {
	var in struct {
		Value, Low, High, Level *float64
		N                       int
		Method                  *string
		Why                     string
	}
	if err := json.Unmarshal(b, &in); err != nil {
		return err
	}
	*f = Figure{N: in.N, Why: in.Why, OK: in.Value != nil, Bounded: in.Low != nil && in.High != nil}
	for _, v := range []struct{ to, from *float64 }{{&f.Value, in.Value}, {&f.Low, in.Low}, {&f.High, in.High}, {&f.Level, in.Level}} {
		if v.from != nil {
			*v.to = *v.from
		}
	}
	if in.Method != nil {
		f.Method = *in.Method
	}
	return nil
}

// Assumption is a number that the records do not give.
type Assumption struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	From  string  `json:"from"`
}

func FromJobs(stated bool) string {
	if stated {
		return "most common among the jobs"
	}
	return "assumed: no job states its warranty"
}
