package sheet

import (
	"cmp"
	"slices"

	"pourback/ingest/record"
)

// mostQuestions is how many headings of a log a person is asked about.
const mostQuestions = 5

// doubt is a heading that nobody is sure of.
type doubt struct {
	insight *insight
	at      int
	worth   float64
}

// settleDoubts keeps the questions that matter most, over all tables of a file:
// those about columns without which nothing can be read, then those on which
// most values hang. The others are settled as if nobody were there to ask. What
// is left is said.
func (f *File) settleDoubts() {
	var doubts []doubt
	first := map[*insight]*Table{}
	for _, t := range f.Tables {
		u := t.insight
		if u == nil || first[u] != nil {
			continue
		}
		first[u] = t
		for i := range u.picks {
			if !u.picks[i].sure {
				doubts = append(doubts, doubt{u, i, u.worth(i)})
			}
		}
	}
	slices.SortStableFunc(doubts, func(a, b doubt) int { return cmp.Compare(b.worth, a.worth) })
	for _, d := range doubts[min(len(doubts), mostQuestions):] {
		d.insight.picks[d.at] = pick{sure: true}
	}
	for _, t := range f.Tables {
		if first[t.insight] == t {
			for _, p := range t.insight.doubts() {
				t.say(p)
			}
		}
	}
}

// worth is how much hangs on the answer about a heading.
func (u *insight) worth(i int) float64 {
	p := u.picks[i]
	worth := float64(u.cols[i].filled)
	for _, c := range p.choices {
		if slices.Contains(rowNeeds, c) || c == ColumnSize || c == ColumnLength || c == ColumnWidth {
			return worth + 1000
		}
	}
	if p.hypothesis == nil {
		worth /= 2
	}
	if u.table != record.Placements {
		worth /= 2
	}
	return worth
}

// askForNeeds asks about the likeliest column for each thing that no row can do
// without and that no column is surely or perhaps.
func (t *thinking) askForNeeds(picks []pick) {
	if t.table != record.Placements {
		return
	}
	for _, need := range t.lacks(picks) {
		if slices.ContainsFunc(picks, func(p pick) bool { return !p.sure && slices.Contains(p.choices, need) }) {
			continue
		}
		k := slices.IndexFunc(t.hyps, func(h hypothesis) bool { return h.name == need })
		best, at := unlikely/4, -1
		for i := range picks {
			free := picks[i].hypothesis == nil || !picks[i].sure || !picks[i].needed
			if points := t.points[i][k]; free && t.said[i] == nil && points > best {
				best, at = points, i
			}
		}
		if at >= 0 {
			picks[at] = pick{hypothesis: &t.hyps[k], choices: []string{need, ""}, head: t.heads[at][k]}
		}
	}
}
