package out

import (
	"bytes"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
)

// readCalendar reads an iCalendar file by the grammar of RFC 5545, and nothing
// of ours: lines end in CRLF and hold at most 75 octets (§3.1), a line that
// begins with a space goes on the one before, the rest is a name, parameters
// and a value; components nest; each event has the properties that §3.6.1
// demands, once. It returns each event's properties with text unescaped
// (§3.3.11).
//
// Files of the invented company were also read by icalendar 4.0.3 and vobject
// 0.9.6.1 (Python), which found the same events, properties and dates.
func readCalendar(raw []byte) (events []map[string]string, err error) {
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

// due makes factors with one visit due and one overdue.
func due(job, placement, site string) *analysis.Factors {
	at := func(s string) figure.Day { d, _ := record.ParseDate(s); return figure.Day{Date: d} }
	visit := func(name, planned string) visits.DueVisit {
		return visits.DueVisit{JobNo: job, Placement: placement, Site: site, Visit: name, PlannedOn: at(planned), Why: "poured in 96 °F air; 2.1 times the usual risk, mostly for the heat"}
	}
	return &analysis.Factors{AsOf: "2026-10-31", Visits: &visits.Visits{
		Due: []visits.DueVisit{visit("day 28", "2026-11-03")}, Overdue: []visits.DueVisit{visit("day 7", "2026-10-13")}}}
}

func calendarOf(t testing.TB, f *analysis.Factors, opt CalendarOptions) ([]byte, []map[string]string) {
	t.Helper()
	var b bytes.Buffer
	if err := Calendar(&b, f, opt); err != nil {
		t.Fatal(err)
	}
	events, err := readCalendar(b.Bytes())
	if err != nil {
		t.Fatalf("%v in\n%s", err, b.String())
	}
	return b.Bytes(), events
}

func TestCalendarEvents(t *testing.T) {
	_, events := calendarOf(t, due("J-104; B, C", "A", "Lot 3, Red Gate Road"), CalendarOptions{})
	if len(events) != 2 {
		t.Fatalf("%d events", len(events))
	}
	late, soon := events[0], events[1]
	for name, want := range map[string]string{"DTSTART": "20261103", "DTEND": "20261104", "SEQUENCE": "0", "DTSTAMP": "20261031T000000Z", "SUMMARY": "Look at J-104; B, C A: day 28"} {
		if soon[name] != want {
			t.Errorf("due: %s is %q, want %q", name, soon[name], want)
		}
	}
	for name, want := range map[string]string{"DTSTART": "20261031", "DTEND": "20261101", "SEQUENCE": "18", "SUMMARY": "Look at J-104; B, C A: day 7, overdue since 2026-10-13"} {
		if late[name] != want {
			t.Errorf("overdue: %s is %q, want %q", name, late[name], want)
		}
	}
	if late["UID"] == soon["UID"] || !strings.HasSuffix(soon["UID"], "@pourback") {
		t.Errorf("UIDs %q and %q", late["UID"], soon["UID"])
	}
}

// A second file, a week later, changes the events and adds none.
func TestCalendarDoublesNothing(t *testing.T) {
	first, before := calendarOf(t, due("J-104", "A", ""), CalendarOptions{})
	if again, _ := calendarOf(t, due("J-104", "A", ""), CalendarOptions{}); !bytes.Equal(first, again) {
		t.Error("the same visits make another file")
	}
	later := due("J-104", "A", "")
	later.AsOf = "2026-11-07"
	later.Visits.Overdue[0].Why = "another reason"
	_, after := calendarOf(t, later, CalendarOptions{})
	for i := range before {
		if before[i]["UID"] != after[i]["UID"] || before[i]["SEQUENCE"] >= after[i]["SEQUENCE"] || before[i]["DTSTAMP"] >= after[i]["DTSTAMP"] {
			t.Errorf("%v\nbecomes %v", before[i], after[i])
		}
	}
	_, other := calendarOf(t, due("J-10", "4A", ""), CalendarOptions{})
	if other[0]["UID"] == before[0]["UID"] {
		t.Error("two slabs share a UID")
	}
}

func TestCalendarNamesSitesOnlyWhenTold(t *testing.T) {
	const site = "Lot 3, Red Gate Road"
	if raw, _ := calendarOf(t, due("J-104", "A", site), CalendarOptions{}); bytes.Contains(raw, []byte("Red Gate")) {
		t.Error("the site stands in the file")
	}
	if _, events := calendarOf(t, due("J-104", "A", site), CalendarOptions{Sites: true}); events[0]["LOCATION"] != site {
		t.Errorf("the site is %q", events[0]["LOCATION"])
	}
}

func TestCalendarSpeaksTheUnitsThatAreRead(t *testing.T) {
	for units, want := range map[string]string{"us": "Poured in 96 °F air; ", "si": "Poured in 36 °C air; "} {
		if _, events := calendarOf(t, due("J-104", "A", ""), CalendarOptions{Units: units}); !strings.HasPrefix(events[0]["DESCRIPTION"], want) {
			t.Errorf("%s: %q, want %q", units, events[0]["DESCRIPTION"], want)
		}
	}
}

func TestCalendarOfTheCompany(t *testing.T) {
	f := trial.Visited(t, trial.Company(t))
	_, events := calendarOf(t, f, CalendarOptions{Sites: true})
	if want := len(f.Visits.Due) + len(f.Visits.Overdue); len(events) != want || want < 5 {
		t.Errorf("%d events, want %d", len(events), want)
	}
	uids := map[string]bool{}
	for _, e := range events {
		uids[e["UID"]] = true
	}
	if len(uids) != len(events) {
		t.Errorf("%d UIDs for %d events", len(uids), len(events))
	}
}

// Nothing that a record holds can end its line and begin a property of its own,
// or be cut within a character.
func FuzzCalendar(f *testing.F) {
	for _, s := range []string{"J-104", "J\r\nATTENDEE:mailto:x", "a\nBEGIN:VALARM", `\`, "\\n;,:\"", "é🚧" + strings.Repeat("ß", 200), "\u2028x\x00\x7f\xff", "\ufeff", strings.Repeat("\u0301", 90), "שלום", ""} {
		f.Add(s, s, s)
	}
	f.Fuzz(func(t *testing.T, job, placement, site string) {
		factors := due(job, placement, site)
		factors.Visits.Due[0].Why, factors.Visits.Overdue[0].Why = site, job
		_, events := calendarOf(t, factors, CalendarOptions{Sites: true})
		if len(events) != 2 {
			t.Fatalf("%d events", len(events))
		}
		for _, e := range events {
			names := []string{}
			for name := range e {
				names = append(names, name)
			}
			slices.Sort(names)
			if got := strings.Join(names, " "); got != "DESCRIPTION DTEND DTSTAMP DTSTART LOCATION SEQUENCE SUMMARY TRANSP UID" && got != "DESCRIPTION DTEND DTSTAMP DTSTART SEQUENCE SUMMARY TRANSP UID" {
				t.Fatalf("properties %s", got)
			}
		}
	})
}
