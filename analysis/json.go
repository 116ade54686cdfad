package analysis

import "encoding/json"

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
