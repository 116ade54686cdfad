package store_test

import (
	"bytes"
	"errors"
	"fmt"
	"strings"
	"testing"

	"pourback/ingest/record"
	"pourback/ingest/store"
	"pourback/ingest/store/storetest"
)

// aPicture is bytes of a picture with the row that names them.
func aPicture(key, content string) (store.PictureBytes, *record.Picture) {
	b := store.PictureBytes{Content: []byte(content + "\x00\xff\x80"), Thumb: []byte("small " + content)}
	return b, &record.Picture{JobNo: "J1", Placement: "A", Picture: key, File: "x", SHA256: b.SHA256()}
}

// keepPicture keeps one as a batch of its own.
func keepPicture(t *testing.T, s *store.Store, key, content string, quota int64) (store.Batch, error) {
	t.Helper()
	b, r := aPicture(key, content)
	tx, err := s.Begin(t.Context(), "picture", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	if err := tx.KeepPicture(t.Context(), b, quota); err != nil {
		return store.Batch{}, err
	}
	if _, err := tx.Add(t.Context(), record.Pictures, nil, numbered(r)); err != nil {
		t.Fatal(err)
	}
	return tx.Commit(t.Context(), store.Batch{Read: 1})
}

func pictureBack(t *testing.T, s *store.Store, key string) store.Batch {
	t.Helper()
	tx, err := s.Begin(t.Context(), "taken back", "00", now)
	if err != nil {
		t.Fatal(err)
	}
	defer tx.Rollback()
	r := &record.Picture{Picture: key, TakenBackAt: record.MomentOf(record.DateOf(2025, 6, 4), 0)}
	if _, err := tx.Set(t.Context(), r, only(record.Pictures, "taken_back_at")); err != nil {
		t.Fatal(err)
	}
	b, err := tx.Commit(t.Context(), store.Batch{Read: 1})
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// TestPicturesAreKept reads back what was kept, and keeps the same bytes once.
func TestPicturesAreKept(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		const room = 1000
		first, err := keepPicture(t, s, "k1", "one", room)
		equal(t, "batch", fmt.Sprint(first.ID, first.New, first.Tables, err), "1 1 [pictures] <nil>")
		again, err := keepPicture(t, s, "k1", "one", room)
		equal(t, "again", fmt.Sprint(again.ID, again.New, err), "0 0 <nil>")
		if _, err := keepPicture(t, s, "k2", "one", room); err != nil {
			t.Fatal(err)
		}
		used, err := s.PicturesUsed(t.Context())
		equal(t, "bytes of two pictures that are one", fmt.Sprint(used, err), fmt.Sprint(6+9, nil))
		all, err := s.Pictures(t.Context(), "J1")
		equal(t, "pictures", fmt.Sprint(len(all), []any{all[0].Picture, all[1].Picture}, err), "2 [k1 k2] <nil>")
		none, err := s.Pictures(t.Context(), "J2")
		equal(t, "of another job", fmt.Sprint(none, err), "[] <nil>")
		want, _ := aPicture("k1", "one")
		content, err := s.PictureContent(t.Context(), "k1")
		equal(t, "content", fmt.Sprint(content, err), fmt.Sprint(want.Content, nil))
		thumb, err := s.PictureThumb(t.Context(), "k2")
		equal(t, "thumbnail", fmt.Sprint(thumb, err), fmt.Sprint(want.Thumb, nil))
		if _, err := s.PictureContent(t.Context(), "k3"); !errors.Is(err, store.ErrNoPicture) {
			t.Error(err)
		}
		_, err = keepPicture(t, s, "k4", "one more", 25)
		var full *store.PicturesFullError
		if !errors.As(err, &full) || full.Used != 15 || full.Size != 11+14 || full.Quota != 25 {
			t.Errorf("%v, %+v", err, full)
		}
		if _, err := keepPicture(t, s, "k5", "one", 15); err != nil { // takes no room
			t.Error(err)
		}
		equal(t, "check", s.CheckDigests(t.Context()), nil)
	})
}

// TestPicturesTakenBack: nothing goes by being taken back; a purge lets go of what
// nothing that stands has, and what it let go cannot stand again.
func TestPicturesTakenBack(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		for key, content := range map[string]string{"k1": "one", "k2": "one", "k3": "three", "k4": "four"} {
			if _, err := keepPicture(t, s, key, content, 1000); err != nil {
				t.Fatal(err)
			}
		}
		purged := func(want string) {
			t.Helper()
			n, freed, err := s.PurgePictures(t.Context(), now)
			equal(t, "purged", fmt.Sprint(n, freed, err), want)
			equal(t, "check", s.CheckDigests(t.Context()), nil)
		}
		purged("0 0 <nil>")
		one, three := pictureBack(t, s, "k1"), pictureBack(t, s, "k3")
		for _, key := range []string{"k1", "k3"} {
			if _, err := s.PictureContent(t.Context(), key); !errors.Is(err, store.ErrNoPicture) {
				t.Error(key, err)
			}
		}
		if _, err := s.Undo(t.Context(), three.ID, now); err != nil {
			t.Fatal(err)
		}
		if _, err := s.PictureContent(t.Context(), "k3"); err != nil {
			t.Error(err)
		}
		three = pictureBack(t, s, "k3")
		purged("1 19 <nil>") // of three: k2 has what k1 had
		purged("0 0 <nil>")
		if _, err := s.Undo(t.Context(), three.ID, now); err == nil || !strings.Contains(err.Error(), "purged since") {
			t.Error(err)
		}
		if _, err := s.Undo(t.Context(), one.ID, now); err != nil {
			t.Error(err)
		}
		if _, err := keepPicture(t, s, "k5", "three", 1000); err != nil { // the same bytes come again
			t.Fatal(err)
		}
		content, err := s.PictureContent(t.Context(), "k5")
		equal(t, "content", fmt.Sprint(bytes.HasPrefix(content, []byte("three")), err), "true <nil>")
		purged("0 0 <nil>")
		if _, err := s.Undo(t.Context(), three.ID, now); err != nil { // and can stand again
			t.Error(err)
		}
		equal(t, "check", s.CheckDigests(t.Context()), nil)
	})
}

// TestCheckFindsPictures that are not as they were written.
func TestCheckFindsPictures(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		s := open(t, dsn)
		if _, err := keepPicture(t, s, "k1", "one", 1000); err != nil {
			t.Fatal(err)
		}
		blob := map[string]string{"sqlite": "x'00'", "postgres": `'\x00'`}[s.Engine()]
		for _, wrong := range []struct{ set, back, words string }{
			{"UPDATE picture_bytes SET content = " + blob, "", "the picture is not the one"},
			{"UPDATE picture_bytes SET thumb = " + blob, "", "the thumbnail is not the one"},
			{"UPDATE picture_bytes SET size = 3", "", "its size"},
			{"UPDATE picture_bytes SET purged_at = '2025-06-03T07:15:00Z'", "", "not there"},
			{"DELETE FROM picture_bytes", "", "the picture itself is not there"},
			{"UPDATE pictures SET caption = 'another'", "UPDATE pictures SET caption = NULL", "their digest differs"},
			{"DELETE FROM pictures", "", "wrote 1 rows, and 0 are there"},
		} {
			if err := s.Exec(wrong.set); err != nil {
				t.Fatal(err)
			}
			if err := s.CheckDigests(t.Context()); err == nil || !strings.Contains(err.Error(), wrong.words) {
				t.Errorf("%s: %v", wrong.set, err)
			}
			restorePicture(t, s, wrong.back)
		}
	})
}

// restorePicture makes the database sound again, as it was with one picture.
func restorePicture(t *testing.T, s *store.Store, back string) {
	t.Helper()
	for _, sql := range []string{back, "DELETE FROM picture_bytes", "DELETE FROM pictures", "UPDATE batches SET undone_at = '2025-06-03T07:15:00Z' WHERE undone_at IS NULL"} {
		if sql == "" {
			continue
		}
		if err := s.Exec(sql); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := keepPicture(t, s, "k1", "one", 1000); err != nil {
		t.Fatal(err)
	}
	equal(t, "check", s.CheckDigests(t.Context()), nil)
}
