package out

import (
	"bytes"
	"fmt"
	"io"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	jsonv1 "github.com/go-json-experiment/json/v1"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/report/say"
)

// asJSON is a value as JSON, with the words that a voice has for what the
// analysis hands over as codes.
func asJSON(v *say.Voice, doc any, opt ...json.Options) ([]byte, error) {
	spoken := json.WithMarshalers(json.JoinMarshalers(
		json.MarshalToFunc(func(e *jsontext.Encoder, f figure.Figure) error { return e.WriteValue(figureJSON(v, f)) }),
		json.MarshalToFunc(func(e *jsontext.Encoder, f *figure.Figure) error { return e.WriteValue(figureJSON(v, *f)) }),
	))
	return json.Marshal(doc, append([]json.Options{jsonv1.DefaultOptionsV1(), spoken}, opt...)...)
}

// figureJSON is a figure with the reason, where it has one, in words.
func figureJSON(v *say.Voice, f figure.Figure) jsontext.Value {
	return f.AppendJSON(nil, v.Reason(f.Why))
}

// writeJSON writes one indented JSON object.
func writeJSON(w io.Writer, v *say.Voice, doc any) error {
	text, err := asJSON(v, doc, jsontext.WithIndent("  "))
	if err != nil {
		return err
	}
	_, err = w.Write(append(text, '\n'))
	return err
}

// JSON writes the factors as one JSON object, documented field by field in
// factors.schema.json. The list of pours, which alone grows with the history,
// is written piece by piece.
func JSON(w io.Writer, f *analysis.Factors, v *say.Voice) error {
	short := *f
	var pours work.Evaporations
	if f.Weather != nil {
		weather := *f.Weather
		pours, weather.Placements = weather.Placements, nil
		short.Weather = &weather
	}
	text, err := asJSON(v, spoken(&short, v))
	if err != nil {
		return err
	}
	// Text in JSON has no bare quotes, so this is the list and nothing else.
	const list = `"weather":{"placements":[`
	before, after, found := bytes.Cut(text, []byte(list))
	if !found && f.Weather != nil {
		return fmt.Errorf("factors as JSON: no %s in them", list)
	}
	if !found {
		_, err = w.Write(append(text, '\n'))
		return err
	}
	if _, err := w.Write(append(before, list...)); err != nil {
		return err
	}
	if err := writeList(w, pours); err != nil {
		return err
	}
	_, err = w.Write(append(after, '\n'))
	return err
}

// spokenFactors are the factors with their sentences: a topic that has any is
// here once more, under its own key, with them.
type spokenFactors struct {
	*analysis.Factors
	Pump  *spokenPump  `json:"pump,omitempty"`
	Labor *spokenLabor `json:"labor,omitempty"`
}

func spoken(f *analysis.Factors, v *say.Voice) spokenFactors {
	return spokenFactors{Factors: f,
		Pump:  pumpSaid(f.Pump, v),
		Labor: laborSaid(f.Labor, v),
	}
}

// writeList writes the pours without the brackets around them.
func writeList(w io.Writer, pours work.Evaporations) error {
	const piece = 4096
	for from := 0; from < len(pours); from += piece {
		text, err := pours[from:min(from+piece, len(pours))].MarshalJSON()
		if err != nil {
			return err
		}
		text[0] = ','
		text = text[:len(text)-1]
		if from == 0 {
			text = text[1:]
		}
		if _, err := w.Write(text); err != nil {
			return err
		}
	}
	return nil
}
