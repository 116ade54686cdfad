package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// clock finds a time of day at the end of a text: 07:15, 7:15:30 AM, 7 pm, with
// what stands behind it as its zone.
var clock = patternOf(`(?i)(?:^|[t ,])(\d{1,2})(?::(\d{2}))?(?::(\d{2})(?:[.,]\d+)?)? ?([ap]\.?m?\.?)? ?(z|utc|gmt|[+-]\d{2}:?\d{2}|[+-]\d{2}|[a-z]{2,4}t)?$`)

// timeOfDay is a time without its day.
type timeOfDay struct {
	seconds int
	zone    string
}

// cutClock parts a text into its day and its time of day.
func cutClock(s string) (day string, at timeOfDay, ok bool) {
	p := clock.FindStringSubmatchIndex(s)
	if p == nil {
		return s, at, false
	}
	group := func(n int) string {
		if p[2*n] < 0 {
			return ""
		}
		return s[p[2*n]:p[2*n+1]]
	}
	half := strings.ToLower(strings.ReplaceAll(group(4), ".", ""))
	if group(2) == "" && half == "" {
		return s, at, false
	}
	h, m, sec := atoi(group(1)), atoi(group(2)), atoi(group(3))
	if half != "" && (h < 1 || h > 12) || h > 23 || m > 59 || sec > 59 {
		return s, at, false
	}
	if half != "" {
		h %= 12
		if half[0] == 'p' {
			h += 12
		}
	}
	return strings.Trim(s[:p[0]], " ,"), timeOfDay{h*3600 + m*60 + sec, group(5)}, true
}

// parseMoment reads a date with a time of day.
func parseMoment(text string, cal calendar, say *remarks) (m record.Moment, either, ok bool) {
	if m, ok := isoMoment(text); ok {
		return m, false, true
	}
	s := plainSigns(text)
	if m, ok := serialMoment(s, cal.epoch); ok && strings.Contains(s, ".") {
		say.warn(codeSerial, "a spreadsheet's number for a date and time", "read as "+m.String())
		return m, false, true
	}
	written, at, found := cutClock(s)
	const right = "write day and time, such as 2025-06-03 07:15"
	if found && written == "" {
		say.fail(codeNoDay, "a time without its day", right)
		return 0, false, false
	}
	var tried remarks
	d, ok := parseDate(written, cal, &tried)
	switch {
	case !ok && len(tried) > 0 && tried[0].code == codeNoSuchDay:
		*say = append(*say, tried...)
	case !ok:
		say.fail(codeNotMoment, "not a day and time", right)
	case !found:
		say.fail(codeNoTime, "a day without the time of day", right)
	default:
		*say = append(*say, tried...)
		return record.MomentOf(d.date, at.seconds), d.either, checkZone(at.zone, say)
	}
	return 0, false, false
}

// isoMoment reads the forms 2025-06-03T07:15 and 2025-06-03 07:15:30.
func isoMoment(s string) (record.Moment, bool) {
	if len(s) != 16 && len(s) != 19 || s[4] != '-' {
		return 0, false
	}
	m, err := record.ParseMoment(s)
	return m, err == nil && m.Date() >= earliestDay && m.Date() <= latestDay
}

// checkZone refuses times that are given in universal time: the local time they
// mean is not known. An offset or a zone's name behind a local time is left out.
func checkZone(zone string, say *remarks) bool {
	switch strings.ToLower(zone) {
	case "":
		return true
	case "z", "utc", "gmt", "+00:00", "+0000", "+00", "-00:00":
		say.fail(codeZone, "in universal time", "write the local time, without "+zone)
		return false
	}
	say.warn(codeZoneDropped, "a time zone", "times are local here; "+zone+" is left out")
	return true
}

// parseDay reads a date column's cell, where a time of day may stand behind the
// day.
func parseDay(text string, cal calendar, say *remarks) (day, bool) {
	if d, ok := isoDay(text); ok {
		return day{date: d}, true
	}
	s := plainSigns(text)
	written, at, found := cutClock(s)
	if !found || written == "" {
		return parseDate(s, cal, say)
	}
	d, ok := parseDate(written, cal, say)
	if ok && at.seconds != 0 {
		say.warn(codeTimeDropped, "a date with a time of day", "the time is left out")
	}
	return d, ok
}
