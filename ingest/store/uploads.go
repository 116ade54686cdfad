package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"io"
	"sync"
)

// Upload is a file that was handed to the site and is looked at before it is kept
// or dropped. Nothing of it counts in any figure meanwhile.
type Upload struct {
	ID        string `db:"upload_id"`
	Who       string `db:"who"`
	File      string `db:"file"`
	SHA256    string `db:"sha256"` // of its content, in hex
	Bytes     int64  `db:"bytes"`
	OfBatch   int64  `db:"of_batch"` // the batch of whose rows set aside it consists; 0 for none
	MadeAt    string `db:"made_at"`  // UTC to the second, like the next
	TouchedAt string `db:"touched_at"`
	Version   int64  `db:"version"` // of the state
	State     string `db:"state"`   // what was said about it, as its owner wrote it
}

const uploadColumns = "upload_id, who, file, sha256, bytes, of_batch, made_at, touched_at, version, state"

// What cannot be done to uploads.
var (
	ErrNoUpload     = errors.New("this file is not waiting any more: it was kept or dropped, or it waited for too long")
	ErrUploadIsElse = errors.New("somebody else has answered about this file meanwhile")
	ErrUploadsFull  = errors.New("too much is waiting to be kept: keep or drop earlier files first")
)

// uploadPart is how many bytes of a file stand in a part of it.
const uploadPart = 1 << 20

// firstRead is how many bytes are made room for before it is known that there are more.
const firstRead = 1 << 15

// BeginUpload begins to keep a file whose content follows by [Store.AddToUpload].
// Until [Store.EndUpload] it is there for nobody. All files that wait may have so
// many bytes at most, or it fails with [ErrUploadsFull].
func (s *Store) BeginUpload(ctx context.Context, u Upload, most int64) error {
	return s.write(ctx, func(tx *Tx) error { return tx.beginUpload(ctx, u, most) })
}

func (tx *Tx) beginUpload(ctx context.Context, u Upload, most int64) error {
	var waiting int64
	if err := tx.sql.GetContext(ctx, &waiting, "SELECT COALESCE(SUM(bytes), 0) FROM uploads"); err != nil {
		return err
	}
	if waiting+u.Bytes > most {
		return ErrUploadsFull
	}
	return tx.do(ctx, "INSERT INTO uploads ("+uploadColumns+", whole) VALUES (?, ?, ?, '', ?, ?, ?, ?, 0, '', 0)", u.ID, u.Who, u.File, u.Bytes, u.OfBatch, u.MadeAt, u.MadeAt)
}

// KeepUpload keeps a file whose content is at hand, in one transaction.
func (s *Store) KeepUpload(ctx context.Context, u Upload, content []byte, most int64) error {
	return s.write(ctx, func(tx *Tx) error {
		if err := tx.beginUpload(ctx, u, most); err != nil {
			return err
		}
		for no := 0; no*uploadPart < len(content); no++ {
			part := content[no*uploadPart : min(len(content), (no+1)*uploadPart)]
			if err := tx.addPart(ctx, u.ID, int64(no), part, u.TouchedAt); err != nil {
				return err
			}
		}
		return tx.endUpload(ctx, u)
	})
}

// AddToUpload keeps all that a reader gives as a file's content, a part at a time,
// so that no writer waits for a slow browser. now is the moment in UTC.
func (s *Store) AddToUpload(ctx context.Context, id string, content io.Reader, now func() string) (bytes int64, err error) {
	buf := make([]byte, firstRead)
	for no := int64(0); ; no++ {
		n, err := fill(content, buf)
		for err == nil && len(buf) < uploadPart { // most files are short
			var more int
			buf = append(buf, make([]byte, len(buf))...)
			more, err = fill(content, buf[n:])
			n += more
		}
		last := err == io.EOF
		if err != nil && !last || n == 0 {
			return bytes, noEnd(err)
		}
		bytes += int64(n)
		err = s.write(ctx, func(tx *Tx) error { return tx.addPart(ctx, id, no, buf[:n], now()) })
		if err != nil || last {
			return bytes, err
		}
	}
}

// fill reads until a buffer is full. Its error is io.EOF only where the content has
// come to its end: one that breaks off has an error of its own.
func fill(content io.Reader, buf []byte) (n int, err error) {
	for n < len(buf) && err == nil {
		var more int
		more, err = content.Read(buf[n:])
		n += more
	}
	return n, err
}

// noEnd is an error, if it is one.
func noEnd(err error) error {
	if err == io.EOF {
		return nil
	}
	return err
}

func (tx *Tx) addPart(ctx context.Context, id string, no int64, content []byte, at string) error {
	small, err := packed(content)
	if err != nil {
		return err
	}
	if err := tx.touch(ctx, "UPDATE uploads SET touched_at = ? WHERE upload_id = ?", at, id); err != nil {
		return err
	}
	return tx.do(ctx, "INSERT INTO upload_parts (upload_id, part_no, content) VALUES (?, ?, ?)", id, no, small)
}

// touch runs a statement that must find an upload.
func (tx *Tx) touch(ctx context.Context, query string, args ...any) error {
	done, err := tx.sql.ExecContext(ctx, tx.store.sqlText(query), args...)
	if err != nil {
		return err
	}
	n, err := done.RowsAffected()
	if err == nil && n == 0 {
		err = ErrNoUpload
	}
	return err
}

// EndUpload makes a file whose content is whole one that waits.
func (s *Store) EndUpload(ctx context.Context, u Upload) error {
	return s.write(ctx, func(tx *Tx) error { return tx.endUpload(ctx, u) })
}

func (tx *Tx) endUpload(ctx context.Context, u Upload) error {
	tx.did = "upload " + u.ID
	return tx.touch(ctx, "UPDATE uploads SET whole = 1, sha256 = ?, bytes = ?, touched_at = ?, state = ? WHERE upload_id = ? AND whole = 0", u.SHA256, u.Bytes, u.TouchedAt, u.State, u.ID)
}

// Uploads are the files that wait, the latest first.
func (s *Store) Uploads(ctx context.Context) ([]Upload, error) {
	all := []Upload{}
	err := s.read.SelectContext(ctx, &all, "SELECT "+uploadColumns+" FROM uploads WHERE whole = 1 ORDER BY made_at DESC, upload_id")
	return all, s.explain(ctx, err)
}

// Upload is a file that waits, or [ErrNoUpload].
func (s *Store) Upload(ctx context.Context, id string) (u Upload, err error) {
	return u, s.one(ctx, &u, ErrNoUpload, "SELECT "+uploadColumns+" FROM uploads WHERE upload_id = ? AND whole = 1", id)
}

// SetUpload keeps what was said about a file, if it is still of the version that
// u has; else it fails with [ErrUploadIsElse].
func (s *Store) SetUpload(ctx context.Context, u Upload) error {
	return s.write(ctx, func(tx *Tx) error {
		tx.did = "upload " + u.ID
		err := tx.touch(ctx, "UPDATE uploads SET state = ?, touched_at = ?, version = version + 1 WHERE upload_id = ? AND version = ? AND whole = 1", u.State, u.TouchedAt, u.ID, u.Version)
		if !errors.Is(err, ErrNoUpload) {
			return err
		}
		var there int
		if err := tx.sql.GetContext(ctx, &there, s.sqlText("SELECT COUNT(*) FROM uploads WHERE upload_id = ?"), u.ID); err != nil {
			return err
		}
		if there > 0 {
			return ErrUploadIsElse
		}
		return ErrNoUpload
	})
}

// DropUpload forgets a file that waits, or that is not whole.
func (s *Store) DropUpload(ctx context.Context, id string) error {
	return s.write(ctx, func(tx *Tx) error { return tx.DropUpload(ctx, id) })
}

// DropUpload forgets a file that waits together with what else the transaction
// does: taking it in, for one. It fails with [ErrNoUpload] where that was done
// already.
func (tx *Tx) DropUpload(ctx context.Context, id string) error {
	if err := tx.settle(); err != nil {
		return err
	}
	if err := tx.do(ctx, "DELETE FROM upload_parts WHERE upload_id = ?", id); err != nil {
		return err
	}
	return tx.touch(ctx, "DELETE FROM uploads WHERE upload_id = ?", id)
}

// SweepUploads forgets the files that nobody has touched since a moment, and the
// beginnings of files of which nothing came since another.
func (s *Store) SweepUploads(ctx context.Context, since, begun string) error {
	old := "SELECT upload_id FROM uploads WHERE touched_at < ? OR whole = 0 AND touched_at < ?"
	var ids []string
	if err := s.read.SelectContext(ctx, &ids, s.sqlText(old), since, begun); err != nil || len(ids) == 0 {
		return s.explain(ctx, err)
	}
	return s.write(ctx, func(tx *Tx) error {
		for _, id := range ids {
			if err := tx.DropUpload(ctx, id); err != nil && !errors.Is(err, ErrNoUpload) {
				return err
			}
		}
		return nil
	})
}

// UploadContent is the content of a file that waits. Only some parts of it are in
// memory at once. It may be read by many goroutines.
func (s *Store) UploadContent(ctx context.Context, u Upload) io.ReaderAt {
	return &uploadContent{store: s, ctx: ctx, of: u, parts: map[int64][]byte{}}
}

// uploadContent reads a file part by part.
type uploadContent struct {
	store *Store
	ctx   context.Context
	of    Upload

	mu    sync.Mutex
	parts map[int64][]byte
	order []int64 // of the parts, as they were read
}

// partsHeld is how many parts of a file are in memory at once.
const partsHeld = 8

func (c *uploadContent) ReadAt(p []byte, at int64) (n int, err error) {
	for n < len(p) {
		if at >= c.of.Bytes {
			return n, io.EOF
		}
		part, err := c.part(at / uploadPart)
		if err != nil {
			return n, err
		}
		from := at % uploadPart
		if from >= int64(len(part)) {
			return n, fmt.Errorf("%s, as it waits, is not whole", c.of.File)
		}
		copied := copy(p[n:], part[from:])
		n, at = n+copied, at+int64(copied)
	}
	return n, nil
}

func (c *uploadContent) part(no int64) ([]byte, error) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if part, ok := c.parts[no]; ok {
		return part, nil
	}
	var small []byte
	err := c.store.read.GetContext(c.ctx, &small, c.store.sqlText("SELECT content FROM upload_parts WHERE upload_id = ? AND part_no = ?"), c.of.ID, no)
	if errors.Is(err, sql.ErrNoRows) {
		return nil, ErrNoUpload
	}
	if err != nil {
		return nil, c.store.explain(c.ctx, err)
	}
	part, err := unpacked(small)
	if err != nil {
		return nil, err
	}
	if len(c.order) == partsHeld {
		delete(c.parts, c.order[0])
		c.order = c.order[1:]
	}
	c.parts[no], c.order = part, append(c.order, no)
	return part, nil
}
