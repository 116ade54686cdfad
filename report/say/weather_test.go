package say

import (
	"strings"
	"testing"
	"time"

	"pourback/analysis/figure"
	"pourback/analysis/work"
	"pourback/report/internal/trial"
)

// The wording is our own: no published source.
func TestWeatherInASentence(t *testing.T) {
	for _, c := range []struct {
		w     work.Weather
		units string
		want  string
	}{
		{work.Weather{Known: 561, HotCount: 80, Hottest: time.June, ColdCount: 35, HasAir: 594}, "us",
			"80 of 561 pours dried fast enough to need fog or windbreaks, most often in June. 35 of 594 were placed in air under 40 °F."},
		{work.Weather{Known: 9, HotCount: 1, HasAir: 9}, "us", "1 of 9 pours dried fast enough to need fog or windbreaks. None was placed in air under 40 °F."},
		{work.Weather{Known: 1, ColdCount: 1, HasAir: 1}, "si", "None of 1 pour with weather on record dried fast enough to need fog or windbreaks. 1 of 1 was placed in air under 4 °C."},
		{work.Weather{HasAir: 3}, "us", "The records cannot say how fast the slabs dried: no pour has all its weather."},
	} {
		if got := (Weather{New("", c.units, "")}).Answer(&c.w); got != c.want {
			t.Errorf("%q\nwant %q", got, c.want)
		}
	}
}

func TestWhatDryingDidToTheHours(t *testing.T) {
	w := Weather{New("", "", "")}
	for want, f := range map[string]figure.Figure{
		"The same job took 40% more hours on such days (between 30 and 50).":                                                                 withRange(1.4, 1.3, 1.5),
		"The same job took 10% fewer hours on such days (between 5 and 15).":                                                                 withRange(.9, .85, .95),
		"Too close to call whether such days cost hours: anywhere from 10% fewer to 10% more fits your records.":                             withRange(1.02, .9, 1.1),
		"Too early to say what such days do to the hours: 2 fast-drying pours and 30 others have their hours on record; it takes 5 of each.": figure.Unknown(work.FewHotPours{Hot: 2, Others: 30}),
		"Too early to say what such days do to the hours: no placement has its area, thickness and labor hours.":                             figure.Unknown(work.NoTimedPours{}),
	} {
		if got := w.Hours(f); got != want {
			t.Errorf("%q\nwant %q", got, want)
		}
	}
}

// The caution comes first, and the pace of setting only where it is known.
func TestNotesOnWeather(t *testing.T) {
	w := Weather{New("", "si", "")}
	notes := w.Notes(&work.Weather{Known: 5, HotCount: 2, SetPace: withRange(2.29, 2, 2.5), HotHours: figure.Unknown(work.NoTimedPours{})})
	if !strings.HasPrefix(notes[0], "On hot, dry or windy days start earlier. Have fog or windbreaks") || !strings.Contains(strings.Join(notes, " "), "set about 2.3 times as fast as at 20 °C") {
		t.Errorf("%q", notes)
	}
	if got := w.Lacking(12, &work.Weather{Known: 5, Lacking: []work.Lacking{{Column: "wind_mph", Pours: 6}, {Column: "humidity_pct", Pours: 3}}}); got != "7 placements lack a temperature, the humidity or the wind: wind 6 and humidity 3." {
		t.Errorf("%q", got)
	}
	if got := w.Lacking(5, &work.Weather{Known: 5}); got != "" {
		t.Errorf("%q where nothing lacks", got)
	}
}

// One, three and all columns: bits 3; 0, 1 and 2; and 4 for what is out of range.
func TestWhatOnePourLacks(t *testing.T) {
	w := Weather{New("", "", "")}
	for lacks, want := range map[work.Lacks]string{8: "lacks wind", 7: "lacks concrete temperature, air temperature and humidity", 16: "a temperature, the humidity or the wind is out of range"} {
		if got := w.Lacks(lacks); got != want {
			t.Errorf("%d: %q, want %q", lacks, got, want)
		}
	}
}

// withRange is a figure that is known, with a range.
func withRange(v, low, high float64) figure.Figure {
	f := trial.Bounded(v, low, high)
	f.OK = true
	return f
}
