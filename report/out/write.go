package out

import (
	"bytes"
	"io"
	"slices"

	"pourback/ingest/outfile"
	"pourback/report/page"
)

// OursHTML and OursCalendar know documents and calendar files of ours.
var (
	OursHTML     = outfile.Holding(`<meta name="generator" content="pourback">`)
	OursCalendar = outfile.Holding("PRODID:-//pourback//")
)

// Write writes the pages as a folder of linked files by the rules of a call,
// making the folder where there is none. Nothing is written unless every page
// can be, and none would take the place of a file that is not ours; each file
// is replaced whole, the first page last. Other files there stay.
func Write(out *outfile.Out, dir string, pages []page.Page) error {
	rendered := make([]bytes.Buffer, len(pages))
	for i := range pages {
		if err := renderPage(&rendered[i], pages, i); err != nil {
			return err
		}
	}
	var names []string
	var contents [][]byte
	for i := range slices.Backward(pages) {
		names, contents = append(names, pages[i].Slug+".html"), append(contents, rendered[i].Bytes())
	}
	folder, err := out.Folder(dir, OursHTML, names...)
	if err != nil {
		return err
	}
	for i, name := range names {
		if _, err := folder.Write(name, func(w io.Writer) error { _, err := w.Write(contents[i]); return err }); err != nil {
			return err
		}
	}
	return nil
}
