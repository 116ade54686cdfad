package ingest

import (
	"context"
	"slices"

	"pourback/ingest/record"
)

// own has what the same phone has said before count as shown: without signal its form
// could not show it yet, and who corrects themselves clashes with nobody.
func (en *enterer) own(ctx context.Context, s *saying, rec *enteredRecord) error {
	if rec.old == nil || len(en.After) == 0 {
		return nil
	}
	writers, err := en.tx.Writers(ctx, rec.old)
	if err != nil {
		return err
	}
	for i, c := range s.table.Columns {
		if s.given[i] && !c.Key && slices.Contains(en.After, writers[c.Name]) {
			record.CopyField(s.shown.Fields()[i], rec.old.Fields()[i])
		}
	}
	return nil
}
