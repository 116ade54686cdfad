package store

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"runtime"
	"testing"

	"pourback/ingest/record"
)

// benchRows makes rows of a job log in order, with the columns that such logs have.
func benchRows(from, n int) []Row {
	uses := []string{"driveway", "patio", "walkway", "garage slab"}
	rows := make([]Row, n)
	for i := range rows {
		at := from + i
		p := &record.Placement{
			JobNo: fmt.Sprintf("J%07d", at/2), Placement: string(rune('A' + at%2)), PlacedOn: record.Date(737000 + at/400), Use: uses[at%4],
			AreaSqft: record.Some(float64(300 + at%977)), ThicknessIn: record.Some(4.0), PlannedYd: record.Some(float64(at%31) * 0.25),
			DeliveredYd: record.Some(float64(at%37) * 0.25), LeftoverYd: record.Some(0.25), Method: "pump", PumpOutfit: "P1",
			Clogs: record.Some(int64(at % 2)), DelayMin: record.Some(int64(at % 60)), AirTempF: record.Some(71.0), ConcreteTempF: record.Some(70.5),
			HumidityPct: record.Some(40.0), WindMPH: record.Some(float64(at % 23)), Reinforcement: "mesh", JointSpacingFt: record.Some(10.0),
			SawHours: record.Some(6.5), Crew: "Heron", CrewSize: record.Some(int64(4)), LaborHours: record.Some(float64(at%301) / 4),
		}
		p.Log.ContractPrice, p.Log.BidCost, p.Log.ActualCost = record.Some(record.Cents(at*37)), record.Some(record.Cents(at*31)), record.Some(record.Cents(at*33))
		rows[i] = Row{Record: p, Fields: p.Fields(), Number: at + 2}
	}
	return rows
}

// BenchmarkAdd takes in rows of a job log: new ones, and then the same again.
// b.N counts rows.
func BenchmarkAdd(b *testing.B) {
	given := make([]bool, len(record.Placements.Columns))
	for i, f := range benchRows(0, 1)[0].Fields {
		given[i] = !record.IsMissing(f)
	}
	for _, what := range []string{"new", "again"} {
		b.Run(what, func(b *testing.B) {
			s, err := Open(b.Context(), filepath.Join(b.TempDir(), "bench.db"), Options{})
			if err != nil {
				b.Fatal(err)
			}
			defer s.Close()
			if what == "again" {
				takeIn(b, s, given)
			}
			b.ResetTimer()
			takeIn(b, s, given)
		})
	}
}

func takeIn(b *testing.B, s *Store, given []bool) {
	ctx := context.Background()
	tx, err := s.Begin(ctx, "bench.csv", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		b.Fatal(err)
	}
	defer tx.Rollback()
	for at := 0; at < b.N; at += chunkRows {
		b.StopTimer()
		rows := benchRows(at, min(chunkRows, b.N-at))
		b.StartTimer()
		if _, err := tx.Add(ctx, record.Placements, given, rows); err != nil {
			b.Fatal(err)
		}
	}
	if _, err := tx.Commit(ctx, Batch{}); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkChunk makes keys and digests. b.N counts rows.
func BenchmarkChunk(b *testing.B) {
	rows := benchRows(0, chunkRows)
	result := make([]Outcome, chunkRows)
	for n := 0; n < b.N; n += chunkRows {
		if _, err := newChunk(record.Placements, 1, nil, nil, rows, result); err != nil {
			b.Fatal(err)
		}
	}
}

// BenchmarkHistory reads a database of a hundred thousand placements, and says
// what one takes in memory.
func BenchmarkHistory(b *testing.B) {
	const n = 100_000
	s, err := Open(b.Context(), filepath.Join(b.TempDir(), "bench.db"), Options{})
	if err != nil {
		b.Fatal(err)
	}
	defer s.Close()
	tx, err := s.Begin(b.Context(), "bench.csv", "00", "2025-06-03T07:15:00Z")
	if err != nil {
		b.Fatal(err)
	}
	for at := 0; at < n; at += chunkRows {
		rows := benchRows(at, min(chunkRows, n-at))
		for i := range rows { // sound ones: what is left out of the figures takes memory to say
			p := rows[i].Record.(*record.Placement)
			neat := math.Round(4*p.Neat().V) / 4
			p.PlannedYd, p.DeliveredYd, p.LaborHours = record.Some(neat), record.Some(neat+float64(i%5)/4), record.Some(p.AreaSqft.V/20+float64(i%41)/4)
		}
		if _, err := tx.Add(b.Context(), record.Placements, nil, rows); err != nil {
			b.Fatal(err)
		}
	}
	if _, err := tx.Commit(b.Context(), Batch{}); err != nil {
		b.Fatal(err)
	}
	var h *record.History
	before := heap()
	for b.Loop() {
		if h, err = s.History(b.Context(), record.DateOf(2030, 1, 1)); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(heap()-before)/n, "B/placement")
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/n, "ns/placement")
	if h.Placements.Len() != n {
		b.Fatal(h.Placements.Len())
	}
}

func heap() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
