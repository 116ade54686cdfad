package sheet

import (
	"bytes"
	"crypto/sha256"
	"hash"
	"io"

	"pourback/ingest/record"
)

// A CSV file is read by several hands. One cuts it into blocks of whole records
// (cutter); others read the records of a block (blockReader); and the blocks are
// handed out in their order. Blocks are used again, so that the memory taken
// does not grow with the file.
type block struct {
	buf       []byte
	rows      []Row            // as many as have ever been needed
	used      int              // rows that hold a record of this block
	lines     int              // rows of the spreadsheet, blank ones included
	notes     []record.Problem // rows that are no records; their rows count from the block's first
	unnamed   []unnamedCell
	ambiguous int
	read      int64 // bytes of the file read up to this block's end
	err       error
	done      chan struct{}
	mended    map[int][]Mended // by row, which counts from the block's first
}

// unnamedCell is something below no heading.
type unnamedCell struct {
	column int
	text   string
}

const (
	blockBytes = 64 << 10
	blockRows  = 512 // at most: rows of a record take far more memory than their text
)

// cutter cuts the text of a file into blocks.
type cutter struct {
	r     io.Reader // decoded
	raw   *counter
	delim byte
	cr    bool
	limit int
	file  *File
	tail  []byte // what was read beyond the last block
	size  int    // how much to read for a block
	eof   bool
}

// counter counts and digests the bytes of the file as they are read.
type counter struct {
	r      io.Reader
	n      int64
	digest hash.Hash
}

func (c *counter) Read(p []byte) (int, error) {
	n, err := c.r.Read(p)
	c.n += int64(n)
	c.digest.Write(p[:n])
	return n, err
}

func (t *Table) newCutter() (*cutter, error) {
	raw := &counter{r: t.file.reader(), digest: sha256.New()}
	c := &cutter{r: decoded(raw, t.csv.enc), raw: raw, delim: t.csv.delim, cr: t.csv.cr, limit: t.file.opt.Limits.Row, file: t.file, size: int(min(t.file.size+1, blockBytes))}
	n, err := io.CopyN(io.Discard, c.r, t.csv.start)
	if err == io.EOF && n == t.csv.start-1 { // the line end that the sample was given
		c.eof, err = true, nil
	}
	return c, err
}

// next fills a block with whole records. It is false where the file has ended;
// a file that cannot be read further leaves its reason in the block.
func (c *cutter) next(b *block) bool {
	b.buf = append(b.buf[:0], c.tail...)
	c.tail = c.tail[:0]
	for want := c.size; ; want = max(c.size, 2*len(b.buf)) { // more than a block only for a record that is longer
		if b.err = c.fill(b, want); b.err != nil {
			return true
		}
		if len(b.buf) == 0 {
			return false
		}
		if end, full := c.cut(b.buf); end > 0 {
			c.tail = append(c.tail, b.buf[end:]...)
			b.buf = b.buf[:end]
			c.size = blockBytes
			if full {
				c.size = min(2*end, blockBytes)
			}
			b.read = c.raw.n - int64(len(c.tail))
			return true
		}
		if b.err = c.uncut(b.buf); b.err != nil {
			return true
		}
	}
}

// fill reads on until the block is as long as is wanted, or the file has ended.
// The last line is given its end.
func (c *cutter) fill(b *block, want int) error {
	from := len(b.buf)
	if cap(b.buf) < want+1 {
		b.buf = append(make([]byte, 0, want+1), b.buf...)
	}
	for !c.eof && len(b.buf) < want {
		n, err := c.r.Read(b.buf[len(b.buf):want])
		b.buf = b.buf[:len(b.buf)+n]
		if err == io.EOF {
			c.eof = true
		} else if err != nil {
			return err
		}
	}
	fresh := b.buf[from:]
	if c.cr {
		for i, ch := range fresh {
			if ch == '\r' {
				fresh[i] = '\n'
			}
		}
	}
	if i := bytes.IndexByte(fresh, 0); i >= 0 {
		b.buf = b.buf[:from+i]
		return c.file.nulByte(1+countRecords(b.buf, c.delim), fresh)
	}
	if c.eof && len(b.buf) > 0 && b.buf[len(b.buf)-1] != '\n' {
		b.buf = append(b.buf, '\n')
	}
	return nil
}

// cut is the end of the last whole record of s, or of the last that a block may
// hold; full says that more would follow.
func (c *cutter) cut(s []byte) (end int, full bool) {
	if bytes.IndexByte(s, '"') < 0 && bytes.Count(s, []byte{'\n'}) <= blockRows {
		return bytes.LastIndexByte(s, '\n') + 1, false
	}
	for n := 0; n < blockRows; n++ {
		next := recordEnd(s, end, c.delim)
		if next < 0 {
			return end, false
		}
		end = next
	}
	return end, true
}

// uncut says why a record has no end, if there is no hope of one.
func (c *cutter) uncut(s []byte) error {
	switch quoted := bytes.IndexByte(s, '"') >= 0; {
	case len(s) >= c.limit:
		return longRow(c.file.Name, c.limit, quoted).at("", 1)
	case c.eof:
		return openQuote(c.file.Name).at("", 1)
	}
	return nil
}

// countRecords counts the records that are complete in s.
func countRecords(s []byte, delim byte) (n int) {
	for i := 0; ; n++ {
		next := recordEnd(s, i, delim)
		if next < 0 {
			return n
		}
		i = next
	}
}
