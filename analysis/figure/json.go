package figure

import (
	"encoding/json"
	"math"
	"strconv"

	"pourback/ingest/record"
)

// Day is a date that JSON writes as 2006-01-02, or as null where there is none.
type Day struct{ record.Date }

// MarshalJSON writes the ISO form.
func (d Day) MarshalJSON() ([]byte, error) {
	if d.Date == 0 {
		return []byte("null"), nil
	}
	return AppendString(nil, d.String()), nil
}

// Number is a number that JSON writes as null where it was not recorded.
type Number struct{ record.Number }

// Known is a number that was recorded.
func Known(v float64) Number { return Number{record.Some(v)} }

// MarshalJSON writes the shortest decimal that reads back as the number.
func (n Number) MarshalJSON() ([]byte, error) { return AppendNumber(nil, n.V, n.OK), nil }

// UnmarshalJSON reads what MarshalJSON writes, as kept bids do.
func (n *Number) UnmarshalJSON(b []byte) error {
	var v *float64
	if err := json.Unmarshal(b, &v); err != nil {
		return err
	}
	if *n = (Number{}); v != nil {
		*n = Known(*v)
	}
	return nil
}

// AppendNumber writes the shortest decimal that reads back as v; what is not
// known or not finite is null.
func AppendNumber(b []byte, v float64, known bool) []byte {
	if !known || math.IsNaN(v) || math.IsInf(v, 0) {
		return append(b, "null"...)
	}
	return strconv.AppendFloat(b, v, 'g', -1, 64)
}

// AppendString writes s as JSON text.
func AppendString(b []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' || c >= 0x7f {
			quoted, _ := json.Marshal(s) // a string always marshals
			return append(b, quoted...)
		}
	}
	return append(append(append(b, '"'), s...), '"')
}
