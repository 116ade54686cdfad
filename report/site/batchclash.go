package site

import (
	"errors"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

// viewClashes shows of rows that were set aside of a form what is on record now
// and what was entered instead.
func (a *Ask) viewClashes(v *asideView, p store.SetAside) error {
	rows, err := ingest.Clashes(a.Context(), a.Store(), p, a.sheetOptions())
	var refusal *sheet.Refusal
	if errors.As(err, &refusal) { // it can be looked at as a file all the same, and mended there
		return nil
	}
	if err != nil {
		return err
	}
	differ := false
	for _, r := range rows {
		lines, other := a.clashLines(r)
		v.Lines, differ = append(v.Lines, lines...), differ || other
	}
	if v.Says, v.Do = a.Say.ClashesSay(), a.Say.ClashesDo(); !differ {
		v.Says, v.Do = a.Say.ClashesSettled(), ""
	}
	return nil
}

// clashLines are a sentence for each value of a row that is not what is on record,
// and whether there is any, which may not be shown.
func (a *Ask) clashLines(r ingest.Clashing) (lines []string, differ bool) {
	t, now := r.Entered.Table(), r.Now
	if now == nil {
		now = t.New()
	}
	for _, name := range r.Columns {
		i := t.Index(name)
		if i < 0 || record.FieldText(now.Fields()[i]) == record.FieldText(r.Entered.Fields()[i]) {
			continue
		}
		if differ = true; a.Site.unnamed(name) {
			continue
		}
		row := record.FieldText(r.Entered.Fields()[0]) + ", " + a.rowName(r.Entered)
		lines = append(lines, a.Say.ClashLine(say.Clean(row, say.LongName), a.Say.ColumnLabel(t.Name, name), a.clashText(&t.Columns[i], now.Fields()[i]), a.clashText(&t.Columns[i], r.Entered.Fields()[i])))
	}
	return lines, differ
}

func (a *Ask) clashText(c *record.Column, field any) string {
	if record.IsMissing(field) {
		return a.Say.Missing()
	}
	return say.Clean(a.valueText(c, field), say.LongName)
}

// clashFile is what a form's batch has set aside, as its records are now.
func (a *Ask) clashFile(p store.SetAside) ([]byte, error) {
	rows, err := ingest.Clashes(a.Context(), a.Store(), p, a.sheetOptions())
	var refusal *sheet.Refusal
	if errors.As(err, &refusal) || err == nil && len(rows) == 0 {
		return p.Content, nil
	}
	if err != nil {
		return nil, err
	}
	return ingest.ClashFile(rows, a.sheetOptions())
}
