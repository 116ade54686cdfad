package out

import (
	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"pourback/analysis/figure"
	"pourback/report/say"
)

// assumedJSON writes what is assumed in words, with its number as it is reckoned
// with.
func assumedJSON(v *say.Voice) *json.Marshalers {
	return json.JoinMarshalers(
		json.MarshalToFunc(func(e *jsontext.Encoder, a figure.Assumption) error {
			return json.MarshalEncode(e, struct {
				Name  string  `json:"name"`
				Value float64 `json:"value"`
				Unit  string  `json:"unit"`
				From  string  `json:"from"`
				Off   float64 `json:"off,omitzero"`
			}{v.AssumedName(a.What), a.Value, v.UnitWords(a.Unit), v.AssumedFrom(a.From), a.Off})
		}),
		json.MarshalToFunc(func(e *jsontext.Encoder, l figure.Lever) error {
			return json.MarshalEncode(e, struct {
				Input string `json:"input"`
				Unit  string `json:"unit"`
				*figure.Lever
			}{v.AssumedName(l.Input), v.UnitWords(l.Unit), &l})
		}))
}
