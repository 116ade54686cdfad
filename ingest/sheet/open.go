package sheet

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"iter"
	"math"
	"os"
	"path/filepath"

	"pourback/ingest/record"
)

// Options are how files are read where they do not say themselves.
type Options struct {
	Dictionary   record.Dictionary
	Today        record.Date             // the last day on which a pour can have happened; 0 is any
	DayFirst     bool                    // 3/4/2025 is the third of April
	DecimalComma string                  // whether 1,250 is 1.25: "auto" (or ""), "yes" or "no"
	Encoding     string                  // "" to find out, or "utf-8", "utf-16", "windows-1252"
	Limits       Limits                  // zero values are the defaults
	Answers      []Answer                // what headings mean; the first that fits a heading counts
	Mends        Mends                   // what is read in place of what was written
	Progress     func(done, total int64) // bytes read of the file so far; may be nil
}

// File is an open CSV file or workbook.
type File struct {
	Name    string   // without its folders
	Tables  []*Table // in the order of record.Tables
	Ignored []string // sheets that hold no record table, with why

	places map[string]*place // of placements whose file names none, by job

	lenient bool   // no table is found: what looks a little like records is asked about
	legend  legend // what its codes stand for

	content io.ReaderAt
	size    int64
	digest  *[32]byte
	close   func() error
	opt     Options
}

// Table is a record table of a file.
type Table struct {
	File, Sheet string // Sheet is "" in a CSV file
	Records     *record.Table
	Header      []string // the headings as written, without the reasons of rows once set aside
	Given       []bool   // per record column: whether the file has it
	Unknown     []string // headings that are kept out

	// AmbiguousDates counts the dates which the setting of day and month alone
	// decided. It and Problems, what is wrong with the table as a whole, grow
	// while the rows are read.
	AmbiguousDates int
	Problems       []record.Problem

	file    *File
	layout  *layout
	insight *insight // how a job log's headings were understood; nil for a file in the record form
	merged  map[int][]merge
	blocked *Refusal   // why its rows cannot be read until somebody answers
	csv     *dialect   // nil in a workbook
	sheet   *sheetPart // nil in a CSV file
	skip    int        // rows of the sheet up to this number stand above the data
	mends   map[int]map[int]string
	before  []record.Problem
}

// Open opens a CSV file or a workbook and recognises its tables. A file that
// cannot be taken is a [*Refusal].
func Open(path string, opt Options) (*File, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	info, err := f.Stat()
	if err == nil && !info.Mode().IsRegular() {
		err = fmt.Errorf("%s is no file", path)
	}
	if err != nil {
		f.Close()
		return nil, err
	}
	file, err := OpenReader(filepath.Base(path), f, info.Size(), opt)
	if err != nil {
		f.Close()
		return nil, err
	}
	file.close = f.Close
	return file, nil
}

// OpenReader is [Open] for content that is no file on disk. The content must
// stay readable until the file is closed.
func OpenReader(name string, content io.ReaderAt, size int64, opt Options) (*File, error) {
	opt.Limits = opt.Limits.orDefault()
	f := &File{Name: name, content: content, size: size, opt: opt, close: func() error { return nil }}
	if err := f.open(); err != nil {
		if refusal, ok := err.(*Refusal); ok {
			refusal.File = name
		}
		return nil, err
	}
	return f, nil
}

func (f *File) open() error {
	if f.size >= f.opt.Limits.File {
		return refuse(f.Name, codeTooLarge, "is "+megabytes(f.size)+" long", "split it, by year for instance; less than "+megabytes(f.opt.Limits.File)+" is read")
	}
	head := make([]byte, min(f.size, 256<<10))
	if _, err := f.content.ReadAt(head, 0); err != nil && err != io.EOF {
		return err
	}
	if refusal := sniff(f.Name, head); refusal != nil {
		return refusal
	}
	if bytes.HasPrefix(head, []byte(zipMagic)) {
		return f.openWorkbook()
	}
	return f.openCSV()
}

// Close closes the file.
func (f *File) Close() error { return f.close() }

// Digest is the SHA-256 of the file's content. After a CSV file's rows have been
// read to their end it costs nothing.
func (f *File) Digest() ([32]byte, error) {
	if f.digest != nil {
		return *f.digest, nil
	}
	h := sha256.New()
	if _, err := io.Copy(h, f.reader()); err != nil {
		return [32]byte{}, err
	}
	f.digest = (*[32]byte)(h.Sum(nil))
	return *f.digest, nil
}

// reader reads the content from its beginning.
func (f *File) reader() io.Reader { return io.NewSectionReader(f.content, 0, math.MaxInt64) }

// newTable makes a table of a layout.
func (f *File) newTable(sheet string, l *layout) *Table {
	t := &Table{File: f.Name, Sheet: sheet, Records: l.table, Header: l.header, Given: l.given, Unknown: l.unknown, file: f, layout: l, mends: f.opt.Mends.in(sheet)}
	for _, p := range l.said {
		t.say(p)
	}
	return t
}

// say adds to the problems of the table as a whole.
func (t *Table) say(p record.Problem) {
	p.File, p.Sheet = t.File, t.Sheet
	t.Problems = append(t.Problems, p)
}

// Blocks reads the table from its first row to its last, some hundred rows at a
// time. A block's rows are valid, with all that hangs on them, until the next
// block is asked for. An error is the last thing yielded: the file is refused
// from there, and nothing that came before it should be kept.
func (t *Table) Blocks() iter.Seq2[[]*Row, error] {
	if t.before == nil {
		t.before = append([]record.Problem{}, t.Problems...)
	}
	return func(yield func([]*Row, error) bool) {
		if t.blocked != nil {
			yield(nil, t.blocked)
			return
		}
		if t.layout.addsUp {
			yield = t.addUp(yield)
			defer yield(nil, nil)
		}
		fine := &fractions{table: t, counted: map[string]int{}}
		yield = fine.gather(yield)
		t.Problems, t.AmbiguousDates = append([]record.Problem(nil), t.before...), 0
		if t.csv != nil && t.insight != nil {
			t.readLog(yield)
		} else if t.csv != nil {
			t.readCSV(yield)
		} else {
			t.readSheet(yield)
		}
		fine.say()
	}
}

// Rows is [Table.Blocks] row by row: each is valid until the next is asked for.
func (t *Table) Rows() iter.Seq2[*Row, error] {
	return func(yield func(*Row, error) bool) {
		for block, err := range t.Blocks() {
			if err != nil {
				yield(nil, err)
				return
			}
			for _, row := range block {
				if !yield(row, nil) {
					return
				}
			}
		}
	}
}
