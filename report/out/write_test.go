package out

import (
	"bytes"
	"io"

	"pourback/ingest/outfile"
	"pourback/report/page"
)

// writeFolderOf writes a folder by no rules but the usual.
func writeFolderOf(dir string, pages []page.Page) error { return Write(&outfile.Out{}, dir, pages) }

// writeFile writes the pages as one self-contained file, whole or not at all.
func writeFile(path string, pages []page.Page) error {
	return writeWhole(path, func(w io.Writer) error { return WriteSingle(w, pages) })
}

// writeWhole writes one file, whole or not at all.
func writeWhole(path string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	return replaceFile(path, b.Bytes())
}

func replaceFile(path string, content []byte) error {
	return outfile.Write(path, func(w io.Writer) error { _, err := w.Write(content); return err })
}
