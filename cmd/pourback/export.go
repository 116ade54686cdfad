package main

import (
	"fmt"
	"io"

	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

func newExport(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "export DIR",
		Short: "Write every record back as CSV in the form it is handed in",
		Long: "Write every record back as CSV in the form it is handed in, one file a table, and the kept bids as bids.json.\n" +
			"The CSV files can be taken into an empty database and give the same figures; bids.json is for reading. Pictures\n" +
			"stand in the folder pictures, and pictures.csv names each with what it belongs to: both are taken in again.",
		Args: wantArgs(1, 1, "one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			opt := ingest.ExportOptions{Out: a.files, NoNames: a.settings.NoNames}
			files, rows, err := ingest.Export(cmd.Context(), st, args[0], opt)
			if err != nil {
				return err
			}
			a.keeps()
			if a.settings.JSON {
				return printExportJSON(a.stdout, files, rows)
			}
			for i, f := range files {
				fmt.Fprintf(a.stdout, "%s: %d rows\n", record.Shown(f), rows[i])
			}
			return nil
		},
	}
}

func printExportJSON(w io.Writer, files []string, rows []int) error {
	type file struct {
		File string `json:"file"`
		Rows int    `json:"rows"`
	}
	written := make([]file, len(files))
	for i := range files {
		written[i] = file{files[i], rows[i]}
	}
	return printJSON(w, map[string]any{"files": written})
}

func newBackup(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Copy an embedded database while it is in use",
		Long: "Copy an embedded database while it is in use. The copy is checked before it gets its name. A file that exists\n" +
			"is replaced only with --force. `pourback restore FILE` puts the copy in the database's place.",
		Args: wantArgs(1, 1, "one file to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if a.settings.source["no_names"] == "flag --no-names" {
				return usagef("--no-names: a backup is every record as it stands; `pourback export DIR --no-names` writes the records without names")
			}
			if err := a.files.May(args[0], nil); err != nil {
				return err
			}
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			if err := st.Backup(cmd.Context(), args[0], a.files.Force); err != nil {
				return err
			}
			a.keeps()
			if a.settings.JSON {
				return printJSON(a.beside(args[0]), map[string]string{"file": args[0], "copy_of": store.Shown(a.settings.DB)})
			}
			fmt.Fprintf(a.beside(args[0]), "%s is a copy of %s, and was checked\n", record.Shown(args[0]), record.Shown(store.Shown(a.settings.DB)))
			return nil
		},
	}
}
