package sheet

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"sync"

	"pourback/ingest/record"
)

// dialect is how a CSV file is written, and where its data begin.
type dialect struct {
	enc   encoding
	delim byte
	cr    bool  // lines end with a carriage return alone
	start int64 // where the first row below the headings begins, in decoded bytes
	rows  int   // how many rows stand before it
}

// delimiters that are recognised.
const delimiters = ",;\t|"

// sampleSize is how much of a file is looked at to find out how it is written.
const sampleSize = 256 << 10

func (f *File) openCSV() error {
	d := &dialect{}
	sample, whole, err := f.sample(d)
	if err != nil {
		return err
	}
	if done, err := f.openPictures(d, sample, whole); done || err != nil {
		return err
	}
	all := newCatalogue(f.opt.Dictionary)
	named := tableNamed(strings.TrimSuffix(f.Name, filepath.Ext(f.Name)))
	rows, h, err := f.findDelimiter(d, sample, whole, all, named)
	if err != nil {
		return err
	}
	if !turned(rows) && (!h.usable(named) || !f.inRecordForm(&h) && !f.plainEnough(&h, rows[h.last+1:])) {
		if done, err := f.openLog(d, sample, all, h.usable(named)); done || err != nil {
			return err
		}
	}
	if !h.usable(named) {
		wrong, right := h.explain()
		if turned(rows) {
			wrong, right = turnedWrong, turnedRight
		}
		return refuse(f.Name, codeNoTable, wrong, right)
	}
	if len(h.names) > f.opt.Limits.Columns {
		return manyColumns(len(h.names), f.opt.Limits.Columns)
	}
	return f.inForm(d, rows, h)
}

// inForm makes the file's table, which is in the record form.
func (f *File) inForm(d *dialect, rows []gridRow, h header) error {
	l, refusal := newLayout(h, &f.opt)
	if refusal != nil {
		return refusal
	}
	l.habit = findHabit(l, rows[h.last+1:], d.delim, f.opt.DecimalComma)
	d.start, d.rows = rows[h.last].end, rows[h.last].number
	t := f.newTable("", l)
	t.csv = d
	t.sayTitles(h.titles, rows)
	f.Tables = []*Table{t}
	return nil
}

func manyColumns(n, limit int) *Refusal {
	return refuse("", codeManyColumns, fmt.Sprintf("%d columns", n), fmt.Sprintf("at most %d; most likely the delimiter or the line ends are damaged", limit))
}

// sayTitles names the rows above the headings.
func (t *Table) sayTitles(titles []int, rows []gridRow) {
	for _, i := range titles {
		t.say(record.Problem{Severity: record.Warning, Code: codeTitle, Row: rows[i].number,
			Wrong: fmt.Sprintf("above the headings (%s)", shorten(firstText(rows[i].cells))), Right: "left out"})
	}
}

// samples are rooms to read the beginning of a file into: most files are far shorter.
var samples = sync.Pool{New: func() any { return new([sampleSize]byte) }}

// sample reads the beginning of the text, at least a whole row of it.
func (f *File) sample(d *dialect) (sample []byte, whole bool, err error) {
	room := samples.Get().(*[sampleSize]byte)
	defer samples.Put(room)
	head := room[:]
	n, err := io.ReadFull(f.reader(), head)
	if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
		return nil, false, err
	}
	var refusal *Refusal
	if d.enc, refusal = detectEncoding(head[:n], n < len(head), f.opt.Encoding); refusal != nil {
		return nil, false, refusal
	}
	r := decoded(f.reader(), d.enc)
	limit := f.opt.Limits.Row + sampleSize
	sample = make([]byte, 0, min(3*n+1, sampleSize)) // no encoding's byte is more than three of UTF-8
	for len(sample) < limit {
		n, err := io.ReadFull(r, sample[len(sample):cap(sample)])
		sample = sample[:len(sample)+n]
		if err == io.EOF || err == io.ErrUnexpectedEOF {
			whole = true
			break
		}
		if err != nil {
			return nil, false, err
		}
		if bytes.ContainsAny(sample, "\r\n") {
			break
		}
		sample = append(make([]byte, 0, min(2*cap(sample), limit)), sample...)
	}
	return f.checkSample(d, sample, whole)
}

func (f *File) checkSample(d *dialect, sample []byte, whole bool) ([]byte, bool, error) {
	if i := bytes.IndexByte(sample, 0); i >= 0 {
		return nil, false, f.nulByte(bytes.Count(sample[:i], []byte("\n"))+1, sample)
	}
	if len(bytes.TrimSpace(sample)) == 0 && whole {
		return nil, false, refuse(f.Name, codeEmpty, "is empty", "its first row names the columns, the others hold a record each")
	}
	d.cr = bytes.IndexByte(sample, '\n') < 0 && bytes.IndexByte(sample, '\r') >= 0
	if d.cr {
		sample = bytes.ReplaceAll(sample, []byte("\r"), []byte("\n"))
	}
	if whole && sample[len(sample)-1] != '\n' {
		sample = append(sample, '\n')
	}
	if !whole && bytes.IndexByte(sample, '\n') < 0 {
		return nil, false, longRow(f.Name, f.opt.Limits.Row, bytes.IndexByte(sample, '"') >= 0).at("", 1)
	}
	return sample, whole, nil
}

// nulByte refuses a file with a byte that no text holds.
func (f *File) nulByte(row int, sample []byte) *Refusal {
	right := "hand in the CSV or XLSX file itself"
	if n := bytes.Count(sample, []byte{0}); 3*n > len(sample) {
		right = "it looks like UTF-16 without a byte-order mark: save it as UTF-8, or name the encoding"
	}
	return refuse(f.Name, codeNul, "a NUL byte, which no text holds", right).at("", row)
}

// findDelimiter reads the first rows by each delimiter and keeps that by which
// the headings make most sense.
func (f *File) findDelimiter(d *dialect, sample []byte, whole bool, all catalogue, named *record.Table) (rows []gridRow, best header, err error) {
	tries := delimiters
	skip := 0
	if m := sepLine.FindSubmatch(sample); m != nil {
		tries, skip = string(m[1]), len(m[0])
	}
	for _, delim := range []byte(tries) {
		r := sampleRows(sample, skip, delim, d.enc)
		if h := all.findHeader(r, named); h.beats(&best.fit, named) {
			rows, best, d.delim = r, h, delim
		}
	}
	if best.headings == nil && recordEnd(sample, skip, tries[0]) < 0 {
		if whole {
			return nil, best, openQuote(f.Name).at("", 1)
		}
		return nil, best, longRow(f.Name, f.opt.Limits.Row, true).at("", 1)
	}
	return rows, best, nil
}

// sepLine is a first line by which some spreadsheets name the delimiter.
var sepLine = patternOf(`^(?i:sep)=([,;|\t])\r?\n`)

func openQuote(name string) *Refusal {
	return refuse(name, codeOpenQuote, "a quotation mark opens a cell that is never closed", `close it, or write two of them ("") within a quoted cell`)
}

// sampleRows cuts the rows of a sample that are complete, as many as it takes
// to find the headings and see how numbers are written.
func sampleRows(sample []byte, from int, delim byte, enc encoding) []gridRow {
	var rows []gridRow
	number := 0
	if from > 0 {
		number++
	}
	for from < len(sample) && len(rows) < deepestHeader+400 {
		end := recordEnd(sample, from, delim)
		if end < 0 {
			break
		}
		number++
		rows = append(rows, gridRow{number: number, cells: splitRecord(sample[from:end], delim, enc), end: int64(end)})
		from = end
	}
	return rows
}

// Shapes of numbers that can be read in one way only.
var (
	commaDecimal = patternOf(`\d,\d{1,2}(?:\D|$)|\d,\d{4,}|\.\d{3},\d|\b0,\d`)
	pointDecimal = patternOf(`\d\.\d{1,2}(?:\D|$)|\d\.\d{4,}|,\d{3}\.\d|\b0\.\d`)
)

// findHabit finds out how a file writes its decimals.
func findHabit(l *layout, rows []gridRow, delim byte, wish string) habit {
	if h, ok := wishedHabit(wish); ok {
		return h
	}
	var seen decimalMarks
	for _, row := range rows {
		for i := range l.columns {
			c := &l.columns[i]
			if c.spec == nil || c.spec.Kind != record.KindNumber && c.spec.Kind != record.KindMoney {
				continue
			}
			seen.add(at(row.cells, i))
		}
	}
	return seen.habit(delim)
}

// wishedHabit is the one that a setting names, if it names one.
func wishedHabit(wish string) (habit, bool) {
	switch strings.ToLower(wish) {
	case "yes":
		return habit{mark: ','}, true
	case "no":
		return habit{mark: '.'}, true
	}
	return habit{}, false
}

// decimalMarks counts the numbers of a file that can be read in one way only.
type decimalMarks struct{ commas, points int }

func (d *decimalMarks) add(cell string) {
	switch {
	case commaDecimal.MatchString(cell):
		d.commas++
	case pointDecimal.MatchString(cell):
		d.points++
	}
}

// habit goes by the more frequent way. Where no number shows one, fields apart
// by semicolons leave the comma to the decimals.
func (d *decimalMarks) habit(delim byte) habit {
	if d.commas > d.points || d.commas == 0 && d.points == 0 && delim == ';' {
		return habit{mark: ',', said: true}
	}
	return habit{mark: '.', said: d.commas > 0}
}
