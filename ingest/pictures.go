package ingest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"slices"
	"strings"
	"time"

	"pourback/ingest/picture"
	"pourback/ingest/record"
	"pourback/ingest/store"
)

// PictureRules are what the owner has set about pictures.
type PictureRules struct {
	QuotaMB      float64 `mapstructure:"quota_mb"`      // that all pictures together may take, in millions of bytes
	KeepTime     bool    `mapstructure:"keep_time"`     // when they were taken
	KeepPosition bool    `mapstructure:"keep_position"` // and where
}

// DefaultPictureRules keep some four thousand pictures, and no place.
func DefaultPictureRules() PictureRules { return PictureRules{QuotaMB: 2000, KeepTime: true} }

// Validate says what is wrong with the rules.
func (r PictureRules) Validate() error {
	if !(r.QuotaMB >= 0 && r.QuotaMB <= 1e9) {
		return fmt.Errorf("pictures.quota_mb is %v: want a number of megabytes, such as 2000", r.QuotaMB)
	}
	return nil
}

func (r PictureRules) quota() int64 { return int64(r.QuotaMB * 1e6) }

// take is [picture.Take] by these rules, for a call that nobody else waits for.
func (r PictureRules) take(ctx context.Context, file []byte, within time.Duration) (*picture.Picture, error) {
	return picture.Take(ctx, file, picture.Options{KeepTime: r.KeepTime, KeepPosition: r.KeepPosition, Within: within})
}

// PictureFile is a picture to be kept.
type PictureFile struct {
	Name string
	Key  string // that its sender gave it; "" where one is to be made
	Read func() ([]byte, error)
}

// Adding is pictures to be kept with a placement, or with a load or a visit of
// it. The zero value of a fact says nothing.
type Adding struct {
	Target   string // JOB/PLACEMENT, or JOB where it has only one
	SeenOn   record.Date
	TicketNo string
	Caption  string
	By       string
	XFt, YFt record.Number
	Files    []PictureFile

	Rules   PictureRules
	Within  time.Duration // for each picture; see [picture.Options]
	TakenAt string        // UTC, to the second
}

// Added is what became of them.
type Added struct {
	Batch    int64          `json:"batch,omitempty"` // 0 where nothing was kept
	Record   string         `json:"record"`          // what they belong to: "J-104 A"
	Pictures []AddedPicture `json:"pictures"`
}

// Refused are those that were not kept.
func (d *Added) Refused() []AddedPicture {
	var refused []AddedPicture
	for _, p := range d.Pictures {
		if p.Why != nil {
			refused = append(refused, p)
		}
	}
	return refused
}

// AddedPicture is what became of one.
type AddedPicture struct {
	File    string `json:"file"`
	Key     string `json:"picture,omitempty"`
	Became  string `json:"became"` // new, changed, unchanged or refused
	Width   int    `json:"width_px,omitempty"`
	Height  int    `json:"height_px,omitempty"`
	Bytes   int    `json:"bytes,omitempty"`
	Refused string `json:"refused,omitempty"` // why it was, in words

	Why error `json:"-"` // the same: a [*picture.Refusal], a [*store.PicturesFullError], [ErrPictureClash]
}

// ErrPictureClash says that a key which a sender gave stands for another picture
// already, or for this one somewhere else.
var ErrPictureClash = errors.New("its key stands for another picture; send it with a key of its own")

const refusedPicture = "refused"

// AddPictures keeps pictures, as a batch that can be taken back. One that cannot
// be taken is refused and the others are kept. A picture that is there already
// under the same key adds nothing; without a key, the same picture of the same
// slab is the same one.
func AddPictures(ctx context.Context, st *store.Store, a Adding) (done Added, err error) {
	made, err := a.make(ctx)
	if err != nil {
		return done, err
	}
	for tries := 0; ; tries++ {
		if done, err = addPictures(ctx, st, a, made); !again(err, tries) {
			return done, err
		}
	}
}

// madePictures are the pictures of a call, made safe, and beside each why it
// cannot be taken.
type madePictures struct {
	pictures []*picture.Picture
	refused  []error
}

// make makes the pictures, before the database's turn is taken.
func (a *Adding) make(ctx context.Context) (made madePictures, err error) {
	made = madePictures{make([]*picture.Picture, len(a.Files)), make([]error, len(a.Files))}
	for i, f := range a.Files {
		file, err := f.Read()
		if err != nil {
			err = &PictureFileError{err}
		} else {
			made.pictures[i], err = a.Rules.take(ctx, file, a.Within)
		}
		if ended := ctx.Err(); ended != nil {
			return made, ended
		}
		made.refused[i] = err
	}
	return made, nil
}

func (m madePictures) digest(sum hash.Hash) {
	for _, p := range m.pictures {
		if p != nil {
			sum.Write(p.JPEG)
		}
	}
}

func addPictures(ctx context.Context, st *store.Store, a Adding, made madePictures) (Added, error) {
	digest := sha256.New()
	made.digest(digest)
	tx, err := st.Begin(ctx, record.Shown("picture "+a.Target), hex.EncodeToString(digest.Sum(nil)), a.TakenAt)
	if err != nil {
		return Added{}, err
	}
	defer tx.Rollback()
	done, err := a.keep(ctx, st, tx, made, 0)
	if err != nil {
		return Added{}, err
	}
	batch, err := tx.Commit(ctx, store.Batch{Read: len(a.Files), SetAside: len(done.Refused())})
	done.Batch = batch.ID
	return done, err
}

// keep keeps the pictures in a transaction, behind so many rows of its batch.
func (a *Adding) keep(ctx context.Context, st *store.Store, tx *store.Tx, made madePictures, behind int) (Added, error) {
	job, placement, err := slabNamed(ctx, st, a.Target, func(job string) ([]string, error) { return placementNames(ctx, tx, job) })
	if err == nil {
		err = a.belongs(ctx, tx, job, placement)
	}
	if err != nil {
		return Added{}, err
	}
	done := Added{Record: job + " " + placement}
	for i, f := range a.Files {
		is := AddedPicture{File: record.Shown(f.Name), Why: made.refused[i]}
		if is.Why == nil {
			is.Why = a.add(ctx, tx, job, placement, f.Key, behind+i+1, made.pictures[i], &is)
		}
		if err := pictureRefusal(is.Why); err != nil {
			return Added{}, err
		}
		if is.Why != nil {
			is.Became, is.Refused = refusedPicture, record.Shown(is.Why.Error())
		}
		done.Pictures = append(done.Pictures, is)
	}
	return done, nil
}

// pictureRefusal is nil for what refuses one picture, and the error itself for
// what ends the call.
func pictureRefusal(err error) error {
	var refusal *picture.Refusal
	var full *store.PicturesFullError
	var file *PictureFileError
	if err == nil || errors.As(err, &refusal) || errors.As(err, &full) || errors.As(err, &file) || errors.Is(err, ErrPictureClash) {
		return nil
	}
	return err
}

// PictureFileError is a file that could not be read.
type PictureFileError struct{ Reason error }

func (e *PictureFileError) Error() string { return e.Reason.Error() }

func (e *PictureFileError) Unwrap() error { return e.Reason }

// add keeps one picture, and says what became of it.
func (a *Adding) add(ctx context.Context, tx *store.Tx, job, placement, key string, number int, made *picture.Picture, is *AddedPicture) error {
	r := &record.Picture{JobNo: job, Placement: placement, SeenOn: a.SeenOn, TicketNo: a.TicketNo}
	fillPicture(r, made, a.TakenAt)
	sent := key != ""
	if r.Picture = key; !sent {
		r.Picture = pictureKey(r)
	}
	is.Key, is.Width, is.Height, is.Bytes = r.Picture, made.Width, made.Height, len(made.JPEG)
	there, err := tx.Find(ctx, r)
	if err != nil {
		return err
	}
	if was, ok := there.(*record.Picture); ok {
		if was.SHA256 != r.SHA256 || was.JobNo != job || was.Placement != placement || was.SeenOn != a.SeenOn || was.TicketNo != a.TicketNo {
			return ErrPictureClash
		}
		if sent { // its sender asks again, having heard no answer
			is.Became = store.Unchanged.String()
			return nil
		}
		*r = *was
		r.TakenBackAt = 0
	} else {
		r.KeptAt, r.KeptBy = keptAt(a.TakenAt), a.By
	}
	a.tell(r)
	if err := tx.KeepPicture(ctx, store.PictureBytes{Content: made.JPEG, Thumb: made.Thumb}, a.Rules.quota()); err != nil {
		return err
	}
	outcomes, err := tx.Add(ctx, record.Pictures, nil, []store.Row{{Record: r, Number: number}})
	if err != nil {
		return err
	}
	if is.Became = outcomes[0].Kind.String(); outcomes[0].Kind == store.Repeated {
		is.Became = store.Unchanged.String()
	}
	return nil
}

// tell gives a picture what the call says of it.
func (a *Adding) tell(r *record.Picture) {
	if a.Caption != "" {
		r.Caption = a.Caption
	}
	if a.XFt.OK && a.YFt.OK {
		r.XFt, r.YFt = a.XFt, a.YFt
	}
	r.File = r.PictureFile()
}

// fillPicture gives a row what is known of its picture by itself. What the row
// says of time and place already stays.
// A camera whose clock is ahead of ours says nothing about time.
func fillPicture(r *record.Picture, made *picture.Picture, now string) {
	r.WidthPx, r.HeightPx, r.Bytes = record.Some(int64(made.Width)), record.Some(int64(made.Height)), record.Some(int64(len(made.JPEG)))
	r.SHA256 = store.PictureBytes{Content: made.JPEG}.SHA256()
	if tomorrow := keptAt(now).Date() + 1; r.TakenAt == 0 && made.TakenAt.Date() <= tomorrow { // which it may be there already
		r.TakenAt = made.TakenAt
	}
	if at := made.Position; at != nil && !r.Latitude.OK && !r.Longitude.OK {
		r.Latitude, r.Longitude = record.Some(at.Latitude), record.Some(at.Longitude)
	}
}

// pictureKey is a key for a picture whose sender gave none: the same for the same
// picture of the same slab, visit or load.
func pictureKey(r *record.Picture) string {
	sum := sha256.Sum256([]byte(strings.Join([]string{r.JobNo, r.Placement, r.SeenOn.String(), r.TicketNo, r.SHA256}, "\x00")))
	return hex.EncodeToString(sum[:16])
}

// keptAt is a time in UTC, as batches have it, as records do.
func keptAt(stamp string) record.Moment {
	m, _ := record.ParseMoment(strings.TrimSuffix(stamp, "Z")) // 0 where the caller knows no time
	return m
}

// Slab finds the placement on record that JOB/PLACEMENT names, or JOB where it has
// only one.
func Slab(ctx context.Context, st *store.Store, target string) (job, placement string, err error) {
	return slabNamed(ctx, st, target, func(job string) ([]string, error) { return st.PlacementNames(ctx, job) })
}

func slabNamed(ctx context.Context, st *store.Store, target string, namesOf func(job string) ([]string, error)) (job, placement string, err error) {
	tries := [][2]string{{target, ""}}
	if i := strings.LastIndexByte(target, '/'); i > 0 {
		tries = append(tries, [2]string{target[:i], target[i+1:]})
	}
	for _, try := range tries {
		names, err := namesOf(try[0])
		switch {
		case err != nil:
			return "", "", err
		case len(names) == 0:
			continue
		case slices.Contains(names, try[1]):
			return try[0], try[1], nil
		case try[1] == "" && len(names) == 1:
			return try[0], names[0], nil
		case try[1] == "":
			return "", "", noTarget("job %s has placements %s: name one, such as %s/%s", try[0], strings.Join(names, ", "), try[0], names[0])
		}
		near, _ := record.Nearest(try[1], names)
		return "", "", noTarget("job %s has no placement %q; did you mean %s/%s?", try[0], try[1], try[0], near)
	}
	return "", "", unknownJob(ctx, st, tries[len(tries)-1][0])
}

// placementNames are those of a job, in their order.
func placementNames(ctx context.Context, tx *store.Tx, job string) (names []string, err error) {
	placed, err := tx.PlacedOn(ctx, []string{job})
	for at := range placed {
		names = append(names, at[1])
	}
	slices.Sort(names)
	return names, err
}

// belongs says whether the visit or the load is on record that the pictures are
// to belong to.
func (a *Adding) belongs(ctx context.Context, tx *store.Tx, job, placement string) error {
	if a.SeenOn != 0 && a.TicketNo != "" {
		return noTarget("a picture belongs to a visit or to a load: name one of them")
	}
	for _, owner := range ownersOf(&record.Picture{JobNo: job, Placement: placement, SeenOn: a.SeenOn, TicketNo: a.TicketNo}) {
		there, err := tx.Find(ctx, owner.row)
		if there != nil || err != nil {
			return err
		}
		// one placement alone may stand without its name
		if names, err := placementNames(ctx, tx, job); err != nil || len(names) != 1 {
			return errors.Join(err, owner.missing(job, placement))
		}
		_, name := owner.row.Place()
		*name = ""
		if there, err = tx.Find(ctx, owner.row); there == nil || err != nil {
			return errors.Join(err, owner.missing(job, placement))
		}
	}
	return nil
}

// owner is the event that a picture names.
type owner struct {
	row    record.Event
	column string
	value  string
	what   string
}

func ownersOf(p *record.Picture) []owner {
	switch {
	case p.SeenOn != 0:
		return []owner{{&record.Visit{JobNo: p.JobNo, Placement: p.Placement, SeenOn: p.SeenOn}, "seen_on", p.SeenOn.String(), "visit"}}
	case p.TicketNo != "":
		return []owner{{&record.Load{JobNo: p.JobNo, Placement: p.Placement, TicketNo: p.TicketNo}, "ticket_no", p.TicketNo, "load"}}
	}
	return nil
}

func (o owner) missing(job, placement string) error {
	return noTarget("no %s %s of %s/%s on record; `pourback visits --slab %s/%s` tells what is, or leave it out", o.what, o.value, job, placement, job, placement)
}
