package sheet

import "pourback/ingest/record"

// The readers of plain cells return where the cell ends, and false for any cell
// that is not plain. Every block ends with a line's end, so none of them runs
// out of it.

var powersOfTen = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

// figures reads up to fifteen digits with at most one decimal mark among them
// (none where mark is 0). Such a number over a power of ten is the nearest
// float64 there is: both are exact. A comma before three digits is not plain.
func figures(s []byte, i int, mark byte) (digits int64, decimals, end int) {
	for end = i; s[end]-'0' <= 9; end++ {
		digits = digits*10 + int64(s[end]-'0')
	}
	from := end
	if s[end] == mark && end > i && (mark == '.' || isDigit(s[end+1])) {
		for end++; s[end]-'0' <= 9; end++ {
			digits = digits*10 + int64(s[end]-'0')
		}
		decimals = end - from - 1
	}
	if end-i > 15 || mark == ',' && decimals == 3 {
		return 0, 0, i
	}
	return digits, decimals, end
}

func (r *blockReader) number(s []byte, i int, c *column, f *record.Number) (end int, ok bool) {
	digits, decimals, j := figures(s, i, r.mark)
	if !endsCell(s, j, r.delim) {
		return 0, false
	}
	if j == i {
		*f = record.Number{}
		return j, !c.spec.Required
	}
	v := float64(digits)
	if decimals > 0 {
		v /= powersOfTen[decimals]
	}
	v = c.bare(v)
	*f = record.Number{V: v, OK: true}
	return j, v >= c.lo && v <= c.hi
}

func (r *blockReader) count(s []byte, i int, c *column, f *record.Count) (end int, ok bool) {
	digits, _, j := figures(s, i, 0)
	if !endsCell(s, j, r.delim) {
		return 0, false
	}
	if j == i {
		*f = record.Count{}
		return j, !c.spec.Required
	}
	*f = record.Count{V: digits, OK: true}
	v := float64(digits)
	return j, v >= c.lo && v <= c.hi
}

func (r *blockReader) money(s []byte, i int, c *column, f *record.Money) (end int, ok bool) {
	digits, decimals, j := figures(s, i, r.mark)
	if !endsCell(s, j, r.delim) || decimals > 2 || j-i > 12 {
		return 0, false
	}
	if j == i {
		*f = record.Money{}
		return j, !c.spec.Required
	}
	for ; decimals < 2; decimals++ {
		digits *= 10
	}
	*f = record.Money{V: record.Cents(digits), OK: true}
	v := f.V.Dollars()
	return j, v >= c.lo && v <= c.hi
}

func (r *blockReader) date(s []byte, i int, c *column, m *memo, f *record.Date) (end int, ok bool) {
	j := r.textEnd(s, i)
	if j == i {
		*f = 0
		return j, j >= 0 && !c.spec.Required
	}
	if j < 0 {
		return 0, false
	}
	cell := s[i:j]
	k := m.find(cell)
	if k == nil {
		return 0, false
	}
	*f = k.date
	r.recall(k, c, cell)
	return j, true
}

func (r *blockReader) word(s []byte, i int, c *column, m *memo, f *string) (end int, ok bool) {
	j := r.textEnd(s, i)
	if j < 0 {
		return 0, false
	}
	if j == i {
		*f = ""
		return j, !c.spec.Required
	}
	k := m.find(s[i:j])
	if k == nil {
		return 0, false
	}
	*f = k.text
	r.recall(k, c, s[i:j])
	return j, true
}

// text reads a plain text. Text that comes again is one string.
func (r *blockReader) text(s []byte, i int, c *column, m *memo, f *string) (end int, ok bool) {
	j := r.textEnd(s, i)
	if j < 0 {
		return 0, false
	}
	if j == i {
		*f = c.spec.Default
		return j, !c.spec.Required
	}
	cell := s[i:j]
	k := m.slot(cell)
	if k.written == string(cell) {
		*f = k.text
		r.recall(k, c, cell)
		return j, true
	}
	if !plainTextCell(cell) {
		return 0, false
	}
	*f = string(cell)
	if len(cell) <= longestKnown {
		*k = known{written: *f, text: *f}
	}
	return j, true
}

// plainTextCell says whether a cell can be nothing but the text it is.
func plainTextCell(cell []byte) bool {
	first, last := cell[0], cell[len(cell)-1]
	if first == ' ' || first == '\'' || first == '#' || last == ' ' || len(cell) > 40 {
		return false
	}
	return len(cell) > longestMissingWord || isDigit(last) && first != 'E' || !isMissingWord(string(cell)) && !isCellError(string(cell))
}

// textEnd is where a cell of printable ASCII without a quotation mark at its
// beginning ends, or -1.
func (r *blockReader) textEnd(s []byte, i int) int {
	j := i
	if s[i] == '"' {
		return -1
	}
	for ; s[j] != r.delim && s[j] >= ' '; j++ {
		if s[j] >= 0x7f {
			return -1
		}
	}
	if !endsCell(s, j, r.delim) {
		return -1
	}
	return j
}
