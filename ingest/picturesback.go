package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

// TakeBackPicture takes one picture back: it is shown no more, and stays, with
// its bytes, until it is purged. It is a batch that can be taken back itself.
func TakeBackPicture(ctx context.Context, st *store.Store, key, at string) (batch int64, err error) {
	for tries := 0; ; tries++ {
		if batch, err = takeBackPicture(ctx, st, key, at); !again(err, tries) {
			return batch, err
		}
	}
}

func takeBackPicture(ctx context.Context, st *store.Store, key, at string) (int64, error) {
	sum := sha256.Sum256([]byte(key))
	tx, err := st.Begin(ctx, record.Shown("picture "+key+" taken back"), hex.EncodeToString(sum[:]), at)
	if err != nil {
		return 0, err
	}
	defer tx.Rollback()
	there, err := tx.Find(ctx, &record.Picture{Picture: key})
	if err != nil {
		return 0, err
	}
	r, ok := there.(*record.Picture)
	switch {
	case !ok:
		return 0, fmt.Errorf("%w: %q; `pourback picture JOB/PLACEMENT` lists those of a slab", store.ErrNoPicture, key)
	case r.TakenBackAt != 0:
		return 0, fmt.Errorf("picture %s was taken back already, at %s", key, r.TakenBackAt)
	}
	given := make([]bool, len(record.Pictures.Columns))
	given[record.Pictures.Index("taken_back_at")] = true
	r.TakenBackAt = keptAt(at)
	if _, err := tx.Set(ctx, r, given); err != nil {
		return 0, err
	}
	batch, err := tx.Commit(ctx, store.Batch{Read: 1})
	return batch.ID, err
}
