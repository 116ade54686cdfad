package sheet

import "pourback/ingest/record"

// memo remembers what cells of a column meant, for words, texts and dates that
// come again and again.
type memo [64]known

// known is what a cell as written meant.
type known struct {
	written string
	text    string
	date    record.Date
	either  bool // the setting of day and month alone decided the date
	remarks remarks
	block   int // the block in which it was last spoken of
}

// slot is where a cell's meaning is kept, if anywhere.
func (m *memo) slot(cell []byte) *known {
	n := len(cell)
	h := uint(cell[0]) + uint(cell[n/2])*7 + uint(cell[max(n-2, 0)])*13 + uint(cell[n-1])*31 + uint(n)*5
	return &m[h%uint(len(m))]
}

// find is what was learnt of a cell, or nil.
func (m *memo) find(cell []byte) *known {
	if k := m.slot(cell); k.written == string(cell) {
		return k
	}
	return nil
}

// longestKnown keeps notes out of the memory.
const longestKnown = 60

// learn remembers what was read from a cell, and what there was to say.
func (m *memo) learn(cell []byte, field any, said remarks, block int, either bool) {
	if len(cell) == 0 || len(cell) > longestKnown {
		return
	}
	k := known{written: string(cell), either: either, remarks: append(remarks(nil), said...), block: block}
	switch f := field.(type) {
	case *string:
		k.text = *f
	case *record.Date:
		k.date = *f
	default:
		return
	}
	*m.slot(cell) = k
}

// recall says again what there is to say of a cell: of a new word once in a
// block, of all else each time.
func (r *blockReader) recall(k *known, c *column, cell []byte) {
	if k.either {
		r.ambiguous++
	}
	if len(k.remarks) == 0 {
		return
	}
	for _, x := range k.remarks {
		if x.code != codeNewWord || k.block != r.block {
			r.add(c, string(cell), x)
		}
	}
	k.block = r.block
}
