package storetest_test

import (
	"strings"
	"testing"

	"pourback/ingest/store/storetest"
)

// TestUnportable holds the list against statements that use what it names.
func TestUnportable(t *testing.T) {
	for text, what := range map[string]string{
		"CREATE TRIGGER t AFTER INSERT ON jobs FOR EACH ROW EXECUTE FUNCTION f()": "triggers",
		"CREATE TABLE t (id BIGSERIAL PRIMARY KEY)":                               "sequences",
		"SELECT nextval('n')":                                                     "sequences",
		"CREATE TEMP TABLE t (n BIGINT)":                                          "temporary tables",
		"CREATE FUNCTION f() RETURNS BIGINT LANGUAGE plpgsql AS $$ $$":            "language",
		"DO $$ BEGIN END $$":                                                      "language",
		"SELECT job_no FROM jobs WHERE job_no = ANY($1)":                          "arrays",
		"SELECT ARRAY[1]":                                                         "arrays",
		"LOCK TABLE jobs":                                                         "locks",
		"SELECT job_no FROM jobs FOR UPDATE":                                      "locks",
		"SELECT job_no FROM jobs WHERE ctid < '(9,0)'":                            "disk",
		"SELECT percentile_cont(0.5) WITHIN GROUP (ORDER BY minutes) FROM delays": "ordered-set",
		"SELECT pg_relation_size('jobs')":                                         "server itself",
		"SET LOCAL work_mem = '1GB'":                                              "server itself",
		"SELECT placement FROM placements ORDER BY job_no":                        "tie-breaker (placement)",
		"SELECT file FROM batches ORDER BY taken_at DESC LIMIT 1":                 "tie-breaker (batch_id)",
		"SELECT job_no FROM jobs LIMIT 1":                                         "limit without",
		"SELECT n FROM elsewhere ORDER BY n":                                      "unknown table",
	} {
		if got := storetest.Unportable("pourback", text); !strings.Contains(got, what) {
			t.Errorf("%s\nlacks %q, want %q", text, got, what)
		}
	}
	for _, text := range []string{
		"SELECT job_no, placement FROM placements ORDER BY job_no, placement LIMIT 5", "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY",
		"SELECT change_no FROM changes WHERE batch_id = $1 AND change_no > $2 ORDER BY change_no LIMIT 1000",
		"SELECT pg_advisory_xact_lock(1886352754)", "COPY (SELECT job_no FROM jobs) TO STDOUT WITH (FORMAT binary)",
	} {
		if got := storetest.Unportable("pourback", text); got != "" {
			t.Errorf("%s\nlacks %q", text, got)
		}
	}
	if got := storetest.Unportable(storetest.Lockless, "SELECT pg_advisory_xact_lock(1886352754)"); got == "" {
		t.Error("an advisory lock where the setting is none")
	}
}
