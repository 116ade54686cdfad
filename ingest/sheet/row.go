package sheet

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// Row is one row of a table as read. It is valid, with all that hangs on it,
// until the next one is asked for; a copy of the record itself, and its texts,
// may be kept.
type Row struct {
	Number   int              // as the user's spreadsheet numbers it
	Record   record.Record    // with what could be read
	Fields   []any            // Record.Fields()
	Problems []record.Problem // every one, in the order of the file's columns, then those of the row as a whole

	table   *Table
	raw     []byte     // a CSV record
	texts   []string   // a workbook's cells
	counted bool       // the number of a delay was counted, not given
	left    bool       // an optional cell could not be read and was left empty
	parts   [][]string // the cells of the rows that were added to this one
	mended  []Mended
}

// Bad says whether the row has a problem that sets it aside.
func (r *Row) Bad() bool {
	return slices.ContainsFunc(r.Problems, func(p record.Problem) bool { return p.Severity == record.Error })
}

// has says whether the row has a problem of a kind.
func (r *Row) has(code string) bool {
	return slices.ContainsFunc(r.Problems, func(p record.Problem) bool { return p.Code == code })
}

// Understood says whether the table's headings had to be understood: a job log,
// not a file in the record form.
func (t *Table) Understood() bool { return t.insight != nil }

// AddsUp says whether rows of one key are added up into one. Where one of them
// cannot be taken, all of them must be handed in again.
func (t *Table) AddsUp() bool { return t.layout.addsUp }

// Cells are the texts of the row as written, one for each of the table's
// headings and more where the row is longer. A workbook's numbers and dates are
// written as a person sees them. The slice is the caller's to keep.
func (r *Row) Cells() []string {
	cells := r.texts
	if r.raw != nil {
		cells = splitRecord(r.raw, r.table.csv.delim, r.table.csv.enc)
	}
	return r.table.layout.fitCells(cells)
}

// seqNumber is the number of a delay.
func (r *Row) seqNumber() int64 { return r.Record.(*record.Delay).Seq.V }

// fitCells fills a row up to the width of its header, and takes away the reason
// for which it was once set aside and the empty cells behind it.
func (l *layout) fitCells(cells []string) []string {
	width := len(l.header)
	fitted := make([]string, max(width, len(cells)))
	copy(fitted, cells)
	if l.mended && len(fitted) > width {
		fitted = slices.Delete(fitted, width, width+1)
	}
	for len(fitted) > width && strings.TrimSpace(fitted[len(fitted)-1]) == "" {
		fitted = fitted[:len(fitted)-1]
	}
	return fitted
}

// verdict is what a row turned out to be.
type verdict int8

const (
	aRecord verdict = iota
	headingsAgain
	totals
	remarkRow // a heading of a month, a footnote, a sum without its word
)

// codeNoAmount is the code of a placement of which nobody knows how much it is.
const codeNoAmount = "amount-unknown"

// amountUnread sets a row aside for the cells of its amount that could not be
// read, if there are any, and says whether there are.
func (r *cellReader) amountUnread() bool {
	found := false
	for i := range r.problems {
		p := &r.problems[i]
		if slices.Contains(amountColumns, p.Column) && strings.HasSuffix(p.Wrong, leftEmpty) {
			p.Severity, p.Wrong, found = record.Error, strings.TrimSuffix(p.Wrong, leftEmpty), true
		}
	}
	return found
}

// amountColumns say how much work a placement is.
var amountColumns = []string{"area_sqft", "thickness_in", "neat_yd", ColumnSize, ColumnLength, ColumnWidth}

// doubted says whether a cell of the row could not be read.
func (r *cellReader) doubted() bool {
	return r.left || slices.ContainsFunc(r.problems, func(p record.Problem) bool {
		return p.Severity == record.Error || p.Code == codeMissing
	})
}

// judge tells records from the rows between and below them that are none. cells
// is asked for only where there is doubt.
func (l *layout) judge(fields []any, bad bool, cells func() []string) verdict {
	key := *fields[0].(*string) // every table begins with its job_no
	if l.loose {
		return l.judgeLog(cells())
	}
	if !bad && !l.doubtful(key) {
		return aRecord
	}
	switch c := cells(); {
	case l.headingsAgain(c):
		return headingsAgain
	case l.totals(c):
		return totals
	}
	return aRecord
}

// doubtful says whether a job number could be the word Total, or the heading.
func (l *layout) doubtful(key string) bool {
	return key == "" || !isDigit(key[len(key)-1]) && (isTotalWord(key) || strings.EqualFold(key, l.keyHeading))
}

// judgeLog tells the records of a job log from what else stands among them. A
// row is one if it has a number or a day and says something more.
func (l *layout) judgeLog(cells []string) verdict {
	if sameHeadings(cells, l.header) {
		return headingsAgain
	}
	if l.totals(cells) || hasTotalWord(cells) && !l.keyed(cells, true) {
		return totals
	}
	if found, _ := explains(cells); len(found) > 1 {
		return remarkRow
	}
	held := 0
	for _, c := range cells {
		if strings.TrimFunc(c, isBlank) != "" {
			held++
		}
	}
	if held == 1 || l.ofNoJob(cells) || !l.keyed(cells, false) && held*2 <= l.width() {
		return remarkRow
	}
	return aRecord
}

// keyed says whether a row has a number or a day; or, if both are asked for, the
// two of them.
func (l *layout) keyed(cells []string, both bool) bool {
	number, day := false, false
	for i := range l.columns {
		spec := l.columns[i].spec
		if spec == nil || !strings.ContainsFunc(at(cells, i), unicode.IsDigit) {
			continue
		}
		number = number || spec.Name == "job_no"
		day = day || spec.Kind == record.KindDate && spec.Required
	}
	if both {
		return number && day
	}
	return number || day
}

// ofNoJob says whether a cost or a time names no job: the firm's own.
func (l *layout) ofNoJob(cells []string) bool {
	if l.table != record.Costs && l.table != record.Labors {
		return false
	}
	for i := range l.columns {
		if spec := l.columns[i].spec; spec != nil && spec.Name == "job_no" {
			return strings.TrimFunc(at(cells, i), isBlank) == ""
		}
	}
	return false
}

// width is how many columns are read.
func (l *layout) width() int {
	n := 0
	for i := range l.columns {
		if l.columns[i].spec != nil {
			n++
		}
	}
	return n
}

// headingsAgain says whether a row repeats the headings.
func (l *layout) headingsAgain(cells []string) bool {
	same, named := 0, 0
	for i, name := range l.header {
		if strings.TrimSpace(name) != "" {
			named++
		}
		switch cell := at(cells, i); {
		case strings.TrimSpace(cell) == "":
		case !slices.Equal(headingWords(cell), headingWords(name)):
			return false
		default:
			same++
		}
	}
	return same > 0 && 2*same >= named
}

// totals says whether a row only adds up those above: it has no job, no date,
// no word, nothing but numbers and perhaps the word total.
func (l *layout) totals(cells []string) bool {
	word, numbers := false, false
	for i := range l.columns {
		c := &l.columns[i]
		cell := strings.TrimFunc(at(cells, i), isBlank)
		switch {
		case cell == "":
		case isTotalWord(cell):
			word = true
		case c.spec == nil && strings.ContainsFunc(cell, unicode.IsLetter):
			return false
		case c.spec == nil:
		case c.spec.Kind != record.KindNumber && c.spec.Kind != record.KindCount && c.spec.Kind != record.KindMoney:
			return false
		case strings.ContainsAny(cell, "0123456789"):
			numbers = true
		}
	}
	return word || numbers
}

var totalWords = []string{"total", "totals", "sum", "sums", "subtotal", "sub total", "grand total", "overall", "average", "averages", "avg", "mean", "count", "totales", "suma", "promedio", "ytd", "year to date"}

// isTotalWord knows Total:, TOTALS 2025, Total for June and their kin.
func isTotalWord(s string) bool {
	if len(s) > 30 {
		return false
	}
	words := strings.TrimRight(record.Fold(strings.Trim(s, ":=# ")), "0123456789: ")
	for _, of := range []string{" for ", " of ", " for", " of"} {
		words, _, _ = strings.Cut(words, of)
	}
	if first, last := strings.Fields(words), strings.LastIndexByte(words, ' '); len(first) > 1 && len(first) < 5 && (slices.Contains(firstTotalWords, first[0]) || slices.Contains(firstTotalWords, words[last+1:])) {
		return true
	}
	return slices.Contains(totalWords, words)
}

// firstTotalWords make a sum of what stands beside them: Day total, Totals June.
var firstTotalWords = []string{"total", "totals", "subtotal", "totales", "suma"}

// notice is what to say about a row that is left out.
func (v verdict) notice(row int, cells []string) record.Problem {
	p := record.Problem{Severity: record.Warning, Code: codeTotals, Row: row, Wrong: "a row of totals"}
	switch v {
	case headingsAgain:
		p.Code, p.Wrong = codeAgain, "the headings again"
	case remarkRow:
		p.Code, p.Wrong = codeRemarkRow, "a row that is no record"
	}
	p.Wrong += fmt.Sprintf(" (%s)", shorten(firstText(cells)))
	p.Right = "left out"
	return p
}

// OfNoRecord says whether a problem is that a row is no record, which is said of
// the table as a whole.
func OfNoRecord(p record.Problem) bool {
	return slices.Contains([]string{codeTotals, codeAgain, codeRemarkRow, codeTitle}, p.Code)
}

func firstText(cells []string) string {
	for _, c := range cells {
		if t := strings.TrimSpace(c); t != "" {
			return t
		}
	}
	return ""
}

// finish completes a row that is a record, and applies the rules that span its
// columns. A value that breaks one is left empty where the row can do without.
func (r *cellReader) finish(row *Row) {
	if r.loose {
		r.derive(row.Record)
	}
	for _, p := range row.Record.Check(r.today) {
		if p.Code == codeNoAmount && r.amountUnread() {
			continue
		}
		p.Value = r.written(row, p)
		if i := r.table.Index(p.Column); p.Severity == record.Error && i >= 0 && !r.vital(&r.table.Columns[i]) && p.Column != "area_sqft" {
			record.ClearField(row.Fields[i])
			p = r.leaveEmpty(p)
		}
		r.problems = append(r.problems, p)
	}
	row.Problems = append(row.Problems[:0], r.problems...)
	row.left = r.left
}

// written is the text of the cell that a problem speaks of, as written.
func (r *cellReader) written(row *Row, p record.Problem) string {
	for i := range r.columns {
		if c := &r.columns[i]; c.spec != nil && c.spec.Name == p.Column {
			return at(row.Cells(), i)
		}
	}
	return p.Value
}

// tooLong notes cells behind the last heading that hold something. In a sheet of
// a job log they stand for themselves; in a text file the whole row may have
// slipped.
func (r *cellReader) tooLong(cells []string, kept bool) {
	for i := len(r.columns); i < len(cells); i++ {
		if text := strings.TrimSpace(cells[i]); text != "" {
			severity := record.Error
			if kept {
				severity = record.Warning
			}
			r.problems = append(r.problems, record.Problem{Severity: severity, Code: codeExtraCells,
				Column: "column " + columnLetters(i), Value: text, Wrong: "a cell more than there are headings", Right: "quote a text that holds the delimiter, or name the column"})
			return
		}
	}
}
