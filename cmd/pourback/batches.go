package main

import (
	"fmt"
	"maps"
	"strconv"
	"strings"

	"github.com/jedib0t/go-pretty/v6/table"
	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

func newBatches(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "batches [BATCH]",
		Short: "List what was taken in, when and from which file; or what one batch changed",
		Args:  wantArgs(0, 1, "no more than one batch number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return a.listBatches(cmd)
			}
			id, err := batchNumber(args[0])
			if err != nil {
				return err
			}
			return a.showChanges(cmd, id)
		},
	}
}

func batchNumber(arg string) (int64, error) {
	id, err := strconv.ParseInt(arg, 10, 64)
	if err != nil || id < 1 {
		return 0, usagef("%q is no batch number; `pourback batches` lists them", arg)
	}
	return id, nil
}

func (a *app) listBatches(cmd *cobra.Command) error {
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	batches, err := st.Batches(cmd.Context())
	if err != nil {
		return err
	}
	for i := range batches {
		a.cleanBatch(&batches[i])
	}
	if a.settings.JSON {
		return printJSON(a.stdout, batches)
	}
	if len(batches) == 0 {
		fmt.Fprintln(a.stdout, "Nothing has been taken in yet: `pourback ingest FILE…` takes record files in.")
		return nil
	}
	t := newTable(a.stdout, "batch", "taken in", "file", "tables", "read", "new", "changed", "unchanged", "set aside", "warnings", "")
	for _, b := range batches {
		undone := ""
		if b.UndoneAt != "" {
			undone = "taken back " + b.UndoneAt
		}
		t.AppendRow(table.Row{b.ID, b.TakenAt, record.Shown(ingest.BatchName(b)), strings.Join(b.Tables, ", "), b.Read, b.New, b.Changed, b.Unchanged, b.SetAside, b.Warnings, undone})
	}
	t.Render()
	return nil
}

// cleanBatch leaves of a batch what may be shown.
func (a *app) cleanBatch(b *store.Batch) {
	b.File = a.batchFile(b.File)
	if a.settings.NoNames {
		b.Who, b.UndoneBy = "", ""
	}
}

// batchFile is the name of a batch's file as it may be shown.
func (a *app) batchFile(file string) string {
	if a.settings.NoNames {
		file = ingest.WithoutWhy(file)
	}
	return record.Shown(file)
}

func (a *app) showChanges(cmd *cobra.Command, id int64) error {
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	changes, err := st.Changes(cmd.Context(), id)
	if err != nil {
		return err
	}
	for _, c := range changes {
		if a.settings.NoNames {
			named := func(column, _ string) bool { // a cell that was mended below a heading of the file may say anything
				return record.MayName(column) || record.TableNamed(c.Table).Column(column) == nil
			}
			maps.DeleteFunc(c.Before, named)
			maps.DeleteFunc(c.After, named)
		}
	}
	if a.settings.JSON {
		return printJSON(a.stdout, changes)
	}
	if len(changes) == 0 {
		fmt.Fprintf(a.stdout, "Batch %d changed no record that was there before.\n", id)
		return nil
	}
	t := newTable(a.stdout, "table", "record", "column", "before", "after")
	for _, c := range changes {
		for _, column := range sortedKeys(c.Before) {
			if c.Did == "confirmed" {
				t.AppendRow(table.Row{c.Table, strings.Join(c.Key, " "), column, c.Before[column], "is right as it is"})
			} else if c.Before[column] != c.After[column] {
				t.AppendRow(table.Row{c.Table, strings.Join(c.Key, " "), column, c.Before[column], c.After[column]})
			}
		}
	}
	t.Render()
	return nil
}

func newUndo(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "undo BATCH",
		Short: "Take a batch back whole",
		Long:  "Take a batch back whole: records it added are removed, records it changed get their earlier values back.",
		Args:  wantArgs(1, 1, "one batch number"),
		RunE: func(cmd *cobra.Command, args []string) error {
			id, err := batchNumber(args[0])
			if err != nil {
				return err
			}
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			undone, err := st.Undo(cmd.Context(), id, a.stamp())
			if err != nil {
				return err
			}
			a.keeps()
			a.cleanBatch(&undone.Batch)
			if a.settings.JSON {
				return printJSON(a.stdout, undone)
			}
			fmt.Fprintf(a.stdout, "Batch %d (%s) is taken back: %d records removed, %d given back their earlier values.\n",
				id, record.Shown(ingest.BatchName(undone.Batch)), undone.Removed, undone.Restored)
			return nil
		},
	}
}
