package ingest

import (
	"context"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Remembered are the answers about headings that earlier files were given, the
// latest first.
func Remembered(ctx context.Context, st *store.Store) ([]sheet.Answer, error) {
	kept, err := st.Answers(ctx)
	if err != nil {
		return nil, err
	}
	answers := make([]sheet.Answer, len(kept))
	for i, a := range kept {
		answers[i] = sheet.Answer{Sheet: a.Sheet, Heading: a.Heading, Column: a.Column, Header: a.Header}
	}
	return answers, nil
}

// Remember keeps answers for the files to come. A heading can have one for each
// record table, and one for each sheet that it was said of; of several the first
// counts, as in reading.
func Remember(ctx context.Context, st *store.Store, answers []sheet.Answer, at string) error {
	return st.KeepAnswers(ctx, heard(answers, at))
}

// heard are answers as they are kept.
func heard(answers []sheet.Answer, at string) []store.HeadingAnswer {
	kept := make([]store.HeadingAnswer, 0, len(answers))
	for _, a := range answers {
		one := store.HeadingAnswer{Key: strings.TrimSpace(a.Header + " " + TableOf(a) + " " + a.Key()), Table: TableOf(a), Header: a.Header, Sheet: a.Sheet, Heading: a.Heading, Column: a.Column, AnsweredAt: at}
		if !slices.ContainsFunc(kept, func(k store.HeadingAnswer) bool { return k.Key == one.Key }) {
			kept = append(kept, one)
		}
	}
	return kept
}

// Forget forgets what was answered about headings, in all tables and sheets,
// and says how many answers that were.
func Forget(ctx context.Context, st *store.Store, headings []string) (int, error) {
	kept, err := st.Answers(ctx)
	if err != nil {
		return 0, err
	}
	var keys []string
	given := 0
	for _, a := range kept {
		if slices.ContainsFunc(headings, func(h string) bool { return sheet.SameHeading(h, a.Heading) }) {
			keys = append(keys, a.Key) // with the readings that rest on the answer
			if a.Header == "" {
				given++
			}
		}
	}
	_, err = st.ForgetAnswers(ctx, keys)
	return given, err
}

// TableOf is the record table that an answer is about; "" for any, where the
// heading is of no use.
func TableOf(a sheet.Answer) string {
	table, _, dotted := strings.Cut(a.Column, ".")
	switch {
	case dotted:
		return table
	case a.Column == "":
		return ""
	}
	return record.Placements.Name
}
