package analysis

import (
	"cmp"
	"pourback/analysis/stat/resample"
	"slices"
	"strings"
	"sync"
)

// words are a column of words: its distinct words in order, and for each row
// the place of its own among them.
type words struct {
	names   []string
	code    []int
	numbers map[string]int // by word, in the order of meeting
	mu      sync.Mutex
}

// reader gives words their codes, as one worker sees them: known words without
// waiting for the others.
func (w *words) reader() func(string) int {
	var seen []string // the first few, which most rows have
	var codes []int
	others := map[string]int{}
	return func(s string) int {
		for j, known := range seen {
			if known == s {
				return codes[j]
			}
		}
		if code, known := others[s]; known {
			return code
		}
		at := w.number(s)
		if len(seen) < fewWords {
			seen, codes = append(seen, s), append(codes, at)
		} else {
			others[s] = at
		}
		return at
	}
}

// fewWords are so many that looking through them beats hashing.
const fewWords = 12

// number is the code of a word, a new one where nobody has met it yet.
func (w *words) number(s string) int {
	w.mu.Lock()
	defer w.mu.Unlock()
	at, known := w.numbers[s]
	if !known {
		if w.numbers == nil {
			w.numbers = map[string]int{}
		}
		at = len(w.names)
		w.names = append(w.names, s)
		w.numbers[s] = at
	}
	return at
}

// sort brings the words into order, whichever worker met them first, and names
// what was not recorded.
func (w *words) sort(compare func(a, b string) int) {
	sorted := slices.SortedFunc(slices.Values(w.names), compare)
	to := make([]int, len(sorted))
	for j, name := range sorted {
		to[w.numbers[name]] = j
	}
	for i, c := range w.code {
		w.code[i] = to[c]
	}
	w.names = sorted
	for j := range w.names {
		w.names[j] = orUnknown(w.names[j])
	}
}

// find is the code of exactly this word, −1 where no row has it.
func (w *words) find(name string) int { return slices.Index(w.names, name) }

// labels number the words of rows in the order of the words.
type labels struct {
	names []string
	of    []int // for each row, the number of its word
}

// labelsOf numbers the words of n rows on all processors.
func labelsOf(n int, word func(i int) string) labels {
	w := words{code: make([]int, n)}
	resample.Blocks(n, func() func(block, lo, hi int) {
		read := w.reader()
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				w.code[i] = read(word(i))
			}
		}
	})
	w.sort(strings.Compare)
	return labels{w.names, w.code}
}

// counts are the rows of each word.
func (l labels) counts() []int {
	n := make([]int, len(l.names))
	for _, k := range l.of {
		n[k]++
	}
	return n
}

// joined puts all but the most frequent words together under one name, last.
func (l labels) joined(most int, rest string) labels {
	if len(l.names) <= most {
		return l
	}
	counts, ks := l.counts(), make([]int, len(l.names))
	for k := range ks {
		ks[k] = k
	}
	slices.SortStableFunc(ks, func(a, b int) int { return cmp.Compare(counts[b], counts[a]) })
	kept := ks[:most-1]
	slices.Sort(kept)
	to := make([]int, len(l.names))
	for k := range to {
		to[k] = len(kept)
	}
	out := labels{of: make([]int, len(l.of))}
	for at, k := range kept {
		to[k] = at
		out.names = append(out.names, l.names[k])
	}
	out.names = append(out.names, rest)
	for i, k := range l.of {
		out.of[i] = to[k]
	}
	return out
}

func (l labels) first(n int) labels { return labels{l.names, l.of[:n]} }
