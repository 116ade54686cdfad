package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"pourback/analysis"
	"pourback/analysis/work"
)

// JSON writes the factors as one JSON object, documented field by field in
// factors.schema.json. The list of pours, which alone grows with the history,
// is written piece by piece.
func JSON(w io.Writer, f *analysis.Factors) error {
	short := *f
	var pours work.Evaporations
	if f.Weather != nil {
		weather := *f.Weather
		pours, weather.Placements = weather.Placements, nil
		short.Weather = &weather
	}
	text, err := json.Marshal(&short)
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
