package analysis

import (
	"encoding/json"

	"pourback/ingest/record"
)

// Day is a date that JSON writes as 2006-01-02, or as null where there is none.
type Day struct{ record.Date }

// MarshalJSON writes the ISO form.
func (d Day) MarshalJSON() ([]byte, error) {
	if d.Date == 0 {
		return []byte("null"), nil
	}
	return appendString(nil, d.String()), nil
}

// marshalWith marshals v, which must be a struct with fields, and puts the
// members that front writes before them.
func marshalWith(v any, front func([]byte) []byte) ([]byte, error) {
	rest, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	b := front(append(make([]byte, 0, len(rest)+64), '{'))
	return append(append(b, ','), rest[1:]...), nil
}
