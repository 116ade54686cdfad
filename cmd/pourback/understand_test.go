package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"pourback/ingest/sheet"
	"pourback/ingest/store/storetest"
)

// doubtful is an invented log with two headings that nobody can be sure of: Yds
// may be ordered or delivered, and Zorb degrees or hours.
const doubtful = `Job,Date,Type of Work,Sq Ft,Thick,Yds,Zorb,Crew,Weather,Price
25-01,1/16/2025,driveway,480,4,6.25,52,Heron,sunny,4150
25-02,1/22/2025,patio,320,4,4.25,48,Wren,cold,2650
25-03,1/29/2025,walk,120,4,1.75,41,Heron,windy,1350
25-04,2/6/2025,driveway,600,4,7.75,60,Wren,sunny,5150
25-05,2/12/2025,patio,400,4,5.25,55,Heron,,3650
25-06,2/19/2025,walk,160,4,2.25,43,Wren,sunny,1750
`

// callTyping runs the program for somebody at a terminal who types so.
func callTyping(t *testing.T, typed string, args ...string) result {
	t.Helper()
	var out, errs bytes.Buffer
	env := environment{stdout: &out, stderr: &errs, stdin: strings.NewReader(typed), terminal: true, asks: true,
		now: func() time.Time { return time.Date(2026, 3, 31, 12, 0, 0, 0, time.UTC) }}
	status := run(context.Background(), args, env)
	return result{status, out.String(), errs.String()}
}

// columnOf is what the export holds in a column of placements, joined by spaces.
func columnOf(t *testing.T, db, column string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "out")
	call(t, "export", dir, "--db", db).want(t, exitDone)
	lines := strings.Split(strings.TrimSpace(strings.ReplaceAll(readFile(t, filepath.Join(dir, "placements.csv")), "\r", "")), "\n")
	var values []string
	for at, name := range strings.Split(lines[0], ",") {
		for _, line := range lines[1:] {
			if name == column {
				values = append(values, strings.Split(line, ",")[at])
			}
		}
	}
	return strings.TrimSpace(strings.Join(values, " "))
}

// TestAskAndRemember asks a person about what is not sure, before anything is
// kept, and asks nothing about the next month's file.
func TestAskAndRemember(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful, "feb.csv": strings.ReplaceAll(doubtful, "\n25-", "\n26-")})
	storetest.Each(t, func(t *testing.T, dsn string) {
		r := callTyping(t, "nine\n99\nloads.yards\ndelivered_yd\nair_temp_f\n", "ingest", "jan.csv", "--db", dsn)
		r.want(t, exitDone, "jan.csv is read as placements", `Question 1 of 2: what is "Yds" (6.25 · 4.25 · 1.75)?`, `what is "Zorb"`, "There are choices 1 to ", "loads.yards is no column of placements", `"nine" is no column`, "6 new",
			`not used, kept with each row as written: "Weather"`)
		if got := columnOf(t, dsn, "delivered_yd") + " | " + columnOf(t, dsn, "air_temp_f") + " | " + columnOf(t, dsn, "Weather"); got != "6.25 4.25 1.75 7.75 5.25 2.25 | 52 48 41 60 55 43 | sunny cold windy sunny  sunny" {
			t.Errorf("kept %s", got)
		}
		next := callTyping(t, "", "ingest", "feb.csv", "--db", dsn)
		next.want(t, exitDone, "6 new", "delivered_yd")
		if strings.Contains(next.stderr, "Question") {
			t.Errorf("asked again:\n%s", next.stderr)
		}
		call(t, "ingest", "--answers", "--db", dsn).want(t, exitDone, "Yds", "delivered_yd", "Zorb", "air_temp_f")
		call(t, "ingest", "--forget", "yds", "--db", dsn).want(t, exitDone, "Forgotten: 1")
		call(t, "ingest", "--forget", "yds", "--db", dsn).want(t, exitFailed, "nothing is remembered")
		again := callTyping(t, "\n", "ingest", "feb.csv", "--dry-run", "--db", dsn)
		again.want(t, exitDone, "Question 1 of 1", `"Yds"`)
	})
}

// TestStopAtAQuestion keeps nothing, not even the answers before it.
func TestStopAtAQuestion(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful})
	callTyping(t, "delivered_yd\nq\n", "ingest", "jan.csv").want(t, exitFailed, "nothing was kept")
	call(t, "batches").want(t, exitDone, "Nothing has been taken in yet")
	call(t, "ingest", "--answers").want(t, exitDone, "Nobody has been asked")
}

// TestNobodyToAsk leaves out what is not sure and says so; --yes does the same
// where there is somebody.
func TestNobodyToAsk(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful})
	for _, r := range []result{call(t, "ingest", "jan.csv", "--db", "a.db"), callTyping(t, "", "ingest", "jan.csv", "--yes", "--db", "b.db")} {
		r.want(t, exitDone, "6 new", "Yds", "delivered_yd or planned_yd", "left out", "--map")
		if strings.Contains(r.stderr, "Question") {
			t.Errorf("asked:\n%s", r.stderr)
		}
	}
	if got := columnOf(t, "a.db", "delivered_yd") + columnOf(t, "a.db", "planned_yd"); got != "" {
		t.Errorf("a guess was kept: %s", got)
	}
	if got := columnOf(t, "a.db", "Yds"); got != "6.25 4.25 1.75 7.75 5.25 2.25" {
		t.Errorf("of the column left out %q is kept with the rows", got)
	}
}

// TestMap says outright what headings mean, is remembered, and is told what is
// wrong with it.
func TestMap(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful})
	for _, c := range []struct{ told, says string }{
		{"Yrds=delivered_yd", `no heading "Yrds"; did you mean "Yds"?`}, {"Yds=deliverd_yd", "did you mean delivered_yd?"}, {"Yds", "is no answer"}, {"Jan!Yds=delivered_yd", `no sheet that is read is called "Jan"`},
	} {
		call(t, "ingest", "jan.csv", "--map", c.told).want(t, exitUsage, c.says)
	}
	call(t, "batches").want(t, exitDone, "Nothing has been taken in yet")
	call(t, "ingest", "jan.csv", "--map", "yds=planned_yd", "--map", "Zorb=", "--map", "Yds=delivered_yd").want(t, exitDone, "6 new", `"Zorb"`)
	if got := columnOf(t, "pourback.db", "delivered_yd"); got != "6.25 4.25 1.75 7.75 5.25 2.25" {
		t.Errorf("delivered_yd is %q", got)
	}
	call(t, "ingest", "jan.csv").want(t, exitDone, "6 unchanged")
	call(t, "ingest", "jan.csv", "--dry-run", "--map", "Yds=loads.yards").want(t, exitDone, `"Yds" is not read as loads.yards: it stands in a table of placements`)
}

// TestExplain shows the whole reading and keeps nothing: as JSON, exactly the
// keys that others rely on.
func TestExplain(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful, "loads.csv": "job_no,ticket_no,yards\nJ-1,7,5.5\n"})
	call(t, "ingest", "--explain", "jan.csv", "loads.csv").want(t, exitDone, "jan.csv is read as placements", "? Yds", "delivered_yd or planned_yd?", "sunny · cold · windy", "loads.csv is read as loads")
	call(t, "ingest", "--explain", "none.csv", "jan.csv").want(t, exitFailed, "none.csv", "jan.csv is read as placements")
	if _, err := os.Stat("pourback.db"); err == nil {
		t.Error("--explain made a database")
	}
	for name, want := range map[string]sheet.HeadingReading{
		"jan.csv":   {Heading: "Weather", Column: "", Sure: true, Choices: []string{}, Samples: []string{"sunny", "cold", "windy"}},
		"loads.csv": {Heading: "yards", Column: "loads.yards", Sure: true, Choices: []string{}, Samples: []string{"5.5"}},
	} {
		var got sheet.Reading
		d := json.NewDecoder(strings.NewReader(call(t, "ingest", "--explain", "--json", name).stdout))
		d.DisallowUnknownFields()
		if err := d.Decode(&got); err != nil || got.File != name || len(got.Tables) != 1 {
			t.Fatalf("%s: %+v (%v)", name, got, err)
		}
		found := false
		for _, h := range got.Tables[0].Headings {
			a, _ := json.Marshal(h)
			b, _ := json.Marshal(want)
			found = found || bytes.Equal(a, b)
		}
		if !found {
			t.Errorf("%s: nothing reads %+v in %+v", name, want, got.Tables[0].Headings)
		}
	}
}

// TestCellLeftEmpty keeps the row, says so by the exit status and in the file to
// fix, and takes the cell up when that file is handed in again.
func TestCellLeftEmpty(t *testing.T) {
	inFolder(t, map[string]string{"log.csv": strings.Replace(jobLog, "J-2,2025-06-04,patio,324,4,4.5,", "J-2,2025-06-04,patio,324,4,some,", 1)})
	call(t, "ingest", "log.csv", "--strict", "--db", "strict.db").want(t, exitFailed, "2 of its rows have errors")
	call(t, "ingest", "log.csv").want(t, exitSetAside, "3 read, 2 new", "1 set aside, 1 kept with a cell left empty", "log.set-aside.csv")
	aside := readFile(t, "log.set-aside.csv")
	if !strings.Contains(aside, "J-2,2025-06-04,patio,324,4,some,") || !strings.Contains(aside, `delivered_yd ""some""`) {
		t.Errorf("the file to fix is\n%s", aside)
	}
	write := func(name, text string) {
		if err := os.WriteFile(name, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("log.set-aside.csv", strings.NewReplacer(",some,", ",4.5,", ",45,", ",4.5,").Replace(aside))
	call(t, "ingest", "log.set-aside.csv").want(t, exitDone, "2 read, 1 new, 1 changed")
	if got := columnOf(t, "pourback.db", "delivered_yd"); got != "10.5 4.5 4.5" {
		t.Errorf("delivered_yd is %q", got)
	}
}

// TestAnythingTyped lets somebody type anything at the questions: the call ends,
// keeps the rows or says that it stopped, and a column that nobody named stays
// out.
func TestAnythingTyped(t *testing.T) {
	inFolder(t, map[string]string{"jan.csv": doubtful})
	line := rapid.OneOf(rapid.SampledFrom([]string{"", "1", "2", "3", "0", "-1", "q", "delivered_yd", "loads.yards", "size", "=", "planned_yd=2", "\x1b[2J", "yards"}), rapid.String())
	db := 0
	rapid.Check(t, func(r *rapid.T) {
		typed := strings.Join(rapid.SliceOfN(line, 0, 8).Draw(r, "lines"), "\n")
		db++
		name := fmt.Sprint(db, ".db")
		got := callTyping(t, typed, "ingest", "jan.csv", "--db", name)
		stopped := strings.Contains(got.stderr, "stopped: nothing was kept")
		if got.status != exitDone && got.status != exitSetAside && !(got.status == exitFailed && stopped) || !stopped && !strings.Contains(got.stdout, "6 new") {
			r.Fatalf("typed %q: status %d\n%s%s", typed, got.status, got.stdout, got.stderr)
		}
		if strings.Contains(got.stderr, "\x1b[2J") {
			r.Fatalf("typed %q: the terminal was obeyed", typed)
		}
		for _, path := range []string{name, name + "-wal", name + "-shm"} {
			os.Remove(path)
		}
	})
}

// FuzzAnswer reads any text as an answer; what is one comes back from its parts.
func FuzzAnswer(f *testing.F) {
	for _, s := range []string{"Act Yds=delivered_yd", "Jan!Yds=", "a=b=loads.yards", "!=size", "Wow!=note", "x!y!z=use", "=", "", "Zorb=\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := sheet.ParseAnswer(s)
		if err != nil {
			return
		}
		text := a.Heading + "=" + a.Column
		if a.Sheet != "" || strings.Contains(a.Heading, "!") {
			text = a.Sheet + "!" + text
		}
		if again, err := sheet.ParseAnswer(text); err != nil || again != a {
			t.Errorf("%q is %+v, and %q is %+v (%v)", s, a, text, again, err)
		}
		if !sheet.SameHeading(a.Heading, " "+a.Heading+"\n") {
			t.Errorf("%q is another heading with spaces about it", a.Heading)
		}
	})
}
