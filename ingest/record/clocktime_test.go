package record

import "testing"

func TestClockTimesAsPeopleWriteThem(t *testing.T) {
	for text, want := range map[string]string{"6": "06:00", "6:30": "06:30", " 06:30 ": "06:30", "0630": "06:30", "6am": "06:00", "6 a.m.": "06:00", "6:30 PM": "18:30", "18:00": "18:00",
		"6.30": "06:30", "12am": "00:00", "12pm": "12:00", "noon": "12:00", "midnight": "00:00", "5p": "17:00", "6 o'clock": "06:00", "1815": "18:15", "23:59": "23:59"} {
		if got, err := ParseClock(text); err != nil || got.String() != want {
			t.Errorf("%q: %v, %v; want %s", text, got, err, want)
		}
	}
	for _, text := range []string{"", "six", "24:00", "25", "6:60", "6:3", "13pm", "0am", "6:30:15", "-6", "6-7", "630000", "7 30"} {
		if got, err := ParseClock(text); err == nil {
			if text == "7 30" && got.String() == "07:30" {
				continue // a colon left out
			}
			t.Errorf("%q is read as %v", text, got)
		}
	}
}
