package site

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"pourback/ingest"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// How many pictures an entry may bring, and how long each file may be. Each is made to
// be kept as it comes, so that of a phone's pictures one is held in memory.
const (
	mostPictures = 12
	mostPicture  = 10 << 20
	mostEntry    = mostPictures*mostPicture + mostForm
)

// pictureField is the field of an entry's pictures.
const pictureField = "pictures"

// refusedPicture is a file of an entry of which no picture is made.
type refusedPicture struct{ Name, Code string }

// takeEntry reads an entry, fields alone or fields with pictures, and begins its deed.
func (a *Ask) takeEntry() error {
	if err := a.often(); err != nil {
		return err
	}
	sent, err := a.readEntry()
	if err != nil {
		return err
	}
	ctx, err := a.Once(a.PostFormValue(keyField), sent)
	if err == nil {
		a.Request = a.Request.WithContext(ctx)
	}
	return err
}

// readEntry reads the fields and the pictures; sent tells them from others, in whatever
// order and by whatever boundary they come.
func (a *Ask) readEntry() (sent string, err error) {
	kind, _, err := mime.ParseMediaType(a.Header.Get("Content-Type"))
	if err != nil || kind != "multipart/form-data" {
		a.Body = http.MaxBytesReader(a.W, a.Body, mostForm)
		if err := a.ParseForm(); err != nil {
			return "", badForm(err)
		}
		return digest(a.PostForm), nil
	}
	a.Body = &patient{http.MaxBytesReader(a.W, a.Body, mostEntry), http.NewResponseController(a.W)}
	var sums []string
	fields, err := a.Parts(func(_ url.Values, part *multipart.Part) error {
		sum, err := a.readPicture(part, len(sums) < mostPictures)
		sums = append(sums, sum)
		return err
	})
	if err != nil {
		return "", err
	}
	if len(fields[pictureField]) > 0 { // of a field for files in which none was chosen
		fields.Del(pictureField)
	}
	a.PostForm, a.Form = fields, fields
	slices.Sort(sums)
	files := sha256.Sum256([]byte(strings.Join(sums, " ")))
	return digest(fields) + "." + hex.EncodeToString(files[:]), nil
}

// readPicture makes a picture of a file as it comes, and returns what tells the file
// from others. Too many of them are known for that and not made.
func (a *Ask) readPicture(part *multipart.Part, more bool) (sum string, err error) {
	whole := sha256.New()
	var file []byte
	if more {
		if file, err = io.ReadAll(io.TeeReader(io.LimitReader(part, mostPicture+1), whole)); err != nil {
			return "", badForm(err)
		}
	}
	if _, err := io.Copy(whole, part); err != nil { // of one that is too long
		return "", badForm(err)
	}
	sum = part.FormName() + hex.EncodeToString(whole.Sum(nil))
	name := fileName(part.FileName())
	if !more {
		a.refused = append(a.refused, refusedPicture{Name: name})
		return sum, nil
	}
	made, err := a.Site.Settings.Pictures.Make(a.Context(), name, file)
	if problem := ingest.RefusedPicture(err); problem != nil {
		a.refused = append(a.refused, refusedPicture{name, problem.Code})
		return sum, nil
	}
	a.Pictures = append(a.Pictures, made)
	return sum, err
}

// unfitPictures are why pictures of an entry cannot be kept; none where all can.
func (a *Ask) unfitPictures() (why []record.Problem) {
	for _, r := range a.refused {
		if r.Code == "" {
			return append(why, a.problem("", a.Say.PicturesMany(mostPictures), a.Say.PicturesManyDo()))
		}
		why = append(why, a.problem("", a.Say.PictureRefused(r.Name, r.Code), a.Say.PictureRefusedDo(r.Code)))
	}
	return why
}

// pictures are the entry's pictures to be kept with a slab; nil where it brings none.
// One that finds no room refuses the entry.
func (a *Ask) pictures(s *slabRows) *ingest.Adding {
	if len(a.Pictures) == 0 {
		return nil
	}
	return &ingest.Adding{Target: s.is.JobNo + "/" + s.is.Placement, Caption: a.Field("caption"), By: a.Who.Name, Files: a.Pictures, Rules: a.Site.Settings.Pictures, Whole: true}
}

// keepWhole is [Ask.keepEntry], where pictures that find no room refuse the entry.
func (a *Ask) keepWhole(e ingest.Entry, r entryReply) error {
	if why := a.unfitPictures(); len(why) > 0 {
		return a.refuse(why, r)
	}
	err := a.keepEntry(e, r)
	var full *store.PicturesFullError
	if errors.As(err, &full) {
		return a.refuse([]record.Problem{a.problem("", a.Say.PicturesFull(), a.Say.PicturesFullDo())}, r)
	}
	return err
}
