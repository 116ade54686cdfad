package out

import (
	"cmp"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"pourback/analysis"
	"pourback/analysis/visits"
	"pourback/ingest/record"
	"pourback/report/say"
)

// CalendarOptions are what the owner may set about a calendar file.
type CalendarOptions struct {
	Lang  string // as those of pages
	Units string // the same
	Sites bool   // name the sites: off, so that a shared calendar tells nobody's address
}

// Calendar writes the visits that are due and overdue as all-day events of an
// iCalendar file (RFC 5545). The same visit has the same UID in every file, so
// a program that reads a second one changes its event and adds none; what is
// overdue stands on the data date, and its SEQUENCE counts the days it has
// moved. Nothing in the file comes from a clock.
func Calendar(w io.Writer, f *analysis.Factors, opt CalendarOptions) error {
	asOf, err := record.ParseDate(f.AsOf)
	if err != nil {
		return fmt.Errorf("calendar: %w", err)
	}
	c := calendar{words: say.Visits{Voice: say.New(opt.Lang, opt.Units, "")}, stamp: basicDate(asOf) + "T000000Z"}
	c.line("BEGIN", "VCALENDAR")
	c.line("VERSION", "2.0")
	c.line("PRODID", "-//pourback//follow-up visits//"+strings.ToUpper(c.words.Lang()))
	c.line("CALSCALE", "GREGORIAN")
	c.line("METHOD", "PUBLISH")
	for _, v := range inCalendarOrder(f.Visits) {
		c.event(v, asOf, opt)
	}
	c.line("END", "VCALENDAR")
	_, err = io.WriteString(w, c.String())
	return err
}

// inCalendarOrder are the visits by day, job and placement.
func inCalendarOrder(v *visits.Visits) []visits.DueVisit {
	all := slices.Concat(v.Overdue, v.Due)
	slices.SortStableFunc(all, func(x, y visits.DueVisit) int {
		return cmp.Or(cmp.Compare(x.PlannedOn.Date, y.PlannedOn.Date), cmp.Compare(x.JobNo, y.JobNo), cmp.Compare(x.Placement, y.Placement), cmp.Compare(x.Visit.Days, y.Visit.Days))
	})
	return all
}

type calendar struct {
	strings.Builder
	words say.Visits
	stamp string
}

// event writes one visit.
func (c *calendar) event(v visits.DueVisit, asOf record.Date, opt CalendarOptions) {
	on := max(v.PlannedOn.Date, asOf)
	c.line("BEGIN", "VEVENT")
	c.line("UID", visitUID(v))
	c.line("DTSTAMP", c.stamp)
	c.line("SEQUENCE", fmt.Sprint(int(on-v.PlannedOn.Date)))
	c.line("DTSTART;VALUE=DATE", basicDate(on))
	c.line("DTEND;VALUE=DATE", basicDate(on+1))
	c.line("SUMMARY", escaped(c.words.CalendarSummary(&v, asOf)))
	c.line("DESCRIPTION", escaped(c.words.CalendarDetail(&v)))
	if site := say.Clean(v.Site, say.LongName); opt.Sites && site != "" {
		c.line("LOCATION", escaped(site))
	}
	c.line("TRANSP", "TRANSPARENT")
	c.line("END", "VEVENT")
}

// visitUID names a visit by its job, placement and place in the plan, and
// nothing that may change, the language among it.
func visitUID(v visits.DueVisit) string {
	point := fmt.Sprint("day ", v.Visit.Days)
	if v.Visit.End {
		point = "end of warranty"
	}
	sum := sha256.Sum256([]byte(v.JobNo + "\x00" + v.Placement + "\x00" + point))
	return hex.EncodeToString(sum[:16]) + "@pourback"
}

func basicDate(d record.Date) string { return strings.ReplaceAll(d.String(), "-", "") }

var textEscapes = strings.NewReplacer(`\`, `\\`, ";", `\;`, ",", `\,`, "\n", `\n`, "\r", "")

// escaped writes text as a TEXT value (RFC 5545 §3.3.11).
func escaped(s string) string { return textEscapes.Replace(strings.ToValidUTF8(s, "")) }

// mostOctets is the longest line without its end (RFC 5545 §3.1).
const mostOctets = 75

// line writes a content line, folded between characters.
func (c *calendar) line(name, value string) {
	rest, room := name+":"+value, mostOctets
	for len(rest) > room {
		cut := room
		for !utf8.RuneStart(rest[cut]) {
			cut--
		}
		c.WriteString(rest[:cut] + "\r\n ")
		rest, room = rest[cut:], mostOctets-1
	}
	c.WriteString(rest + "\r\n")
}
