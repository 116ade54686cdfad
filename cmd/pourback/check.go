package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"pourback/ingest/record"
	"pourback/ingest/store"
)

func newCheck(a *app) *cobra.Command {
	return &cobra.Command{
		Use:   "check",
		Short: "Say whether every record is as it was written",
		Long: "Say whether every record is as it was written: each row's values are held against the digest that was kept\n" +
			"with them, the rows of each batch against their number, each picture against its SHA-256, and the file\n" +
			"against the engine's own rules. " +
			"The exit status is 1 where something differs.",
		Args: wantArgs(0, 0, "no arguments"),
		RunE: func(cmd *cobra.Command, _ []string) error { return a.check(cmd) },
	}
}

// faultRow is a fault as JSON has it.
type faultRow struct {
	Table  string `json:"table,omitempty"`
	Record string `json:"record,omitempty"`
	Batch  int64  `json:"batch,omitempty"`
	File   string `json:"file,omitempty"`
	Row    int    `json:"row,omitempty"`
	Wrong  string `json:"wrong"`
}

func (a *app) check(cmd *cobra.Command) error {
	st, err := a.open(cmd.Context())
	if err != nil {
		return err
	}
	defer st.Close()
	faults := []faultRow{}
	looked, err := st.Check(cmd.Context(), func(f store.Fault) {
		if f.File = a.batchFile(f.File); len(faults) < mostAlike {
			faults = append(faults, faultRow(f))
		}
	})
	if err != nil {
		return fmt.Errorf("the check could not be finished: %w", err)
	}
	if err := a.sayChecked(looked, faults); err != nil {
		return err
	}
	if looked.Faults > 0 {
		return errSaid
	}
	return nil
}

func (a *app) sayChecked(looked store.Checked, faults []faultRow) error {
	if a.settings.JSON {
		return printJSON(a.stdout, struct {
			OK      bool       `json:"ok"`
			Rows    int        `json:"rows"`
			Batches int        `json:"batches"`
			Bids    int        `json:"bids"`
			Images  int        `json:"pictures"`
			Count   int        `json:"fault_count"`
			Faults  []faultRow `json:"faults"`
		}{looked.Faults == 0, looked.Rows, looked.Batches, looked.Bids, looked.Pictures, looked.Faults, faults})
	}
	for _, f := range faults {
		fmt.Fprintln(a.stdout, record.Shown(f.line()))
	}
	if more := looked.Faults - len(faults); more > 0 {
		fmt.Fprintf(a.stdout, "and %d more\n", more)
	}
	if looked.Faults == 0 {
		_, err := fmt.Fprintf(a.stdout, "Every record is as it was written: %d rows, %d batches, %d bids, %d pictures.\n", looked.Rows, looked.Batches, looked.Bids, looked.Pictures)
		return err
	}
	_, err := fmt.Fprintf(a.stdout, "%d faults in %d rows, %d batches, %d bids, %d pictures. Something other than pourback has changed the database, or its disk fails:\n"+
		"put the latest backup in its place that is sound: %s\n"+
		"Where there is none, `pourback fix` corrects single values, and the files named above hold what was handed in.\n",
		looked.Faults, looked.Rows, looked.Batches, looked.Bids, looked.Pictures, a.howRestored())
	return err
}

// howRestored is how a backup takes the place of the database.
func (a *app) howRestored() string {
	if _, ok := store.File(a.settings.DB); !ok {
		return "by the server's own programs; copy what stands there first."
	}
	return "`pourback check --db BACKUP` says whether it is, and\n`pourback restore BACKUP` puts it there and keeps what stood there."
}

// line is a fault as it is read.
func (f faultRow) line() string {
	var where []string
	if f.Table != "" {
		where = append(where, f.Table)
	}
	if f.Record != "" {
		where = append(where, f.Record)
	}
	if f.File != "" {
		from := fmt.Sprintf("batch %d from %s", f.Batch, f.File)
		if f.Row > 0 {
			from += fmt.Sprintf(", row %d", f.Row)
		}
		where = append(where, "("+from+")")
	}
	if len(where) == 0 {
		return f.Wrong
	}
	return strings.Join(where, " ") + ": " + f.Wrong
}
