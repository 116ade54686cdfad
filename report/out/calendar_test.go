package out

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"pourback/analysis"
	"pourback/analysis/figure"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/internal/ics"
	"pourback/report/internal/trial"
)

// due makes factors with one visit due and one overdue.
func due(job, placement, site string) *analysis.Factors {
	at := func(s string) figure.Day { d, _ := record.ParseDate(s); return figure.Day{Date: d} }
	visit := func(day int, planned string) visits.DueVisit {
		return visits.DueVisit{JobNo: job, Placement: placement, Site: site, Visit: visits.PlanPoint{Days: day}, PlannedOn: at(planned),
			Why: []visits.Why{{Code: visits.WhyHotAir, Value: 96}, {Code: visits.WhyRisk, Value: 2.1, Mostly: &visits.Cause{Kind: visits.CauseHeat, Above: true}}}}
	}
	return &analysis.Factors{AsOf: "2026-10-31", Visits: &visits.Visits{
		Due: []visits.DueVisit{visit(28, "2026-11-03")}, Overdue: []visits.DueVisit{visit(7, "2026-10-13")}}}
}

func calendarOf(t testing.TB, f *analysis.Factors, opt CalendarOptions) ([]byte, []map[string]string) {
	t.Helper()
	var b bytes.Buffer
	if err := Calendar(&b, f, opt); err != nil {
		t.Fatal(err)
	}
	events, err := ics.Read(b.Bytes())
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
	later.Visits.Overdue[0].Why = []visits.Why{{Code: visits.WhyUsualRisk}}
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

// In another language the words are others, and a visit is still the same one.
func TestCalendarSpeaksTheLanguageThatIsRead(t *testing.T) {
	_, english := calendarOf(t, due("J-104", "A", ""), CalendarOptions{})
	_, other := calendarOf(t, due("J-104", "A", ""), CalendarOptions{Lang: "qps"})
	for i := range english {
		if english[i]["UID"] != other[i]["UID"] {
			t.Errorf("the UID changes with the language: %q and %q", english[i]["UID"], other[i]["UID"])
		}
		left := map[string]bool{}
		plainWords(other[i]["SUMMARY"]+" "+other[i]["DESCRIPTION"], map[string]bool{}, left)
		if len(left) > 0 {
			t.Errorf("%v stand in English in %q, %q", left, other[i]["SUMMARY"], other[i]["DESCRIPTION"])
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
		factors.Visits.Due[0].Why, factors.Visits.Overdue[0].Why = []visits.Why{{Code: visits.WhyCalled, Kind: site}}, []visits.Why{{Code: visits.WhyCalled, Kind: job}}
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
