package sheet

import (
	"math"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// columnCostPart is one of several columns that add up to what a job cost:
// concrete, labor, pump and the rest, where no column bears their sum.
const columnCostPart = "cost_part"

var costPart = hypothesis{name: columnCostPart, needed: true}

// partWords are the concepts that parts of a cost are headed with.
var partWords = []string{"labor", "labor$", "vol", "pump", "steel", "base", "truck", "mix", "company", "plant", "note", "hours", "extra", "method", "joint", "cure", "finish", "additive"}

// costWords are the concepts that say that a column is of cost.
var costWords = []string{"cost", "money"}

// costParts finds the columns that add up to the cost of a job, where none says
// it by itself: money of concrete and of labor and of something else, under
// headings that speak of cost.
func (t *thinking) costParts(picks []pick) {
	if t.table != record.Placements {
		return
	}
	var parts, answered []int
	for i := range picks {
		said := t.said[i]
		switch {
		case said != nil && *said == "actual_cost":
			answered = append(answered, i)
		case said != nil:
		case t.isCostPart(i, &picks[i]):
			parts = append(parts, i)
		case picks[i].hypothesis != nil && picks[i].name == "actual_cost" && picks[i].sure:
			return
		}
	}
	if len(answered) == 1 && len(parts) == 0 || len(answered) > 0 && !slices.ContainsFunc(answered, func(i int) bool { return t.isCostPart(i, &pick{}) }) && len(answered) < 2 {
		return
	}
	parts = append(parts, answered...)
	slices.Sort(parts)
	if len(answered) < 2 && (len(parts) < 3 || !t.speaksOf(parts, "vol") || !t.speaksOf(parts, "labor", "labor$") || t.summedUp(parts)) {
		return
	}
	sure := len(answered) >= 2 || t.likeCosts(parts, picks)
	for _, i := range parts {
		picks[i] = pick{hypothesis: &costPart, sure: sure, head: 5}
		if !sure {
			picks[i].choices = []string{"actual_cost", ""}
		}
	}
}

// isCostPart says whether a column could be a part of the cost.
func (t *thinking) isCostPart(i int, p *pick) bool {
	c := t.cols[i]
	if p.hypothesis != nil && p.sure && !slices.Contains([]string{"actual_cost", "callback_cost"}, p.name) {
		return false
	}
	if v := c.known(); c.share(c.numbers+c.nos) < 0.6 || c.filled == 0 || len(v) == 0 || v[len(v)-1] < 60 || knownUnit(strings.Trim(c.unit, "()[]. ")) {
		return false
	}
	group, own := headingParts(c.heading, c.unit)
	unit := c.unit
	_, currency := cutCurrency(strings.Trim(unit, "()[]. "))
	ofMoney := unit != "" && currency || c.share(c.money) > 0.1 || speakOf(phraseSenses(headingTokens(group+" "+own), 1), costWords)
	senses := phraseSenses(headingTokens(own), 1)
	all := phraseSenses(headingTokens(group+" "+own), 1)
	ofPart := speakOf(senses, partWords) && !speakOf(all, []string{"plan", "budget", "bid", "price", "profit", "total", "per", "callback"})
	return ofMoney && ofPart && speakOf(phraseSenses(headingTokens(group+" "+own+" "+unit), 1), costWords)
}

func speakOf(senses []sense, concepts []string) bool {
	return slices.ContainsFunc(senses, func(s sense) bool {
		return slices.ContainsFunc(s.concepts(), func(c string) bool { return slices.Contains(concepts, c) })
	})
}

// speaksOf says whether the heading of one of the columns speaks of any of the
// concepts.
func (t *thinking) speaksOf(columns []int, concepts ...string) bool {
	return slices.ContainsFunc(columns, func(i int) bool {
		_, own := headingParts(t.cols[i].heading, t.cols[i].unit)
		return speakOf(phraseSenses(headingTokens(own), 1), concepts)
	})
}

// sumAt is what the columns add up to at a row; NaN where none of them says
// anything.
func (t *thinking) sumAt(columns []int, row int) float64 {
	sum, said := 0.0, false
	for _, i := range columns {
		if v := t.cols[i].values[row]; !math.IsNaN(v) {
			sum, said = sum+v, true
		}
	}
	if !said {
		return math.NaN()
	}
	return sum
}

// summedUp says whether another column bears the sum of the parts.
func (t *thinking) summedUp(parts []int) bool {
	for i, c := range t.cols {
		if slices.Contains(parts, i) {
			continue
		}
		same, both := 0, 0
		for row, v := range c.values {
			if sum := t.sumAt(parts, row); !math.IsNaN(sum) && !math.IsNaN(v) && v > 0 {
				both++
				if math.Abs(sum-v) <= 1+0.01*v {
					same++
				}
			}
		}
		if both >= 5 && same*10 >= both*7 {
			return true
		}
	}
	return false
}

// likeCosts says whether the sum of the parts is about what was bid as cost, or
// below the price, in nearly every row.
func (t *thinking) likeCosts(parts []int, picks []pick) bool {
	for _, of := range []struct {
		name     string
		low, top float64
	}{{"bid_cost", 0.6, 1.7}, {"contract_price", 0.25, 1.05}} {
		for i := range picks {
			if picks[i].hypothesis == nil || picks[i].name != of.name || !picks[i].sure {
				continue
			}
			like, both := 0, 0
			for row, v := range t.cols[i].values {
				if q := t.sumAt(parts, row) / v; !math.IsNaN(q) && !math.IsInf(q, 0) {
					both++
					if q > of.low && q < of.top {
						like++
					}
				}
			}
			if both >= 5 {
				return like*10 >= both*9
			}
		}
	}
	return false
}

// readCostPart adds a part of the cost to those of its row. Nothing written is
// nothing spent.
func (r *cellReader) readCostPart(c *column, _ any, text string) {
	s := strings.ToLower(plainSigns(text))
	if noCallback.MatchString(s) || s == "-" || s == "--" {
		r.scratch.parts++
		return
	}
	if isMissingWord(s) {
		r.scratch.unread = true
		return
	}
	v, ok := parseMoneySum(text, r.habit, &r.say)
	if !ok {
		r.scratch.unread = true
		return
	}
	r.scratch.parts++
	r.scratch.spent += v
}
