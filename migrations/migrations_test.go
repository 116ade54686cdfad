package migrations

import (
	"io/fs"
	"slices"
	"strings"
	"testing"
)

// TestBothEnginesHaveTheSameSteps demands a step of the same name for each.
func TestBothEnginesHaveTheSameSteps(t *testing.T) {
	lite, server := steps(t, "sqlite"), steps(t, "postgres")
	if len(lite) == 0 || !slices.Equal(lite, server) {
		t.Errorf("sqlite has %v, postgres has %v", lite, server)
	}
}

// TestPortableSchema forbids what other engines behind PostgreSQL's protocol
// lack, and demands that SQLite keeps to the types it is told.
func TestPortableSchema(t *testing.T) {
	for _, engine := range []string{"sqlite", "postgres"} {
		for _, name := range steps(t, engine) {
			text := strings.ToUpper(read(t, engine, name))
			for _, word := range []string{"SERIAL", "TRIGGER", "PLPGSQL", "TEMP ", "[]", "DROP TABLE"} {
				if strings.Contains(text, word) {
					t.Errorf("%s/%s: %s", engine, name, word)
				}
			}
			if tables, strict := strings.Count(text, "CREATE TABLE"), strings.Count(text, ") STRICT;"); engine == "sqlite" && tables != strict {
				t.Errorf("%s/%s: %d tables, %d of them STRICT", engine, name, tables, strict)
			}
		}
	}
}

func steps(t *testing.T, engine string) []string {
	t.Helper()
	dir, err := For(engine)
	if err != nil {
		t.Fatal(err)
	}
	names, err := fs.Glob(dir, "*.sql")
	if err != nil {
		t.Fatal(err)
	}
	return names
}

func read(t *testing.T, engine, name string) string {
	t.Helper()
	dir, _ := For(engine)
	text, err := fs.ReadFile(dir, name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}
