package out

import (
	"context"
	"path/filepath"
	"testing"

	"pourback/analysis"
	"pourback/analysis/setting"
	"pourback/ingest"
	"pourback/ingest/invented"
	recordsheet "pourback/ingest/sheet"
	"pourback/ingest/store"
	"pourback/report/chart"
	"pourback/report/internal/trial"
	"pourback/report/page"
	"pourback/report/say"
)

// BenchmarkReport answers every question from a loaded database and writes the
// whole report as a folder.
func BenchmarkReport(b *testing.B) {
	for _, jobs := range []int{720, 72_000} { // about 1,000 and 100,000 placements
		b.Run(say.Count(jobs)+"-jobs", func(b *testing.B) {
			ctx, dir := context.Background(), b.TempDir()
			st := loaded(b, ctx, dir, jobs)
			for b.Loop() {
				h, err := st.History(ctx, trial.AsOf)
				if err != nil {
					b.Fatal(err)
				}
				f, err := analysis.Run(h, setting.Options{})
				if err != nil {
					b.Fatal(err)
				}
				if err := writeFolderOf(filepath.Join(dir, "report"), page.Pages(f, page.Options{})); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// loaded is a database with the history of an invented company of so many jobs.
func loaded(b *testing.B, ctx context.Context, dir string, jobs int) *store.Store {
	b.Helper()
	s, _, err := invented.Generate(invented.Options{Jobs: jobs, Seed: 1, Until: trial.AsOf})
	if err != nil {
		b.Fatal(err)
	}
	files, err := ingest.WriteSet(filepath.Join(dir, "records"), s)
	if err != nil {
		b.Fatal(err)
	}
	st, err := store.Open(ctx, filepath.Join(dir, "pourback.db"), store.Options{})
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { st.Close() })
	if _, err := ingest.Files(ctx, st, files, ingest.Options{Sheet: recordsheet.Options{Today: trial.AsOf}, TakenAt: "2026-10-31T00:00:00Z"}); err != nil {
		b.Fatal(err)
	}
	return st
}

// BenchmarkWrite writes the pages of answers that are at hand.
func BenchmarkWrite(b *testing.B) {
	for _, n := range []int{1_000, 100_000} {
		f := trial.FactorsOf(b, trial.Pours(n), setting.Options{})
		b.Run(say.Count(n), func(b *testing.B) {
			dir := b.TempDir()
			for b.Loop() {
				if err := writeFolderOf(dir, page.Pages(f, page.Options{})); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkDraw draws every chart of the report on a company of 600 placements.
func BenchmarkDraw(b *testing.B) {
	charts := chartsOf(companyPages(trial.CompanyFactors(b)))
	b.ReportAllocs()
	for b.Loop() {
		drawAll(charts)
	}
}

func drawAll(charts []*chart.Chart) (size int) {
	for _, c := range charts {
		size += len(c.Drawing().SVG(c.ID))
	}
	return size
}
