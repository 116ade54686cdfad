package sheet

import (
	"path/filepath"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// openPictures opens a CSV file as the table of pictures, if its name speaks of
// them and its headings are that table's. It is no job log, and nothing in it is
// guessed.
func (f *File) openPictures(d *dialect, sample []byte, whole bool) (done bool, err error) {
	if !slices.Contains(headingWords(strings.TrimSuffix(f.Name, filepath.Ext(f.Name))), record.Pictures.Name) {
		return false, nil
	}
	only, was := catalogue{newHeadings(record.Pictures, f.opt.Dictionary)}, *d
	rows, h, err := f.findDelimiter(d, sample, whole, only, record.Pictures)
	if err != nil || !h.usable(record.Pictures) {
		*d = was
		return false, nil // what it is instead is found out as of any file
	}
	return true, f.inForm(d, rows, h)
}
