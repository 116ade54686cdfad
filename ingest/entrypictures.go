package ingest

import (
	"cmp"
	"context"
)

// pictures makes the pictures of an entry.
func (e *Entry) pictures(ctx context.Context) (madePictures, error) {
	if e.Pictures == nil {
		return madePictures{}, nil
	}
	own := *e.Pictures
	own.TakenAt, own.By = cmp.Or(own.TakenAt, e.TakenAt), cmp.Or(own.By, e.By)
	e.Pictures = &own
	return own.make(ctx)
}

// keepPictures keeps the pictures with what the entry says, and tells how many were
// refused.
func (en *enterer) keepPictures(ctx context.Context, made madePictures) (refused int, err error) {
	if en.Pictures == nil {
		return 0, nil
	}
	added, err := en.Pictures.keep(ctx, en.st, en.tx, made, len(en.order))
	en.done.Pictures = added.Pictures
	return len(added.Refused()), err
}
