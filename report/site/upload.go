package site

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"mime/multipart"
	"net/http"
	"net/url"
	"os"
	"path"
	"slices"
	"strings"
	"time"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/say"
)

// How much may wait to be kept, and for how long nobody may touch it. Of a file
// that is still coming in something comes all the time, or it has broken off.
const (
	mostWaiting = 512 << 20
	waitsFor    = 7 * 24 * time.Hour
	comesWithin = 15 * time.Minute
	mostName    = 120 // letters of a file's name
)

func init() {
	placesOf["upload"] = "/upload/"
	placesOf["batch"] = "/batches/"
}

// uploadView is where files are handed in, with those that wait.
type uploadView struct {
	Says    string
	Wrong   told // about the file that was handed in
	Most    int64
	Waiting []waitingView
	Waits   string
}

type waitingView struct{ Name, Since, Href, DropAct string }

func uploadPage(a *Ask) error { return a.showUpload(http.StatusOK, told{}) }

func (a *Ask) showUpload(status int, wrong told) error {
	waiting, err := a.Store().Uploads(a.Context())
	if err != nil {
		return err
	}
	v := uploadView{Says: a.Say.DropAnswer(), Wrong: wrong, Most: mostUpload, Waits: a.Say.WaitSays(int(waitsFor.Hours() / 24))}
	for _, u := range waiting {
		v.Waiting = append(v.Waiting, waitingView{say.Clean(u.File, say.LongName), a.Say.WaitSince(a.Say.Moment(u.MadeAt), u.Who), "/upload/" + u.ID, "/upload/" + u.ID + "/drop"})
	}
	return a.showAs(status, "upload", a.Say.UploadLink(), v)
}

// takeUpload takes a file in to be looked at. It goes into the database as it
// comes, part by part, and is there for nobody until it is whole.
func takeUpload(a *Ask) error {
	if a.ContentLength > mostUpload {
		return badForm(&http.MaxBytesError{Limit: mostUpload})
	}
	if err := a.Site.sweepUploads(a.Context(), a.Now); err != nil {
		return err
	}
	u := store.Upload{ID: newKey(), Who: a.Who.Name, MadeAt: a.Stamp(), TouchedAt: a.Stamp(), Bytes: a.ContentLength}
	if u.Bytes < 0 {
		u.Bytes = mostUpload
	}
	begun, kept := false, false
	defer func() {
		if begun && !kept {
			a.dropUpload(u.ID)
		}
	}()
	fields, err := a.Parts(func(fields url.Values, part *multipart.Part) (err error) {
		switch {
		case len(fields.Get(keyField)) < 16:
			return noKey()
		case begun:
			return Wrong(say.Site.DropOneFile, say.Site.DropOneFileDo)
		}
		begun = true
		u.File = fileName(part.FileName())
		return a.receive(&u, part)
	})
	if err != nil {
		return err
	}
	if !begun {
		return Wrong(say.Site.DropNoFile, say.Site.DropNoFileDo)
	}
	if refusal := a.refuses(u); refusal.Says != "" {
		refusal.Says = say.Clean(u.File, say.ShortName) + ": " + refusal.Says
		return a.showUpload(http.StatusUnprocessableEntity, refusal)
	}
	return a.waits(fields.Get(keyField), u, &kept)
}

// waits makes a file that is whole one that waits, unless it waits already.
func (a *Ask) waits(key string, u store.Upload, kept *bool) error {
	ctx, err := a.Once(key, u.SHA256+" "+u.File)
	if err != nil {
		return err
	}
	waiting, err := a.Store().Uploads(ctx)
	if err != nil {
		return err
	}
	for _, other := range waiting {
		if other.SHA256 == u.SHA256 && other.OfBatch == u.OfBatch {
			return a.Go("/upload/" + other.ID)
		}
	}
	if err := a.Store().EndUpload(ctx, u); err != nil {
		return err
	}
	*kept = true
	return a.Go("/upload/" + u.ID)
}

// receive keeps a file's content as it comes.
func (a *Ask) receive(u *store.Upload, content io.Reader) error {
	if err := a.Store().BeginUpload(a.Context(), *u, mostWaiting); err != nil {
		return err
	}
	sum := sha256.New()
	n, err := a.Store().AddToUpload(a.Context(), u.ID, io.TeeReader(content, sum), func() string { return stamp(a.Site.Now()) })
	u.Bytes, u.SHA256 = n, hex.EncodeToString(sum.Sum(nil))
	if errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, os.ErrDeadlineExceeded) { // it broke off, or hangs
		return badForm(err)
	}
	return err
}

// refuses is why a file cannot be read at all, if it cannot.
func (a *Ask) refuses(u store.Upload) told {
	f, err := a.source(a.Context(), u).Open(a.sheetOptions())
	var refusal *sheet.Refusal
	if errors.As(err, &refusal) {
		return a.onPage(refusal.Problem)
	}
	if err != nil {
		return told{} // it is said where the file is looked at
	}
	defer f.Close()
	if slices.ContainsFunc(f.Tables, func(t *sheet.Table) bool { return t.Records == record.Pictures }) { // no file stands beside it here
		return told{Says: a.Say.PicturesTable() + " " + a.Say.PicturesTableDo()}
	}
	return told{}
}

// dropUpload forgets a file, even where nobody waits for the answer any more.
func (a *Ask) dropUpload(id string) {
	ctx, stop := context.WithTimeout(context.WithoutCancel(a.Context()), time.Minute)
	defer stop()
	if err := a.Store().DropUpload(ctx, id); err != nil && !errors.Is(err, store.ErrNoUpload) {
		a.Site.Log.Warn("a file that broke off was not dropped", "error", err.Error())
	}
}

// fileName is a name as a browser gives it, without folders and as it can be shown.
func fileName(name string) string {
	name = record.Shown(strings.ToValidUTF8(path.Base(strings.ReplaceAll(name, `\`, "/")), "\uFFFD"))
	if r := []rune(name); len(r) > mostName {
		name = string(r[:mostName/2]) + "…" + string(r[len(r)-mostName/2:])
	}
	return name
}

// sweepUploads forgets files that nobody looks at any more.
func (s *Site) sweepUploads(ctx context.Context, now time.Time) error {
	return s.Store.SweepUploads(ctx, stamp(now.Add(-waitsFor)), stamp(now.Add(-comesWithin)))
}

// dropWaiting forgets a file that waits.
func dropWaiting(a *Ask) error {
	id := a.PathValue("id")
	if err := a.Store().DropUpload(a.Context(), id); err != nil {
		return err
	}
	a.Site.looked.drop(id)
	return a.Go("/upload")
}

// lookPage shows how a file that waits was read, and what it would come to.
func lookPage(a *Ask) error {
	u, err := a.Store().Upload(a.Context(), a.PathValue("id"))
	if err != nil {
		return err
	}
	return a.showLook(http.StatusOK, u, "")
}

func (a *Ask) showLook(status int, u store.Upload, told string) error {
	is, err := settledOf(u)
	if err != nil {
		return err
	}
	l, err := a.lookAt(u, is)
	if err != nil {
		return err
	}
	return a.showAs(status, "look", say.Clean(u.File, say.LongName), a.lookView(u, is, l, told))
}

// settleUpload takes over what is said about a file, and shows what it comes to then.
func settleUpload(a *Ask) error {
	u, is, err := a.spoken()
	if err != nil {
		return err
	}
	if text := is.text(); text != u.State {
		u.State, u.TouchedAt = text, a.Stamp()
		if err := a.Store().SetUpload(a.Context(), u); err != nil {
			return err
		}
	}
	return a.Go("/upload/" + u.ID)
}

// spoken is a file that waits, with what a form says about it besides.
func (a *Ask) spoken() (u store.Upload, is settled, err error) {
	if u, err = a.Store().Upload(a.Context(), a.PathValue("id")); err != nil {
		return u, is, err
	}
	if a.Field(fieldVersion) != versionText(u) {
		return u, is, store.ErrUploadIsElse
	}
	if is, err = settledOf(u); err != nil {
		return u, is, err
	}
	if u.State == "" {
		u.State = is.text()
	}
	l, err := a.lookAt(u, is)
	if err != nil {
		return u, is, err
	}
	is, err = is.read(a.PostForm, l)
	return u, is, err
}

// errLookAgain is that of a keeping that would not come to what was looked at.
var errLookAgain = errors.New("the records have changed meanwhile")

// keepUpload takes a file in. What was said about it on the same form and was not
// looked at yet is taken over first, and looked at.
func keepUpload(a *Ask) error {
	was, is, err := a.spoken()
	if err != nil {
		return err
	}
	if is.text() != was.State {
		return settleUpload(a)
	}
	opt := is.reading(a.sheetOptions())
	seen := a.Field(fieldCounts)
	r, err := ingest.Take(a.Context(), a.Store(), a.source(a.Context(), was), ingest.Options{Sheet: opt, TakenAt: a.Stamp(), Settled: is.cells(),
		With: func(ctx context.Context, tx *store.Tx, r *ingest.Result) error {
			if counts(r) != seen {
				return errLookAgain
			}
			if was.OfBatch > 0 {
				if err := tx.Of(ctx, was.OfBatch); err != nil {
					return err
				}
			}
			return tx.DropUpload(ctx, was.ID)
		}})
	a.Site.looked.drop(was.ID)
	switch {
	case errors.Is(err, errLookAgain):
		if err := a.meanwhile(errLookAgain); err != errLookAgain {
			return err
		}
		return a.showLook(http.StatusConflict, was, a.Say.LookChanged())
	case err != nil:
		return err
	case r.Refused != "":
		return a.showLook(http.StatusUnprocessableEntity, was, "")
	case r.Batch == 0 && r.SetAside+r.LeftEmpty > 0:
		return a.showLook(http.StatusConflict, was, a.Say.LookNothing())
	case r.Batch == 0:
		return a.keptNothing(was)
	}
	return a.Go(batchPath(r.Batch))
}

// keptNothing says that a file brought nothing new, and drops it.
func (a *Ask) keptNothing(u store.Upload) error {
	if err := a.Store().DropUpload(a.Context(), u.ID); err != nil {
		return err
	}
	return a.Show("plain", say.Clean(u.File, say.LongName), a.Say.LookSameNothing())
}
