package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// delivery hands rows out in their order, and does what needs that order: it
// numbers rows and delays, and speaks of each new word once.
type delivery struct {
	table *Table
	new   map[string]bool  // new words spoken of
	delay map[string]int64 // last delay of a job's placement
	heard map[int]bool     // columns without a heading that held something
	rows  int
	line  int    // rows of the spreadsheet before the present block
	out   []*Row // the block being handed out
}

func newDelivery(t *Table) *delivery {
	return &delivery{table: t, new: map[string]bool{}, delay: map[string]int64{}, heard: map[int]bool{}}
}

// block hands out the rows of a block. It is false where nobody wants more.
func (d *delivery) block(b *block, yield func([]*Row, error) bool) bool {
	if b.err != nil {
		if r, ok := b.err.(*Refusal); ok && r.Row > 0 {
			r.Row += d.line
		}
		yield(nil, b.err)
		return false
	}
	d.out = d.out[:0]
	for i := range b.rows[:b.used] {
		row := &b.rows[i]
		d.dress(row, d.line+row.Number)
		d.out = append(d.out, row)
	}
	if (len(d.out) > 0 || len(d.table.Problems) > 0) && !yield(d.out, nil) { // who asks takes the problems off, too
		return false
	}
	for _, p := range b.notes {
		p.Row += d.line
		d.note(p)
	}
	for _, u := range b.unnamed {
		d.unnamed(u.column, u.text)
	}
	d.line += b.lines
	d.table.AmbiguousDates += b.ambiguous
	return true
}

// mostNewWords bounds what is remembered: a column with so many is no vocabulary,
// and its words are spoken of again.
const mostNewWords = 10_000

// dress completes a row that stands at the number given.
func (d *delivery) dress(row *Row, number int) {
	d.rows++
	row.Number, row.table = number, d.table
	if delay, ok := row.Record.(*record.Delay); ok {
		d.count(row, delay)
	}
	if p, ok := row.Record.(*record.Placement); ok && d.table.layout.letters {
		d.letter(row, p)
	}
	if len(row.Problems) == 0 {
		return
	}
	kept := row.Problems[:0]
	for _, p := range row.Problems {
		if p.Code == codeNewWord {
			word := p.Column + " " + strings.ToLower(p.Right)
			if d.new[word] {
				continue
			}
			if len(d.new) < mostNewWords {
				d.new[word] = true
			}
		}
		p.File, p.Sheet, p.Row = d.table.File, d.table.Sheet, number
		kept = append(kept, p)
	}
	row.Problems = kept
}

var seqColumn = record.Delays.Index("seq")

// count numbers a delay that bears no number: one more than the last of its
// placement in this file.
func (d *delivery) count(row *Row, delay *record.Delay) {
	if !d.table.Given[seqColumn] {
		delay.Seq = record.Count{} // the record has been used before
	}
	place := delay.JobNo + "\x1f" + delay.Placement
	row.counted = !delay.Seq.OK && delay.JobNo != "" && !seqUnreadable(row)
	if row.counted {
		delay.Seq = record.Some(d.delay[place] + 1)
	}
	d.delay[place] = max(d.delay[place], delay.Seq.V)
}

func seqUnreadable(row *Row) bool {
	for _, p := range row.Problems {
		if p.Column == "seq" && p.Severity == record.Error {
			return true
		}
	}
	return false
}

// note takes what is to be said of the table as a whole.
func (d *delivery) note(p record.Problem) { d.table.say(p) }

// unnamed notes a column without a heading that holds something.
func (d *delivery) unnamed(column int, text string) {
	if d.heard[column] {
		return
	}
	d.heard[column] = true
	d.note(record.Problem{Severity: record.Warning, Code: codeNoHeading, Column: "column " + columnLetters(column), Value: text,
		Wrong: "no heading above it", Right: "name it, or it is left out"})
}

// end says what can only be said at the end.
func (d *delivery) end() {
	if d.rows == 0 {
		d.note(record.Problem{Severity: record.Warning, Code: codeNoRows, Wrong: "no rows below the headings", Right: "add a row for each record"})
	}
}
