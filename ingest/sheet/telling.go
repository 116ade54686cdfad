package sheet

import (
	"slices"

	"pourback/ingest/record"
)

// Values that hardly any other column of a log holds tell what it is, whatever
// its heading says: words of a list, streets, people by hours.

// fewest is how many cells a column needs to tell what it is by itself.
const fewest = 6

// tells says whether the values below a heading are such as hardly any other
// column of a table holds.
func (p *profile) tells(t *record.Table, name string) bool {
	if p.filled < fewest || p.share(p.money) > 0.1 {
		return false
	}
	full := p.filled*10 >= 7*(p.cells+p.blank)
	switch name {
	case "placed_on":
		return full && p.share(p.dates) >= 0.8
	case "use":
		return t == record.Placements && full && p.share(p.uses) >= 0.75 && p.distinct >= 3
	case "reinforcement":
		return full && p.share(min(p.filled, p.steels+p.noneWords)) >= 0.8 && p.share(p.steels) >= 0.4 && p.distinct >= 2 && p.share(p.numbers) < 0.3
	case "method":
		return p.share(p.methods) >= 0.5 && p.distinct >= 2
	case "site":
		return full && p.share(p.streets) >= 0.8
	case "customer":
		return full && p.named()
	case "labor_hours", "hours":
		return p.share(p.people) >= 0.4
	case "joint_spacing_ft":
		return p.share(p.jointed) >= 0.3
	case "air_temp_f":
		return p.share(p.pairs) >= 0.4
	case "callback_on":
		return p.share(p.inText) >= 0.2 && p.share(p.finds) >= 0.3
	case "finish":
		return p.share(p.finishes) >= 0.85 && p.distinct >= 2
	case "note":
		return p.letters*10 >= 7*p.filled && p.length > 13*p.letters && p.share(p.streets+p.uses+p.dates+p.flags) < 0.15
	case "finding":
		return p.share(p.finds) >= 0.6
	}
	return false
}

// named says whether a column holds the names of many.
func (p *profile) named() bool {
	return p.letters*100 >= 95*p.filled && p.length <= 18*p.letters && p.distinct > 10 && p.distinct*100 > 15*p.filled &&
		p.share(p.streets+p.dates+p.inText+p.flags+p.numbers+p.finds+p.finishes) < 0.1 && (&evidence{profile: p}).wordsOfTheTrade() < 0.15
}

// byItsValues settles a doubt whether a column is of use at all, where its values
// tell what it is, nothing in its heading speaks against that, and nothing else
// of the file could be it.
func (t *thinking) byItsValues(i int, p *pick) bool {
	if p.hypothesis == nil || p.head < -1 || len(p.choices) != 2 || p.choices[1] != "" || !t.cols[i].tells(t.table, p.name) {
		return false
	}
	k := t.picks[i]
	for other, c := range t.cols {
		if other != i && t.picks[other] >= len(t.hyps) && c.tells(t.table, p.name) && t.points[other][k] > t.points[i][k]-certain {
			return false
		}
	}
	return true
}

// finishWords are the ways in which a surface is finished.
var finishWords = patternOf(`^(?:(?:light|heavy|hard|steel|med(?:ium)?|rough|smooth|power|machine|fine) )*(?:br(?:oo)?m(?:ed)?|trow(?:el(?:led|ed)?|l)?|exp(?:osed)?(?: ?agg(?:regate)?\.?)?|stamp(?:ed)?|float(?:ed)?|swirl(?:ed)?|salt(?: finish)?|smooth|slick|burnish(?:ed)?|wood ?float(?:ed)?|mag(?: float)?|polish(?:ed)?|brushed|cove|rock ?salt|pattern|bull ?float(?:ed)?|hard ?trowel(?:led|ed)?|exposed agg|washed|seeded|tined|rake|raked)(?: finish(?:ed)?)?$`)

func isFinish(s string) bool { return finishWords.MatchString(s) }

// finishCells are words of finishes.
func finishCells(e *evidence) float64 { return 11*(e.share(e.finishes)-0.6) - 6*e.share(e.numbers) }

// barCells are sizes of bars, which a heading alone, or the steel beside them,
// tells from reinforcement.
func barCells(e *evidence) float64 { return -7 + 8*(e.share(e.steels)-0.6) }

// deduceBars tells a column of bars' sizes from the reinforcement: it speaks only
// where the other says rebar.
func (t *thinking) deduceBars(r *ties) {
	var steels []int
	for i, c := range t.cols {
		if c.filled >= 3 && c.share(min(c.filled, c.steels+c.noneWords)) >= 0.8 && c.share(c.steels) > 0.3 {
			steels = append(steels, i)
		}
	}
	for _, of := range steels {
		for _, i := range steels {
			if i == of || t.cols[i].filled*10 > 9*t.cols[of].filled {
				continue
			}
			bars, both := 0, 0
			for row, text := range t.cols[i].texts {
				s, ok := parseSteel(text, t.habit)
				if !ok || s.bar == "" {
					continue
				}
				both++
				if kind, ok := parseSteel(t.cols[of].texts[row], t.habit); ok && slices.Contains(kind.kinds, "rebar") && kind.bar == "" {
					bars++
				}
			}
			if both >= 3 && bars*10 >= 9*both && both*10 >= 8*t.cols[i].filled {
				r.deduced.add(i, "bar", 14)
				r.deduced.add(i, "reinforcement", -12)
			}
		}
	}
}
