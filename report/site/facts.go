package site

import (
	"slices"

	"pourback/ingest/record"
)

// factsOf are what can be chosen of a history, and how much of it is.
func factsOf(h *record.History, chosen, cut int) facts {
	p := &h.Placements
	f := facts{Placements: chosen, All: p.Len(), Cut: cut, Uses: wordsOf(&p.Use), Crews: wordsOf(&p.Crew), Method: wordsOf(&p.Method)}
	var first, last record.Date
	for i := range p.Len() {
		on := p.PlacedOn.At(i)
		if i == 0 || on < first {
			first = on
		}
		last = max(last, on)
	}
	if f.All > 0 {
		f.First, f.Last = first.Month(), last.Month()
	}
	return f
}

// mostWords are as many as a list to choose from may have.
const mostWords = 200

// wordsOf are the words of a column that stand in a row, in order.
func wordsOf(column *record.Values[string]) (words []string) {
	met := map[string]bool{"": true}
	for i := range column.Len() {
		if w := column.At(i); !met[w] && len(words) < mostWords {
			met[w] = true
			words = append(words, w)
		}
	}
	slices.Sort(words)
	return words
}
