package ingest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// write writes the records, each once.
func (en *enterer) write(ctx context.Context) error {
	for n, rec := range en.order {
		switch {
		case rec.old == nil || !rec.changed() && rec.held:
			if _, err := en.tx.Add(ctx, rec.table, nil, []store.Row{{Record: rec.now, Number: n + 1}}); err != nil {
				return err
			}
		case rec.changed():
			given := slices.Clone(rec.set)
			for _, i := range rec.table.Keys() {
				given[i] = true
			}
			doubtful, err := en.tx.Set(ctx, rec.now, given)
			if err != nil {
				return err
			}
			if doubtful {
				en.warn(rec, doubtfulRow())
			}
		}
	}
	return nil
}

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
		content, rows, err := asideFileOf(t, records)
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

func asideFileOf(t *record.Table, records []*enteredRecord) (content []byte, rows int, err error) {
	columns := asideColumns(t, records)
	var header []string
	for _, i := range columns {
		header = append(header, t.Columns[i].Name)
	}
	var b bytes.Buffer
	w := sheet.NewWriter(&b, append(header, sheet.SetAsideColumn))
	for _, rec := range records {
		for _, row := range rec.clash {
			cells := make([]string, 0, len(columns)+1)
			for _, i := range columns {
				from := rec.now
				if row.has(t.Columns[i].Name) {
					from = row.said
				}
				cells = append(cells, record.FieldText(from.Fields()[i]))
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
		each = append(each, fmt.Sprintf("%s %s: %s is on record, which the form had shown as %s; keep one of them", c.Column, quoted(c.Entered), quoted(c.Record), quoted(c.Shown)))
	}
	return strings.Join(each, "; ")
}

func quoted(text string) string {
	if text == "" {
		return "missing"
	}
	return fmt.Sprintf("%q", text)
}
