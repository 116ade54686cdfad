package store

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// headings are what a file has above its columns. What a row held under any of
// them, the file says anew; what it held under others stays.
type headings map[string]bool

// Headings says what the file has above the columns of a table that follow, of
// use or not. [Row.Unused] gives the row's values under those of no use.
func (tx *Tx) Headings(t *record.Table, names []string) {
	h := headings{}
	for _, name := range names {
		h[strings.TrimSpace(name)] = true
	}
	tx.headings[t] = h
}

// unusedText is what stands in columns of no use as the database holds it: the
// headings in order, so that equal values have one text.
func unusedText(values map[string]string) (string, error) {
	if len(values) == 0 {
		return "", nil
	}
	for heading, text := range values {
		if !storable(heading) || !storable(text) {
			return "", fmt.Errorf("column %q: text with bytes that are no characters", heading)
		}
	}
	return jsonText(values), nil
}

func unusedValues(text string) (map[string]string, error) {
	if text == "" {
		return nil, nil
	}
	values := map[string]string{}
	if err := json.Unmarshal([]byte(text), &values); err != nil {
		return nil, fmt.Errorf("%s: %w", unusedColumn, err)
	}
	return values, nil
}

// over is what is to be kept where a row of the file meets a stored one. What
// is stored and cannot be read is left as it is.
func (h headings) over(stored, file string) string {
	if stored == "" || stored == file {
		return file
	}
	kept, err := unusedValues(stored)
	if err != nil {
		return stored
	}
	for heading := range h {
		delete(kept, heading)
	}
	fresh, _ := unusedValues(file) // written by unusedText
	for heading, text := range fresh {
		kept[heading] = text
	}
	if len(kept) == 0 {
		return ""
	}
	return jsonText(kept)
}

func withUnused(values map[string]string, text string) map[string]string {
	if values == nil {
		values = map[string]string{}
	}
	values[unusedColumn] = text
	return values
}

// RecordsWithUnused is [Snapshot.Records] with what stood in columns of no use,
// by heading; nil where there was nothing.
func (now *Snapshot) RecordsWithUnused(ctx context.Context, t *record.Table, yield func(r record.Record, unused map[string]string) error) error {
	rows, err := now.tx.QueryxContext(ctx, "SELECT "+wholeList(t)+" FROM "+t.Name+" ORDER BY "+joined(keyNames(t)))
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		r, into := t.New(), row{}
		if err := rows.Scan(append(r.Fields(), &into.batch, &into.number, &into.digest, &into.unused)...); err != nil {
			return err
		}
		unused, err := unusedValues(into.unused)
		if err != nil {
			return err
		}
		now.handed = true
		if err := yield(r, unused); err != nil {
			return err
		}
	}
	return rows.Err()
}

// UnusedHeadings are the headings under which the rows of a table hold
// something of no use, in order.
func (now *Snapshot) UnusedHeadings(ctx context.Context, t *record.Table) ([]string, error) {
	var texts []string
	err := now.tx.SelectContext(ctx, &texts, "SELECT DISTINCT "+unusedColumn+" FROM "+t.Name+" WHERE "+unusedColumn+" IS NOT NULL")
	if err != nil {
		return nil, err
	}
	now.handed = true
	seen := map[string]bool{}
	for _, text := range texts {
		values, err := unusedValues(text)
		if err != nil {
			return nil, err
		}
		for heading := range values {
			seen[heading] = true
		}
	}
	return slices.Sorted(maps.Keys(seen)), nil
}
