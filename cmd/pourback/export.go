package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"pourback/ingest"
	"pourback/ingest/store"
)

func newExport(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "export DIR",
		Short: "Write every record back as CSV in the form it is handed in",
		Long: "Write every record back as CSV in the form it is handed in, one file a table, and the kept bids as bids.json.\n" +
			"The CSV files can be taken into an empty database and give the same figures; bids.json is for reading.",
		Args: wantArgs(1, 1, "one folder"),
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			files, rows, err := ingest.Export(cmd.Context(), st, args[0])
			if err != nil {
				return err
			}
			for i, f := range files {
				fmt.Fprintf(a.stdout, "%s: %d rows\n", f, rows[i])
			}
			return nil
		},
	}
}

func newBackup(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "backup FILE",
		Short: "Copy an embedded database while it is in use",
		Args:  wantArgs(1, 1, "one file to write"),
		RunE: func(cmd *cobra.Command, args []string) error {
			st, err := a.open(cmd.Context())
			if err != nil {
				return err
			}
			defer st.Close()
			if err := st.Backup(cmd.Context(), args[0]); err != nil {
				return err
			}
			fmt.Fprintf(a.stdout, "%s is a copy of %s\n", args[0], store.Shown(a.settings.DB))
			return nil
		},
	}
}
