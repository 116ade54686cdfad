package sheet

import (
	"slices"
	"strings"

	"pourback/ingest/record"
)

// grid is a sheet, or the table of a CSV file, as its first rows show it.
type grid struct {
	name  string // of the sheet, or of the file
	sheet *sheetPart
	rows  []gridRow
	head  headRows
	facts sheetFacts
	data  []gridRow // below the headings, without totals and notes
}

// insight is how a grid is read.
type insight struct {
	table *record.Table
	picks []pick
	cols  []*fileColumn
	habit habit
	cal   calendar
	said  []record.Problem
	lacks []string // what no sure column gives
	gain  float64
	named []int // years that the titles name
	// tabYears are the years of tabs that are of a year each.
	tabYears map[*grid]int
	legend   *legend
}

// newGrid finds a grid's headings and the rows that hold data.
func newGrid(name string, s *sheetPart, rows []gridRow, spans map[int][]span) (*grid, bool) {
	head, ok := findHeadRows(rows, spans)
	if !ok {
		return nil, false
	}
	g := &grid{name: name, sheet: s, rows: rows, head: head}
	for _, row := range rows[head.last+1:] {
		if found, _ := explains(row.cells); len(found) > 1 {
			continue
		}
		if !row.blank() && !hasTotalWord(row.cells) && !sameHeadings(row.cells, head.names) {
			g.data = append(g.data, row)
		}
	}
	return g, true
}

func hasTotalWord(cells []string) bool {
	return slices.ContainsFunc(cells, func(c string) bool { return isTotalWord(strings.TrimSpace(c)) })
}

// sameHeadings says whether a row repeats headings, their own words or their
// group's.
func sameHeadings(cells, names []string) bool {
	same, held := 0, 0
	for i, cell := range cells {
		s := foldHeading(cell)
		if s == "" {
			continue
		}
		held++
		name := foldHeading(at(names, i))
		if own := name[strings.LastIndex(name, groupMark)+1:]; s == name || s == strings.TrimPrefix(own, "/ ") || strings.HasPrefix(name, s+groupMark) {
			same++
		}
	}
	return held >= 2 && same*10 >= held*8
}

// understand reads grids with the same headings.
func (f *File) understand(grids []*grid, delim byte, all catalogue) *insight {
	names := grids[0].head.names
	var rows []gridRow
	for _, g := range grids {
		if slices.Equal(g.head.names, names) {
			rows = append(rows, g.data...)
			continue
		}
		order := g.order(names)
		for _, row := range g.data {
			cells := make([]string, len(names))
			for i, k := range order {
				if k >= 0 {
					cells[i] = at(row.cells, k)
				}
			}
			rows = append(rows, gridRow{number: row.number, cells: cells, end: row.end})
		}
	}
	rows = thinOut(rows, mostProfiled)
	u := &insight{legend: &f.legend, habit: habitOf(rows, delim, f.opt.DecimalComma), cal: f.calendarOf(rows, len(names))}
	u.named, u.tabYears = f.yearsAbout(grids), yearOfEach(grids)
	titled := u.cal
	titled.titled = u.named
	u.cols = make([]*fileColumn, len(names))
	for i, name := range names {
		cells := make([]string, len(rows))
		for k, row := range rows {
			cells[k] = at(row.cells, i)
		}
		unit := at(grids[0].head.units, i)
		short := f.legend.forColumn(name, unit, cells)
		for k := range cells {
			if cells[k] = short.of(cells[k]); k > 0 && isDitto(cells[k]) {
				cells[k] = cells[k-1]
			}
		}
		c := &fileColumn{heading: name, unit: unit, codes: short, profile: newProfile(cells, u.habit, titled)}
		if grids[0].head.joined() || unit != "" {
			c.senses = sensesOf(name, unit)
		} else {
			c.senses = phraseSenses(headingTokens(name), 1)
			for _, part := range strings.Split(name, groupMark) {
				c.either = append(c.either, phraseSenses(headingTokens(part), 1))
			}
		}
		if hint := at(grids[0].head.hints, i); hint != "" {
			c.hint = hint
			for _, s := range phraseSenses(headingTokens(hint), 0.4) {
				if s.concept != "" {
					c.senses = append(c.senses, s)
				}
			}
		}
		u.cols[i] = c
	}
	th, gain := f.bestThought(grids, names, u, all)
	if th.table == record.Placements && th.soundsMetric() {
		for _, c := range u.cols {
			c.metric = metricUnits
		}
		th, gain = f.bestThought(grids, names, u, all)
		u.said = append(u.said, record.Problem{Severity: record.Warning, Code: codeMetric, Wrong: "its headings name no units", Right: "read as metric: only so does the concrete fill the slabs"})
	}
	u.table, u.picks, u.gain = th.table, th.conclude(), gain
	u.lacks = th.lacks(u.picks)
	return u
}

// bestThought reads the columns as rows of each table in turn and keeps the one
// that makes most of them.
func (f *File) bestThought(grids []*grid, names []string, u *insight, all catalogue) (*thinking, float64) {
	var thoughts []*thinking
	var gains []float64
	named := tableNamed(grids[0].name)
	for _, h := range all {
		known, said := f.knownBy(h, names), f.answersFor(grids, names, h.table)
		h.pin(names, known, said)
		th := think(h.table, u.cols, u.habit, known, said)
		gain := th.gain()
		if h.table == named {
			gain += 5
		}
		thoughts, gains = append(thoughts, th), append(gains, gain)
	}
	best, bestGain, most := -1, 0.0, slices.Max(gains)
	for i, th := range thoughts {
		if len(th.lacks(th.allPicks())) == 0 && gains[i] > 0.8*most && (best < 0 || gains[i] > bestGain) {
			best, bestGain = i, gains[i]
		}
	}
	if best < 0 {
		best = slices.Index(gains, most)
	}
	return thoughts[best], gains[best]
}

// allPicks are the picks of a thinking, taken as sure.
func (t *thinking) allPicks() []pick {
	picks := make([]pick, len(t.picks))
	for i, k := range t.picks {
		picks[i] = pick{hypothesis: t.hypothesisAt(k), sure: true}
	}
	return picks
}

// thinOut keeps at most so many rows, evenly from all.
func thinOut(rows []gridRow, most int) []gridRow {
	if len(rows) <= most {
		return rows
	}
	kept := make([]gridRow, 0, most)
	for i := range most {
		kept = append(kept, rows[i*len(rows)/most])
	}
	return kept
}

// knownBy is, for each heading, the column of a table that the record form or
// the settings know it by, or -1.
func (f *File) knownBy(h *headings, names []string) []int {
	known := make([]int, len(names))
	for i, name := range names {
		known[i] = -1
		if m, ok := h.find(headingWords(name)); ok {
			known[i] = m.column
		}
	}
	return known
}

// pin takes columns that bear their record's own names at their word, where all
// that the table requires does.
func (h *headings) pin(names []string, known []int, said []*string) {
	own := make([]bool, len(names))
	have := map[int]bool{}
	for i, k := range known {
		if k >= 0 && h.ownName(headingWords(names[i]), meaning{column: k}) {
			own[i], have[k] = true, true
		}
	}
	for k, c := range h.table.Columns {
		if c.Required && !have[k] {
			return
		}
	}
	for i, k := range known {
		if own[i] && said[i] == nil {
			said[i] = &h.table.Columns[k].Name
		}
	}
}

// answersFor is, for each heading, what an answer says it is in a table: a
// column's or measure's own name, "" for of no use, nil where nobody said.
func (f *File) answersFor(grids []*grid, names []string, t *record.Table) []*string {
	said := make([]*string, len(names))
	last, header := mendedAt(names), headerKey(names)
	if last >= 0 {
		said[last], header = new(string), headerKey(names[:last])
	}
	for i, name := range names {
		if i == last {
			continue
		}
		for _, a := range f.opt.Answers {
			if a.Header != "" && a.Header != header {
				continue
			}
			if foldHeading(a.Heading) != foldHeading(name) || a.Sheet != "" && !slices.ContainsFunc(grids, func(g *grid) bool { return foldHeading(g.name) == foldHeading(a.Sheet) }) {
				continue
			}
			column := a.Column
			if table, own, dotted := strings.Cut(column, "."); dotted && table == t.Name {
				column = own
			} else if dotted || t != record.Placements && column != "" {
				continue
			}
			said[i] = &column
			break
		}
	}
	return said
}

// habitOf finds out how the cells of a file write their decimals, before it is
// known what they are.
func habitOf(rows []gridRow, delim byte, wish string) habit {
	if h, ok := wishedHabit(wish); ok {
		return h
	}
	var seen decimalMarks
	for _, row := range rows {
		for _, cell := range row.cells {
			s := strings.ToLower(strings.TrimSpace(cell))
			if s == "" || dateWithin.MatchString(s) || len(s) > 24 {
				continue
			}
			seen.add(s)
		}
	}
	return seen.habit(delim)
}

// calendarOf finds out from the dates of a file in which order they are written,
// where only one order makes days of all of them.
func (f *File) calendarOf(rows []gridRow, width int) calendar {
	cal := calendar{dayFirst: f.opt.DayFirst, epoch: epoch1900}
	var slashed, dotted dayOrder
	for _, row := range rows {
		for i := range min(width, len(row.cells)) {
			s := strings.ToLower(plainSigns(row.cells[i]))
			_, s = cutWeekday(s)
			if p := yearLast.FindStringSubmatch(s); p != nil && p[2] == p[4] && p[2] == "." {
				dotted.add(atoi(p[1]), atoi(p[3]))
			} else if p != nil && p[2] == p[4] {
				slashed.add(atoi(p[1]), atoi(p[3]))
			}
		}
	}
	if slashed.dayFirst() || slashed.monthFirst() {
		cal.dayFirst, cal.settled = slashed.dayFirst(), true
	}
	cal.dotMonth = dotted.monthFirst() || slashed.monthFirst() && !dotted.dayFirst()
	return cal
}

// dayOrder counts the dates that only one order of day and month makes days of.
type dayOrder struct{ firsts, seconds int }

func (o *dayOrder) add(a, b int) {
	if a > 12 && a <= 31 && b <= 12 {
		o.firsts++
	} else if b > 12 && b <= 31 && a <= 12 {
		o.seconds++
	}
}

func (o dayOrder) dayFirst() bool   { return o.firsts > 0 && o.seconds == 0 }
func (o dayOrder) monthFirst() bool { return o.seconds > 0 && o.firsts == 0 }

// orderSaid says that the order of day and month was taken from the dates
// themselves, against the setting.
func (u *insight) orderSaid(opt *Options) {
	if !u.cal.settled || u.cal.dayFirst == opt.DayFirst {
		return
	}
	order := "month first"
	if u.cal.dayFirst {
		order = "day first"
	}
	u.said = append(u.said, record.Problem{Severity: record.Warning, Code: codeDayOrder, Wrong: "dates are written " + order + " here", Right: "read so: no other order makes days of all of them"})
}

// readings are what the headings of a table are read as, for people to see.
func (u *insight) headings() []string {
	names := make([]string, len(u.cols))
	for i, c := range u.cols {
		names[i] = c.heading
	}
	return names
}

func (u *insight) readings() []HeadingReading {
	var read []HeadingReading
	mended := mendedAt(u.headings())
	for i, c := range u.cols {
		if c.heading == "" || i == mended {
			continue
		}
		h := HeadingReading{Heading: c.heading, Sure: u.picks[i].sure, Choices: []string{}, Samples: []string{}}
		if p := u.picks[i]; p.hypothesis != nil {
			h.Column, h.Each = (&thinking{table: u.table}).nameOf(p.hypothesis), p.name == columnHoursEach
		}
		h.Choices = append(h.Choices, u.picks[i].choices...)
		if h.Sure {
			h.Choices = []string{}
		}
		h.Samples = append(h.Samples, c.samples...)
		read = append(read, h)
	}
	return read
}
