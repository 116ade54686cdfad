package ingest

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// asideRow is a row of which some columns clash.
type asideRow struct {
	said    record.Record
	clashes []EntryClash
}

// setAside keeps with the batch the rows that clash, as files to be settled and
// handed in again: each as its record stands, with what was entered in the columns
// that clash.
func (en *enterer) setAside(ctx context.Context) error {
	var parts []store.SetAside
	for _, t := range record.Tables {
		var records []*enteredRecord
		for _, rec := range en.order {
			if rec.table == t && len(rec.clash) > 0 {
				records = append(records, rec)
			}
		}
		if len(records) == 0 {
			continue
		}
		content, rows, err := asideFileOf(t, records, en.Sheet)
		if err != nil {
			return err
		}
		en.aside += rows
		parts = append(parts, store.SetAside{Table: t.Name, Total: rows, Kept: rows, Content: content})
	}
	if len(parts) == 0 {
		return nil
	}
	return en.tx.KeepSetAside(ctx, parts)
}

func asideFileOf(t *record.Table, records []*enteredRecord, opt sheet.Options) (content []byte, rows int, err error) {
	columns := asideColumns(t, records)
	var header []string
	for _, i := range columns {
		header = append(header, t.Columns[i].Name)
	}
	var b bytes.Buffer
	w := sheet.NewAside(&b, header, opt)
	for _, rec := range records {
		for _, row := range rec.clash {
			cells := make([]string, 0, len(columns)+1)
			for _, i := range columns {
				from := rec.now
				if row.has(t.Columns[i].Name) {
					from = row.said
				}
				cells = append(cells, opt.Cell(from.Fields()[i]))
			}
			rows++
			err = errors.Join(err, w.Write(append(cells, row.problem())))
		}
	}
	err = errors.Join(err, w.Flush())
	return b.Bytes(), rows, err
}

// asideColumns are the columns of such a file: no more than are needed to read it,
// so that nothing else is changed by it, and those that clash.
func asideColumns(t *record.Table, records []*enteredRecord) (columns []int) {
	for i, c := range t.Columns {
		if c.Key || c.Required || c.Name == "neat_yd" || slices.ContainsFunc(records, func(rec *enteredRecord) bool {
			return slices.ContainsFunc(rec.clash, func(r asideRow) bool { return r.has(c.Name) })
		}) {
			columns = append(columns, i)
		}
	}
	return columns
}

func (r asideRow) has(column string) bool {
	return slices.ContainsFunc(r.clashes, func(c EntryClash) bool { return c.Column == column })
}

// problem names both values of each column that clashes.
func (r asideRow) problem() string {
	var each []string
	for _, c := range r.clashes {
		each = append(each, fmt.Sprintf("%s %q: %q is on record, and the form had shown %q; keep one of them", c.Column, c.Entered, c.Record, c.Shown))
	}
	return strings.Join(each, between)
}

// clashing finds the columns that a problem names. No quoted text holds a quote
// without a stroke before it.
var clashing = regexp.MustCompile(`(?:^|; )(\w+) "`)

// Clashing is a row that a form's batch has set aside.
type Clashing struct {
	Entered record.Record
	Now     record.Record // its record as it is now, nil where there is none any more
	Columns []string      // those that clash
}

// Clashes are the rows of a part of what a form's batch has set aside.
func Clashes(ctx context.Context, st *store.Store, part store.SetAside, opt sheet.Options) (rows []Clashing, err error) {
	f, err := Source{Name: part.Table + ".csv", Content: bytes.NewReader(part.Content), Size: int64(len(part.Content))}.Open(opt)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	cells := csv.NewReader(bytes.NewReader(part.Content))
	cells.Comma = rune(sheet.AsideDelimiter(opt))
	lines, err := cells.ReadAll()
	if err != nil {
		return nil, err
	}
	for row, err := range f.Tables[0].Rows() {
		if err != nil || len(rows)+1 >= len(lines) {
			return nil, errors.Join(err, errors.New("rows set aside of a form are not as they were written"))
		}
		is := Clashing{Entered: copyOf(row.Record)}
		line := lines[len(rows)+1] // behind the headings
		for _, name := range clashing.FindAllStringSubmatch(line[len(line)-1], -1) {
			is.Columns = append(is.Columns, name[1])
		}
		traces, _, err := st.TracesOf(ctx, *is.Entered.Fields()[0].(*string))
		if err != nil {
			return nil, err
		}
		for _, tr := range traces {
			if tr.Record.Table() == is.Entered.Table() && record.Key(tr.Record) == record.Key(is.Entered) {
				is.Now = tr.Record
			}
		}
		rows = append(rows, is)
	}
	return rows, nil
}

// ClashFile is a file of such rows as their records are now, with what was entered
// in the columns that clash: handed in, it changes nothing else.
func ClashFile(rows []Clashing, opt sheet.Options) ([]byte, error) {
	var records []*enteredRecord
	for _, r := range rows {
		rec := &enteredRecord{table: r.Entered.Table(), now: r.Now, clash: []asideRow{{said: r.Entered}}}
		if rec.now == nil {
			rec.now = r.Entered
		}
		for _, name := range r.Columns {
			i := rec.table.Index(name)
			if i < 0 {
				continue
			}
			rec.clash[0].clashes = append(rec.clash[0].clashes, EntryClash{Column: name, Record: record.FieldText(rec.now.Fields()[i]), Entered: record.FieldText(r.Entered.Fields()[i])})
		}
		records = append(records, rec)
	}
	content, _, err := asideFileOf(records[0].table, records, opt)
	return content, err
}
