package sheet

import "bytes"

// cellSpan is where a cell's text stands in a block, and where the delimiter or
// line end behind it is.
type cellSpan struct {
	from, to, end int
	doubled       bool // quotation marks within it are doubled
	quoted        bool
}

// cutCell finds the cell that begins at i, as RFC 4180 has it, but lazily: a
// quotation mark opens a cell only as its first character, and closes it only
// before a delimiter or a line's end (spaces may stand between); any other is
// itself. A quotation mark that is never closed is itself, too.
func cutCell(s []byte, i int, delim byte) cellSpan {
	if i < len(s) && s[i] == '"' {
		if c, closed := cutQuoted(s, i, delim); closed {
			return c
		}
	}
	j := i
	for j < len(s) && s[j] != delim && s[j] != '\n' {
		j++
	}
	if j > i && s[j-1] == '\r' && (j == len(s) || s[j] == '\n') {
		j--
	}
	return cellSpan{from: i, to: j, end: j}
}

func cutQuoted(s []byte, i int, delim byte) (c cellSpan, closed bool) {
	c = cellSpan{from: i + 1, quoted: true}
	for j := i + 1; ; {
		k := bytes.IndexByte(s[j:], '"')
		if k < 0 {
			return c, false
		}
		c.to = j + k
		if j = c.to + 1; j < len(s) && s[j] == '"' {
			c.doubled = true
			j++
			continue
		}
		c.end = j
		for c.end < len(s) && s[c.end] == ' ' {
			c.end++
		}
		if c.end == len(s) || endsCell(s, c.end, delim) {
			return c, true
		}
	}
}

// endsCell says whether a delimiter or a line's end stands at i.
func endsCell(s []byte, i int, delim byte) bool {
	return s[i] == delim || s[i] == '\n' || s[i] == '\r' && i+1 < len(s) && s[i+1] == '\n'
}

// recordEnd is the index behind the record that begins at i, or -1 where the
// record is not complete in s.
func recordEnd(s []byte, i int, delim byte) int {
	line := bytes.IndexByte(s[i:], '\n')
	if line >= 0 && bytes.IndexByte(s[i:i+line], '"') < 0 {
		return i + line + 1
	}
	for i < len(s) {
		if s[i] == '"' {
			c, closed := cutQuoted(s, i, delim)
			if !closed {
				return -1
			}
			i = c.end
		} else {
			i = cutCell(s, i, delim).end
		}
		if i < len(s) && s[i] == '\r' {
			i++
		}
		if i >= len(s) {
			return -1
		}
		if s[i] == '\n' {
			return i + 1
		}
		i++
	}
	return -1
}

// text is the cell's text: doubled quotation marks made single, an apostrophe
// that guards a formula taken away.
func (c cellSpan) text(s []byte, enc encoding) string {
	raw := s[c.from:c.to]
	if c.doubled {
		raw = bytes.ReplaceAll(raw, []byte(`""`), []byte(`"`))
	}
	return unguard(decodeCell(raw, enc))
}

// splitRecord cuts a record into the texts of its cells.
func splitRecord(s []byte, delim byte, enc encoding) []string {
	var cells []string
	for i := 0; ; {
		c := cutCell(s, i, delim)
		cells = append(cells, c.text(s, enc))
		if c.end >= len(s) || s[c.end] != delim {
			return cells
		}
		i = c.end + 1
	}
}
