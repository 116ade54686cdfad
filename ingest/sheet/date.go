package sheet

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"

	"pourback/ingest/record"
)

// calendar says how a column's dates are written.
type calendar struct {
	dayFirst bool  // 6/3/2025 is the sixth of March
	dotMonth bool  // 6.3.2025 is the third of June: other dates of the file can be nothing else
	settled  bool  // by the column's heading, not by the setting alone
	epoch    epoch // from which spreadsheet numbers count
	years    []int // those that a date without its year can be of
	titled   []int // years that the titles name
	tab      int   // the year of the column's tab, where each tab is of a year of its own; 0 where not
}

// day is what a cell says about a date.
type day struct {
	date   record.Date
	either bool // the setting alone decided between two days
}

// parseDate reads a calendar day: ISO 8601, month/day/year or the other order,
// day.month.year, names of months, and the number by which a spreadsheet keeps
// a date.
func parseDate(text string, cal calendar, say *remarks) (day, bool) {
	if d, ok := isoDay(text); ok {
		return day{date: d}, true
	}
	s := plainSigns(text)
	if d, ok := serialDay(s, cal.epoch, say); ok {
		return day{date: d}, !say.failed()
	}
	y, m, d, either, ok := dateParts(s, cal)
	if !ok {
		if y, m, d, either, ok = yearless(s, cal); ok {
			say.warn(codeYearLeftOut, "a date without its year", fmt.Sprintf("read as of %d", y))
		}
	}
	if !ok {
		say.fail(codeNotDate, "not a date", "write a date, such as 2025-06-03")
		return day{}, false
	}
	if !record.ValidDate(y, time.Month(m), d) || y < earliestYear || y > latestYear {
		say.fail(codeNoSuchDay, "no such day", otherOrder(s, y, m, d, cal))
		return day{}, false
	}
	return day{record.DateOf(y, time.Month(m), d), either && !cal.settled}, true
}

// Years outside these are slips.
const earliestYear, latestYear = 1900, 2199

var earliestDay, latestDay = record.DateOf(earliestYear, 1, 1), record.DateOf(latestYear, 12, 31)

// isoDay reads the form 2025-06-03.
func isoDay(s string) (record.Date, bool) {
	if len(s) != 10 || s[4] != '-' {
		return 0, false
	}
	d, err := record.ParseDate(s)
	return d, err == nil && d >= earliestDay && d <= latestDay
}

// otherOrder suggests what an impossible date may have meant.
func otherOrder(written string, y, m, d int, cal calendar) string {
	swapped := record.DateOf(y, time.Month(d), m)
	switch {
	case y < earliestYear || y > latestYear || m == d || !record.ValidDate(y, time.Month(d), m):
		return "write a date, such as 2025-06-03"
	case !yearLast.MatchString(written):
		return fmt.Sprintf("did you mean %s?", swapped)
	}
	setting := "day first"
	if cal.dayFirst {
		setting = "month first"
	}
	return fmt.Sprintf("did you mean %s? then dates are written %s here", swapped, setting)
}

// The forms of written dates.
var (
	yearFirst  = patternOf(`^(\d{4})([-/. ])(\d{1,2})([-/. ])(\d{1,2})$`)
	compact    = patternOf(`^(\d{4})(\d{2})(\d{2})$`)
	yearLast   = patternOf(`^(\d{1,2}) ?([-/.]) ?(\d{1,2}) ?([-/.]) ?'?(\d{4}|\d{2})$`)
	dayNamed   = patternOf(`^(\d{1,2})(?:st|nd|rd|th)?(?: of)?[-/. ]*([a-z]{3,9})[-/., ]*'?(\d{4}|\d{2})$`)
	monthFirst = patternOf(`^([a-z]{3,9})[-/. ]*(\d{1,2})(?:st|nd|rd|th)?[-/, ]+'?(\d{4}|\d{2})$`)
	nameInside = patternOf(`^(\d{4})[-/, ]*([a-z]{3,9})[-/. ]*(\d{1,2})$`)
	weekday    = patternOf(`^(?:mon|tues?|weds?(?:nes)?|wednes|thu(?:rs?)?|thr|fri|sat(?:ur)?|sun)(?:day)?[., ]+|^(?:lun(?:es)?|mar(?:tes)|mie(?:rcoles)?|jue(?:ves)?|vie(?:rnes)?|sab(?:ado)?|dom(?:ingo)?)[., ]+`)
)

// aboutDay are words around a day that add nothing to it.
var aboutDay = patternOf(`^(?:poured|placed|pour|on)(?: on)?:?\s+|\s*\([^)\d]*\)$`)

// dateParts takes a written date apart. either says that both orders of day and
// month make a day.
func dateParts(s string, cal calendar) (y, m, d int, either, ok bool) {
	s = spanishMonths(record.Unaccented(strings.ToLower(s)))
	_, s = cutWeekday(strings.TrimSpace(aboutDay.ReplaceAllString(s, "")))
	if p := yearFirst.FindStringSubmatch(s); p != nil && p[2] == p[4] {
		return atoi(p[1]), atoi(p[3]), atoi(p[5]), false, true
	}
	if p := compact.FindStringSubmatch(s); p != nil {
		return atoi(p[1]), atoi(p[2]), atoi(p[3]), false, true
	}
	if p := yearLast.FindStringSubmatch(s); p != nil && p[2] == p[4] {
		m, d = atoi(p[1]), atoi(p[3])
		dotted := p[2] == "." && !cal.dotMonth
		if dotted || p[2] != "." && cal.dayFirst {
			d, m = m, d
		}
		return fullYear(p[5]), m, d, !dotted && m <= 12 && d <= 12 && m != d, true
	}
	if p := dayNamed.FindStringSubmatch(s); p != nil {
		m = monthNamed(p[2])
		return fullYear(p[3]), m, atoi(p[1]), false, m > 0
	}
	if p := monthFirst.FindStringSubmatch(s); p != nil {
		m = monthNamed(p[1])
		return fullYear(p[3]), m, atoi(p[2]), false, m > 0
	}
	if p := nameInside.FindStringSubmatch(s); p != nil {
		m = monthNamed(p[2])
		return atoi(p[1]), m, atoi(p[3]), false, m > 0
	}
	return 0, 0, 0, false, false
}

// Dates without their year.
var (
	dayOnly      = patternOf(`^(\d{1,2}) ?[-/] ?(\d{1,2})$`)
	dayOnlyNamed = patternOf(`^(\d{1,2})(?:st|nd|rd|th)?[-/. ]*([a-z]{3,9})\.?$|^([a-z]{3,9})[-/. ]*(\d{1,2})(?:st|nd|rd|th)?$`)
)

// yearless reads a date without its year, where the other dates of its column
// leave one year: the only one there is, or the only one in which the day of the
// week is right; failing that, the one that its tab is of.
func yearless(s string, cal calendar) (y, m, d int, either, ok bool) {
	if len(cal.years) == 0 {
		return 0, 0, 0, false, false
	}
	s = spanishMonths(record.Unaccented(strings.ToLower(s)))
	name, s := cutWeekday(strings.TrimSpace(aboutDay.ReplaceAllString(s, "")))
	if p := dayOnly.FindStringSubmatch(s); p != nil {
		m, d = atoi(p[1]), atoi(p[2])
		if cal.dayFirst {
			d, m = m, d
		}
		either = m <= 12 && d <= 12 && m != d
	} else if p := dayOnlyNamed.FindStringSubmatch(s); p != nil {
		m, d = monthNamed(p[2]+p[3]), atoi(p[1]+p[4])
	}
	if m == 0 {
		return 0, 0, 0, false, false
	}
	var fit []int
	for _, year := range cal.years {
		if record.ValidDate(year, time.Month(m), d) && (name == "" || isWeekday(name, record.DateOf(year, time.Month(m), d))) {
			fit = append(fit, year)
		}
	}
	if len(fit) > 1 && slices.Contains(fit, cal.tab) {
		fit = []int{cal.tab}
	}
	if len(fit) != 1 {
		return 0, 0, 0, false, false
	}
	return fit[0], m, d, either, true
}

// weekdayAbout finds a day of the week by a letter or two before a figure, and by
// its name behind one: F 3/1, Sa 7/20, 3/1 Fri.
var (
	weekdayAhead  = patternOf(`^(m|mo|tu|t|w|we|th|r|f|fr|sa|su|s)[., ]+\d`)
	weekdayBehind = patternOf(`\d[, ]+(mon|tues?|wed|thu(?:rs?)?|fri|sat|sun)(?:day)?\.?$`)
)

// cutWeekday parts the name of a day of the week from a date in lower case.
func cutWeekday(s string) (name, date string) {
	if name = weekday.FindString(s); name != "" {
		return name, strings.TrimSpace(s[len(name):])
	}
	if p := weekdayAhead.FindStringSubmatch(s); p != nil {
		return p[1], strings.TrimLeft(s[len(p[1]):], "., ")
	}
	if p := weekdayBehind.FindStringSubmatchIndex(s); p != nil {
		return s[p[2]:p[3]], s[:p[0]+1]
	}
	return "", s
}

// isWeekday says whether a day's name, in English or Spanish, is that of a date. A
// letter that begins two days' names may be either.
func isWeekday(name string, d record.Date) bool {
	day := d.Time().Weekday()
	if name = strings.TrimRight(name, "., "); len(name) <= 2 {
		return strings.HasPrefix(strings.ToLower(day.String()), name) || name == "r" && day == time.Thursday
	}
	spanish := [...]string{"dom", "lun", "mar", "mie", "jue", "vie", "sab"}
	return strings.HasPrefix(name, strings.ToLower(day.String()[:3])) || strings.HasPrefix(name, spanish[day])
}

// spanishMonth finds the name of a month in Spanish, and the words around it.
var spanishMonth = patternOf(`(?:\bde )?\b(ene(?:ro)?|feb(?:rero)|mar(?:zo)|abr(?:il)?|may(?:o)|jun(?:io)|jul(?:io)|ago(?:sto)?|sept?(?:iembre)|set(?:iembre)?|oct(?:ubre)|nov(?:iembre)|dic(?:iembre)?)\b\.?(?: del? )?`)

var inEnglish = map[string]string{"ene": "jan", "abr": "apr", "ago": "aug", "set": "sep", "dic": "dec"}

// spanishMonths puts English months in place of Spanish ones: 7-abr-25, 4 de
// junio de 2025.
func spanishMonths(s string) string {
	if strings.IndexFunc(s, unicode.IsLetter) < 0 {
		return s
	}
	p := spanishMonth.FindStringSubmatchIndex(s)
	if p == nil {
		return s
	}
	month := s[p[2] : p[2]+3]
	if english, ok := inEnglish[month]; ok {
		month = english
	}
	return s[:p[0]] + month + " " + s[p[1]:]
}

// MonthNamed is the month that a text names by at least three letters, in English or
// Spanish, and the year behind it, 0 where there is none: julio, Sept. 2026, julio de
// 2026. A month of 0 says that it names none.
func MonthNamed(text string) (month, year int) {
	words := strings.Fields(spanishMonths(record.Unaccented(strings.ToLower(plainSigns(text)))))
	if len(words) == 2 {
		n, err := strconv.Atoi(words[1])
		if err != nil || n < 1900 || n > 9999 {
			return 0, 0
		}
		year = n
	}
	if len(words) == 0 || len(words) > 2 || len(words[0]) < 3 {
		return 0, 0
	}
	if month = monthNamed(strings.TrimSuffix(words[0], ".")); month == 0 {
		return 0, 0
	}
	return month, year
}

// atoi reads figures that a pattern has found.
func atoi(digits string) int {
	n, _ := strconv.Atoi(digits)
	return n
}

// fullYear completes a year of two digits: 69 to 99 are of the last century
// (POSIX strptime's pivot).
func fullYear(s string) int {
	y := atoi(s)
	switch {
	case len(s) > 2:
		return y
	case y >= 69:
		return 1900 + y
	}
	return 2000 + y
}

var months = []string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// monthNamed is the month of a name or of its first letters; 0 for none.
func monthNamed(s string) int {
	for i, m := range months {
		if strings.HasPrefix(m, s) || s == "sept" && m == "september" {
			return i + 1
		}
	}
	return 0
}
