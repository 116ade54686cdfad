package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"path/filepath"
	"slices"
	"strings"

	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
)

// Entry is what somebody at the forms says of one thing, a truck, a clog, a visit:
// rows of the record tables, kept in one transaction as one batch.
type Entry struct {
	What     string // names the batch: "truck 4711 of J-104 A"
	Rows     []EntryRow
	Pictures *Adding       // kept in the same transaction, or nil; TakenAt and By are the entry's where it has none
	Sheet    sheet.Options // how values are read
	TakenAt  string        // UTC, to the second
	By       string        // who
	After    []int64       // batches of entries that the same phone has made before, which its form may not have shown yet
}

// EntryRow is values of one row, which may be on record or not. A value that
// differs from what is on record takes its place if that is still what the form
// had shown; else both are kept: see [EntryClash].
type EntryRow struct {
	Table  string
	Values [][2]string       // column and value as people write them, the key's among them; seq of delays is counted where it is missing
	Was    map[string]string // what the form showed of a column when it was opened, as on record; a column that is not there was shown empty
	Append []string          // text columns to which the value is added behind what stands there
	AddUp  bool              // of visits: a second finding of one kind on one day joins the first
	IfNew  bool              // only where no such row is on record
}

// Entered is what became of an entry.
type Entered struct {
	Batch    int64 // in every case, though it may have brought nothing new: it is what the form's key is kept with
	Rows     []EnteredRow
	Pictures []AddedPicture
	Problems []record.Problem // warnings of what was kept
}

// EnteredRow is what became of one of its rows.
type EnteredRow struct {
	Table, Record string // "loads", "J-104 A 4711"
	Became        string // EntryNew and the like
	Clashes       []EntryClash
}

// What can become of a row.
const (
	EntryNew       = "new"
	EntryChanged   = "changed"
	EntryUnchanged = "unchanged" // it was on record just so
	EntryClashed   = "clash"     // of some columns: what stood there stands, and the row is set aside with the batch
)

// EntryClash is a value that somebody else has given another while the form was
// open. The record stays as it is, and the entered value is set aside.
type EntryClash struct {
	Column  string
	Record  string // what is on record, in canonical text
	Entered string // as it was written
	Shown   string // what the form had shown
}

// EntryError says what is wrong with an entry: nothing of it was kept.
type EntryError struct{ Problems []record.Problem }

func (e *EntryError) Error() string { return nothingKept(e.Problems) }

// Enter keeps an entry, or, where anything in it cannot be, nothing of it: then
// the error is an [*EntryError]. An entry whose form has arrived before is a
// [*store.DoneError].
func Enter(ctx context.Context, st *store.Store, e Entry) (done Entered, err error) {
	if e.By != "" {
		ctx = store.By(ctx, &store.Deed{Who: e.By, What: "form", At: e.TakenAt})
	}
	made, err := e.pictures(ctx)
	if err != nil {
		return done, err
	}
	for tries := 0; ; tries++ {
		if done, err = enter(ctx, st, &e, made); !again(err, tries) {
			return done, err
		}
	}
}

func enter(ctx context.Context, st *store.Store, e *Entry, made madePictures) (Entered, error) {
	tx, err := st.Begin(ctx, record.Shown(formed+e.What), e.digest(made), e.TakenAt)
	if err != nil {
		return Entered{}, err
	}
	defer tx.Rollback()
	if err := tx.Done(ctx); err != nil {
		return Entered{}, err
	}
	en := &enterer{Entry: e, st: st, tx: tx, forms: map[*record.Table]*sheet.Form{}, records: map[string]*enteredRecord{}}
	for _, step := range []func(context.Context) error{en.read, en.write, en.setAside} {
		if err := step(ctx); err != nil {
			return Entered{}, err
		}
	}
	refused, err := en.keepPictures(ctx, made)
	if err != nil {
		return Entered{}, err
	}
	tx.Stay()
	batch, err := tx.Commit(ctx, store.Batch{Read: len(e.Rows) + len(made.pictures), SetAside: en.aside + refused, Warnings: len(en.done.Problems)})
	en.done.Batch = batch.ID
	return en.done, err
}

// formed is what the name of an entry's batch begins with.
const formed = "form "

// IsEntry says whether the file of a batch is an entry, and none.
func IsEntry(file string) bool {
	return strings.HasPrefix(file, formed) && !slices.Contains([]string{".csv", ".tsv", ".txt", ".xlsx"}, strings.ToLower(filepath.Ext(file)))
}

// BatchName is a batch in a line: its file, or what was said at a form and by whom.
func BatchName(b store.Batch) string {
	if !IsEntry(b.File) {
		return b.File
	}
	name := "form: " + EntryWhat(b.File)
	if b.Who != "" {
		name += ", by " + b.Who
	}
	return name
}

// EntryWhat is what an entry says, by the file of its batch: "truck 4711 of J-104 A".
func EntryWhat(file string) string { return strings.TrimPrefix(file, formed) }

// digest tells what an entry says from what another does.
func (e *Entry) digest(made madePictures) string {
	sum := sha256.New()
	text, err := json.Marshal([]any{e.What, e.Rows})
	if err != nil {
		panic(err) // it is made of texts
	}
	sum.Write(text)
	made.digest(sum)
	return hex.EncodeToString(sum.Sum(nil))
}

// enterer keeps one entry.
type enterer struct {
	*Entry
	st      *store.Store
	tx      *store.Tx
	forms   map[*record.Table]*sheet.Form
	records map[string]*enteredRecord // by table and key
	order   []*enteredRecord          // those the entry is about, in the order of record.Tables
	wrong   []record.Problem
	aside   int // rows set aside
	done    Entered
}

// enteredRecord is a record that rows of the entry are about.
type enteredRecord struct {
	table *record.Table
	name  string            // its key: "J-104 A"
	old   record.Record     // as it was on record, nil where it was not
	now   record.Record     // as it is to be
	set   []bool            // the columns that the entry gives another value, or, of a new record, any
	texts map[string]string // what was written, by column
	held  bool              // a row of it does not clash
	bad   bool              // values of it could not be read, which is noted
	clash []asideRow
}

func (r *enteredRecord) changed() bool { return slices.Contains(r.set, true) }

// form is the form of a table.
func (en *enterer) form(t *record.Table) *sheet.Form {
	if en.forms[t] == nil {
		en.forms[t] = sheet.NewForm(t, en.Sheet)
	}
	return en.forms[t]
}
