package site

import (
	"bytes"
	"fmt"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

// viewClashes shows of rows that were set aside of a form what is on record now
// and what was entered instead.
func (a *Ask) viewClashes(v *asideView, p store.SetAside) error {
	from := ingest.Source{Name: p.Table + ".csv", Content: bytes.NewReader(p.Content), Size: int64(len(p.Content))}
	f, err := from.Open(a.sheetOptions())
	if err != nil {
		return fmt.Errorf("rows set aside of a form: %w", err)
	}
	defer f.Close()
	differ := false
	for _, t := range f.Tables {
		for row, err := range t.Rows() {
			if err != nil {
				return fmt.Errorf("rows set aside of a form: %w", err)
			}
			now, err := a.nowOf(row.Record)
			if err != nil {
				return err
			}
			lines, other := a.clashLines(t, row.Record, now)
			v.Lines, differ = append(v.Lines, lines...), differ || other
		}
	}
	if v.Says, v.Do = a.Say.ClashesSay(), a.Say.ClashesDo(); !differ {
		v.Says, v.Do = a.Say.ClashesSettled(), ""
	}
	return nil
}

// nowOf is the record with a row's key as it is now; an empty one where there is
// none any more.
func (a *Ask) nowOf(row record.Record) (record.Record, error) {
	traces, _, err := a.Store().TracesOf(a.Context(), record.FieldText(row.Fields()[0]))
	for _, tr := range traces {
		if tr.Record.Table() == row.Table() && record.Key(tr.Record) == record.Key(row) {
			return tr.Record, err
		}
	}
	return row.Table().New(), err
}

// clashLines are a sentence for each value of a row that is not what is on record,
// and whether there is any, which may not be shown.
func (a *Ask) clashLines(t *sheet.Table, entered, now record.Record) (lines []string, differ bool) {
	for i, c := range entered.Table().Columns {
		was, is := now.Fields()[i], entered.Fields()[i]
		if !t.Given[i] || c.Key || record.FieldText(was) == record.FieldText(is) {
			continue
		}
		if differ = true; a.Site.unnamed(c.Name) {
			continue
		}
		name := record.FieldText(entered.Fields()[0]) + ", " + a.rowName(entered)
		lines = append(lines, a.Say.ClashLine(say.Clean(name, say.LongName), a.Say.ColumnLabel(entered.Table().Name, c.Name), a.clashText(&c, was), a.clashText(&c, is)))
	}
	return lines, differ
}

func (a *Ask) clashText(c *record.Column, field any) string {
	if record.IsMissing(field) {
		return a.Say.Missing()
	}
	return say.Clean(a.valueText(c, field), say.LongName)
}
