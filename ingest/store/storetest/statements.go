package storetest

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"pourback/ingest/record"
)

// A database that speaks PostgreSQL's protocol need not be PostgreSQL. These
// tests collect every statement that the program sends to a server of theirs,
// and hold it against what such databases are known to lack. The list is made
// from memory of their documentation; none of them is at hand here.

// Lockless is the application_name by which a test says that a connection is to
// do without advisory locks.
const Lockless = "lockless"

// lacking is what a statement may not use.
var lacking = []struct {
	what string
	uses *regexp.Regexp
}{
	{"triggers", regexp.MustCompile(`(?i)\bTRIGGER\b`)},
	{"sequences", regexp.MustCompile(`(?i)\b(SEQUENCE|(BIG|SMALL)?SERIAL|nextval|currval|lastval|IDENTITY)\b`)},
	{"temporary tables", regexp.MustCompile(`(?i)\bTEMP(ORARY)?\b`)},
	{"functions and blocks of their own language", regexp.MustCompile(`(?i)\bLANGUAGE\b|\bCREATE\s+(OR\s+REPLACE\s+)?(FUNCTION|PROCEDURE)\b|\bDO\s+\$`)},
	{"arrays", regexp.MustCompile(`(?i)\bARRAY\b|\b(ANY|ALL)\s*\(|\[\s*\]|\bunnest\b|\barray_\w+\(`)},
	{"listening", regexp.MustCompile(`(?i)^\s*(LISTEN|NOTIFY)\b`)},
	{"locks of tables and rows", regexp.MustCompile(`(?i)^\s*LOCK\b|\bFOR\s+(NO\s+KEY\s+)?(UPDATE|(KEY\s+)?SHARE)\b`)},
	{"places of rows on disk, and what only this engine keeps of them", regexp.MustCompile(`(?i)\b(ctid|xmin|xmax|tableoid|reltuples|relpages|regclass|VACUUM|TABLESAMPLE)\b`)},
	{"ordered-set aggregates", regexp.MustCompile(`(?i)\bWITHIN\s+GROUP\b`)},
	{"functions of the server itself", regexp.MustCompile(`(?i)^\s*SET\b|\b(pg_\w+|txid_\w+|set_config)\s*\(|\bpg_stat_\w+`)},
}

// kept are the statements that use such a thing all the same, with the reason.
var kept = []struct {
	text   *regexp.Regexp
	reason string
}{
	{regexp.MustCompile(`^CREATE TABLE pourback_schema \(`), "the migrations' own table: its numbers are only to ascend"},
	{regexp.MustCompile(`^SELECT pg_advisory_xact_lock\(\d+\)$`), "left out by the setting lock: none"},
	{regexp.MustCompile(`^SELECT txid_current\(\)$`), "left out by the setting lock: none"},
	{regexp.MustCompile(`^SELECT COALESCE\(txid_status\(\$1\), ''\)$`), "asked where a commit lost its connection; no answer is a doubt, which is said"},
	{regexp.MustCompile(`^SELECT pg_terminate_backend\(pid\) FROM pg_stat_activity WHERE `), "asked of a connection that is lost; may fail"},
	{regexp.MustCompile(`^SELECT COUNT\(\*\) > 0 FROM pg_stat_activity WHERE application_name = `), "asked of a server that is silent; may fail"},
	{regexp.MustCompile(`^SELECT pg_export_snapshot\(\) WHERE set_config\(`), "where it fails, two views are compared by their stamps"},
	{regexp.MustCompile(`^SET TRANSACTION SNAPSHOT '[^']*'; SET LOCAL synchronize_seqscans = off$`), "follows a snapshot that was exported"},
}

// uniqueBy are columns that tell the rows of a table apart.
var uniqueBy = func() map[string][]string {
	all := map[string][]string{
		"batches": {"batch_id"}, "bids": {"bid_id"}, "bid_log": {"log_no"}, "heading_answers": {"answer_key"}, "leans": {"batch_id", "on_batch"},
		"changes": {"batch_id", "change_no"}, "set_aside": {"batch_id", "part_no"}, "above": {"id"}, "picture_bytes": {"sha256"}, "pourback_schema": {"id"},
		"users": {"user_id"}, "sessions": {"token_hash"}, "invitations": {"token_hash"}, "form_keys": {"form_key"}, "site_log": {"entry_no"},
		"uploads": {"upload_id"}, "upload_parts": {"upload_id", "part_no"},
		"information_schema": {"table_name", "ordinal_position"}, // of its columns, which only tests ask for
	}
	for _, t := range record.Stored {
		for _, i := range t.Keys() {
			all[t.Name] = append(all[t.Name], t.Columns[i].Name)
		}
	}
	return all
}()

var (
	ordering = regexp.MustCompile(`(?is)\bORDER BY (.+?)(?:\bLIMIT\b|\bOFFSET\b|\bWITH \(|\) TO STDOUT|$)`)
	fromText = regexp.MustCompile(`(?i)\bFROM (\w+)`)
	limiting = regexp.MustCompile(`(?i)\bLIMIT\b`)
)

// Unportable says what a statement uses that other databases lack, or "". The
// connection's application_name says whether it may lock.
func Unportable(application, text string) string {
	text = strings.TrimSpace(text)
	advisory := strings.Contains(text, "pg_advisory") || strings.Contains(text, "txid_current")
	if strings.HasPrefix(application, Lockless) && advisory {
		return "advisory locks, where the setting is none"
	}
	if slices.ContainsFunc(kept, func(k struct {
		text   *regexp.Regexp
		reason string
	}) bool {
		return k.text.MatchString(text)
	}) {
		return ""
	}
	for _, l := range lacking {
		if l.uses.MatchString(text) {
			return l.what
		}
	}
	return unordered(text)
}

// unordered says whether the order of a statement's rows is left to the engine,
// though it asks for one.
func unordered(text string) string {
	order := ordering.FindAllStringSubmatch(text, -1)
	if order == nil {
		if limiting.MatchString(text) {
			return "a limit without an order"
		}
		return ""
	}
	by := order[len(order)-1][1]
	from := fromText.FindAllStringSubmatch(text, -1)
	if from == nil {
		return "an order of no table"
	}
	keys := uniqueBy[from[len(from)-1][1]]
	for _, key := range keys {
		if !regexp.MustCompile(`\b`+key+`\b`).MatchString(by) && !regexp.MustCompile(`\b`+key+` = `).MatchString(text) {
			return "an order without a tie-breaker (" + key + ")"
		}
	}
	if len(keys) == 0 {
		return "an order of the unknown table " + from[len(from)-1][1]
	}
	return ""
}

// Main runs a package's tests, and fails where the program sent one of the
// servers a statement that another database lacks.
func Main(m *testing.M) (status int) {
	status = m.Run()
	running.Range(func(dir, _ any) bool {
		said, err := statements(filepath.Join(dir.(string), "log"))
		if err != nil {
			fmt.Println("the statements of the tests' server:", err)
			status = max(status, 1)
		}
		if len(said) > 0 {
			fmt.Printf("statements that other databases lack:\n%s\n", strings.Join(said, "\n"))
			status = max(status, 1)
		}
		return true
	})
	return status
}

// logPrefix has the server name the connection before each statement.
const logPrefix = "-c log_statement=all -c log_line_prefix=%a|"

var logged = regexp.MustCompile(`^([^|\n]*pourback [A-Z2-7]{12}|[^|\n]*pourback asks)\|LOG:  (?:statement|execute [^:]*): `)

// statements are those of the program, each once, that a server's log holds and
// that other databases lack.
func statements(log string) (wrong []string, err error) {
	all, err := os.ReadFile(log)
	if err != nil {
		return nil, err
	}
	seen, program := map[string]bool{}, 0
	entries := strings.Split(strings.ReplaceAll(string(all), "\n\t", "\n\x00"), "\n")
	for i := 0; i < len(entries); i++ {
		head := logged.FindStringSubmatch(entries[i])
		if head == nil {
			continue
		}
		program++
		text := entries[i][len(head[0]):]
		for i+1 < len(entries) && strings.HasPrefix(entries[i+1], "\x00") {
			i++
			text += "\n" + entries[i][1:]
		}
		application, _, _ := strings.Cut(head[1], " ")
		if seen[application+text] {
			continue
		}
		seen[application+text] = true
		if what := Unportable(application, text); what != "" {
			wrong = append(wrong, fmt.Sprintf("%s: %.300s", what, text))
		}
	}
	if program == 0 && len(all) > 0 {
		return nil, fmt.Errorf("%s holds no statement of the program", log)
	}
	return wrong, nil
}
