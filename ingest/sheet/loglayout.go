package sheet

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// layoutOf makes the layout of a grid from how it was understood. Headings that
// are not sure are kept out.
func (u *insight) layoutOf(g *grid, opt *Options) *layout {
	names, last := g.head.names, mendedAt(g.head.names)
	if last >= 0 {
		names = names[:last]
	}
	n := len(u.table.Columns)
	l := &layout{table: u.table, header: names, given: make([]bool, n), own: make([]bool, n), today: opt.Today, mended: last >= 0,
		habit: u.habit, loose: true, why: "callback", addsUp: u.table == record.Labors || u.table == record.Costs}
	if l.today == 0 {
		l.today = math.MaxInt32
	}
	if words := " " + strings.Join(headingWords(g.name), " "); strings.Contains(words, " inspect") || strings.Contains(words, " follow") || strings.Contains(words, " visit") {
		l.why = "planned"
	}
	order := (&grid{head: headRows{names: u.headings()}}).order(names)
	for i, name := range names {
		k := order[i]
		if k < 0 || u.picks[k].hypothesis == nil || !u.picks[k].sure {
			l.keepOut(name)
			continue
		}
		l.take(u, k, u.picks[k], opt)
	}
	for i := range l.columns {
		l.columns[i].cal.tab = u.tabYears[g]
	}
	l.readCrewOfTab(u, g)
	l.learnGiven(g.data)
	return l
}

// take adds a column of the file that is understood.
func (l *layout) take(u *insight, i int, p pick, opt *Options) {
	k := l.table.Index(p.name)
	if k < 0 {
		m := measures[p.name]
		c := column{spec: m.spec, target: -1, codes: u.cols[i].codes, measure: ownUnit(m.spec.Unit), plain: anyCell, manner: m.read, cal: u.cal}
		c.lo, c.hi = plainRange(m.spec)
		if unit := u.cols[i].unitFor(m.spec.Unit); unit != "" && m.spec.Unit != nil {
			c.in(unit)
		}
		l.columns = append(l.columns, c)
		return
	}
	if k == 0 {
		l.keyHeading = u.cols[i].heading
	}
	l.given[k], l.own[k] = true, true
	c := newColumn(l.table, k, opt.Dictionary)
	c.cal, c.codes = u.cal, u.cols[i].codes
	c.cal.years = u.yearsOf(i)
	if m, ok := newHeadings(l.table, record.Dictionary{}).find(headingWords(u.cols[i].heading)); ok && m.column == k && m.calendar != nil {
		c.cal.dayFirst, c.cal.settled = m.calendar.dayFirst, true
	}
	if unit := u.cols[i].unitFor(c.spec.Unit); unit != "" && c.spec.Unit != nil {
		c.in(unit)
	}
	if p.name == "air_temp_f" {
		c.pairs = tempPairs(u.cols[i].heading+" "+u.legend.says(u.cols[i].heading), u.cols[i].texts)
	}
	if p.name == "bar" {
		c.plain = anyCell
	}
	if p.name == "callback_kind" {
		c.kind = foundIn(u.cols[i].heading)
	}
	c.shorts = u.shortsOf(i, p.name, c.words)
	for _, s := range u.cols[i].senses {
		c.asks = c.asks || s.concept == "pump" || s.concept == "callback"
	}
	l.columns = append(l.columns, c)
}

// learnGiven finds out which columns the rows give beyond those that the file
// names: a thickness within a size, the bar of #4 @ 18 oc; and whether they say
// anything that only a loose reading takes up.
func (l *layout) learnGiven(rows []gridRow) {
	rec, fields := l.newRecord()
	l.spills = nil
	for i := range fields {
		if !l.own[i] && !l.table.Columns[i].Key {
			l.spills = append(l.spills, i)
		}
	}
	r := cellReader{layout: l}
	seen := map[string]bool{}
	for _, row := range rows {
		r.begin(fields)
		for i := range l.columns {
			if c := &l.columns[i]; c.spec != nil {
				r.read(c, fieldOf(fields, c), at(row.cells, i))
			}
		}
		r.derive(rec)
		key := record.Key(rec)
		l.needed = l.needed || seen[key] && (l.table == record.Labors || l.table == record.Costs)
		seen[key] = true
		l.needed = l.needed || len(r.scratch.clocks) > 0 || slices.ContainsFunc(r.problems, func(p record.Problem) bool { return p.Severity == record.Error })
		for _, i := range l.spills {
			if !record.IsMissing(fields[i]) {
				l.given[i], l.needed = true, true
			}
		}
	}
	l.letters = l.table == record.Placements && !l.given[l.table.Index("placement")]
}

// doubts name the headings that were left out because nobody knows what they
// are.
func (u *insight) doubts() []record.Problem {
	var said []record.Problem
	for i, p := range u.picks {
		if p.sure {
			continue
		}
		var could []string
		for _, c := range p.choices {
			if c != "" {
				could = append(could, c)
			}
		}
		said = append(said, record.Problem{Severity: record.Warning, Code: codeDoubtful, Column: u.cols[i].heading,
			Wrong: "it could be " + strings.Join(could, " or ") + ", and was left out", Right: fmt.Sprintf(`say which: --map "%s=%s"`, u.cols[i].heading, could[0])})
	}
	return said
}
