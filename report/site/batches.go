package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"net/http"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/report/say"
)

func batchPath(id int64) string { return fmt.Sprintf("/batches/%d", id) }

// mostListed is how many lines of a long list a page shows.
const mostListed = 50

// batchesView are the batches, some on a page.
type batchesView struct {
	Says    string
	Batches []batchLine
	Earlier string // where there are more of them
	Later   string
}

type batchLine struct {
	Name, Href, When, Who, File, State string
	New, Changed, Same, Aside          string
}

func batchesPage(a *Ask) error { return a.madeOfVersion(a.showBatches) }

func (a *Ask) showBatches() error {
	batches, err := a.Store().Batches(a.Context())
	if err != nil {
		return err
	}
	slices.Reverse(batches)
	v := batchesView{Says: a.Say.BatchesAnswer(len(batches))}
	from, earlier, later := a.paged("/batches", len(batches))
	v.Earlier, v.Later = earlier, later
	for _, b := range batches[from:min(len(batches), from+mostListed)] {
		v.Batches = append(v.Batches, a.batchLine(b))
	}
	return a.Show("batches", a.Say.BatchesTitle(), v)
}

// paged is where a page of a long list begins, and the addresses of the pages
// beside it.
func (a *Ask) paged(path string, all int) (from int, next, before string) {
	page, err := strconv.Atoi(a.URL.Query().Get("page"))
	if err != nil || page < 1 || (page-1)*mostListed >= max(all, 1) {
		page = 1
	}
	at := func(n int) string { return path + "&page=" + strconv.Itoa(n) }
	if !strings.Contains(path, "?") {
		at = func(n int) string { return path + "?page=" + strconv.Itoa(n) }
	}
	if page*mostListed < all {
		next = at(page + 1)
	}
	if page > 1 {
		before = at(page - 1)
	}
	return (page - 1) * mostListed, next, before
}

func (a *Ask) batchLine(b store.Batch) batchLine {
	n := func(v int) string { return say.Count(v) }
	l := batchLine{a.Say.BatchName(b.ID), batchPath(b.ID), a.Say.Moment(b.TakenAt), a.byWhom(b.Who), a.fileOf(b), a.Say.BatchStands(), n(b.New), n(b.Changed), n(b.Unchanged), n(b.SetAside)}
	if b.UndoneAt != "" {
		l.State = a.Say.BatchUndone()
	}
	return l
}

func (a *Ask) byWhom(who string) string {
	if who == "" {
		return a.Say.AtTerminal()
	}
	return a.Say.Person(who)
}

// fileOf is the file of a batch as it may be shown: the reason of a correction may
// name anybody. What was said at a form is called so.
func (a *Ask) fileOf(b store.Batch) string {
	file := b.File
	if ingest.IsEntry(file) {
		return a.Say.FormFile(ingest.EntryWhat(file))
	}
	if a.Site.Settings.NoNames {
		file = ingest.WithoutWhy(file)
	}
	return say.Clean(file, say.LongName)
}

// batchView is one batch.
type batchView struct {
	batchLine
	Says    string
	Undone  string
	Stands  bool
	Undo    string // what taking it back would do
	UndoAct string // "" where it cannot be done
	First   []linkView
	Aside   []asideView
	AsideOf string // its title
	Fixed   string
	Changes []changeView
	More    string
}

type linkView struct{ Name, Href string }

// asideView are rows to fix of one table, or those of a form that clash.
type asideView struct {
	Says, First, Act, Part string
	Do                     string   // what the button does; "" where there is nothing left to do
	Lines                  []string // both values of each that clashes
}

type changeView struct{ Record, Href, Column, Before, After, Did string }

// mostChanges is how many values of a batch's change log a page shows.
const mostChanges = 100

func batchPage(a *Ask) error {
	b, batches, err := a.batch()
	if err != nil {
		return err
	}
	v := batchView{batchLine: a.batchLine(b), Stands: b.UndoneAt == ""}
	if !v.Stands {
		v.Undone = a.Say.BatchUndoneOn(b.UndoneAt, b.UndoneBy)
	}
	for _, part := range []func(*batchView, store.Batch, []store.Batch) error{a.viewUndo, a.viewAside, a.viewChanges} {
		if err := part(&v, b, batches); err != nil {
			return err
		}
	}
	return a.Show("batch", a.Say.BatchName(b.ID), v)
}

// batch is the batch that an address is about, and all there are.
func (a *Ask) batch() (b store.Batch, all []store.Batch, err error) {
	id, err := a.user()
	if err != nil {
		return b, nil, err
	}
	if all, err = a.Store().Batches(a.Context()); err != nil {
		return b, nil, err
	}
	at := slices.IndexFunc(all, func(b store.Batch) bool { return b.ID == id })
	if at < 0 {
		return b, nil, &Fail{http.StatusNotFound, say.Site.NoBatch, say.Site.NoBatchDo, nil}
	}
	return all[at], all, nil
}

// viewUndo says what taking the batch back would do, before it is done.
func (a *Ask) viewUndo(v *batchView, b store.Batch, _ []store.Batch) error {
	if !v.Stands {
		return nil
	}
	would, err := a.Store().WouldUndo(a.Context(), b.ID)
	var stands *store.StandsOnError
	if errors.As(err, &stands) {
		v.Undo = a.Say.UndoFirst(stands.First)
		for _, id := range stands.First[:min(len(stands.First), 6)] {
			v.First = append(v.First, linkView{a.Say.BatchName(id), batchPath(id)})
		}
		return nil
	}
	if err != nil {
		return err
	}
	v.Undo, v.UndoAct = a.Say.UndoSays(would.Removed, would.Restored), batchPath(b.ID)+"/undo"
	if ingest.IsEntry(b.File) && would.Removed+would.Restored == 0 {
		v.Undo = a.Say.UndoNothing()
	}
	return nil
}

// viewAside says what the batch brought, and shows what was set aside of it.
func (a *Ask) viewAside(v *batchView, b store.Batch, batches []store.Batch) error {
	parts, err := a.Store().SetAside(a.Context(), b.ID)
	if err != nil {
		return err
	}
	v.Says = a.Say.BatchSays(say.BatchCounts{New: b.New, Changed: b.Changed, Aside: len(parts), Form: ingest.IsEntry(b.File)})
	v.AsideOf = a.Say.AsideTitle()
	for i, p := range parts {
		one := asideView{Says: a.Say.AsideSays(p.Tab, p.Table, p.Total), Act: batchPath(b.ID) + "/fix", Part: strconv.Itoa(i), Do: a.Say.AsideDo()}
		if ingest.IsEntry(b.File) {
			v.AsideOf = a.Say.ClashesTitle()
			if err := a.viewClashes(&one, p); err != nil {
				return err
			}
		}
		if !v.Stands {
			one.Do = ""
		}
		if p.Kept < p.Total {
			one.First = a.Say.AsideFirst(p.Kept)
		}
		v.Aside = append(v.Aside, one)
	}
	var came []int64
	for _, later := range batches {
		if later.OfBatch == b.ID && later.UndoneAt == "" {
			came = append(came, later.ID)
		}
	}
	if len(came) > 0 {
		v.Fixed = a.Say.AsideDone(came)
	}
	return nil
}

// viewChanges shows what the change log says of the batch.
func (a *Ask) viewChanges(v *batchView, b store.Batch, _ []store.Batch) error {
	changes, err := a.Store().Changes(a.Context(), b.ID)
	if err != nil {
		return err
	}
	more := 0
	for _, c := range changes {
		if c.Did == "removed" {
			continue // what it had added: the records as they were
		}
		for _, one := range a.changeViews(c) {
			if len(v.Changes) >= mostChanges {
				more++
				continue
			}
			v.Changes = append(v.Changes, one)
		}
	}
	if more > 0 {
		v.More = a.Say.ChangesMore(more)
	}
	return nil
}

// changeViews are the values that an entry of the change log is about, in the
// order of the record's columns.
func (a *Ask) changeViews(c store.Change) (all []changeView) {
	t := record.TableNamed(c.Table)
	if t == nil {
		return nil
	}
	name := strings.Join(c.Key, " ")
	one := func(column, label string) {
		before, had := c.Before[column]
		if after := c.After[column]; had && !a.Site.unnamed(column) && (c.Did != "changed" || before != after) {
			all = append(all, changeView{say.Clean(name, say.ShortName), jobPath(c.Key[0]), label, a.shownText(before), a.shownText(after), a.Say.ChangeDid(c.Did)})
		}
	}
	for _, column := range t.Columns {
		one(column.Name, a.Say.ColumnLabel(t.Name, column.Name))
	}
	for column := range c.Before { // what is no column of the record: a heading of the file
		if t.Column(column) == nil && column != record.UnusedColumn && !a.Site.Settings.NoNames {
			one(column, say.Clean(column, say.ShortName))
		}
	}
	return all
}

// unnamed says whether a column's values are not to be shown.
func (s *Site) unnamed(column string) bool { return s.Settings.NoNames && record.MayName(column) }

// shownText is a value as text.
func (a *Ask) shownText(text string) string {
	if text == "" {
		return a.Say.Missing()
	}
	return say.Clean(text, say.LongName)
}

func undoBatch(a *Ask) error {
	id, err := a.user()
	if err != nil {
		return err
	}
	if err := a.undo(id, say.Site.UndoElse, say.Site.UndoElseDo); err != nil {
		return err
	}
	return a.Go(batchPath(id))
}

// undo takes a batch back. Where something else stands on it that fails, and the reader
// is told what to do.
func (a *Ask) undo(id int64, wrong, right func(say.Site) string) error {
	if _, err := a.Store().WouldUndo(a.Context(), id); err != nil {
		return &Fail{http.StatusConflict, wrong, right, err}
	}
	_, err := a.Store().Undo(a.Context(), id, a.Stamp())
	var stands *store.StandsOnError
	if errors.As(err, &stands) {
		return &Fail{http.StatusConflict, wrong, right, err}
	}
	return err
}

// fixAside makes of the rows that were set aside of a batch a file that waits, to
// be looked at and mended like any other.
func fixAside(a *Ask) error {
	b, _, err := a.batch()
	if err != nil {
		return err
	}
	if b.UndoneAt != "" {
		return &Fail{http.StatusConflict, say.Site.AsideGone, say.Site.AsideUndone, nil}
	}
	parts, err := a.Store().SetAside(a.Context(), b.ID)
	if err != nil {
		return err
	}
	part, err := strconv.Atoi(a.Field("part"))
	if err != nil || part < 0 || part >= len(parts) {
		return notFound()
	}
	content := parts[part].Content
	if ingest.IsEntry(b.File) {
		if content, err = a.clashFile(parts[part]); err != nil {
			return err
		}
	}
	sum := sha256.Sum256(content)
	stem := strings.TrimSuffix(b.File, filepath.Ext(b.File))
	stem, _, _ = strings.Cut(stem, ".set-aside")
	u := store.Upload{ID: newKey(), Who: a.Who.Name, File: fileName(stem + "." + parts[part].Table + ".set-aside.csv"), SHA256: hex.EncodeToString(sum[:]),
		Bytes: int64(len(content)), OfBatch: b.ID, MadeAt: a.Stamp(), TouchedAt: a.Stamp()}
	return a.keepToFix(u, content)
}

func (a *Ask) keepToFix(u store.Upload, content []byte) error {
	waiting, err := a.Store().Uploads(a.Context())
	if err != nil {
		return err
	}
	for _, other := range waiting {
		if other.SHA256 == u.SHA256 && other.OfBatch == u.OfBatch {
			return a.Go("/upload/" + other.ID)
		}
	}
	if err := a.Store().KeepUpload(a.Context(), u, content, mostWaiting); err != nil {
		return err
	}
	return a.Go("/upload/" + u.ID)
}
