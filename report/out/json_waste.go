package out

import (
	"pourback/analysis/concrete"
	"pourback/analysis/work"
	"pourback/report/say"
)

// spokenOverage is what the records say of concrete, with its sentences.
type spokenOverage struct {
	Answer string `json:"answer"`
	*concrete.Overage
	Notes []string `json:"notes"`
}

func overageSaid(o *concrete.Overage, v *say.Voice) *spokenOverage {
	if o == nil {
		return nil
	}
	w := say.Waste{Voice: v}
	return &spokenOverage{w.Answer(o), o, append([]string{}, w.Notes(o)...)}
}

// spokenWeather is what the records say of the weather, with its sentences. The
// list of pours comes first: [JSON] writes it by itself.
type spokenWeather struct {
	Placements spokenPours `json:"placements"`
	Answer     string      `json:"answer"`
	*work.Weather
	Notes []string `json:"notes"`
}

func weatherSaid(x *work.Weather, v *say.Voice) *spokenWeather {
	if x == nil {
		return nil
	}
	w := say.Weather{Voice: v}
	return &spokenWeather{spokenPours{x.Placements, why(v)}, w.Answer(x), x, append(w.Notes(x), w.Hours(x.HotHours))}
}

// spokenPours are pours with why their rates are not known, in words.
type spokenPours struct {
	pours work.Evaporations
	why   func(work.Lacks) string
}

// MarshalJSON writes the list.
func (p spokenPours) MarshalJSON() ([]byte, error) { return p.pours.AppendJSON(nil, p.why), nil }

// why says what a pour lacks, each of the few possible lacks but once.
func why(v *say.Voice) func(work.Lacks) string {
	var said [work.MostLacks]string
	w := say.Weather{Voice: v}
	return func(l work.Lacks) string {
		if said[l] == "" {
			said[l] = w.Lacks(l)
		}
		return said[l]
	}
}
