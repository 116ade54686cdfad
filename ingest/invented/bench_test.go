package invented

import (
	"testing"

	"pourback/ingest/record"
)

func BenchmarkGenerate20000(b *testing.B) {
	for b.Loop() {
		if _, _, err := Generate(Options{Jobs: 20_000, Seed: 1, Until: record.DateOf(2025, 6, 30)}); err != nil {
			b.Fatal(err)
		}
	}
}
