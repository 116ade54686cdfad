package sheet

import (
	"slices"
	"strings"
	"unicode"
)

// headRows are the rows that name the columns of a sheet, as they stand in the
// rows searched.
type headRows struct {
	names       []string // "GROUP / heading" where two rows head, "… / unit" where units stand below
	units       []string // that stand below the headings
	hints       []string // what a row of explanations says below the headings
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
		if points := headPoints(row.cells) + 0.6*overFigures(rows, i); points > best+0.5 && (at < 0 || !sameHeadings(row.cells, rows[at].cells)) {
			best, at = points, i
		}
	}
	if at < 0 || best < 1.5 {
		return headRows{}, false
	}
	h := headRows{names: slices.Clone(rows[at].cells), first: at, last: at, points: headPoints(rows[at].cells)}
	h.joinAbove(rows, spans)
	h.joinBelow(rows)
	h.joinUnits(rows)
	h.joinHints(rows)
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
	for _, x := range sensesOf(s, "") {
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

// joinUnits takes the row below for units where nearly every cell of it is one.
func (h *headRows) joinUnits(rows []gridRow) {
	if h.last+1 >= len(rows) {
		return
	}
	units, held, other := make([]string, len(h.names)), 0, 0
	for i, cell := range rows[h.last+1].cells {
		s := strings.Trim(strings.TrimSpace(cell), "()[]. ")
		switch {
		case s == "" || s == "-":
		case i >= len(h.names) || strings.ContainsFunc(s, unicode.IsDigit) || len(s) > 12:
			return
		case isUnitWord(s):
			units[i] = s
			held++
		default:
			other++
		}
	}
	if held < 2 || other*5 > held {
		return
	}
	h.last++
	h.units = units
	for i, unit := range units {
		if unit != "" {
			h.names[i] = strings.TrimPrefix(strings.TrimSpace(h.names[i])+groupMark+unit, groupMark)
		}
	}
}

// holdsFigure says whether a cell holds a number, a date or the like.
func holdsFigure(s string) bool { return strings.ContainsFunc(s, unicode.IsDigit) }

// columnsOfFigures says for each column of a row how many of the rows behind it
// hold figures there: more than half of those that hold anything.
func columnsOfFigures(rows []gridRow, width int) []bool {
	of := make([]bool, width)
	for i := range of {
		held, figures := 0, 0
		for _, row := range rows {
			if s := strings.TrimSpace(at(row.cells, i)); s != "" {
				held++
				if holdsFigure(s) {
					figures++
				}
			}
		}
		of[i] = held >= 3 && 2*figures > held
	}
	return of
}

// mostBelow is how many rows below headings are looked at.
const mostBelow = 14

// overFigures is how many cells of a row are words that stand over columns of
// figures, as headings do whatever they say.
func overFigures(rows []gridRow, i int) float64 {
	words := false
	for _, cell := range rows[i].cells {
		words = words || strings.ContainsFunc(cell, unicode.IsLetter)
	}
	if !words {
		return 0
	}
	n := 0
	of := columnsOfFigures(rows[i+1:min(len(rows), i+1+mostBelow)], len(rows[i].cells))
	for k, cell := range rows[i].cells {
		if s := strings.TrimSpace(cell); of[k] && s != "" && len(s) <= 45 && !holdsFigure(s) {
			n++
		} else if of[k] && s != "" {
			n--
		}
	}
	return float64(max(n, 0))
}

// joinHints takes the row below for explanations of the headings, where words
// stand over most of the columns of figures and no figure does.
func (h *headRows) joinHints(rows []gridRow) {
	if h.last+1 >= len(rows) || len(rows) < h.last+5 {
		return
	}
	below := rows[h.last+1].cells
	of := columnsOfFigures(rows[h.last+2:min(len(rows), h.last+2+mostBelow)], len(h.names))
	over := 0
	for i, figures := range of {
		s := strings.TrimSpace(at(below, i))
		switch {
		case !figures || s == "":
		case strings.Count(s, "")-1 > 2 && strings.ContainsFunc(s, unicode.IsLetter) && !looksTyped(s):
			over++
		default:
			return
		}
	}
	if over < 3 || hasTotalWord(below) {
		return
	}
	h.last++
	h.hints = make([]string, len(h.names))
	for i := range h.hints {
		h.hints[i] = strings.TrimSpace(at(below, i))
	}
}

// looksTyped says whether a cell begins as a value does: with a figure.
func looksTyped(s string) bool {
	s = strings.TrimLeft(s, "$#~+-. (")
	return s != "" && isDigit(s[0])
}

// signsBelow stand in a row of units and are none.
var signsBelow = []string{"mm/dd", "m/d", "date", "no", "no.", "#", "y/n", "yes/no", "each", "ea", "text", "name", "names", "count", "qty", "sides", "l x w", "who", "words", "code", "$/yd", "$/sf", "ft x ft", "total"}

func isUnitWord(s string) bool {
	rest, currency := cutCurrency(s)
	return knownUnit(s) || currency && rest == "" || writtenOrder(headingWords(s)) != nil || slices.Contains(signsBelow, strings.ToLower(s))
}
