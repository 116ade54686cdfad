package report

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// WriteFile writes the pages as one self-contained file, whole or not at all.
func WriteFile(path string, pages []Page) error {
	return WriteWhole(path, func(w io.Writer) error { return WriteSingle(w, pages) })
}

// Write writes the pages as a folder of linked files, making the folder where
// there is none. Nothing is written unless every page can be; each file is
// replaced whole.
func Write(dir string, pages []Page) error { return writeFolder(dir, pages, drawAll(pages)) }

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

// replaceFile writes beside the path and then takes its place, so that no
// reader sees half a file.
func replaceFile(path string, content []byte) (err error) {
	folder := filepath.Dir(path)
	f, err := os.CreateTemp(folder, "."+filepath.Base(path)+"-*")
	if errors.Is(err, fs.ErrNotExist) {
		return fmt.Errorf("%s: the folder %s does not exist; make it first, or name another file", path, folder)
	}
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	if _, err = f.Write(content); err == nil {
		err = f.Chmod(0o644)
	}
	if closed := f.Close(); err == nil {
		err = closed
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	return err
}
