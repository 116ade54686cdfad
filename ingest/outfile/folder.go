package outfile

import (
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
)

// ListName is the file in which a folder of ours says which files are.
const ListName = "pourback-files.json"

// Folder is a folder that several files are written into. It may hold other
// files: they stay.
type Folder struct {
	out  *Out
	dir  string
	list fileList
}

// fileList is what stands in a folder's list.
type fileList struct {
	MadeBy string   `json:"made_by"`
	Files  []string `json:"files"` // which pourback wrote here, and may write again
}

const ourName = "pourback"

// Folder makes the folder where there is none, and says which files it is to
// get. It fails where one of them exists and is not ours: neither in the
// folder's list nor by its content; then nothing is changed.
func (o *Out) Folder(dir string, ours Ours, names ...string) (*Folder, error) {
	if err := named(dir); err != nil {
		return nil, err
	}
	f := &Folder{out: o, dir: dir, list: fileList{MadeBy: ourName}}
	if err := f.readList(); err != nil {
		return nil, err
	}
	for _, name := range names {
		known := ours
		if slices.Contains(f.list.Files, name) {
			known = anybodys
		}
		if err := o.May(filepath.Join(dir, name), known); err != nil {
			return nil, err
		}
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return nil, err
	}
	f.list.Files = append(f.list.Files, names...)
	slices.Sort(f.list.Files)
	f.list.Files = slices.Compact(f.list.Files)
	return f, f.writeList()
}

func anybodys([]byte) bool { return true }

// Write writes one of the folder's files.
func (f *Folder) Write(name string, write func(io.Writer) error) (path string, err error) {
	path = filepath.Join(f.dir, name)
	if !slices.Contains(f.list.Files, name) {
		return path, fmt.Errorf("%s is none of the files that %s was to get", name, f.dir)
	}
	return path, f.out.Write(path, anybodys, write)
}

func (f *Folder) readList() error {
	path := filepath.Join(f.dir, ListName)
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	var list fileList
	if err := json.Unmarshal(text, &list); err == nil && list.MadeBy == ourName {
		f.list = list
		return nil
	}
	return f.out.May(path, nil)
}

// writeList comes before the files, so that what a killed run has written is
// known for ours.
func (f *Folder) writeList() error {
	text, err := json.MarshalIndent(f.list, "", " ")
	if err != nil {
		return err
	}
	return writeAs(filepath.Join(f.dir, ListName), f.out.mode(), func(w io.Writer) error {
		_, err := w.Write(append(text, '\n'))
		return err
	})
}
