package sheet

import (
	"cmp"
	"slices"

	"pourback/ingest/record"
)

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
			p.sure = t.byItsValues(i, &p) || t.idle(i, &p) || t.onlyOne(&p) || t.onlyUse(i, &p) || t.alike(i, &p)
		}
		picks[i] = p
	}
	t.costParts(picks)
	t.askForNeeds(picks)
	return picks
}

// guessed says whether a column of bare numbers is known by its numbers alone and
// by little: numbers such as hours, degrees and money are like many others.
func (t *thinking) guessed(i int, p *pick) bool {
	if p.hypothesis == nil || p.head >= 1 || p.margin >= 2*certain || t.told[i][p.name] >= 5 || slices.Contains(rowNeeds, p.name) {
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

// onlyUse settles a doubt whether a column is of use at all, where its heading
// or its numbers speak for one thing and no other.
func (t *thinking) onlyUse(i int, p *pick) bool {
	if p.hypothesis == nil || p.margin < 0.8 || len(p.choices) != 2 || p.choices[1] != "" || t.uncertain(i) {
		return false
	}
	return p.head >= 3 || p.head >= -1 && t.told[i][p.name] >= 3
}

// uncertain says whether a heading has more words that nobody knows than others.
func (t *thinking) uncertain(i int) bool {
	known, unknown := 0, 0
	for _, s := range t.cols[i].senses {
		if s.concept == "" {
			unknown++
		} else {
			known++
		}
	}
	return unknown > known && known > 0
}

// alike settles whether sizes stand under sizes or under areas: both are read
// alike.
func (t *thinking) alike(i int, p *pick) bool {
	for _, c := range p.choices {
		if c != ColumnSize && c != "area_sqft" && c != "" {
			return false
		}
	}
	if p.hypothesis == nil || p.name != ColumnSize && p.name != "area_sqft" || t.cols[i].share(t.cols[i].sizes+t.cols[i].solids) < 0.3 {
		return false
	}
	head := p.head
	for k := range t.hyps {
		if (t.hyps[k].name == ColumnSize || t.hyps[k].name == "area_sqft") && t.told[i][t.hyps[k].name] > 0 {
			head = max(head, t.heads[i][k])
		}
	}
	return head > 3
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
	switch h.name {
	case columnHoursEach:
		return "labor_hours"
	case columnCostPart:
		return "actual_cost"
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
