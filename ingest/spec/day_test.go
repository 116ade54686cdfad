package spec

import (
	"math"
	"testing"

	"pourback/ingest/sheet"
)

func TestForecastsAsPeopleWriteThem(t *testing.T) {
	type hour struct {
		at           string
		air, rh, mph float64
	}
	none := -1.0
	for text, want := range map[string][]hour{
		"6:00 78F 40% 5mph; 12:00 101F 18% 12mph": {{"06:00", 78, 40, 5}, {"12:00", 101, 18, 12}},
		"6am 78 40 5; noon 101 18 12; 3 pm 104":   {{"06:00", 78, 40, 5}, {"12:00", 101, 18, 12}, {"15:00", 104, none, none}},
		"6:00 78°F, 40 %, 5 mph":                  {{"06:00", 78, 40, 5}},
		"0600 25C 10 km/h":                        {{"06:00", 77, none, 10 / 1.609344}},
		"6 12mph 78F":                             {{"06:00", 78, none, 12}},
		"7 -5C":                                   {{"07:00", 23, none, none}},
	} {
		got, wrong, _ := forecast(text)
		if wrong != "" || len(got) != len(want) {
			t.Errorf("%q: %v, %s", text, got, wrong)
			continue
		}
		for i, w := range want {
			value := func(key string) float64 {
				if v, ok := got[i][key].(float64); ok {
					return v
				}
				return none
			}
			if got[i]["at"] != w.at || math.Abs(value("air_f")-w.air) > 1e-9 || value("humidity_pct") != w.rh || math.Abs(value("wind_mph")-w.mph) > 1e-9 {
				t.Errorf("%q: %v, want %+v", text, got[i], w)
			}
		}
	}
	for _, text := range []string{"", ";", "hot", "6:00", "6:00 40%", "25:00 78F", "12:00 101F; 6:00 78F", "6:00 78F; 6:00 79F", "6:00 780F", "6:00 78F 140%", "6:00 78F 40% 5mph 9", "6:00 78F sunny"} {
		if got, wrong, right := forecast(text); wrong == "" || right == "" {
			t.Errorf("%q is read as %v", text, got)
		}
	}
}

// What a spec says of the day is read from YAML in each of its forms, and flags win
// over it.
func TestTheDayOfASpec(t *testing.T) {
	text := []byte(`
start: 6
truck: 9
forecast:
  - 6:00 78F 40% 5mph
  - {at: 12:00, air: 101, humidity: 18, wind: 12 mph}
use: patio
length: 20
width: 20
thickness: 4
slump: 5
air: 6%
admixtures: [water reducer 5 oz/cwt, "accelerator 1%"]
retarder: 3 oz/cwt
fiber dose: 1.5
`)
	s, problems := Read("lot.yaml", text, []Word{{"--start", "start", "6:30am"}}, sheet.Options{})
	if s == nil || len(problems) > 0 {
		t.Fatal(problems)
	}
	hours := s.Job["forecast"].([]map[string]any)
	if s.Job["start"] != "06:30" || s.Job["truck_yd"] != 9.0 || len(hours) != 2 || hours[1]["air_f"] != 101.0 || hours[1]["humidity_pct"] != 18.0 || hours[1]["wind_mph"] != 12.0 {
		t.Errorf("%+v", s.Job)
	}
	p := s.Placements[0]
	mixed, _ := p["admixtures"].([]string)
	if p["slump_in"] != 5.0 || p["air_pct"] != 6.0 || p["retarder"] != "3 oz/cwt" || p["fiber_lb_per_yd"] != 1.5 || len(mixed) != 2 || mixed[1] != "accelerator 1%" {
		t.Errorf("%+v", p)
	}
	_, problems = Read("lot.yaml", []byte("start: dawn\nforecast: hot\nuse: patio\narea: 100\nthickness: 4\n"), nil, sheet.Options{})
	if len(problems) != 2 || problems[0].Code != codeClock || problems[1].Code != codeForecast {
		t.Errorf("%v", problems)
	}
}
