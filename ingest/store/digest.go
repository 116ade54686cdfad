package store

import (
	"encoding/binary"
	"math"
	"math/bits"

	"pourback/ingest/record"
)

// digest is a 64-bit hash of all the row's values: rows with the same values
// have the same digest, in every release, and others almost surely have not.
// It hashes the values themselves, not their text, which would take longer to
// write than all the rest of storing a row. A column that came after the first
// release takes part, under its name, only where it holds a value: so rows that
// were stored before it came keep their digests.
func digest(t *record.Table, fields []any, unused string) int64 {
	of := shapes[t]
	h := of.first
	for i, field := range fields {
		if name := of.later[i]; name != "" {
			if record.IsMissing(field) {
				continue
			}
			h = stirText(h, name)
		}
		switch f := field.(type) {
		case *string:
			h = stirText(h, *f)
		case *record.Number:
			h = stirOptional(h, math.Float64bits(f.V), f.OK)
		case *record.Count:
			h = stirOptional(h, uint64(f.V), f.OK)
		case *record.Money:
			h = stirOptional(h, uint64(f.V), f.OK)
		case *record.Date:
			h = stir(h, uint64(*f))
		case *record.Moment:
			h = stir(h, uint64(*f))
		case *record.Flag:
			h = stir(h, uint64(*f))
		}
	}
	if unused != "" {
		h = stirText(stirText(h, unusedColumn), unused)
	}
	return int64(h)
}

// shape is what storing a row needs to know of its table, at hand.
type shape struct {
	keys  []int    // the places of the key columns
	first uint64   // how many columns it had in the first release
	later []string // the names of those that came later, at their places
}

var shapes = func() map[*record.Table]shape {
	all := map[*record.Table]shape{}
	for _, t := range record.Stored {
		s := shape{keys: t.Keys(), later: make([]string, len(t.Columns))}
		for i := range t.Columns {
			if c := &t.Columns[i]; c.Later {
				s.later[i] = c.Name
			} else {
				s.first++
			}
		}
		all[t] = s
	}
	return all
}()

func stirOptional(h, v uint64, ok bool) uint64 {
	if !ok {
		return stir(h, 1<<63-1)
	}
	return stir(stir(h, 1), v)
}

func stirText(h uint64, s string) uint64 {
	h = stir(h, uint64(len(s)))
	for ; len(s) >= 8; s = s[8:] {
		h = stir(h, binary.LittleEndian.Uint64([]byte(s[:8])))
	}
	var rest uint64
	for i := range len(s) {
		rest |= uint64(s[i]) << (8 * i)
	}
	return stir(h, rest)
}

// stir folds the 128-bit product with an odd constant (2^64 divided by the
// golden ratio) back into 64 bits, so that each bit of the input reaches all
// of the output.
func stir(h, v uint64) uint64 {
	high, low := bits.Mul64(h^v^0xd1b54a32d192ed03, 0x9e3779b97f4a7c15)
	return high ^ low
}
