package record

import (
	"hash/maphash"
	"math"
	"slices"
)

// Values is one column of many rows. Most columns of a record repeat themselves:
// each value is then kept once, and a row holds its code in one byte or two.
// Where more values differ than two bytes can tell they stand packed, one by
// one. A column in which nothing is written takes no memory. The zero Values is
// a column without rows.
type Values[T comparable] struct {
	rows     int
	room     int      // for as many rows, where it is known how many come
	distinct []T      // by code; the first is a missing value's
	table    []uint16 // an open hash table of codes, where 0 is free
	narrow   []uint8  // the rows' codes, while one byte will do
	wide     []uint16 // the rows' codes beyond
	packed   packing[T]
}

const (
	mostNarrow = 1 << 8
	mostWide   = 1 << 16

	manyDistinct = 1 << 12 // of which no more than two in three rows may be the first to hold theirs
)

// Len is the number of rows.
func (v *Values[T]) Len() int { return v.rows }

// At is the value of row i.
func (v *Values[T]) At(i int) T {
	if v.narrow != nil {
		return v.distinct[v.narrow[i]]
	}
	return v.beyond(i)
}

// beyond is the value of a row whose code is not of one byte.
func (v *Values[T]) beyond(i int) (value T) {
	switch {
	case v.wide != nil:
		return v.distinct[v.wide[i]]
	case v.packed != nil:
		return v.packed.at(i)
	}
	return value
}

// Distinct are the values by their codes: first that of a row in which none is
// written, then those that stand in the rows, and perhaps some that stood there.
// It is false where they are too many to have codes.
func (v *Values[T]) Distinct() ([]T, bool) {
	if v.packed != nil {
		return nil, false
	}
	if v.distinct == nil {
		return make([]T, 1), true
	}
	return v.distinct, true
}

// Code is the code of row i's value, where values have codes.
func (v *Values[T]) Code(i int) int {
	switch {
	case v.narrow != nil:
		return int(v.narrow[i])
	case v.wide != nil:
		return int(v.wide[i])
	}
	return 0
}

// Written says whether a value stands, or stood, in any row.
func (v *Values[T]) Written() bool { return v.packed != nil || len(v.distinct) > 1 }

// Reserve makes room for so many rows at once, so that a column need not grow.
func (v *Values[T]) Reserve(rows int) { v.room = rows }

// Add puts a value behind the last row's.
func (v *Values[T]) Add(value T) {
	if v.packed == nil {
		if code, ok := v.codeOf(value); ok {
			v.addCode(code)
			return
		}
		v.pack()
	}
	v.rows++
	v.packed.add(value)
}

// AddBy is [Values.Add] of a value whose code is remembered in a place of its own, 0
// until it is known.
func (v *Values[T]) AddBy(code *int, value T) {
	if v.packed != nil || *code == 0 {
		if v.Add(value); v.packed == nil {
			*code = v.Code(v.rows - 1)
		}
		return
	}
	v.addCode(*code)
}

// AddMissing puts so many rows behind the last in which nothing is written.
func (v *Values[T]) AddMissing(rows int) {
	switch {
	case v.packed != nil:
		var missing T
		for range rows {
			v.packed.add(missing)
		}
	case v.narrow != nil:
		v.narrow = append(v.narrow, make([]uint8, rows)...)
	case v.wide != nil:
		v.wide = append(v.wide, make([]uint16, rows)...)
	}
	v.rows += rows
}

// AddText is [Values.Add] of a text that will change: it is copied where it is new.
func AddText(v *Values[string], text []byte) {
	if p, ok := v.packed.(*texts); ok {
		v.rows++
		p.addBytes(text)
		return
	}
	if len(text) > 0 && v.table != nil {
		mask := uint64(len(v.table) - 1)
		for at := maphash.Bytes(seed, text) & mask; v.table[at] != 0; at = (at + 1) & mask {
			if code := int(v.table[at]); v.distinct[code] == string(text) {
				v.addCode(code)
				return
			}
		}
	}
	v.Add(string(text))
}

// Set changes the value of row i.
func (v *Values[T]) Set(i int, value T) {
	if v.packed == nil {
		if code, ok := v.codeOf(value); ok {
			v.setCode(i, code)
			return
		}
		v.pack()
	}
	v.packed.set(i, value)
}

// codeOf finds or makes the code of a value; it is false where there is none
// left to give.
func (v *Values[T]) codeOf(value T) (code int, ok bool) {
	var missing T
	if value == missing || value != value { // what is not a number is missing
		return 0, true
	}
	mask := uint64(len(v.table) - 1)
	if v.table != nil {
		for at := hash(value) & mask; v.table[at] != 0; at = (at + 1) & mask {
			if code := int(v.table[at]); v.distinct[code] == value {
				return code, true
			}
		}
	}
	return v.learn(value)
}

// learn gives a value that was not met before the next code.
func (v *Values[T]) learn(value T) (code int, ok bool) {
	if v.distinct == nil {
		v.distinct = make([]T, 1, 8)
	}
	if code = len(v.distinct); code == mostWide || code > manyDistinct && 3*code > 2*v.rows {
		return 0, false
	}
	v.distinct = append(v.distinct, value)
	if 2*code >= len(v.table) {
		v.table = make([]uint16, max(16, 4*len(v.table)))
		for c := 1; c < code; c++ {
			v.enter(c)
		}
	}
	v.enter(code)
	return code, true
}

// enter notes a code in the hash table.
func (v *Values[T]) enter(code int) {
	mask := uint64(len(v.table) - 1)
	at := hash(v.distinct[code]) & mask
	for v.table[at] != 0 {
		at = (at + 1) & mask
	}
	v.table[at] = uint16(code)
}

// addCode puts a code behind the last row's.
func (v *Values[T]) addCode(code int) {
	v.fit(code)
	v.rows++
	switch {
	case v.narrow != nil:
		v.narrow = append(v.narrow, uint8(code))
	case v.wide != nil:
		v.wide = append(v.wide, uint16(code))
	}
}

func (v *Values[T]) setCode(i, code int) {
	v.fit(code)
	switch {
	case v.narrow != nil:
		v.narrow[i] = uint8(code)
	case v.wide != nil:
		v.wide[i] = uint16(code)
	}
}

// fit sees to it that the rows' codes are of as many bytes as this one needs.
func (v *Values[T]) fit(code int) {
	switch {
	case v.wide != nil || code < mostNarrow && v.narrow != nil || code == 0:
	case code < mostNarrow:
		v.narrow = make([]uint8, v.rows, max(v.rows+64, v.room))
	default:
		v.wide = make([]uint16, v.rows, max(v.rows+64, v.room))
		for i := range v.narrow {
			v.wide[i] = uint16(v.narrow[i])
		}
		v.narrow = nil
	}
}

// pack gives up codes and keeps the values themselves.
func (v *Values[T]) pack() {
	p := packingOf[T](max(v.rows, v.room))
	for i := range v.rows {
		p.add(v.At(i))
	}
	*v = Values[T]{rows: v.rows, packed: p}
}

// hash spreads values over a hash table.
func hash[T comparable](value T) uint64 {
	switch x := any(value).(type) {
	case string:
		return maphash.String(seed, x)
	case Number:
		return spread(math.Float64bits(x.V))
	case Count:
		return spread(uint64(x.V))
	case Money:
		return spread(uint64(x.V))
	case Date:
		return spread(uint64(x))
	case Flag:
		return spread(uint64(x))
	}
	return maphash.Comparable(seed, value)
}

// The seed changes from run to run, and with it where a code stands in the
// table: never which code a value has.
var seed = maphash.MakeSeed()

// spread is Fibonacci hashing (Knuth, The Art of Computer Programming, vol. 3,
// section 6.4): the high bits of a product are good, and there are more of them
// than any table here has places.
func spread(x uint64) uint64 { return x * 0x9E3779B97F4A7C15 >> 40 }

// picked is a column of its own of the rows at these places.
func (v *Values[T]) picked(rows []int32) Values[T] {
	picked := *v
	picked.gather(rows)
	return picked
}

// gather makes the rows those that were at these places; at -1 nothing is
// written. It shares nothing with what was there before.
func (v *Values[T]) gather(rows []int32) {
	v.distinct, v.table = slices.Clone(v.distinct), slices.Clone(v.table)
	switch {
	case v.packed != nil:
		p := packingOf[T](len(rows))
		for _, from := range rows {
			var value T
			if from >= 0 {
				value = v.packed.at(int(from))
			}
			p.add(value)
		}
		v.packed = p
	case v.narrow != nil:
		v.narrow = gathered(v.narrow, rows)
	case v.wide != nil:
		v.wide = gathered(v.wide, rows)
	}
	v.rows = len(rows)
}

func gathered[C uint8 | uint16](codes []C, rows []int32) []C {
	out := make([]C, len(rows))
	for i, from := range rows {
		if from >= 0 {
			out[i] = codes[from]
		}
	}
	return out
}

// join puts all rows of another column behind the last row. The other is used up.
func (v *Values[T]) join(other *Values[T]) {
	if v.rows == 0 {
		*v = *other
		return
	}
	codes := make([]int, max(1, len(other.distinct)))
	ok := other.packed == nil && v.packed == nil
	for c := 1; ok && c < len(codes); c++ {
		codes[c], ok = v.codeOf(other.distinct[c])
	}
	if !ok {
		for i := range other.rows {
			v.Add(other.At(i))
		}
		return
	}
	v.fit(max(0, len(v.distinct)-1))
	switch {
	case v.narrow != nil:
		v.narrow = slices.Grow(v.narrow, other.rows)
	case v.wide != nil:
		v.wide = slices.Grow(v.wide, other.rows)
	}
	for i := range other.rows {
		v.addCode(codes[other.Code(i)])
	}
}

func (v *Values[T]) add(field any)         { v.Add(*field.(*T)) }
func (v *Values[T]) read(i int, field any) { *field.(*T) = v.At(i) }
func (v *Values[T]) write(i int, field any) {
	if value := *field.(*T); v.At(i) != value {
		v.Set(i, value)
	}
}
func (v *Values[T]) joinAny(other any) { v.join(other.(*Values[T])) }
