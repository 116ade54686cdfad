package sheet

import (
	"slices"
	"strings"
	"unicode"
)

// headRows are the rows that name the columns of a sheet, as they stand in the
// rows searched.
type headRows struct {
	names       []string // "GROUP / heading" where two rows head
	first, last int
	pair        bool // names stand in two rows
	points      float64
}

// findHeadRows finds the headings of a sheet by what headings are like: words
// that mean something here, short, no numbers, and more of them in a row than
// elsewhere. spans are the cells that a group's heading stands over, by row.
func findHeadRows(rows []gridRow, spans map[int][]span) (headRows, bool) {
	best, at := 0.0, -1
	for i, row := range rows[:min(len(rows), deepestHeader)] {
		if points := headPoints(row.cells); points > best+0.5 {
			best, at = points, i
		}
	}
	if at < 0 || best < 1.5 {
		return headRows{}, false
	}
	h := headRows{names: slices.Clone(rows[at].cells), first: at, last: at, points: best}
	h.joinAbove(rows, spans)
	h.joinBelow(rows)
	h.joinUnits(rows)
	for i := range h.names {
		h.names[i] = strings.Join(strings.Fields(h.names[i]), " ")
	}
	return h, true
}

// headPoints is how much a row looks like headings.
func headPoints(cells []string) float64 {
	points, held := 0.0, 0
	seen := map[string]bool{}
	for _, cell := range cells {
		s := strings.TrimFunc(cell, isBlank)
		if s == "" {
			continue
		}
		held++
		points += headingPoints(s)
		if folded := strings.ToLower(s); seen[folded] {
			points -= 1
		} else {
			seen[folded] = true
		}
	}
	if held < 2 {
		return 0
	}
	return points
}

func headingPoints(s string) float64 {
	if len(s) > 45 {
		return -1
	}
	digits := 0
	for _, r := range s {
		if unicode.IsDigit(r) {
			digits++
		}
	}
	if digits*3 > len(s) || !strings.ContainsFunc(s, unicode.IsLetter) && !strings.ContainsAny(s, "#$@%") {
		return -1.5
	}
	known := 0.0
	for _, x := range sensesOf(s) {
		if x.concept != "" {
			known = max(known, x.plain)
		}
	}
	if known == 0 {
		return 0.1
	}
	return known
}

// Words for a sheet whose headings stand in its first column.
const (
	turnedWrong = "its headings stand in the first column, a job in each of the others"
	turnedRight = "turn it: copy it, and paste it transposed"
)

// span is a merged cell of the row above the headings, in columns.
type span struct{ from, to int }

// joinAbove takes the row above for headings of groups, if it is one: several
// short words that stand over more headings than they are.
func (h *headRows) joinAbove(rows []gridRow, spans map[int][]span) {
	if h.last == 0 || rows[h.last-1].number != rows[h.last].number-1 {
		return
	}
	above := rows[h.last-1].cells
	groups := 0
	for i, cell := range above {
		s := strings.TrimSpace(cell)
		if s == "" {
			continue
		}
		if headingPoints(s) <= 0 || len(s) > 30 || i >= len(h.names) {
			return
		}
		groups++
	}
	if groups < 2 {
		return
	}
	h.first--
	h.pair = true
	stacked := groups*10 >= h.count()*7 // two lines of one heading, not groups
	group, reach := "", len(h.names)
	for i := range h.names {
		if s := strings.TrimSpace(at(above, i)); s != "" {
			group, reach = s, len(h.names)
			if stacked {
				reach = i + 1
			}
			for _, sp := range spans[rows[h.first].number] {
				if sp.from == i {
					reach = sp.to + 1
				}
			}
			if strings.TrimSpace(h.names[i]) == "" {
				h.names[i], group = s, ""
				continue
			}
		}
		if group != "" && i < reach && strings.TrimSpace(h.names[i]) != "" {
			h.names[i] = group + groupMark + strings.TrimSpace(h.names[i])
		}
	}
}

// joined says whether headings were put together of two rows.
func (h *headRows) joined() bool { return h.pair }

func (h *headRows) count() int {
	n := 0
	for _, name := range h.names {
		if strings.TrimSpace(name) != "" {
			n++
		}
	}
	return n
}

// joinBelow takes the row below for the second line of the headings where every
// cell of it is a word that means something: Yds over Ordered.
func (h *headRows) joinBelow(rows []gridRow) {
	if h.last+1 >= len(rows) || rows[h.last+1].number != rows[h.last].number+1 {
		return
	}
	below := rows[h.last+1].cells
	held := 0
	for i, cell := range below {
		s := strings.TrimSpace(cell)
		if s == "" {
			continue
		}
		if i >= len(h.names) || headingPoints(s) < 0.7 || isUnitWord(s) {
			return
		}
		held++
	}
	if held < 2 || held > h.count() {
		return
	}
	h.last++
	h.pair = true
	for i, cell := range below {
		if s := strings.TrimSpace(cell); s != "" {
			h.names[i] = strings.TrimPrefix(strings.TrimSpace(h.names[i])+groupMark+s, groupMark)
		}
	}
}

// joinUnits takes the row below for units where every cell of it is one.
func (h *headRows) joinUnits(rows []gridRow) {
	if h.last+1 >= len(rows) {
		return
	}
	below := rows[h.last+1].cells
	held := 0
	for i, cell := range below {
		s := strings.Trim(strings.TrimSpace(cell), "()[]. ")
		if s == "" || s == "-" {
			continue
		}
		if i >= len(h.names) || !isUnitWord(s) {
			return
		}
		held++
	}
	if held < 2 {
		return
	}
	h.last++
	for i, cell := range below {
		if s := strings.Trim(strings.TrimSpace(cell), "()[]. "); s != "" && s != "-" {
			h.names[i] += " (" + s + ")"
		}
	}
}

func isUnitWord(s string) bool {
	rest, currency := cutCurrency(s)
	return knownUnit(s) || currency && rest == "" || slices.Contains([]string{"mm/dd", "mm/dd/yy", "m/d/y", "date", "no.", "#", "y/n", "each", "ea"}, strings.ToLower(s))
}
