package store

import (
	"context"
)

// sightings are the rows of a file that were there just so: nothing that the
// file wrote shows that it had them. While a file's keys ascend none of them can
// come again, and they are kept as what takes least room. Only once the file
// goes back are they put where a key can be found.
type sightings struct {
	stretches []stretch
	single    []sighted
	indexed   map[uint64]int32 // hash of the key to row number; nil until asked for
}

// stretch is rows of the file that follow each other, and are all that the table
// had between the first one's key and the last one's.
type stretch struct {
	bounds []any // values of the first key and the last
	row    int   // number of the first row
}

// sighted is a chunk's rows that make no stretch: hashes of keys, and row numbers.
type sighted struct {
	keys []uint64
	rows []int32
}

// hashOf is a 64-bit hash of a key; two keys of a file will not share one.
func hashOf(key string) uint64 { return stirText(0, key) }

// note remembers the chunk's rows that were there just so. found is what the
// table has of the chunk's keys and, unless the passage is sparse, between them.
func (p *passage) note(c *chunk, found map[string]stored) {
	s := &p.seen
	if s.indexed == nil && !p.sparse && len(found) == len(c.rows) && c.unbroken() {
		bounds := append(keyValues(c.table, c.at(c.least())), keyValues(c.table, c.at(c.greatest()))...)
		s.stretches = append(s.stretches, stretch{bounds, c.rows[c.least()].number})
		return
	}
	var these sighted
	for _, i := range c.order {
		if c.result[i].Kind == Unchanged {
			these.keys = append(these.keys, hashOf(c.keys[i]))
			these.rows = append(these.rows, int32(c.rows[i].number))
		}
	}
	if s.indexed != nil {
		s.add(these)
	} else if len(these.keys) > 0 {
		s.single = append(s.single, these)
	}
}

// unbroken says whether all the chunk's rows were there just so, and their
// numbers follow each other.
func (c *chunk) unbroken() bool {
	for n, i := range c.order {
		if c.result[i].Kind != Unchanged || c.rows[i].number != c.rows[c.least()].number+n {
			return false
		}
	}
	return true
}

func (s *sightings) add(these sighted) {
	for i, k := range these.keys {
		s.indexed[k] = these.rows[i]
	}
}

// index makes the sightings ready to be found.
func (tx *Tx) index(ctx context.Context, p *passage) error {
	if p.seen.indexed != nil {
		return nil
	}
	s := sightings{indexed: map[uint64]int32{}}
	for _, these := range p.seen.single {
		s.add(these)
	}
	for _, one := range p.seen.stretches {
		if err := tx.readStretch(ctx, p, one, s.indexed); err != nil {
			return err
		}
	}
	p.seen = s
	return nil
}

// readStretch finds the keys of a stretch in the table, where they still are,
// with only rows of this file among them.
func (tx *Tx) readStretch(ctx context.Context, p *passage, one stretch, into map[uint64]int32) error {
	stmt, err := tx.prepare(ctx, "SELECT "+joined(keyNames(p.table))+" FROM "+p.table.Name+
		" WHERE "+betweenText(p.table)+" AND batch_id <> ? ORDER BY "+joined(keyNames(p.table)))
	if err != nil {
		return err
	}
	rows, err := stmt.QueryxContext(ctx, append(one.bounds[:len(one.bounds):len(one.bounds)], tx.batch.ID)...)
	if err != nil {
		return err
	}
	defer rows.Close()
	fields := p.table.New().Fields()
	key := keyFields(p.table, fields)
	for number := one.row; rows.Next(); number++ {
		if err := rows.Scan(key...); err != nil {
			return err
		}
		into[hashOf(string(appendKey(nil, p.table, fields)))] = int32(number)
	}
	return rows.Err()
}
