package sheet

import (
	"math"

	"pourback/ingest/record"
)

// column is how one column of a file is read.
type column struct {
	spec   *record.Column // nil for a column that is kept out
	target int            // its place among the record's columns
	measure
	cal    calendar
	words  *lexicon
	lo, hi float64           // the numbers about which there is nothing to say
	plain  reader            // how its plain cells are read
	noted  bool              // kept out for want of a heading
	manner manner            // how its other cells are read; nil for as its kind says
	asks   bool              // its heading asks a question: Pump?
	kind   string            // of callback that its heading names: Crack?
	codes  codes             // what its short words stand for, by the file's own key
	pairs  pairs             // what two temperatures by a stroke are
	shorts map[string]string // what short words that no key explains can alone mean, by the word as [codeKey] has it
}

// reader names the short way by which plain cells of a column are read.
type reader int8

const (
	skipped reader = iota
	plainNumber
	plainCount
	plainMoney
	plainDate
	plainWord
	plainText
	anyCell // no short way
)

// newColumn makes the column of a file that holds the record's column.
func newColumn(t *record.Table, target int, d record.Dictionary) column {
	spec := &t.Columns[target]
	c := column{spec: spec, target: target, measure: ownUnit(spec.Unit)}
	c.lo, c.hi = plainRange(spec)
	if spec.Words != nil {
		c.words = newLexicon(d.WordsOf(spec))
	}
	c.plain = map[record.Kind]reader{record.KindText: plainText, record.KindWord: plainWord, record.KindNumber: plainNumber,
		record.KindCount: plainCount, record.KindMoney: plainMoney, record.KindDate: plainDate}[spec.Kind]
	c.manner = manners[t][spec.Name]
	if spec.Kind == record.KindMoment || spec.Kind == record.KindFlag {
		c.plain = anyCell
	}
	return c
}

// in sets the unit that the heading bears.
func (c *column) in(unit string) {
	factor, offset, ok := c.spec.Unit.Scale(unit)
	if !ok || factor == 1 && offset == 0 {
		return
	}
	c.measure = measure{c.spec.Unit, factor, offset, true}
	if c.plain == plainCount {
		c.plain = anyCell
	}
}

// plainRange is the range in which neither an error nor a warning is due.
func plainRange(c *record.Column) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for _, r := range []record.Range{c.Hard, c.Soft} {
		if r.Min.OK {
			from := r.Min.V
			if r.Above {
				from = math.Nextafter(from, math.Inf(1))
			}
			lo = max(lo, from)
		}
		if r.Max.OK {
			hi = min(hi, r.Max.V)
		}
	}
	return lo, hi
}

// fieldOf is the field of the record that a column is read into; nil for a
// measure, which goes into the reader's scratch.
func fieldOf(fields []any, c *column) any {
	if c.target < 0 {
		return nil
	}
	return fields[c.target]
}
