package out

import (
	"bytes"
	"io"
	"os"
	"path/filepath"

	"pourback/ingest/outfile"
	"pourback/report/chart"
	"pourback/report/page"
)

// WriteFile writes the pages as one self-contained file, whole or not at all.
func WriteFile(path string, pages []page.Page) error {
	return WriteWhole(path, func(w io.Writer) error { return WriteSingle(w, pages) })
}

// Write writes the pages as a folder of linked files, making the folder where
// there is none. Nothing is written unless every page can be; each file is
// replaced whole.
func Write(dir string, pages []page.Page) error {
	return writeFolder(dir, pages, chart.DrawAll(chartsOf(pages)))
}

func writeFolder(dir string, pages []page.Page, charts map[*chart.Chart]*chart.Rendered) error {
	lib, err := chart.Library()
	if err != nil {
		return err
	}
	rendered := make([]bytes.Buffer, len(pages))
	for i := range pages {
		if err := renderPage(&rendered[i], pages, charts, i); err != nil {
			return err
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if err := replaceFile(filepath.Join(dir, chart.LibraryName), []byte(lib)); err != nil {
		return err
	}
	for i, p := range pages {
		if err := replaceFile(filepath.Join(dir, p.Slug+".html"), rendered[i].Bytes()); err != nil {
			return err
		}
	}
	return nil
}

// WriteWhole writes one file, whole or not at all.
func WriteWhole(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return replaceFile(path, b.Bytes())
}

func replaceFile(path string, content []byte) error {
	return outfile.Write(path, func(w io.Writer) error { _, err := w.Write(content); return err })
}
