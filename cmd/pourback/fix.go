package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
)

func newFix(a *app) *cobra.Command {
	var why, table string
	cmd := &cobra.Command{
		Use:   "fix JOB[/PLACEMENT] COLUMN=VALUE…",
		Short: "Correct single values of a record, or say that they are right",
		Long: "Correct single values of a job or a placement, or of a row of another --table, by the rules by which record\n" +
			"files are read. A value that is given just as it is on record is confirmed: the owner says that it is right,\n" +
			"however odd. No value behind the = makes it missing. A fix is a batch like any file: `pourback batches` lists\n" +
			"it, `pourback undo` takes it back.",
		Example: "  pourback fix J-104/A thickness_in=4.5 --why \"a slip of the pen\"\n" +
			"  pourback fix J-104 contract_price=12500 closed_on=2025-06-03\n" +
			"  pourback fix J-104/A delivered_yd=31   # as recorded: it is right\n" +
			"  pourback fix J-104/A/881 yards=9.5 --table loads",
		Args: wantArgs(2, -1, "a job, or a job and its placement, and what to fix, such as J-104/A thickness_in=4.5"),
		RunE: func(cmd *cobra.Command, args []string) error {
			values := make([][2]string, 0, len(args)-1)
			for _, arg := range args[1:] {
				column, value, found := strings.Cut(arg, "=")
				if !found || strings.TrimSpace(column) == "" {
					return usagef("%q: want a column and its value, such as thickness_in=4.5", arg)
				}
				values = append(values, [2]string{column, strings.TrimSpace(value)})
			}
			return a.fix(cmd, ingest.Fixing{Target: args[0], Table: table, Values: values, Why: why})
		},
	}
	cmd.Flags().StringVar(&why, "why", "", "the reason, kept with the batch")
	cmd.Flags().StringVar(&table, "table", "", "the table of the row, where it is none of jobs or placements: JOB, then what tells its rows apart")
	return cmd
}

func (a *app) fix(cmd *cobra.Command, f ingest.Fixing) error {
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	f.Sheet, f.TakenAt = a.sheetOptions(), a.stamp()
	f.Problem = func(p record.Problem) {
		if a.unnamed(p.Column) {
			p.Value = ""
		}
		a.tell("%s: %s", p.Severity, p)
	}
	done, err := ingest.Fix(cmd.Context(), st, f)
	if err != nil {
		return err
	}
	a.keeps()
	for i, c := range done.Columns {
		if a.unnamed(c.Column) {
			done.Columns[i].Before, done.Columns[i].After = "", ""
		}
	}
	if a.settings.JSON {
		return printJSON(a.stdout, done)
	}
	for _, c := range done.Columns {
		fmt.Fprintln(a.stdout, record.Shown(fmt.Sprintf("%s, %s: %s", done.Record, c.Column, a.became(c))))
	}
	fmt.Fprintf(a.stdout, "  kept as batch %d; `pourback undo %d` takes it back\n", done.Batch, done.Batch)
	return nil
}

// unnamed says whether a column's values are not to be written.
func (a *app) unnamed(column string) bool { return a.settings.NoNames && record.MayName(column) }

// became is what a fix did to a value.
func (a *app) became(c ingest.FixedColumn) string {
	switch {
	case a.unnamed(c.Column) && c.Confirmed:
		return "right as it is"
	case a.unnamed(c.Column):
		return "changed"
	case c.Confirmed:
		return c.After + " is right as it is"
	}
	return orMissing(c.After) + ", was " + orMissing(c.Before)
}

func orMissing(value string) string {
	if value == "" {
		return "missing"
	}
	return value
}
