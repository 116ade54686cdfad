package store

import (
	"context"
	"reflect"

	"pourback/ingest/record"
)

// compareDigests decides all that digests can decide, and returns the rows for
// which the stored values must be looked at.
func (tx *Tx) compareDigests(p *passage, c *chunk, found map[string]stored) (doubtful []int) {
	first := -1 // the first row of the present key, if no earlier chunk had the key
	for _, i := range c.order {
		key, r := c.keys[i], &c.rows[i]
		if first >= 0 && key == c.keys[first] {
			c.result[i] = c.against(i, first)
			continue
		}
		there, ok := found[key]
		earlier, had := p.earlier(key, there.batch, there.number, r.batch)
		if first = i; had {
			first = -1
		}
		switch {
		case !ok:
			c.result[i] = Outcome{Kind: New}
		case r.digest != there.digest:
			doubtful = append(doubtful, i)
		case had:
			c.result[i] = Outcome{Kind: Repeated, FirstRow: earlier}
		default:
			c.result[i] = tx.unchanged(there.batch)
		}
	}
	return doubtful
}

// against holds a row against an earlier one of the chunk that has its key.
func (c *chunk) against(i, first int) Outcome {
	kind := Conflict
	if c.rows[i].digest == c.rows[first].digest {
		kind = Repeated
	}
	return Outcome{Kind: kind, FirstRow: c.rows[first].number}
}

// compareValues decides about the doubtful rows by what is stored, and returns
// the changes to make.
func (tx *Tx) compareValues(ctx context.Context, p *passage, c *chunk, doubtful []int) ([]change, error) {
	whole, err := tx.fetch(ctx, c.table, doubtful, c.at)
	if err != nil {
		return nil, err
	}
	var changes []change
	for _, i := range doubtful {
		key, r := c.keys[i], c.rows[i]
		there := whole[key]
		earlier, had := p.earlier(key, there.batch, there.number, r.batch)
		before, after := difference(c.table, there.fields, r.fields, c.given)
		if unused := c.unused.over(there.unused, r.unused); unused != there.unused {
			before, after = withUnused(before, there.unused), withUnused(after, unused)
			there.unused = unused
		}
		switch same := len(before) == 0; {
		case had && same:
			c.result[i] = Outcome{Kind: Repeated, FirstRow: earlier}
		case had:
			c.result[i] = Outcome{Kind: Conflict, FirstRow: earlier}
		case same:
			c.result[i] = tx.unchanged(there.batch)
		default:
			c.result[i] = Outcome{Kind: Changed}
			tx.leans[there.batch] = true
			changes = append(changes, change{
				did: didChange, row: merged(c.table, there, r, c.given), before: before, after: after,
				beforeBatch: there.batch, beforeRow: there.number,
			})
		}
	}
	return changes, nil
}

// unchanged is the outcome of a row that was there just so. This batch now stands
// on the one that wrote it.
func (tx *Tx) unchanged(writer int64) Outcome {
	tx.leans[writer] = true
	tx.batch.Unchanged++
	return Outcome{Kind: Unchanged}
}

// difference is the canonical text, before and after, of the columns that the
// file gives another value.
func difference(t *record.Table, stored, file []any, given []bool) (before, after map[string]string) {
	for i, c := range t.Columns {
		if given != nil && !given[i] || sameValue(stored[i], file[i]) {
			continue
		}
		if before == nil {
			before, after = map[string]string{}, map[string]string{}
		}
		before[c.Name], after[c.Name] = record.FieldText(stored[i]), record.FieldText(file[i])
	}
	return before, after
}

// merged is the file's row with the stored values of the columns that the file
// does not have. It takes the stored fields over, and what is to be kept of the
// columns of no use.
func merged(t *record.Table, stored, file row, given []bool) row {
	for i := range stored.fields {
		if given == nil || given[i] {
			record.CopyField(stored.fields[i], file.fields[i])
		}
	}
	return row{fields: stored.fields, unused: stored.unused, batch: file.batch, number: file.number, digest: digest(t, stored.fields, stored.unused)}
}

func sameValue(a, b any) bool {
	if record.IsMissing(a) || record.IsMissing(b) {
		return record.IsMissing(a) && record.IsMissing(b)
	}
	return reflect.ValueOf(a).Elem().Equal(reflect.ValueOf(b).Elem())
}

// copyFields gives fields the values of others.
func copyFields(to, from []any) {
	for i := range to {
		record.CopyField(to[i], from[i])
	}
}
