package spec

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"pourback/ingest/record"
)

// The keys of a pour day whose values are read here.
const (
	startKey      = "start"
	forecastKey   = "forecast"
	admixturesKey = "admixtures"
)

func ofTheDay(key string) bool { return key == startKey || key == forecastKey }

// Codes of what can be wrong with them.
const (
	codeClock    = "not-a-time"
	codeForecast = "not-a-forecast"
)

// dayValue reads the start of a pour day or its forecast.
func (r *reader) dayValue(into group, key, text, where, as string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	if key == startKey {
		at, err := record.ParseClock(text)
		if err != nil {
			r.fail(codeClock, where, as, text, "no time of day", "write 6:30, 6:30am or 18:30")
			return
		}
		into[key] = at.String()
		return
	}
	hours, wrong, right := forecast(text)
	if wrong != "" {
		r.fail(codeForecast, where, as, text, wrong, right)
		return
	}
	into[key] = hours
}

// partsOf are words apart by commas, semicolons or plus signs, as they are written.
func partsOf(text string) []string {
	var parts []string
	for _, part := range strings.FieldsFunc(text, func(c rune) bool { return c == ',' || c == ';' || c == '+' }) {
		if part = strings.Join(strings.Fields(part), " "); part != "" {
			parts = append(parts, part)
		}
	}
	return parts
}

// inOneForecast is a forecast as a flag has it, from a list of lines or of hours
// such as {at: 6:00, air: 78F, humidity: 40%, wind: 5 mph}.
func inOneForecast(n *yaml.Node) (string, bool) {
	if n.Kind != yaml.SequenceNode {
		return "", false
	}
	lines := make([]string, len(n.Content))
	for i, c := range n.Content {
		switch c.Kind {
		case yaml.ScalarNode:
			lines[i] = c.Value
		case yaml.MappingNode:
			line, ok := hourLine(c)
			if !ok {
				return "", false
			}
			lines[i] = line
		default:
			return "", false
		}
	}
	return strings.Join(lines, "; "), true
}

// hourKeys are the keys of an hour, with the unit that a bare number of each has.
var hourKeys = []struct {
	names []string
	unit  string
}{{[]string{"at", "time", "hour"}, ""}, {[]string{"air", "temp", "temperature", "air_temp_f", "air_f", "air temp"}, "F"}, {[]string{"humidity", "rh", "humidity_pct"}, "%"}, {[]string{"wind", "wind_mph"}, "mph"}}

func hourLine(n *yaml.Node) (string, bool) {
	parts := make([]string, len(hourKeys))
	for i := 0; i+1 < len(n.Content); i += 2 {
		name, value, known := record.Fold(n.Content[i].Value), n.Content[i+1], false
		for k, key := range hourKeys {
			for _, own := range key.names {
				if name != record.Fold(own) || value.Kind != yaml.ScalarNode {
					continue
				}
				known, parts[k] = true, value.Value
				if _, err := strconv.ParseFloat(value.Value, 64); err == nil && k > 0 {
					parts[k] += key.unit
				}
			}
		}
		if !known {
			return "", false
		}
	}
	return strings.Join(parts, " "), true
}

const howForecast = `write each hour as 6:00 78F 40% 5mph, the hours in order and apart by semicolons; humidity and wind may be left out`

var (
	hourBegins = regexp.MustCompile(`(?i)^\s*(noon|midnight|\d{1,4}(?:[:.]\d{2})?(?:\s*[ap]\.?\s?m\.?)?)(?:[\s,:=]+|$)`)
	hourValue  = regexp.MustCompile(`(?i)^\s*(?:air|humidity|rh|wind)?\s*(-?\d+(?:\.\d+)?)\s*(°?\s?[fc]\b|%|mph|km/h|kph|m/s|knots?|kn|kt)?[\s,/]*`)
)

// forecast reads hours of a day: their time, air in °F, humidity in %, wind in mph.
// A bare number is the one of these whose turn it is.
func forecast(text string) (hours []map[string]any, wrong, right string) {
	last := record.ClockTime(-1)
	for line := range strings.FieldsFuncSeq(text, func(c rune) bool { return c == ';' || c == '\n' || c == '|' }) {
		if strings.TrimSpace(line) == "" {
			continue
		}
		m := hourBegins.FindStringSubmatch(line)
		if m == nil {
			return nil, fmt.Sprintf("%q does not begin with a time of day", strings.TrimSpace(line)), howForecast
		}
		at, err := record.ParseClock(m[1])
		if err != nil {
			return nil, fmt.Sprintf("%q is no time of day", m[1]), howForecast
		}
		if at <= last {
			return nil, fmt.Sprintf("%s does not come after %s", at, last), howForecast
		}
		last = at
		hour, wrong := airOf(line[len(m[0]):])
		if wrong != "" {
			return nil, fmt.Sprintf("at %s: %s", at, wrong), howForecast
		}
		hour["at"] = at.String()
		hours = append(hours, hour)
	}
	if len(hours) == 0 {
		return nil, "no hours", howForecast
	}
	return hours, "", ""
}

// airOf reads what stands behind the time of an hour.
func airOf(rest string) (hour map[string]any, wrong string) {
	keys := []string{"air_f", "humidity_pct", "wind_mph"}
	hour, turn := map[string]any{}, 0
	for strings.TrimSpace(rest) != "" {
		m := hourValue.FindStringSubmatch(rest)
		if m == nil {
			return nil, fmt.Sprintf("%q is no temperature, humidity or wind", strings.TrimSpace(rest))
		}
		v, _ := strconv.ParseFloat(m[1], 64)
		unit := strings.ToLower(strings.Trim(m[2], "° "))
		switch unit {
		case "f", "c":
			turn = 0
		case "%":
			turn = 1
		case "":
		default:
			turn = 2
		}
		if turn > 2 || hour[keys[turn]] != nil {
			return nil, fmt.Sprintf("%q is one value too many", strings.TrimSpace(rest))
		}
		hour[keys[turn]] = converted(v, unit)
		rest, turn = rest[len(m[0]):], turn+1
	}
	for _, k := range []struct {
		key       string
		low, high float64
		what      string
	}{{"air_f", -60, 140, "a temperature from −60 to 140 °F"}, {"humidity_pct", 0, 100, "a humidity from 0 to 100 %"}, {"wind_mph", 0, 150, "a wind from 0 to 150 mph"}} {
		if v, said := hour[k.key].(float64); said && !(v >= k.low && v <= k.high) {
			return nil, "want " + k.what
		} else if !said && k.key == "air_f" {
			return nil, "no temperature"
		}
	}
	return hour, ""
}

// converted is a value in °F, % or mph.
func converted(v float64, unit string) float64 {
	const kmPerMile, knot, meterPerSec = 1.609344, 1.852 / 1.609344, 3.6 / 1.609344
	switch unit {
	case "c":
		return v*1.8 + 32
	case "km/h", "kph":
		return v / kmPerMile
	case "m/s":
		return v * meterPerSec
	case "kn", "kt", "knot", "knots":
		return v * knot
	}
	return v
}
