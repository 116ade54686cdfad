package sheet

import (
	"math"
	"strings"

	"pourback/ingest/record"
)

// fileColumn is one column of a file with what is known about it.
type fileColumn struct {
	heading string
	unit    string // that a row below the heading holds
	hint    string // an explanation below the heading
	codes   codes
	senses  []sense
	metric  map[*record.Unit]string // units of bare numbers in a metric log
	either  [][]sense               // of each part of a heading that a stroke parts: Trabajo / Job
	*profile
}

// thinking is one attempt at reading a sheet as rows of one table: every column
// of the file is held against every column of the table, and the assignment that
// makes most of the whole is kept. What comes second tells how sure it is.
type thinking struct {
	table  *record.Table
	cols   []*fileColumn
	habit  habit
	hyps   []hypothesis
	known  []int       // the column that settings or a record's own name say, or -1
	said   []*string   // what an answer says, nil where none does
	base   [][]float64 // columns × hypotheses, from heading and values
	heads  [][]float64 // from the heading alone
	points [][]float64 // base with relations, and behind it each column's own "of no use"
	picks  []int
	sum    float64
	told   deductions
	least  []float64 // what giving a column another reading costs at least
}

// unlikely keeps a hypothesis out of every assignment.
const unlikely = -60.0

// certain is the margin from which a reading is taken without asking.
const certain = 3.0

// noUse is what a column of no use here has for itself: a reading must beat it.
const noUse = 2.5

func think(t *record.Table, cols []*fileColumn, h habit, known []int, said []*string) *thinking {
	th := &thinking{table: t, cols: cols, habit: h, hyps: hypotheses[t], known: known, said: said}
	for i := range cols {
		base, heads := make([]float64, len(th.hyps)), make([]float64, len(th.hyps))
		for k := range th.hyps {
			base[k], heads[k] = th.score(i, &th.hyps[k])
		}
		th.base, th.heads = append(th.base, base), append(th.heads, heads)
	}
	th.solve(nil)
	for range 2 {
		r := th.relate(th.picks)
		th.told = r.deduced
		th.solve(r)
	}
	return th
}

// score is what speaks for a hypothesis about a column, all told and from the
// heading alone.
func (t *thinking) score(i int, h *hypothesis) (points, head float64) {
	c := t.cols[i]
	head = affinity(c.senses, h.words)
	for _, part := range c.either {
		head = math.Max(head, affinity(part, h.words))
	}
	head = math.Min(12, head)
	if k := t.known[i]; k >= 0 && t.table.Columns[k].Name == h.name {
		head = math.Max(head, 10)
	}
	if h.least > 0 && head < h.least || c.filled == 0 && head < 5 {
		return unlikely, head
	}
	e := &evidence{profile: c.profile}
	m := c.measureOf(h.unit)
	for _, v := range c.known() {
		e.scaled = append(e.scaled, m.bare(v))
	}
	value := 0.0
	if c.filled > 0 {
		weight := math.Min(1, 0.4+float64(c.filled)/12)
		value = weight * h.suits(e)
	}
	if m.foreign {
		head += 1
	}
	if head > -2 && c.tells(t.table, h.name) {
		value += 2.5
	}
	unit := c.unitSpeaks(h, t.table)
	return head + value + unit, head + math.Max(0, unit)
}

// unitSpeaks is what the unit below a heading says about a hypothesis: it must
// be of the kind that the column is measured in.
func (c *fileColumn) unitSpeaks(h *hypothesis, t *record.Table) float64 {
	unit := strings.Trim(c.unit, "()[]. ")
	if unit == "" {
		return 0
	}
	var kind record.Kind
	if col := t.Column(h.name); col != nil {
		kind = col.Kind
	}
	rest, currency := cutCurrency(unit)
	switch currency = currency && rest == ""; {
	case h.unit.Knows(unit) && (h.unit == record.Foot || h.unit == record.Inch) == (record.Foot.Knows(unit) && !strings.EqualFold(unit, "yd")):
		factor, _, _ := h.unit.Scale(unit)
		if h.unit == record.Inch && factor == 12 || h.unit == record.Foot && factor < 0.1 {
			return -4
		}
		return 3
	case kind == record.KindMoney && currency:
		return 3
	case kind == record.KindDate && writtenOrder(headingWords(unit)) != nil:
		return 3
	case knownUnit(unit) || currency || writtenOrder(headingWords(unit)) != nil:
		return -9
	}
	return 0
}

// measureOf is the measure that the heading bears for a column of that unit.
func (c *fileColumn) measureOf(u *record.Unit) measure {
	m := ownUnit(u)
	if u == nil {
		return m
	}
	if unit := c.unitFor(u); unit != "" {
		if factor, offset, ok := u.Scale(unit); ok && (factor != 1 || offset != 0) {
			m = measure{u, factor, offset, true}
		}
	}
	return m
}

// unitFor is the unit of the column's bare numbers: that of its heading, or of a
// metric log; "" for the record's own.
func (c *fileColumn) unitFor(u *record.Unit) string {
	if unit := headingUnit(c.heading, u); unit != "" || u == nil {
		return unit
	}
	if unit := headingUnit(c.hint, u); unit != "" {
		return unit
	}
	if u == record.Inch && c.metric != nil && len(c.known()) > 0 && median(c.known()) >= 40 {
		return "mm"
	}
	if u == record.PSI && len(c.known()) > 0 && c.known()[len(c.known())-1] < 100 && c.unitTexts["mpa"]+c.unitTexts["MPa"]+c.unitTexts["Mpa"] > 0 {
		return "mpa" // 25 among N25 and 32 MPa
	}
	return c.metric[u]
}

// headingUnit is the unit that a heading bears for a kind of unit, its own
// before its group's, or "".
func headingUnit(heading string, u *record.Unit) string {
	group, own := headingParts(heading, "")
	for _, part := range []string{own, group} {
		tokens := headingTokens(part)
		for i := len(tokens) - 1; i >= 0; i-- {
			w := tokens[i]
			if u == record.Hour && strings.HasPrefix(w, "d") {
				continue // THE DAY: nobody keeps a crew's time in days of 24 hours
			}
			one := len(w) == 1 && (len(tokens) == 1 || strings.Contains("hdlsh", w))
			if u.Knows(w) && !one {
				return w
			}
		}
	}
	return ""
}

// useless is what speaks for a column being of no use.
func (t *thinking) useless(i int, r *ties) float64 {
	points := uselessness(t.cols[i].senses)
	for _, part := range t.cols[i].either {
		points = math.Min(points, uselessness(part))
	}
	if t.cols[i].unit == "%" {
		points += 3
	}
	points += noUse
	if r != nil {
		points += r.useless(i)
		if r.deduced != nil {
			points += r.deduced[i][noUseName]
		}
	}
	return points
}

func uselessness(senses []sense) float64 {
	points := 0.0
	for i := range senses {
		least := math.Inf(1)
		for _, concept := range senses[i].concepts() {
			least = math.Min(least, useless[concept])
		}
		points += least * senses[i].plain
	}
	return points
}

// solve finds the best assignment with the relations known so far.
func (t *thinking) solve(r *ties) {
	n := len(t.cols)
	t.points = make([][]float64, n)
	for i := range t.cols {
		row := make([]float64, len(t.hyps)+n)
		for k := range t.hyps {
			row[k] = t.base[i][k]
			if r != nil && row[k] > unlikely {
				row[k] += r.points(i, &t.hyps[k])
			}
		}
		for k := range n {
			row[len(t.hyps)+k] = 5 * unlikely
		}
		row[len(t.hyps)+i] = t.useless(i, r)
		t.points[i] = row
		t.obey(i)
	}
	t.picks, t.sum, t.least = assignDual(t.points)
}

// obey makes an answer the only reading of its heading.
func (t *thinking) obey(i int) {
	if t.said[i] == nil {
		return
	}
	const word = 1000
	for k := range t.hyps {
		each := t.hyps[k].name == columnHoursEach && *t.said[i] == "labor_hours" && t.heads[i][k] >= t.hyps[k].least
		if t.hyps[k].name == *t.said[i] && !(*t.said[i] == "labor_hours" && t.tellsEach(i)) || each {
			t.points[i][k] = word
			return
		}
	}
	t.points[i][len(t.hyps)+i] = word
}

// tellsEach says whether a heading speaks of the hours of each of the crew.
func (t *thinking) tellsEach(i int) bool {
	for k := range t.hyps {
		if t.hyps[k].name == columnHoursEach {
			return t.heads[i][k] >= t.hyps[k].least
		}
	}
	return false
}

// hypothesisAt is the hypothesis that a pick stands for, nil for of no use.
func (t *thinking) hypothesisAt(pick int) *hypothesis {
	if pick < len(t.hyps) {
		return &t.hyps[pick]
	}
	return nil
}

// lacks names what a row of the table cannot do without and no column gives.
func (t *thinking) lacks(picks []pick) []string {
	have := map[string]bool{}
	for _, p := range picks {
		if p.hypothesis != nil && p.sure {
			have[p.name] = true
		}
	}
	var lacks []string
	need := func(name string, given bool) {
		if !given {
			lacks = append(lacks, name)
		}
	}
	need("job_no", have["job_no"])
	switch t.table {
	case record.Placements:
		need("placed_on", have["placed_on"])
		area := have["area_sqft"] || have[ColumnSize] || have[ColumnLength] && have[ColumnWidth]
		if !have["neat_yd"] {
			need("area_sqft", area)
			need("thickness_in", have["thickness_in"] || t.depthInSize(picks))
		}
	case record.Loads:
		need("ticket_no", have["ticket_no"])
		need("yards", have["yards"])
	case record.Delays:
		need("cause", have["cause"])
		need("minutes", have["minutes"])
	case record.Labors:
		need("worked_on", have["worked_on"])
		need("hours", have["hours"])
	case record.Costs:
		need("actual_amount", have["actual_amount"] || have["planned_amount"])
	case record.Visits:
		need("seen_on", have["seen_on"])
		need("finding", have["finding"])
	case record.Jobs:
		need("contract_price", have["contract_price"] || have["actual_cost"] || have["bid_cost"] || have["customer"] || have["site"])
	}
	return lacks
}

// depthInSize says whether the cells of sizes or areas bear depths.
func (t *thinking) depthInSize(picks []pick) bool {
	for i, p := range picks {
		if p.hypothesis != nil && p.sure && (p.name == ColumnSize || p.name == "area_sqft") && t.cols[i].solids*2 > t.cols[i].filled {
			return true
		}
	}
	return false
}

// gain is how much better the table explains the sheet than nothing would.
func (t *thinking) gain() float64 {
	gain := 0.0
	for i, k := range t.picks {
		if k < len(t.hyps) {
			gain += math.Min(t.points[i][k], 30) - t.points[i][len(t.hyps)+i]
		}
	}
	return gain
}
