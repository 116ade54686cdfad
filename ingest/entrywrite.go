package ingest

import (
	"context"
	"slices"

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
				en.tell(rec.name, doubtfulRow())
			}
		}
	}
	return nil
}
