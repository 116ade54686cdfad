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

// MarshalWith marshals v, which must be a struct with fields, and puts the
// members that front writes before them.
func MarshalWith(v any, front func([]byte) []byte) ([]byte, error) {
	rest, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	b := front(append(make([]byte, 0, len(rest)+64), '{'))
	return append(append(b, ','), rest[1:]...), nil
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
