package site

import (
	"encoding/json"
	"slices"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

// origin is the row of a batch's file that a value came from.
type origin struct {
	batch int64
	row   int
}

// recordView shows a row of a job.
func (a *Ask) recordView(tr store.Trace, batches map[int64]store.Batch) recordView {
	t, fields := tr.Record.Table(), tr.Record.Fields()
	v := recordView{Name: a.rowName(tr.Record), Hidden: hiddenOf(tr.Record, tr.Version)}
	v.Title = a.Say.RecordTable(t.Name) + ", " + v.Name
	from, first := originsOf(tr, batches)
	v.From, v.FromHref = a.originText(batches[first.batch], first), batchPath(first.batch)
	v.Came = a.Say.CameIn(a.Say.BatchName(first.batch), a.Say.Moment(batches[first.batch].TakenAt), a.byWhom(batches[first.batch].Who))
	for i := range t.Columns {
		c := &t.Columns[i]
		if c.Name == "job_no" || a.Site.unnamed(c.Name) {
			continue
		}
		if !c.Key && c.Name != "said_right" {
			v.Columns = append(v.Columns, chooseOption{Value: c.Name, Text: a.Say.ColumnLabel(t.Name, c.Name)})
		}
		one := valueView{Label: a.Say.ColumnLabel(t.Name, c.Name)}
		if record.IsMissing(fields[i]) {
			v.Absent = append(v.Absent, one)
			continue
		}
		one.Text = a.valueText(c, fields[i])
		at := from[c.Name]
		one.From = a.originText(batches[at.batch], at)
		if at != first {
			one.Href = batchPath(at.batch)
		}
		one.Note = a.noteOn(tr, batches, c.Name, at, record.FieldText(fields[i]))
		v.Values = append(v.Values, one)
	}
	if n := len(v.Absent); n > 0 {
		v.EmptySays = a.Say.JobEmpty(n)
	}
	a.viewUnused(&v, tr)
	v.Changes = a.historyOf(tr, batches)
	return v
}

func (a *Ask) viewUnused(v *recordView, tr store.Trace) {
	if a.Site.unnamed(record.UnusedColumn) {
		return
	}
	for heading, text := range tr.Unused {
		v.Unused = append(v.Unused, valueView{Label: say.Clean(heading, say.ShortName), Text: say.Clean(text, say.LongName)})
	}
	slices.SortFunc(v.Unused, func(x, y valueView) int { return strings.Compare(x.Label, y.Label) })
}

// rowName is what tells a row from others of its job.
func (a *Ask) rowName(r record.Record) string {
	t, fields := r.Table(), r.Fields()
	var parts []string
	for _, i := range t.Keys()[1:] {
		if text := a.valueText(&t.Columns[i], fields[i]); text != "" {
			parts = append(parts, text)
		}
	}
	switch {
	case len(parts) == 0:
		return a.Say.RecordTable(t.Name)
	case t.Keys()[1] == t.Index("placement") && !record.IsMissing(fields[t.Keys()[1]]):
		parts[0] = a.Say.PlacementName(parts[0])
	}
	return strings.Join(parts, ", ")
}

// hiddenOf names a record as a form does, in the version that is shown.
func hiddenOf(r record.Record, version string) hiddenRecord {
	var key []string
	for _, i := range r.Table().Keys() {
		key = append(key, record.FieldText(r.Fields()[i]))
	}
	text, err := json.Marshal(key)
	if err != nil {
		panic(err) // it is made of texts
	}
	return hiddenRecord{r.Table().Name, string(text), version}
}

// originsOf are where the values of a row came from: the last batch that stands
// and gave the column another value, else the first that wrote the row.
func originsOf(tr store.Trace, batches map[int64]store.Batch) (all map[string]origin, first origin) {
	first = origin{tr.Batch, tr.Row}
	given := map[string]origin{}
	seen := false
	for _, c := range tr.Changes {
		if c.Did != "changed" || batches[c.Batch].UndoneAt != "" {
			continue
		}
		if !seen {
			first, seen = origin{c.BeforeBatch, c.BeforeRow}, true
		}
		for column, after := range c.After {
			if c.Before[column] != after {
				given[column] = origin{c.Batch, c.Row}
			}
		}
	}
	all = map[string]origin{}
	for _, c := range tr.Record.Table().Columns {
		all[c.Name] = first
		if at, ok := given[c.Name]; ok {
			all[c.Name] = at
		}
	}
	return all, first
}

// originText is where a value came from: a row of a file, a correction, or what
// somebody said at a form.
func (a *Ask) originText(b store.Batch, at origin) string {
	switch {
	case ingest.IsFix(b.File):
		return a.fileOf(b)
	case ingest.IsEntry(b.File) && b.Who != "" && !a.Site.Settings.NoNames:
		return a.Say.FormBy(ingest.EntryWhat(b.File), b.Who)
	case ingest.IsEntry(b.File):
		return a.fileOf(b)
	}
	return a.Say.ValueFrom(a.fileOf(b), at.row)
}

// noteOn says of a value that it was mended before it came in, or said to be right.
func (a *Ask) noteOn(tr store.Trace, batches map[int64]store.Batch, column string, at origin, text string) string {
	note := ""
	for _, c := range tr.Changes {
		if batches[c.Batch].UndoneAt != "" {
			continue
		}
		after, is := c.After[column]
		switch {
		case is && c.Did == "mended" && c.Batch == at.batch:
			note = a.Say.ValueWritten(c.Before[column])
		case is && c.Did == "confirmed" && after == text:
			note = a.Say.ValueRight()
		}
	}
	return note
}

// valueText is a value as it is read.
func (a *Ask) valueText(c *record.Column, field any) string {
	text := record.FieldText(field)
	switch f := field.(type) {
	case *record.Date:
		if *f != 0 {
			return a.Say.Day(*f)
		}
	case *record.Money:
		if f.OK {
			return a.Say.Amount(f.V.Dollars(), 2)
		}
	case *record.Flag:
		switch *f {
		case record.Yes:
			return a.Say.Yes()
		case record.No:
			return a.Say.No()
		}
	case *string:
		if c.Kind == record.KindWord && text != "" {
			var words []string
			for _, w := range strings.Split(text, "+") {
				words = append(words, a.Say.Word(w))
			}
			return strings.Join(words, " + ")
		}
		return say.Clean(text, say.LongName)
	}
	return text
}

// asRead is a canonical text of a column as it is read.
func (a *Ask) asRead(t *record.Table, column, text string) string {
	i := t.Index(column)
	if i < 0 || text == "" {
		return a.shownText(text)
	}
	field := t.New().Fields()[i]
	if err := record.SetField(field, text); err != nil {
		return a.shownText(text)
	}
	return a.valueText(&t.Columns[i], field)
}

// historyOf are the earlier values of a row, the latest first.
func (a *Ask) historyOf(tr store.Trace, batches map[int64]store.Batch) (all []historyView) {
	t, fields := tr.Record.Table(), tr.Record.Fields()
	for _, c := range slices.Backward(tr.Changes) {
		b := batches[c.Batch]
		for i := range t.Columns {
			column := t.Columns[i].Name
			before, had := c.Before[column]
			after := c.After[column]
			if !had || c.Did != "changed" || before == after || a.Site.unnamed(column) || column == "said_right" {
				continue
			}
			h := historyView{When: a.Say.Moment(b.TakenAt), Who: a.byWhom(b.Who), Href: batchPath(b.ID), Label: a.Say.ColumnLabel(t.Name, column), Column: column, Value: before,
				Before: a.asRead(t, column, before), After: a.asRead(t, column, after), Did: a.Say.BatchStands(), Why: a.Say.PutBackWhy(c.Batch), Batch: a.Say.BatchName(b.ID),
				CanPutBack: before != record.FieldText(fields[i])}
			if b.UndoneAt != "" {
				h.Did = a.Say.BatchUndone()
			}
			h.Name = a.Say.PutBackName(h.Label, h.Before)
			all = append(all, h)
		}
	}
	return all
}
