package record

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"
)

// ClockTime is a time of day in minutes after midnight, 0 to 1,439.
type ClockTime int

var clockForm = regexp.MustCompile(`^(\d{1,2})(?:[:.h](\d{2}))?(am|pm|a|p)?$|^(\d{2})(\d{2})(am|pm|a|p)?$`)

// ParseClock reads a time of day as people write it: 6, 6:30, 06:30, 0630, 6am,
// 6:30 p.m., 18:00, noon.
func ParseClock(s string) (ClockTime, error) {
	text := strings.NewReplacer(" ", "", "m.", "m", "a.", "a", "p.", "p", "o'clock", "", "o’clock", "", "hrs", "").Replace(strings.ToLower(strings.TrimSpace(s)))
	switch text {
	case "noon":
		return 12 * 60, nil
	case "midnight":
		return 0, nil
	}
	wrong := fmt.Errorf("%q is no time of day; write 6:30, 6:30am or 18:30", Shown(s))
	m := clockForm.FindStringSubmatch(text)
	if m == nil {
		return 0, wrong
	}
	hour, minute, half := m[1], m[2], m[3]
	if hour == "" {
		hour, minute, half = m[4], m[5], m[6]
	}
	h, _ := strconv.Atoi(hour)
	mi, _ := strconv.Atoi(minute)
	if mi > 59 || h > 23 {
		return 0, wrong
	}
	if half != "" {
		if h < 1 || h > 12 {
			return 0, fmt.Errorf("%q is no time of day: 1 to 12 goes with am or pm; write %d:%02d", Shown(s), h, mi)
		}
		if h %= 12; half[0] == 'p' {
			h += 12
		}
	}
	return ClockTime(60*h + mi), nil
}

// String is the time in 24 hours: 06:30.
func (t ClockTime) String() string { return fmt.Sprintf("%02d:%02d", t/60, t%60) }
