package main

import (
	"bytes"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"pourback/ingest/store/storetest"
)

// pictureFiles are pictures of other rooms' tests: invented scenes.
var (
	pictureFiles = filepath.Join(top, "ingest", "picture", "testdata")
	slabPicture  = absolute(filepath.Join(pictureFiles, "upright.png"))
	notesPicture = absolute(filepath.Join(pictureFiles, "notes.jpg"))
)

func absolute(path string) string {
	abs, err := filepath.Abs(path)
	if err != nil {
		panic(err)
	}
	return abs
}

const visitsOfLog = "job_no,placement,seen_on,why,finding,crack_kind\nJ-1,A,2025-07-01,callback,crack,drying\n"

// pictureFolder begins in a folder with a job log, a visit and pictures.
func pictureFolder(t *testing.T) {
	t.Helper()
	slab, notes := readFile(t, slabPicture), readFile(t, notesPicture)
	inFolder(t, map[string]string{"log.csv": goodLog, "visits.csv": visitsOfLog, "slab.png": slab, "crack.jpg": notes,
		"page.jpg": "<html><script>alert(1)</script></html>", "phone.jpg": "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"})
}

// keyIn is the key that a call names.
func keyIn(t *testing.T, text string) string {
	t.Helper()
	found := regexp.MustCompile(`[0-9a-f]{32}`).FindString(text)
	if found == "" {
		t.Fatalf("no key in %s", text)
	}
	return found
}

// TestPictures keeps pictures, lists them, hands them out and in again, takes them
// back, brings them back and purges them, on both engines.
func TestPictures(t *testing.T) {
	storetest.Each(t, func(t *testing.T, dsn string) {
		pictureFolder(t)
		pb := func(args ...string) result { return call(t, append(args, "--db", dsn)...) }
		pb("ingest", "log.csv", "visits.csv").want(t, exitDone)
		added := pb("picture", "J-1/A", "crack.jpg", "page.jpg", "phone.jpg", "none.jpg", "--visit", "2025-07-01", "--caption", "by the garage", "--by", "Wren", "--spot", "12, 8.5")
		added.want(t, exitSetAside, "crack.jpg: new, 48 by 32 pixels", "page.jpg: refused, is a web page", "phone.jpg: refused, is a HEIC", "none.jpg: refused, cannot be opened", "kept with J-1 A as batch 3")
		key := keyIn(t, added.stdout)
		pb("picture", "J-1", "slab.png").want(t, exitDone, "new", "batch 4")
		pb("picture", "J-1/A", "slab.png").want(t, exitDone, "unchanged", "nothing new")
		pb("pictures", "J-1/A").want(t, exitDone, "visit 2025-07-01", "by the garage", "2 pictures")
		pb("picture").want(t, exitDone, "2 pictures", "of 2000 MB")
		pb("visits", "--slab", "J-1/A").want(t, exitDone, "2 pictures are kept with this slab.")
		pb("check").want(t, exitDone, "2 pictures")
		if got := pb("picture", "J-1/A", "--no-names", "--json").stdout; strings.Contains(got, "garage") || strings.Contains(got, "Wren") {
			t.Error(got)
		}
		pb("export", "out").want(t, exitDone, filepath.Join("out", "pictures.csv")+": 2 rows")
		for _, name := range pictureNames(t, "out") {
			if b := readFile(t, filepath.Join("out", "pictures", name)); strings.Contains(b, "Exif") || strings.Contains(b, "script") {
				t.Error(name, "holds more than the picture")
			}
		}
		pb("picture", "--take-back", key).want(t, exitDone, "is taken back, as batch 5")
		pb("picture", "--take-back", key).want(t, exitFailed, "taken back already")
		pb("picture", "J-1/A").want(t, exitDone, "1 pictures")
		pb("undo", "3").want(t, exitFailed, "take back batch 5 first")
		pb("undo", "5").want(t, exitDone)
		pb("picture", "J-1/A").want(t, exitDone, "2 pictures")
		pb("picture", "--take-back", key).want(t, exitDone)
		pb("undo", "4").want(t, exitDone, "1 records removed")
		pb("picture", "--purge").want(t, exitDone, "2 pictures that were taken back are gone")
		pb("picture", "--purge").want(t, exitDone, "0 pictures")
		pb("undo", "6").want(t, exitFailed, "were purged since")
		pb("check").want(t, exitDone, "0 pictures")
		pb("picture", "J-1/A", "slab.png").want(t, exitDone, "new")
		pb("picture", "J-1/A", "crack.jpg", "--visit", "2025-07-01").want(t, exitDone, "changed") // it stands again
		pb("check").want(t, exitDone, "2 pictures")
		pb("picture", "J-1/A").want(t, exitDone, "by the garage", "2 pictures")
	})
}

func pictureNames(t *testing.T, dir string) (names []string) {
	t.Helper()
	entries, err := os.ReadDir(filepath.Join(dir, "pictures"))
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		if strings.HasSuffix(e.Name(), ".jpg") {
			names = append(names, e.Name())
		}
	}
	return names
}

// TestPicturesThereAndBack exports from each engine, takes the export into an
// empty database of the other, and demands the same files from it.
func TestPicturesThereAndBack(t *testing.T) {
	pictureFolder(t)
	dsns := []string{storetest.SQLite(t), storetest.Postgres(t)}
	db := func(i int, args ...string) result { return call(t, append(args, "--db", dsns[i])...) }
	db(0, "ingest", "log.csv", "visits.csv").want(t, exitDone)
	db(0, "picture", "J-1/A", "crack.jpg", "slab.png", "--visit", "2025-07-01", "--caption", "=SUM(A1), \"quoted\"").want(t, exitDone)
	db(0, "picture", "J-2", "slab.png").want(t, exitDone)
	db(0, "export", "one").want(t, exitDone)
	tables, _ := filepath.Glob(filepath.Join("one", "*.csv"))
	db(1, append([]string{"ingest"}, tables...)...).want(t, exitDone, "pictures: 3 read, 3 new")
	db(1, append([]string{"ingest"}, tables...)...).want(t, exitDone, "pictures: 3 read, 0 new, 0 changed, 3 unchanged")
	db(1, "check").want(t, exitDone, "3 pictures")
	db(1, "export", "two").want(t, exitDone)
	names := pictureNames(t, "one")
	if len(names) != 3 || !slices.Equal(names, pictureNames(t, "two")) {
		t.Fatalf("%v and %v", names, pictureNames(t, "two"))
	}
	for _, name := range append([]string{filepath.Join("..", "pictures.csv")}, names...) {
		if readFile(t, filepath.Join("one", "pictures", name)) != readFile(t, filepath.Join("two", "pictures", name)) {
			t.Errorf("%s is another", name)
		}
	}
	db(1, "export", "nameless", "--no-names").want(t, exitDone)
	for _, name := range []string{"pictures", "pictures.csv"} {
		if _, err := os.Stat(filepath.Join("nameless", name)); err == nil {
			t.Error(name, "is written without names")
		}
	}
	key := keyIn(t, db(1, "picture", "J-2").stdout)
	db(1, "picture", "--take-back", key).want(t, exitDone)
	db(1, "ingest", filepath.Join("two", "pictures.csv")).want(t, exitDone, "3 unchanged") // which does not bring it back
	db(1, "picture", "J-2").want(t, exitDone, "0 pictures")
	db(0, "backup", "copy.db").want(t, exitDone)
	db(0, "undo", "3").want(t, exitDone)
	db(0, "restore", "copy.db").want(t, exitDone)
	db(0, "check").want(t, exitDone, "3 pictures")
}

// TestPictureCalls are calls whose words are wrong, or that name what is not there.
func TestPictureCalls(t *testing.T) {
	pictureFolder(t)
	call(t, "ingest", "log.csv", "visits.csv").want(t, exitDone)
	for args, words := range map[string]string{
		"picture J-1/A slab.png --visit 2025-13-01":                      "--visit",
		"picture J-1/A slab.png --visit 2025-07-01 --ticket T-1":         "belongs to one of them",
		"picture J-1/A --caption x":                                      "name the slab and the files",
		"picture --purge J-1/A":                                          "stand alone",
		"picture --purge --take-back x":                                  "stand alone",
		"picture J-1/A slab.png --spot 12":                               "such as 12,8.5",
		"picture J-1/A slab.png --spot -1,2":                             "such as 12,8.5",
		"picture J-1/A slab.png --spot NaN,2":                            "such as 12,8.5",
		"picture J-1/A slab.png --capton x":                              "--capton",
		"picture J-1/A slab.png --purge --caption":                       "--caption",
		"report --no-pictures=maybe":                                     "no-pictures",
		"picture J-1/A slab.png --take-back 0123456789abcdef --spot 1,2": "stand alone",
	} {
		call(t, strings.Fields(args)...).want(t, exitUsage, words)
	}
	for args, words := range map[string]string{
		"picture J-1/B slab.png":                     "did you mean J-1/A?",
		"picture J-9/A slab.png":                     "no job \"J-9\" on record",
		"picture slab.png J-1/A":                     "no job \"slab.png\"",
		"picture J-1/A slab.png --visit 2025-07-02":  "no visit 2025-07-02 of J-1/A",
		"picture J-1/A slab.png --ticket T-1":        "no load T-1",
		"picture --take-back 0123456789":             "there is no such picture",
		"picture J-1/A page.jpg":                     "web page",
		"picture J-1/A .":                            "no file",
		"picture J-1/A slab.png --db nothing.db":     "there is no database",
		"picture J-1/A ../../etc/passwd-no-such.jpg": "cannot be opened",
	} {
		got := call(t, strings.Fields(args)...)
		if got.status != exitFailed || !strings.Contains(got.stdout+got.stderr, words) {
			t.Errorf("%s: %d %s%s", args, got.status, got.stdout, got.stderr)
		}
	}
	call(t, "picture").want(t, exitDone, "0 pictures")
	call(t, "batches", "--json").want(t, exitDone)
	if err := os.WriteFile("pourback.yaml", []byte("pictures: {quota_mb: 0.001}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	call(t, "picture", "J-1/A", "slab.png").want(t, exitFailed, "pictures.quota_mb")
	if err := os.WriteFile("pourback.yaml", []byte("pictures: {quota: 5}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	call(t, "picture").want(t, exitUsage, "did you mean \"quota_mb\"?")
	if err := os.WriteFile("pourback.yaml", []byte("pictures: {quota_mb: -5}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	call(t, "picture").want(t, exitUsage, "want a number of megabytes")
}

// TestPositionIsKeptOnlyWhereItIsWanted: by the owner's setting, beside the picture
// and never within it.
func TestPositionIsKeptOnlyWhereItIsWanted(t *testing.T) {
	for _, want := range []bool{false, true} {
		pictureFolder(t)
		if err := os.WriteFile("pourback.yaml", fmt.Appendf(nil, "pictures: {keep_position: %v, keep_time: %v}\n", want, want), 0o600); err != nil {
			t.Fatal(err)
		}
		call(t, "ingest", "log.csv").want(t, exitDone)
		call(t, "picture", "J-1/A", "crack.jpg").want(t, exitDone)
		call(t, "export", "out").want(t, exitDone)
		table := readFile(t, filepath.Join("out", "pictures.csv"))
		if got := strings.Contains(table, "33.450139,-112.075"); got != want {
			t.Errorf("a position, wanted %v: %s", want, table)
		}
		if got := strings.Contains(table, "2025-06-03T07:15:09"); got != want {
			t.Errorf("a time, wanted %v: %s", want, table)
		}
	}
}

// TestReportShowsPictures: thumbnails stand in a slab's story, oldest first, with
// the day and what was found; in none without names, or where none are wanted.
func TestReportShowsPictures(t *testing.T) {
	pictureFolder(t)
	call(t, "ingest", "log.csv", "visits.csv").want(t, exitDone)
	call(t, "picture", "J-1/A", "slab.png", "--caption", "<b>as poured</b>").want(t, exitDone)
	call(t, "picture", "J-1/A", "crack.jpg", "--visit", "2025-07-01").want(t, exitDone) // taken on 2025-06-03
	call(t, "report", "--out", "r", "--single", "all.html").want(t, exitUsage)
	call(t, "report", "--out", "r").want(t, exitDone)
	call(t, "report", "--single", "all.html").want(t, exitDone)
	shown := regexp.MustCompile(`<img src="data:image/jpeg;base64,([^"]+)" width="48" height="32" alt="([^"]+)" loading="lazy"><figcaption>([^<]*)</figcaption>`)
	for _, name := range []string{filepath.Join("r", "slabs.html"), "all.html"} {
		found := shown.FindAllStringSubmatch(readFile(t, name), -1)
		if len(found) != 2 || found[0][3] != "2025-06-03; crack, drying" || !strings.HasSuffix(found[1][3], "; &lt;b&gt;as poured&lt;/b&gt;") || found[0][2] != "Picture of J-1 A, June 3, 2025" {
			t.Fatalf("%s: %q", name, found)
		}
		b, err := base64.StdEncoding.DecodeString(strings.ReplaceAll(found[0][1], "&#43;", "+"))
		if err != nil {
			t.Fatal(err)
		}
		m, err := jpeg.Decode(bytes.NewReader(b))
		if err != nil {
			t.Fatal(err)
		}
		if c := color.NRGBAModel.Convert(m.At(40, 26)).(color.NRGBA); c.R < 200 || c.B > 110 { // the yellow corner, so it is upright
			t.Errorf("%s: %v", name, c)
		}
	}
	for _, args := range [][]string{{"--no-names"}, {"--no-pictures"}} {
		call(t, append([]string{"report", "--single", "none.html", "--force"}, args...)...).want(t, exitDone)
		if strings.Contains(readFile(t, "none.html"), "data:image/jpeg") {
			t.Errorf("pictures with %v", args)
		}
	}
	call(t, "report", "--single", "then.html", "--as-of", "2025-08-01").want(t, exitDone)
	if n := strings.Count(readFile(t, "then.html"), "data:image/jpeg"); n != 1 {
		t.Errorf("%d pictures were known on that day, want 1", n)
	}
}

// TestKilledWhileKeepingPictures kills calls at random moments: each picture is
// there whole or not at all, and the database is sound.
func TestKilledWhileKeepingPictures(t *testing.T) {
	pictureFolder(t)
	call(t, "ingest", "log.csv", "visits.csv").want(t, exitDone)
	if err := os.WriteFile("large.jpg", noise(t, 2000, 1500), 0o600); err != nil {
		t.Fatal(err)
	}
	unhindered := program(t, "picture", "J-2/A", "large.jpg", "slab.png")
	began := time.Now()
	ended(t, unhindered, nil).want(t, exitDone)
	took := time.Since(began)
	call(t, "undo", "3").want(t, exitDone)
	call(t, "picture", "--purge").want(t, exitDone)
	kills, cut := 30, 0
	if testing.Short() {
		kills = 8
	}
	for i := range kills {
		cmd := program(t, "picture", "J-1/A", "large.jpg", "slab.png", "--caption", fmt.Sprint("try ", i))
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		time.Sleep(time.Duration(rand.Int64N(int64(took))))
		cmd.Process.Kill()
		if cmd.Wait() != nil {
			cut++
		}
		call(t, "check").want(t, exitDone, "Every record is as it was written")
		if n := kept(t); n != 0 && n != 2 {
			t.Fatalf("kill %d: %d pictures", i, n)
		}
	}
	if cut == 0 {
		t.Error("no call was killed before it ended")
	}
	call(t, "picture", "J-1/A", "large.jpg", "slab.png").want(t, exitDone)
	if n := kept(t); n != 2 {
		t.Errorf("%d pictures", n)
	}
}

// noise is a JPEG that is as long as a photo.
func noise(t *testing.T, w, h int) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, w, h))
	dice := rand.New(rand.NewPCG(1, 2))
	for i := range m.Pix {
		m.Pix[i] = byte(dice.UintN(256))
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func kept(t *testing.T) int {
	t.Helper()
	var list struct {
		Pictures []any `json:"pictures"`
	}
	if err := json.Unmarshal([]byte(call(t, "picture", "--json").stdout), &list); err != nil {
		t.Fatal(err)
	}
	return len(list.Pictures)
}
