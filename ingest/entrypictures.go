package ingest

import (
	"cmp"
	"context"
	"errors"
	"strings"

	"pourback/ingest/picture"
	"pourback/ingest/record"
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
// refused. Where the entry says nothing else and all of them were, it is refused:
// there is nothing to keep.
func (en *enterer) keepPictures(ctx context.Context, made madePictures) (refused int, err error) {
	if en.Pictures == nil {
		return 0, nil
	}
	added, err := en.Pictures.keep(ctx, en.st, en.tx, made, len(en.order))
	var none *NoTargetError
	switch {
	case errors.As(err, &none):
		p := record.Problem{Severity: record.Error, Code: codeOwner, Column: "pictures", Value: en.Pictures.Target}
		p.Wrong, p.Right, _ = strings.Cut(none.Error(), "; ")
		p.Right = cmp.Or(p.Right, "name what is on record")
		return 0, &EntryError{[]record.Problem{p}}
	case err != nil:
		return 0, err
	}
	en.done.Pictures = added.Pictures
	not := added.Refused()
	if len(en.Rows) == 0 && len(not) > 0 && len(not) == len(added.Pictures) {
		return 0, &EntryError{picturesRefused(not)}
	}
	return len(not), nil
}

// picturesRefused says why pictures were not taken.
func picturesRefused(not []AddedPicture) (problems []record.Problem) {
	for _, is := range not {
		p := record.Problem{Code: codeNoFile, Wrong: is.Refused, Right: "take the picture anew"}
		var refusal *picture.Refusal
		if errors.As(is.Why, &refusal) {
			p = refusal.Problem
		}
		p.Severity, p.Column, p.Value = record.Error, "pictures", is.File
		problems = append(problems, p)
	}
	return problems
}
