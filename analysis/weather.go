package analysis

import (
	"encoding/json"
	"strconv"

	"pourback/analysis/trade"
	"pourback/ingest/record"
)

// Weather is what the air did to each pour.
type Weather struct {
	Placements Evaporations `json:"placements"`
	HotCount   int          `json:"hot_count"` // pours over trade.PrecautionLbFt2
	Known      int          `json:"known"`     // pours with all that the rate needs
}

// Evaporation is the rate at which water left the fresh surface of one pour,
// in lb/ft²/h, good to about ±40 % (Hover 2020).
type Evaporation struct {
	JobNo, Placement string
	PlacedOn         record.Date
	Rate             record.Number
	Lacks            []string // the columns that are missing or out of range
}

// Evaporations are in the order of job and placement.
type Evaporations []Evaporation

func weather(h *record.History) *Weather {
	w := &Weather{Placements: make(Evaporations, len(h.Placements))}
	for i := range h.Placements {
		e := evaporation(&h.Placements[i])
		w.Placements[i] = e
		if e.Rate.OK {
			w.Known++
			if e.Rate.V > trade.PrecautionLbFt2 {
				w.HotCount++
			}
		}
	}
	return w
}

func evaporation(p *record.Placement) Evaporation {
	e := Evaporation{JobNo: p.JobNo, Placement: p.Placement, PlacedOn: p.PlacedOn}
	for _, need := range []struct {
		column string
		value  record.Number
	}{{"concrete_temp_f", p.ConcreteTempF}, {"air_temp_f", p.AirTempF}, {"humidity_pct", p.HumidityPct}, {"wind_mph", p.WindMPH}} {
		if !need.value.OK {
			e.Lacks = append(e.Lacks, need.column)
		}
	}
	if len(e.Lacks) > 0 {
		return e
	}
	rate, err := trade.Evaporation(p.ConcreteTempF.V, p.AirTempF.V, p.HumidityPct.V, p.WindMPH.V)
	if err != nil {
		e.Lacks = []string{err.Error()}
		return e
	}
	e.Rate = record.Some(rate)
	return e
}

// MarshalJSON writes one object a pour; a rate that cannot be computed is null
// with why.
func (es Evaporations) MarshalJSON() ([]byte, error) {
	b := append(make([]byte, 0, 80*len(es)+2), '[')
	for i, e := range es {
		if i > 0 {
			b = append(b, ',')
		}
		b = appendString(append(b, `{"job_no":`...), e.JobNo)
		b = appendString(append(b, `,"placement":`...), e.Placement)
		b = append(b, `,"evaporation_lb_ft2_h":`...)
		if e.Rate.OK {
			b = strconv.AppendFloat(b, e.Rate.V, 'g', -1, 64)
		} else {
			b = appendString(append(b, `null,"why":`...), e.why())
		}
		b = append(b, '}')
	}
	return append(b, ']'), nil
}

func (e Evaporation) why() string {
	s := "lacks"
	for i, c := range e.Lacks {
		if i > 0 {
			s += ","
		}
		s += " " + c
	}
	return s
}

// appendString writes s as JSON text.
func appendString(b []byte, s string) []byte {
	for i := range len(s) {
		if c := s[i]; c < ' ' || c == '"' || c == '\\' || c == '<' || c == '>' || c == '&' || c >= 0x7f {
			quoted, _ := json.Marshal(s) // a string always marshals
			return append(b, quoted...)
		}
	}
	return append(append(append(b, '"'), s...), '"')
}
