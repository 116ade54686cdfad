package store

import (
	"cmp"
	"fmt"
	"slices"

	"pourback/ingest/record"
)

// Row is a record as a file has it, with the number of its row there. Fields
// are the record's, if the caller has them at hand.
type Row struct {
	Record record.Record
	Fields []any
	Number int
	Unused map[string]string // what stands in columns of no use, by heading, as written
}

// chunkRows is how many rows are looked up and written together.
const chunkRows = 4096

// chunk is a stretch of a file's rows for one table.
type chunk struct {
	table  *record.Table
	given  []bool // the columns that the file has
	unused headings
	rows   []row
	keys   []string // of each row, as appendKey makes them
	order  []int    // the rows by key, those of one key as in the file
	result []Outcome
}

// newChunk makes the rows' keys and digests and puts them in order.
func newChunk(t *record.Table, batch int64, given []bool, unused headings, rows []Row, result []Outcome) (*chunk, error) {
	c := &chunk{table: t, given: given, unused: unused, rows: make([]row, len(rows)), keys: make([]string, len(rows)), order: make([]int, len(rows)), result: result}
	var text []byte
	ends := make([]int, len(rows))
	for i, r := range rows {
		fields := r.Fields
		if fields == nil {
			fields = r.Record.Fields()
		}
		if err := check(t, fields); err != nil {
			return nil, fmt.Errorf("%s, row %d, %w", t.Name, r.Number, err)
		}
		unused, err := unusedText(r.Unused)
		if err != nil {
			return nil, fmt.Errorf("%s, row %d, %w", t.Name, r.Number, err)
		}
		c.rows[i] = row{fields: fields, unused: unused, batch: batch, number: r.Number, digest: digest(t, fields, unused)}
		text = appendKey(text, t, fields)
		ends[i] = len(text)
	}
	all, from := string(text), 0
	for i, end := range ends {
		c.keys[i], from = all[from:end], end
		c.order[i] = i
	}
	c.sort()
	return c, nil
}

// sort puts the rows in order, which files mostly are.
func (c *chunk) sort() {
	if !slices.IsSorted(c.keys) {
		slices.SortStableFunc(c.order, func(a, b int) int { return cmp.Compare(c.keys[a], c.keys[b]) })
	}
}

func (c *chunk) least() int    { return c.order[0] }
func (c *chunk) greatest() int { return c.order[len(c.order)-1] }
