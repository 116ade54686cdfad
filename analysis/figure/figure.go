package figure

import (
	"encoding/json"
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
	Why              Reason // why there is no value, or no interval; nil where there are both
	OK               bool
}

// Known says whether the figure has a value.
func (f Figure) Known() bool { return f.OK }

// Unknown is a figure that the records cannot support.
func Unknown(why Reason) Figure { return Figure{Why: why} }

// LeastForRate is the fewest placements from which a modelled rate is shown;
// under it a group is pooled or refused (common practice, no published source).
const LeastForRate = 5

// LeastEvents is the fewest events from which groups are compared (common
// practice, no published source).
const LeastEvents = 3

// Total is an exact sum over n records: it has no interval.
func Total(value float64, n int, method string) Figure {
	return Figure{Value: value, N: n, Method: method, OK: true}
}

// Estimated is what a method answers, or why it has no answer.
func Estimated(e stat.Estimate, err error) Figure {
	if err != nil {
		return Unknown(ReasonOf(err))
	}
	return Figure{Value: e.Value, Low: e.Low, High: e.High, Level: e.Level, N: e.N, Method: e.Method, Bounded: true, OK: true}
}

// OrBare is what a method answers; where it cannot bound the value, the value
// alone and why it is not bounded.
func OrBare(e stat.Estimate, err error, value float64, n int, method string) Figure {
	if err == nil || n == 0 {
		return Estimated(e, err)
	}
	return Figure{Value: value, N: n, Method: method, Why: ReasonOf(err), OK: true}
}

// AppendJSON writes {"value", "low", "high", "level", "n", "method"}, with null
// for what is not known and, where it is given, "why" beside it in words.
func (f Figure) AppendJSON(b []byte, why string) []byte {
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
	if why != "" {
		b = AppendString(append(b, `,"why":`...), why)
	}
	return append(b, '}')
}

// MarshalJSON writes the figure with its reason as it stands: words for it are
// the report's.
func (f Figure) MarshalJSON() ([]byte, error) { return f.AppendJSON(nil, kindOf(f.Why)), nil }

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
	*f = Figure{N: in.N, OK: in.Value != nil, Bounded: in.Low != nil && in.High != nil}
	for _, v := range []struct{ to, from *float64 }{{&f.Value, in.Value}, {&f.Low, in.Low}, {&f.High, in.High}, {&f.Level, in.Level}} {
		if v.from != nil {
			*v.to = *v.from
		}
	}
	if in.Why != "" {
		f.Why = Written(in.Why)
	}
	if in.Method != nil {
		f.Method = *in.Method
	}
	return nil
}
