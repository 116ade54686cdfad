package sheet

import (
	"slices"
	"strings"
)

// inRecordForm says whether every heading is a column's own name, with its unit
// or another: then there is nothing to understand. Headings that the settings
// name, or an answer speaks of, count as such and as not such. An export, which
// names them all, is in the record form whatever stands beside them.
func (f *File) inRecordForm(h *header) bool {
	if namesAll(h.table, h.names) {
		return true
	}
	header := headerKey(h.names)
	if last := mendedAt(h.names); last >= 0 {
		header = headerKey(h.names[:last])
	}
	for i, name := range h.names {
		words := headingWords(name)
		switch {
		case strings.TrimSpace(name) == "" || i == lastNamed(h.names) && strings.EqualFold(strings.TrimSpace(name), setAsideColumn):
			continue
		case !h.known[i] || slices.ContainsFunc(f.opt.Answers, func(a Answer) bool {
			return foldHeading(a.Heading) == foldHeading(name) && (a.Header == "" || a.Header == header)
		}):
			return false
		case f.opt.Dictionary.Columns[name] == "" && !h.headings.ownName(words, h.meanings[i]):
			return false
		}
	}
	return true
}

// plainEnough says whether rows below headings of the record form hold what those
// say and no more: then nothing needs to be understood.
func (f *File) plainEnough(h *header, rows []gridRow) bool {
	last, mended := lastNamed(h.names), mendedAt(h.names)
	if mended >= 0 {
		last = lastNamed(h.names[:mended])
	}
	for i := range h.names {
		if strings.TrimSpace(h.names[i]) != "" && !h.known[i] && i != last && i != mended {
			return false
		}
	}
	l, refusal := newLayout(*h, &f.opt)
	if refusal != nil {
		return true // it will be said
	}
	rows = thinOut(rows, 60)
	for i := range l.columns {
		if l.columns[i].misnamed(i, rows) {
			return false
		}
	}
	l.loose, l.habit = true, findHabit(l, rows, ',', f.opt.DecimalComma)
	l.learnGiven(rows)
	return !l.needed
}

// misnamed says whether a column of names holds numbers or answers.
func (c *column) misnamed(i int, rows []gridRow) bool {
	if c.spec == nil || !slices.Contains([]string{"crew", "pump_outfit", "customer", "site"}, c.spec.Name) {
		return false
	}
	held, other := 0, 0
	for _, row := range rows {
		s := strings.ToLower(strings.TrimSpace(at(row.cells, i)))
		if s == "" {
			continue
		}
		held++
		if strings.Trim(s, "0123456789.") == "" || yesCallback.MatchString(s) || noCallback.MatchString(s) {
			other++
		}
	}
	return 2*other > held
}

// ownName says whether a heading is the column's own name, whatever unit it
// bears.
func (h *headings) ownName(words []string, m meaning) bool {
	own := headingWords(h.table.Columns[m.column].Name)
	if n := len(own) - 1; n > 0 && h.table.Columns[m.column].Unit.Knows(own[n]) {
		own = own[:n]
	}
	return strings.HasPrefix(strings.Join(words, ""), strings.Join(own, ""))
}

// openLog opens a CSV file as a job log, by the delimiter that makes most of its
// headings. It is false where the file is none.
func (f *File) openLog(d *dialect, sample []byte, all catalogue, settled bool) (done bool, err error) {
	tries, skip := delimiters, 0
	if m := sepLine.FindSubmatch(sample); m != nil {
		tries, skip = string(m[1]), len(m[0])
	}
	if settled {
		tries = string(d.delim)
	}
	var best *grid
	delim := d.delim
	for _, by := range []byte(tries) {
		rows := sampleRows(sample, skip, by, d.enc)
		if g, ok := newGrid(f.Name, nil, rows, nil); ok && (best == nil || g.head.points > best.head.points) {
			best, delim = g, by
		}
	}
	if best == nil {
		return false, nil
	}
	if limit := f.opt.Limits.Columns; len(best.head.names) > limit {
		return false, manyColumns(len(best.head.names), limit)
	}
	f.legend.learn("", best.rows)
	tables := f.logTables([]*grid{best}, delim, all, !settled)
	if len(tables) == 0 && !settled {
		f.lenient = true
		tables = f.logTables([]*grid{best}, delim, all, true)
	}
	if len(tables) == 0 || settled && tables[0].addsNothing(all) {
		return false, nil
	}
	last := best.rows[best.head.last]
	d.delim, d.start, d.rows = delim, last.end, last.number
	for _, t := range tables {
		t.csv = d
	}
	f.Tables = tables
	f.settleDoubts()
	f.shareJobs()
	return true, nil
}

// addsNothing says whether understanding found nothing that the record form does
// not say: every heading means what it means there, and no cell of the first rows
// needs more than that. Then the file is read as such.
func (t *Table) addsNothing(all catalogue) bool {
	u := t.insight
	k := slices.IndexFunc(all, func(h *headings) bool { return h.table == u.table })
	for i, p := range u.picks {
		m, known := all[k].find(headingWords(u.cols[i].heading))
		switch {
		case !p.sure:
			return false
		case p.hypothesis == nil && known, p.hypothesis != nil && (!known || u.table.Columns[m.column].Name != p.name):
			return false
		}
	}
	return !t.layout.needed
}

// logTables makes a table of each of several grids with the same headings, or
// none where they hold no records.
func (f *File) logTables(like []*grid, delim byte, all catalogue, ask bool) []*Table {
	u := f.understand(like, delim, all)
	var blocked *Refusal
	if sideBySide(like[0].head.names) {
		blocked = refuse(f.Name, codeNoTable, "two tables side by side, under the same headings", "put one below the other, or each on a sheet of its own")
		u.lacks = nil
	}
	if u.doubtfulJobs() {
		return nil
	}
	if len(u.lacks) > 0 {
		rows := 0
		for _, g := range like {
			rows += len(g.data)
		}
		if !ask || !u.looksLikeRecords(rows, f.lenient) {
			return nil
		}
		wrong, right := u.wanting()
		blocked = refuse(f.Name, codeNoTable, wrong, right)
	}
	u.orderSaid(&f.opt)
	var tables []*Table
	for n, g := range like {
		if g.sheet != nil {
			u.cal.epoch = g.sheet.book.epoch
		}
		sheet := ""
		if g.sheet != nil {
			sheet = g.name
		}
		t := f.newTable(sheet, u.layoutOf(g, &f.opt))
		t.sheet, t.skip, t.insight, t.blocked, t.merged = g.sheet, g.rows[g.head.last].number, u, blocked, g.facts.below
		for i := range g.head.first {
			if !g.rows[i].blank() {
				t.sayTitles([]int{i}, g.rows)
			}
		}
		if g.sheet != nil {
			t.sayHidden(g.facts)
		}
		if n == 0 {
			for _, p := range u.said {
				t.say(p)
			}
		}
		tables = append(tables, t)
	}
	return tables
}
