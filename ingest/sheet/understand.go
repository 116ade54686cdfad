package sheet

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// fileColumn is one column of a file with what is known about it.
type fileColumn struct {
	heading string
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
		th.solve(th.relate(th.picks))
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
	return head + value, head
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
	if u == record.Inch && c.metric != nil && len(c.known()) > 0 && median(c.known()) >= 40 {
		return "mm"
	}
	return c.metric[u]
}

// headingUnit is the unit that a heading bears for a kind of unit, its own
// before its group's, or "".
func headingUnit(heading string, u *record.Unit) string {
	group, own, grouped := strings.Cut(heading, groupMark)
	if !grouped {
		own, group = group, ""
	}
	for _, part := range []string{own, group} {
		tokens := headingTokens(part)
		for i := len(tokens) - 1; i >= 0; i-- {
			w := tokens[i]
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
	points += noUse
	if r != nil {
		points += r.useless(i)
	}
	return points
}

func uselessness(senses []sense) float64 {
	points := 0.0
	for _, s := range senses {
		points += useless[s.concept] * s.plain
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

// pick is what one column of the file is read as.
type pick struct {
	*hypothesis // nil for of no use
	sure        bool
	choices     []string
	margin      float64
	head        float64 // points that its heading alone brings
}

// conclude says for each column what it is read as and whether that is sure.
func (t *thinking) conclude() []pick {
	picks := make([]pick, len(t.cols))
	for i := range t.cols {
		p := pick{hypothesis: t.hypothesisAt(t.picks[i])}
		if p.hypothesis != nil {
			p.head = t.heads[i][t.picks[i]]
		}
		if p.margin = t.least[i]; p.margin < certain {
			p.margin = t.margin(i)
		}
		p.sure = t.said[i] != nil || p.margin >= certain && !t.guessed(i, &p) || t.cols[i].cells == 0
		if !p.sure {
			p.choices = t.choices(i)
			p.sure = t.idle(i, &p) || t.onlyOne(&p) || t.alike(i, &p)
		}
		picks[i] = p
	}
	t.fewQuestions(picks)
	return picks
}

// mostQuestions is how many headings of a table a person is asked about.
const mostQuestions = 5

// fewQuestions keeps the doubts that matter most: those about columns without
// which nothing can be read, then those about the fullest columns. The others
// are settled as if nobody were there to ask.
func (t *thinking) fewQuestions(picks []pick) {
	var doubts []int
	for i, p := range picks {
		if !p.sure {
			doubts = append(doubts, i)
		}
	}
	weight := func(i int) int {
		w := t.cols[i].filled
		if h := picks[i].hypothesis; h != nil && slices.Contains([]string{"job_no", "placed_on", "area_sqft", "thickness_in", ColumnSize, ColumnLength, ColumnWidth}, h.name) {
			w += 1000
		}
		return w
	}
	slices.SortStableFunc(doubts, func(a, b int) int { return cmp.Compare(weight(b), weight(a)) })
	for _, i := range doubts[min(len(doubts), mostQuestions):] {
		picks[i].hypothesis, picks[i].sure, picks[i].choices = nil, true, nil
	}
}

// guessed says whether a column of bare numbers is known by its numbers alone and
// by little: numbers such as hours, degrees and money are like many others.
func (t *thinking) guessed(i int, p *pick) bool {
	if p.hypothesis == nil || p.head >= 1 || p.margin >= 2*certain || slices.Contains(rowNeeds, p.name) {
		return false
	}
	c := t.table.Column(p.name)
	return c == nil || c.Kind == record.KindNumber || c.Kind == record.KindCount || c.Kind == record.KindMoney
}

// onlyOne settles a doubt about what every row needs, where one column alone can
// be it and nothing else.
func (t *thinking) onlyOne(p *pick) bool {
	return p.hypothesis != nil && p.margin >= 1.5 && slices.Contains(rowNeeds, p.name) && len(p.choices) == 2 && p.choices[1] == ""
}

// alike settles whether sizes stand under sizes or under areas: both are read
// alike.
func (t *thinking) alike(i int, p *pick) bool {
	for _, c := range p.choices {
		if c != ColumnSize && c != "area_sqft" && c != "" {
			return false
		}
	}
	return p.hypothesis != nil && t.cols[i].share(t.cols[i].sizes+t.cols[i].solids) > 0.6 && (p.name == ColumnSize || p.name == "area_sqft") && p.head > 3
}

// rowNeeds are the columns without which a row is nothing.
var rowNeeds = []string{"job_no", "placed_on", "area_sqft", "thickness_in"}

// idle settles a doubt that is not worth a question: a column that is never
// needed is taken where its heading says so, and left out otherwise.
func (t *thinking) idle(i int, p *pick) bool {
	for _, k := range t.contenders(i) {
		if h := t.hypothesisAt(k); h != nil && h.needed {
			return false
		}
	}
	if p.margin < 1 || p.head < 4 {
		p.hypothesis = nil
	}
	return true
}

// contenders are the readings of a column that come close to its pick, best
// first: those that the whole would bear within the margin of certainty.
func (t *thinking) contenders(i int) []int {
	type rival struct {
		pick int
		loss float64
	}
	var rivals []rival
	best := t.points[i][t.picks[i]]
	for k, p := range t.points[i] {
		if k == t.picks[i] {
			rivals = append(rivals, rival{k, 0})
			continue
		}
		if p < best-certain-6 || p <= unlikely {
			continue
		}
		if loss := t.sum - t.sumWith(i, k); loss < certain {
			rivals = append(rivals, rival{k, loss})
		}
	}
	slices.SortStableFunc(rivals, func(a, b rival) int { return cmp.Compare(a.loss, b.loss) })
	picks := make([]int, len(rivals))
	for n, r := range rivals {
		picks[n] = r.pick
	}
	return picks
}

// choices name the readings of a column that come close, best first.
func (t *thinking) choices(i int) []string {
	var names []string
	for _, k := range t.contenders(i) {
		name := ""
		if h := t.hypothesisAt(k); h != nil {
			name = t.nameOf(h)
		}
		names = append(names, name)
	}
	if !slices.Contains(names, "") {
		names = append(names, "")
	}
	return names
}

// nameOf is how readings name a hypothesis; measures that no record keeps are
// of no name in tables other than placements.
func (t *thinking) nameOf(h *hypothesis) string {
	if h.name == columnHoursEach {
		return "labor_hours"
	}
	if t.table == record.Placements {
		return h.name
	}
	if t.table.Column(h.name) == nil {
		return ""
	}
	return ColumnName(t.table, h.name)
}

// margin is how much worse the whole would be if the column were read as
// anything else.
func (t *thinking) margin(i int) float64 {
	return t.sum - t.without(i, t.picks[i])
}

func (t *thinking) without(i, pick int) float64 {
	keep := t.points[i][pick]
	t.points[i][pick] = 20 * unlikely
	_, sum := assign(t.points)
	t.points[i][pick] = keep
	return sum
}

// sumWith is the best whole in which the column is read so.
func (t *thinking) sumWith(i, pick int) float64 {
	keep := t.points[i][pick]
	t.points[i][pick] = 10000
	_, sum := assign(t.points)
	t.points[i][pick] = keep
	return sum - 10000 + keep
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
