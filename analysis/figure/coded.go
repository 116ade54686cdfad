package figure

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"pourback/analysis/stat/resample"
	"pourback/ingest/record"
)

// Words are a column of words: its distinct words in order, and for each row
// the place of its own among them.
type Words struct {
	Names   []string
	Code    []int
	numbers map[string]int // by word, in the order of meeting
	mu      sync.Mutex
}

// Reader gives words their codes, as one worker sees them: known words without
// waiting for the others.
func (w *Words) Reader() func(string) int {
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
func (w *Words) number(s string) int {
	w.mu.Lock()
	defer w.mu.Unlock()
	at, known := w.numbers[s]
	if !known {
		if w.numbers == nil {
			w.numbers = map[string]int{}
		}
		at = len(w.Names)
		w.Names = append(w.Names, s)
		w.numbers[s] = at
	}
	return at
}

// Sort brings the words into order, whichever worker met them first, and names
// what was not recorded.
func (w *Words) Sort(compare func(a, b string) int) {
	sorted := slices.SortedFunc(slices.Values(w.Names), compare)
	to := make([]int, len(sorted))
	for j, name := range sorted {
		to[w.numbers[name]] = j
	}
	for i, c := range w.Code {
		w.Code[i] = to[c]
	}
	w.Names = sorted
	for j := range w.Names {
		w.Names[j] = OrUnknown(w.Names[j])
	}
}

// Find is the code of exactly this word, −1 where no row has it.
func (w *Words) Find(name string) int { return slices.Index(w.Names, name) }

// Labels number the words of rows in the order of the words.
type Labels struct {
	Names []string
	Of    []int // for each row, the number of its word
}

// LabelsOf numbers the words of n rows on all processors.
func LabelsOf(n int, word func(i int) string) Labels {
	w := Words{Code: make([]int, n)}
	resample.Blocks(n, func() func(block, lo, hi int) {
		read := w.Reader()
		return func(_, lo, hi int) {
			for i := lo; i < hi; i++ {
				w.Code[i] = read(word(i))
			}
		}
	})
	w.Sort(strings.Compare)
	return Labels{w.Names, w.Code}
}

// LabelsIn numbers what stands in a column of words in n rows, of which row gives
// the places, by the codes that the column has for its words.
func LabelsIn(column *record.Values[string], n int, row func(k int) int) Labels {
	words, coded := column.Distinct()
	if !coded {
		return LabelsOf(n, func(k int) string { return OrUnknown(column.At(row(k))) })
	}
	met := make([]bool, len(words))
	of := make([]int, n)
	for k := range of {
		of[k] = column.Code(row(k))
		met[of[k]] = true
	}
	var l Labels
	for code, word := range words {
		if met[code] {
			l.Names = append(l.Names, OrUnknown(word))
		}
	}
	slices.Sort(l.Names)
	l.Names = slices.Compact(l.Names)
	number := make([]int, len(words))
	for code, word := range words {
		number[code], _ = slices.BinarySearch(l.Names, OrUnknown(word))
	}
	for k, code := range of {
		of[k] = number[code]
	}
	l.Of = of
	return l
}

// Counts are the rows of each word.
func (l Labels) Counts() []int {
	n := make([]int, len(l.Names))
	for _, k := range l.Of {
		n[k]++
	}
	return n
}

// Joined puts all but the most frequent words together under one name, last.
func (l Labels) Joined(most int, rest string) Labels {
	if len(l.Names) <= most {
		return l
	}
	counts, ks := l.Counts(), make([]int, len(l.Names))
	for k := range ks {
		ks[k] = k
	}
	slices.SortStableFunc(ks, func(a, b int) int { return cmp.Compare(counts[b], counts[a]) })
	kept := ks[:most-1]
	slices.Sort(kept)
	to := make([]int, len(l.Names))
	for k := range to {
		to[k] = len(kept)
	}
	out := Labels{Of: make([]int, len(l.Of))}
	for at, k := range kept {
		to[k] = at
		out.Names = append(out.Names, l.Names[k])
	}
	out.Names = append(out.Names, rest)
	for i, k := range l.Of {
		out.Of[i] = to[k]
	}
	return out
}

func (l Labels) First(n int) Labels { return Labels{l.Names, l.Of[:n]} }
