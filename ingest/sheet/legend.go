package sheet

import (
	"maps"
	"slices"
	"strings"
)

// legend is what the codes of a file stand for, as its own key says: D=driveway
// at the foot, above the headings or on a tab of codes.
type legend struct {
	byHeading map[string]codes  // by heading, folded
	general   codes             // of no heading in particular
	about     map[string]string // what a row of two cells says about a heading, folded
}

// codes are what short words stand for, by the word in capitals.
type codes map[string]string

// of is what a cell says: what its code stands for, or itself.
func (c codes) of(text string) string {
	if meaning, ok := c[strings.ToUpper(strings.TrimSpace(text))]; ok {
		return meaning
	}
	return text
}

// codePair finds a code and its meaning.
var codePair = patternOf(`^\s*["'(]?([^\s=:"']{1,8})["']?\s*(?:=|:|\s-\s|–|->)\s*([^=]*[A-Za-z][^=]*?)\)?\s*$`)

// pairsOf are the codes that a cell explains: one, or several in a row.
func pairsOf(cell string) codes {
	if !strings.ContainsAny(cell, "=") || len(cell) > 600 {
		return nil
	}
	found := codes{}
	for _, part := range strings.FieldsFunc(cell, func(r rune) bool { return strings.ContainsRune(",;|·\n\t", r) }) {
		p := codePair.FindStringSubmatch(part)
		if p == nil || !strings.Contains(part, "=") {
			continue
		}
		found[strings.ToUpper(p[1])] = strings.TrimSpace(p[2])
	}
	return found
}

// explains says whether a row explains codes: several pairs, and little else.
func explains(cells []string) (found codes, heading string) {
	held, pairs := 0, 0
	found = codes{}
	for _, cell := range cells {
		s := strings.TrimSpace(cell)
		if s == "" {
			continue
		}
		if held++; held == 1 {
			if name, rest, cut := strings.Cut(s, ":"); cut && len(name) <= 30 && strings.Contains(rest, "=") {
				heading, s = name, rest
			} else if !strings.Contains(s, "=") && len(s) <= 30 {
				heading = s
				continue
			}
		}
		for code, meaning := range pairsOf(s) {
			found[code] = meaning
			pairs++
		}
	}
	if pairs == 0 || pairs < 2 && held > 2 {
		return nil, ""
	}
	return found, heading
}

// learn takes in what rows explain. A tab of codes explains one a row.
func (l *legend) learn(tab string, rows []gridRow) {
	if l.byHeading == nil {
		l.byHeading, l.general, l.about = map[string]codes{}, codes{}, map[string]string{}
	}
	listed := codeTab.MatchString(tab)
	for _, row := range rows {
		if found, heading := explains(row.cells); found != nil {
			l.take(heading, found)
			continue
		}
		var texts []string
		for _, cell := range row.cells {
			if s := strings.TrimSpace(cell); s != "" {
				texts = append(texts, s)
			}
		}
		if !listed {
			if len(texts) == 2 && len(texts[0]) <= 24 && len(texts[1]) > 6 {
				l.about[foldHeading(strings.TrimRight(texts[0], ": "))] = texts[1]
			}
			continue
		}
		switch {
		case len(texts) == 2 && len(texts[0]) <= 8:
			l.take("", codes{strings.ToUpper(texts[0]): texts[1]})
		case len(texts) == 3 && len(texts[1]) <= 8:
			l.take(texts[0], codes{strings.ToUpper(texts[1]): texts[2]})
		}
	}
}

var codeTab = patternOf(`(?i)\b(?:codes?|legend|key|abbrev\w*|claves?|lookup)\b`)

func (l *legend) take(heading string, found codes) {
	into := l.general
	if heading = foldHeading(heading); heading != "" {
		if l.byHeading[heading] == nil {
			l.byHeading[heading] = codes{}
		}
		into = l.byHeading[heading]
	}
	for code, meaning := range found {
		into[code] = meaning
	}
}

// says is what a row of two cells says about a heading, "" for nothing.
func (l *legend) says(heading string) string {
	if l == nil {
		return ""
	}
	return l.about[foldHeading(heading)]
}

// forColumn are the codes of a column: those that stand under its heading, or
// those of the whole file where most of its cells are codes.
func (l *legend) forColumn(heading, unit string, cells []string) codes {
	if l == nil {
		return nil
	}
	group, own := headingParts(heading, unit)
	for _, name := range []string{heading, own, group + groupMark + own} {
		if c := l.byHeading[foldHeading(name)]; c != nil {
			return c
		}
	}
	for _, name := range slices.Sorted(maps.Keys(l.byHeading)) {
		if l.byHeading[name].cover(cells, 8) {
			return l.byHeading[name]
		}
	}
	if l.general.cover(cells, 6) {
		return l.general
	}
	return nil
}

// cover says whether at least two of the codes, and so many in ten of all cells,
// stand in a column.
func (c codes) cover(cells []string, inTen int) bool {
	if len(c) == 0 {
		return false
	}
	held, known, kinds := 0, 0, map[string]bool{}
	for _, cell := range cells {
		s := strings.ToUpper(strings.TrimSpace(cell))
		if s == "" {
			continue
		}
		held++
		if _, ok := c[s]; ok {
			known++
			kinds[s] = true
		}
	}
	return len(kinds) >= 2 && known*10 >= held*inTen
}
