package report

import (
	"bytes"
	"io"
	"os"
	"path/filepath"

	"pourback/ingest/outfile"
)

// WriteFile writes the pages as one self-contained file, whole or not at all.
func WriteFile(path string, pages []Page) error {
	return WriteWhole(path, func(w io.Writer) error { return WriteSingle(w, pages) })
}

// Write writes the pages as a folder of linked files, making the folder where
// there is none. Nothing is written unless every page can be; each file is
// replaced whole.
func Write(dir string, pages []Page) error { return writeFolder(dir, pages, drawAll(chartsOf(pages))) }

func writeFolder(dir string, pages []Page, charts map[*Chart]*rendered) error {
	lib, err := library()
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
	if err := replaceFile(filepath.Join(dir, libraryName), []byte(lib)); err != nil {
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
