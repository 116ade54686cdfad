package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"

	"github.com/jmoiron/sqlx"

	"pourback/ingest/record"
)

// PictureBytes are a picture and its thumbnail.
type PictureBytes struct{ Content, Thumb []byte }

// SHA256 is that of the picture, in hex, by which its bytes are found.
func (b PictureBytes) SHA256() string { return hexSum(b.Content) }

func hexSum(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// PicturesFullError says that there is no room for a picture.
type PicturesFullError struct{ Used, Size, Quota int64 } // bytes

func (e *PicturesFullError) Error() string {
	const mb = 1e6
	return fmt.Sprintf("pictures take %.1f MB, and with this one of %.1f MB they would go over the %.0f MB of pictures.quota_mb; "+
		"raise it, or take pictures back and purge them", float64(e.Used)/mb, float64(e.Size)/mb, float64(e.Quota)/mb)
}

// Errors of pictures that are asked for.
var (
	ErrNoPicture = errors.New("there is no such picture")
	ErrPurged    = errors.New("this picture was taken back and purged")
)

// KeepPicture keeps a picture's bytes, unless they are there already. It fails
// with a [*PicturesFullError] where all pictures together would take more than
// quota bytes. The row that names it is added by [Tx.Add].
func (tx *Tx) KeepPicture(ctx context.Context, b PictureBytes, quota int64) error {
	there, err := tx.hasPicture(ctx, b.SHA256())
	if there || err != nil {
		return err
	}
	full := &PicturesFullError{Size: int64(len(b.Content) + len(b.Thumb)), Quota: quota}
	if err := tx.sql.GetContext(ctx, &full.Used, picturesUsed); err != nil {
		return tx.fail(ctx, err)
	}
	if full.Used+full.Size > quota {
		return full
	}
	stmt, err := tx.prepare(ctx, "INSERT INTO picture_bytes (sha256, size, thumb_sha256, thumb, content) VALUES (?, ?, ?, ?, ?) "+
		"ON CONFLICT (sha256) DO UPDATE SET size = excluded.size, purged_at = NULL, thumb_sha256 = excluded.thumb_sha256, thumb = excluded.thumb, content = excluded.content")
	if err == nil {
		_, err = stmt.ExecContext(ctx, b.SHA256(), full.Size, hexSum(b.Thumb), b.Thumb, b.Content)
	}
	return tx.fail(ctx, err)
}

const picturesUsed = "SELECT CAST(COALESCE(SUM(size), 0) AS BIGINT) FROM picture_bytes"

// hasPicture says whether the bytes of a picture are there.
func (tx *Tx) hasPicture(ctx context.Context, sha256 string) (bool, error) {
	if err := tx.usable(ctx); err != nil {
		return false, err
	}
	stmt, err := tx.prepare(ctx, "SELECT COUNT(*) FROM picture_bytes WHERE sha256 = ? AND purged_at IS NULL")
	n := 0
	if err == nil {
		err = stmt.GetContext(ctx, &n, sha256)
	}
	return n > 0, tx.fail(ctx, err)
}

// PicturesUsed is how many bytes all pictures take, those taken back included.
func (s *Store) PicturesUsed(ctx context.Context) (used int64, err error) {
	return used, s.explain(ctx, s.read.GetContext(ctx, &used, picturesUsed))
}

// Pictures lists what is known of the pictures that stand, without the pictures
// themselves: those of a job, or all where jobNo is "".
func (s *Store) Pictures(ctx context.Context, jobNo string) (all []record.Picture, err error) {
	err = s.retry(ctx, func() error {
		all, err = readPictures(ctx, s.read, jobNo)
		return err
	})
	return all, s.explain(ctx, err)
}

// Pictures is [Store.Pictures] of the snapshot.
func (now *Snapshot) Pictures(ctx context.Context, jobNo string) ([]record.Picture, error) {
	now.handed = true
	return readPictures(ctx, now.tx, jobNo)
}

func readPictures(ctx context.Context, from rebinder, jobNo string) ([]record.Picture, error) {
	query, args := "SELECT "+selectList(record.Pictures)+" FROM pictures WHERE taken_back_at IS NULL", []any{}
	if jobNo != "" {
		query, args = query+" AND job_no = ?", append(args, jobNo)
	}
	rows, err := from.QueryxContext(ctx, from.Rebind(query+" ORDER BY picture"), args...)
	if err != nil {
		return nil, err
	}
	defer rows.Close()
	var all []record.Picture
	for rows.Next() {
		var p record.Picture
		if err := rows.Scan(p.Fields()...); err != nil {
			return nil, err
		}
		all = append(all, p)
	}
	return all, rows.Err()
}

// PictureContent is the picture of a key, a JPEG: [ErrNoPicture] where none that
// stands has it.
func (s *Store) PictureContent(ctx context.Context, key string) ([]byte, error) {
	content, err := pictureContent(ctx, s.read, key)
	return content, s.explain(ctx, err)
}

// PictureContent is [Store.PictureContent] of the snapshot.
func (now *Snapshot) PictureContent(ctx context.Context, key string) ([]byte, error) {
	now.handed = true
	return pictureContent(ctx, now.tx, key)
}

func pictureContent(ctx context.Context, from rebinder, key string) ([]byte, error) {
	return pictureColumn(ctx, from, "content", key)
}

// PictureThumb is the thumbnail of the picture of a key, as [Store.PictureContent]
// has the picture.
func (s *Store) PictureThumb(ctx context.Context, key string) ([]byte, error) {
	thumb, err := pictureColumn(ctx, s.read, "thumb", key)
	return thumb, s.explain(ctx, err)
}

func pictureColumn(ctx context.Context, from rebinder, column, key string) ([]byte, error) {
	var is struct {
		Purged sql.NullString `db:"purged_at"`
		Bytes  []byte         `db:"bytes"`
	}
	err := sqlx.GetContext(ctx, from, &is, from.Rebind("SELECT b.purged_at, b."+column+" AS bytes FROM pictures p JOIN picture_bytes b ON b.sha256 = p.sha256 "+
		"WHERE p.picture = ? AND p.taken_back_at IS NULL"), key)
	switch {
	case errors.Is(err, sql.ErrNoRows):
		return nil, ErrNoPicture
	case err == nil && is.Purged.Valid:
		return nil, ErrPurged
	}
	return is.Bytes, err
}

// unneeded are bytes that no picture which stands has, as a condition.
const unneeded = "purged_at IS NULL AND NOT EXISTS (SELECT 1 FROM pictures WHERE pictures.sha256 = picture_bytes.sha256 AND taken_back_at IS NULL)"

// PurgePictures lets the bytes go of pictures that were taken back, and says how
// many pictures that were and how many bytes. at is the time in UTC to the
// second. What is known of them stays on record.
func (s *Store) PurgePictures(ctx context.Context, at string) (pictures int, freed int64, err error) {
	err = s.write(ctx, func(tx *Tx) error {
		count := "SELECT COUNT(*), CAST(COALESCE(SUM(size), 0) AS BIGINT) FROM picture_bytes WHERE " + unneeded
		if err := tx.sql.QueryRowxContext(ctx, count).Scan(&pictures, &freed); err != nil {
			return err
		}
		purge := s.sqlText("UPDATE picture_bytes SET purged_at = ?, size = 0, thumb = ?, content = ? WHERE " + unneeded)
		_, err := tx.sql.ExecContext(ctx, purge, at, []byte{}, []byte{})
		return err
	})
	return pictures, freed, err
}

// purgedAgain says why a batch cannot be taken back: it took pictures back, and
// their bytes are gone.
func (tx *Tx) purgedAgain(ctx context.Context) error {
	var n int
	err := tx.sql.GetContext(ctx, &n, "SELECT COUNT(*) FROM pictures p JOIN picture_bytes b ON b.sha256 = p.sha256 WHERE p.taken_back_at IS NULL AND b.purged_at IS NOT NULL")
	if err == nil && n > 0 {
		err = fmt.Errorf("batch %d took %d pictures back, and they were purged since: they cannot stand again", tx.batch.ID, n)
	}
	return err
}

// pictures holds each picture's bytes against their digests, and looks whether
// those of each picture that stands are there.
func (c *checker) pictures(ctx context.Context, tx *sqlx.Tx) error {
	rows, err := tx.QueryxContext(ctx, "SELECT sha256, size, purged_at, thumb_sha256, thumb, content FROM picture_bytes ORDER BY sha256")
	if err != nil {
		return err
	}
	defer rows.Close()
	for rows.Next() {
		var is struct {
			SHA256      string         `db:"sha256"`
			Size        int            `db:"size"`
			Purged      sql.NullString `db:"purged_at"`
			ThumbSHA256 string         `db:"thumb_sha256"`
			Thumb       []byte         `db:"thumb"`
			Content     []byte         `db:"content"`
		}
		if err := rows.StructScan(&is); err != nil {
			c.fault(Fault{Table: "picture_bytes", Wrong: fmt.Sprintf("cannot be read: %v", err)})
			continue
		}
		f := Fault{Table: "picture_bytes", Record: is.SHA256}
		switch {
		case is.Purged.Valid && is.Size+len(is.Content)+len(is.Thumb) == 0:
			continue
		case hexSum(is.Content) != is.SHA256:
			f.Wrong = "the picture is not the one that was written: its SHA-256 differs"
		case hexSum(is.Thumb) != is.ThumbSHA256:
			f.Wrong = "the thumbnail is not the one that was written: its SHA-256 differs"
		case is.Size != len(is.Content)+len(is.Thumb) || is.Purged.Valid:
			f.Wrong = "its size, or when it was purged, is not what was written"
		default:
			continue
		}
		c.fault(f)
	}
	if err := rows.Err(); err != nil {
		c.fault(Fault{Table: "picture_bytes", Wrong: fmt.Sprintf("cannot be read to its end: %v", err)})
	}
	return c.lostPictures(ctx, tx)
}

func (c *checker) lostPictures(ctx context.Context, tx *sqlx.Tx) error {
	var lost []struct {
		Picture string `db:"picture"`
		Batch   int64  `db:"batch_id"`
		Row     int    `db:"row_no"`
	}
	if err := tx.GetContext(ctx, &c.Pictures, "SELECT COUNT(*) FROM pictures WHERE taken_back_at IS NULL"); err != nil {
		return err
	}
	err := tx.SelectContext(ctx, &lost, "SELECT p.picture, p.batch_id, p.row_no FROM pictures p LEFT JOIN picture_bytes b ON b.sha256 = p.sha256 "+
		"WHERE p.taken_back_at IS NULL AND (b.sha256 IS NULL OR b.purged_at IS NOT NULL) ORDER BY p.picture")
	for _, l := range lost {
		c.fault(Fault{Table: record.Pictures.Name, Record: l.Picture, Batch: l.Batch, Row: l.Row, Wrong: "the picture itself is not there"})
	}
	return err
}
