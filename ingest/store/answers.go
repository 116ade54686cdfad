package store

import (
	"context"
	"strings"

	"github.com/jmoiron/sqlx"
)

// HeadingAnswer is what somebody said a heading means, kept so that the next
// file that has it is not asked about.
type HeadingAnswer struct {
	Key        string `db:"answer_key" json:"-"` // as headings are compared; one answer each
	Table      string `db:"table_name" json:"table"`
	Header     string `db:"header" json:"-"`    // "" for any: else of a file whose rows were set aside
	Sheet      string `db:"sheet" json:"sheet"` // "" for any
	Heading    string `db:"heading" json:"heading"`
	Column     string `db:"column_name" json:"column"` // "" for of no use
	AnsweredAt string `db:"answered_at" json:"answered_at"`
}

var answerColumns = []string{"answer_key", "table_name", "header", "sheet", "heading", "column_name", "answered_at"}

// Answers are the answers about headings, the latest first; those of one header
// come last.
func (s *Store) Answers(ctx context.Context) ([]HeadingAnswer, error) {
	var answers []HeadingAnswer
	err := s.retry(ctx, func() error {
		answers = []HeadingAnswer{}
		return sqlx.SelectContext(ctx, s.read, &answers, "SELECT "+joined(answerColumns)+" FROM heading_answers ORDER BY CASE WHEN header = '' THEN 0 ELSE 1 END, answered_at DESC, answer_key")
	})
	return answers, s.explain(ctx, err)
}

// KeepAnswers keeps answers about headings, each in place of the earlier one
// that has its key.
func (s *Store) KeepAnswers(ctx context.Context, answers []HeadingAnswer) error {
	if len(answers) == 0 {
		return nil
	}
	return s.write(ctx, func(tx *Tx) error { return tx.KeepAnswers(ctx, answers) })
}

// KeepAnswers is [Store.KeepAnswers] together with what else the transaction does.
func (tx *Tx) KeepAnswers(ctx context.Context, answers []HeadingAnswer) error {
	var sets []string
	for _, c := range answerColumns[1:] {
		sets = append(sets, c+" = excluded."+c)
	}
	values := func(args []any, a HeadingAnswer) []any {
		return append(args, a.Key, a.Table, a.Header, a.Sheet, a.Heading, a.Column, a.AnsweredAt)
	}
	return inGroups(ctx, tx, answers, len(answerColumns), values, func(n int) string {
		return insertText("heading_answers", answerColumns, n) + " ON CONFLICT (answer_key) DO UPDATE SET " + strings.Join(sets, ", ")
	})
}

// ForgetAnswers forgets the answers that have these keys, and says how many
// there were.
func (s *Store) ForgetAnswers(ctx context.Context, keys []string) (forgotten int, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		forgotten = 0
		for _, key := range keys {
			done, err := tx.sql.ExecContext(ctx, s.sqlText("DELETE FROM heading_answers WHERE answer_key = ?"), key)
			if err != nil {
				return err
			}
			n, err := done.RowsAffected()
			if err != nil {
				return err
			}
			forgotten += int(n)
		}
		return nil
	})
	return forgotten, err
}
