package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

func newRestore(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "restore FILE",
		Short: "Put a backup in the place of an embedded database",
		Long: "Put a copy of a backup in the place of the embedded database that --db names. The copy is checked first, and\n" +
			"the present database is kept beside it under a name with the time in it.",
		Example: "  pourback restore backup-2026-03-31.db\n  pourback restore backup.db --db /srv/records/pourback.db",
		Args:    wantArgs(1, 1, "one backup"),
		RunE: func(cmd *cobra.Command, args []string) error {
			if _, ok := store.File(a.settings.DB); ok {
				if err := a.files.May(args[0], anyFile); err != nil { // a backup that is the database itself
					return err
				}
			}
			kept, err := store.Restore(cmd.Context(), args[0], a.settings.DB, "before-restore-"+a.now().UTC().Format("20060102T150405Z"), a.files.Force)
			if err != nil {
				return err
			}
			a.keeps()
			if a.settings.JSON {
				return printJSON(a.stdout, struct {
					Database string `json:"database"`
					From     string `json:"from"`
					Kept     string `json:"kept,omitempty"`
				}{a.settings.DB, args[0], kept})
			}
			fmt.Fprintf(a.stdout, "%s is now as %s\n", record.Shown(a.settings.DB), record.Shown(args[0]))
			if kept != "" {
				fmt.Fprintf(a.stdout, "What stood there is kept in %s\n", record.Shown(kept))
			}
			return nil
		},
	}
}

// anyFile takes every file for ours: what is only read may be anybody's.
func anyFile([]byte) bool { return true }
