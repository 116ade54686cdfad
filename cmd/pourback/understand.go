package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// understanding is what headings are said to mean: by this call, on its command
// line or by the person who sits there, and by earlier calls.
type understanding struct {
	maps, forget          []string
	yes, explain, answers bool

	said  []sheet.Answer // by this call: remembered once a file is kept
	known []sheet.Answer // by earlier ones
}

func (u *understanding) flags(cmd *cobra.Command) {
	cmd.Flags().StringArrayVar(&u.maps, "map", nil, `what a heading means: "[SHEET!]HEADING=column"; nothing behind = for of no use`)
	cmd.Flags().BoolVar(&u.yes, "yes", false, "ask nothing: take what is sure and name the rest")
	cmd.Flags().BoolVar(&u.explain, "explain", false, "show how the files are understood, and keep nothing")
	cmd.Flags().BoolVar(&u.answers, "answers", false, "list what headings were said to mean, which is remembered, and take nothing in")
	cmd.Flags().StringArrayVar(&u.forget, "forget", nil, "forget what a heading was said to mean, and take nothing in")
}

// aside says whether the call is about the memory of answers and no files.
func (u *understanding) aside() bool { return u.answers || len(u.forget) > 0 }

// parse reads the answers of the command line. The latest of several about one
// heading counts.
func (u *understanding) parse() error {
	for _, m := range slices.Backward(u.maps) {
		answer, err := sheet.ParseAnswer(m)
		if err != nil {
			return usagef("--map: %w", err)
		}
		u.said = append(u.said, answer)
	}
	return nil
}

// options are those of reading, with every answer, the latest first.
func (u *understanding) options(a *app) sheet.Options {
	so := a.sheetOptions()
	so.Answers = slices.Concat(u.said, u.known)
	return so
}

// recall adds the answers of earlier calls.
func (u *understanding) recall(ctx context.Context, st *store.Store) (err error) {
	u.known, err = ingest.Remembered(ctx, st)
	return err
}

// settle checks the answers of the command line against the files, and asks the
// person about what is not sure, where there is one to ask.
func (u *understanding) settle(a *app, paths []string, asks bool) error {
	if len(u.said) > 0 {
		readings := a.readings(paths, u.options(a))
		if err := u.check(readings); err != nil {
			return err
		}
		u.unheard(a, readings)
	}
	if !asks || u.yes {
		return nil
	}
	for _, path := range paths {
		if err := u.ask(a, path); err != nil {
			return err
		}
	}
	return nil
}

// fileReading is how one file is understood, or why it cannot be.
type fileReading struct {
	path string
	sheet.Reading
	ignored []string
	err     error
}

func (a *app) readings(paths []string, opt sheet.Options) []fileReading {
	readings := make([]fileReading, len(paths))
	for i, path := range paths {
		readings[i] = fileReading{path: path}
		f, err := sheet.Open(path, opt)
		if err != nil {
			readings[i].err = err
			continue
		}
		readings[i].Reading, readings[i].ignored = f.Reading(), f.Ignored
		f.Close()
	}
	return readings
}

// check finds answers of the command line about headings that no file has. A
// file that cannot be read may have any.
func (u *understanding) check(readings []fileReading) error {
	var headings, sheets []string
	for _, r := range readings {
		if r.err != nil {
			return nil
		}
		for _, t := range r.Tables {
			sheets = append(sheets, t.Sheet)
			for _, h := range t.Headings {
				headings = append(headings, h.Heading)
			}
		}
	}
	for _, a := range u.said {
		if a.Sheet != "" && !slices.ContainsFunc(sheets, func(s string) bool { return sheet.SameHeading(s, a.Sheet) }) {
			return usagef("--map: no sheet that is read is called %q%s", a.Sheet, didYouMean(a.Sheet, sheets))
		}
		if !slices.ContainsFunc(headings, func(h string) bool { return sheet.SameHeading(h, a.Heading) }) {
			return usagef("--map: there is no heading %q%s (`pourback ingest --explain FILE` lists them)", a.Heading, didYouMean(a.Heading, headings))
		}
	}
	return nil
}

// unheard says which answers of the command line changed nothing: those that
// name a column of another table than the one in which the heading stands.
func (u *understanding) unheard(a *app, readings []fileReading) {
	for _, said := range u.said {
		of, in := ingest.TableOf(said), []string{}
		for _, r := range readings {
			for _, t := range r.Tables {
				if slices.ContainsFunc(t.Headings, func(h sheet.HeadingReading) bool { return sheet.SameHeading(h.Heading, said.Heading) }) {
					in = append(in, t.Table)
				}
			}
		}
		if of != "" && len(in) > 0 && !slices.Contains(in, of) {
			a.tell("pourback: --map: %q is not read as %s: it stands in a table of %s", record.Shown(said.Heading), said.Column, in[0])
		}
	}
}

func didYouMean(written string, candidates []string) string {
	if near, _ := record.Nearest(written, candidates); near != "" {
		return fmt.Sprintf("; did you mean %q?", near)
	}
	return ""
}

// memory lists or forgets answers.
func (u *understanding) memory(a *app, ctx context.Context) error {
	st, err := a.open(ctx)
	if err != nil {
		return err
	}
	defer st.Close()
	if len(u.forget) > 0 {
		n, err := ingest.Forget(ctx, st, u.forget)
		if err == nil && n == 0 {
			err = fmt.Errorf("nothing is remembered about %q; `pourback ingest --answers` lists what is", u.forget)
		}
		if err == nil {
			a.tell("Forgotten: %d. The next file that has the heading is asked about.", n)
		}
		return err
	}
	answers, err := st.Answers(ctx)
	answers = slices.DeleteFunc(answers, func(one store.HeadingAnswer) bool { return one.Header != "" }) // nobody gave those
	switch {
	case err != nil:
		return err
	case a.settings.JSON:
		return printJSON(a.stdout, answers)
	case len(answers) == 0:
		fmt.Fprintln(a.stdout, "Nobody has been asked about a heading yet.")
		return nil
	}
	t := newTable(a.stdout, "heading", "means", "sheet", "said at")
	for _, one := range answers {
		t.AppendRow(table.Row{record.Shown(one.Heading), meansText(one.Column), record.Shown(one.Sheet), one.AnsweredAt})
	}
	t.Render()
	return nil
}

func meansText(column string) string {
	if column == "" {
		return "not used"
	}
	return column
}

// docOf explains a column as readings name it.
func docOf(name string) string {
	switch name {
	case "":
		return "of no use here: kept with each row as it is"
	case sheet.ColumnLength, sheet.ColumnWidth:
		return "one side of the slab"
	case sheet.ColumnSize:
		return "sides, and depth, in one cell: 24x40x4"
	}
	t, column := record.Placements, name
	if of, own, dotted := strings.Cut(name, "."); dotted {
		t, column = record.TableNamed(of), own
	}
	if t == nil || t.Column(column) == nil {
		return ""
	}
	c := t.Column(column)
	if c.Unit != nil && c.Kind == record.KindNumber {
		return c.Doc + ", in " + c.Unit.Label
	}
	return c.Doc
}
