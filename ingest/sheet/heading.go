package sheet

import (
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// headings knows what each heading of a table means.
type headings struct {
	table *record.Table
	bases map[string]int // heading without spaces → column
	stems map[string]int // heading without its unit → column; -1 where it could be several
	own   map[string]int // the column's own name without its unit → column
}

// meaning is what a heading says: the column, the unit where it bears another
// than the record's, and whether the order of its dates is given.
type meaning struct {
	column   int
	unit     string
	calendar *calendar
	unitless bool // the heading should bear a unit and bears none
}

func newHeadings(t *record.Table, d record.Dictionary) *headings {
	h := &headings{t, map[string]int{}, map[string]int{}, map[string]int{}}
	for heading, name := range d.Columns {
		if i := t.Index(name); i >= 0 {
			h.learn(heading, i)
		}
	}
	for i, c := range t.Columns {
		for _, name := range append([]string{c.Name}, c.Synonyms...) {
			h.learn(name, i)
		}
	}
	return h
}

// learn takes a heading of column i, and what is left of it without its unit.
func (h *headings) learn(heading string, i int) {
	words := headingWords(heading)
	base := strings.Join(words, "")
	if _, taken := h.bases[base]; !taken {
		h.bases[base] = i
	}
	unit := h.table.Columns[i].Unit
	if n := len(words) - 1; n > 0 && unit.Knows(words[n]) {
		stem := strings.Join(words[:n], "")
		if j, taken := h.stems[stem]; taken && j != i {
			i = -1
		}
		h.stems[stem] = i
		if heading == h.table.Columns[max(i, 0)].Name && bySize(unit) {
			h.own[stem] = i
		}
	}
}

// bySize says whether a column of that unit is known by its name without it:
// area is area_sqft, but labor alone may be hours or money.
func bySize(u *record.Unit) bool {
	return u == record.Inch || u == record.Foot || u == record.SquareFoot
}

// longestHeading is far more than a heading takes; longer cells hold data.
const longestHeading = 80

// headingWords are the words of a heading in lower case, parted at spaces,
// dashes, brackets and where jobNo begins its second word.
func headingWords(s string) []string {
	if len(s) > longestHeading {
		return nil
	}
	var b strings.Builder
	var last rune
	for _, r := range s {
		switch {
		case unicode.IsUpper(r) && unicode.IsLower(last):
			b.WriteRune(' ')
		case r == '#' || r == '%':
			b.WriteRune(' ')
		}
		last = r
		if strings.ContainsRune("()[]{}:,;*?!\"'|=<>\n", r) || isBlank(r) {
			r = ' '
		}
		b.WriteRune(r)
	}
	words := strings.Fields(record.Fold(b.String()))
	if len(words) > 1 && words[0] == "%" {
		words = append(words[1:], "%")
	}
	return words
}

// find says what a heading, in its words, means in this table.
func (h *headings) find(words []string) (meaning, bool) {
	if len(words) == 0 {
		return meaning{}, false
	}
	if i, ok := h.bases[strings.Join(words, "")]; ok {
		return meaning{column: i}, true
	}
	for n := len(words) - 1; n >= max(1, len(words)-3); n-- {
		if m, ok := h.findBearing(words[:n], words[n:]); ok {
			return m, true
		}
	}
	i, ok := h.own[strings.Join(words, "")]
	return meaning{column: i, unitless: true}, ok
}

// findBearing knows a heading that bears a unit, a currency, or the order of
// its dates behind its name.
func (h *headings) findBearing(name, bears []string) (meaning, bool) {
	for _, cut := range []int{0, 1} {
		if cut == 1 && (len(name) < 2 || name[len(name)-1] != "in") {
			break
		}
		base := strings.Join(name[:len(name)-cut], "")
		for _, known := range []map[string]int{h.bases, h.stems} {
			i, ok := known[base]
			if !ok || i < 0 {
				continue
			}
			if m, ok := h.bearing(i, bears); ok {
				return m, true
			}
		}
	}
	return meaning{}, false
}

func (h *headings) bearing(i int, bears []string) (meaning, bool) {
	m := meaning{column: i}
	joined := strings.Join(bears, "")
	switch c := &h.table.Columns[i]; c.Kind {
	case record.KindNumber, record.KindCount:
		m.unit = joined
		return m, c.Unit.Knows(joined)
	case record.KindMoney:
		_, found := cutCurrency(joined)
		return m, found || bears[0] == "per"
	case record.KindDate, record.KindMoment:
		m.calendar = writtenOrder(bears)
		return m, m.calendar != nil
	case record.KindFlag:
		return m, joined == "yn" || joined == "yesno"
	}
	return m, false
}

// writtenOrder reads the order of day and month that a heading shows, as in
// (dd mm yyyy).
func writtenOrder(words []string) *calendar {
	if !slices.ContainsFunc(words, isDay) || !slices.ContainsFunc(words, isMonth) {
		return nil
	}
	for _, w := range words {
		if !isDay(w) && !isMonth(w) && strings.Trim(w, "y") != "" {
			return nil
		}
	}
	return &calendar{dayFirst: slices.IndexFunc(words, isDay) < slices.IndexFunc(words, isMonth), settled: true}
}

func isDay(w string) bool   { return w == "d" || w == "dd" }
func isMonth(w string) bool { return w == "m" || w == "mm" }
