package sheet

import (
	"bytes"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// encoding is how the bytes of a file stand for characters.
type encoding int8

const (
	utf8Else1252 encoding = iota // UTF-8, but a cell that is not is Windows-1252
	utf8Only
	windows1252
	utf16LE
	utf16BE
)

const bom = "\ufeff"

// detectEncoding goes by the byte-order mark, then by whether the beginning of
// the file is UTF-8.
func detectEncoding(head []byte, whole bool, wish string) (encoding, *Refusal) {
	switch strings.ToLower(strings.ReplaceAll(wish, "_", "-")) {
	case "", "auto":
	case "utf-8", "utf8":
		return utf8Only, nil
	case "windows-1252", "cp1252", "latin1", "iso-8859-1":
		return windows1252, nil
	case "utf-16", "utf16":
		if bytes.HasPrefix(head, []byte("\xfe\xff")) || len(head) > 1 && head[0] == 0 {
			return utf16BE, nil
		}
		return utf16LE, nil
	default:
		return 0, refuse("", codeEncoding, "cannot be read in the encoding "+wish, "utf-8, utf-16 or windows-1252; leave it out to have it found")
	}
	switch {
	case bytes.HasPrefix(head, []byte("\xff\xfe")):
		return utf16LE, nil
	case bytes.HasPrefix(head, []byte("\xfe\xff")):
		return utf16BE, nil
	case bytes.HasPrefix(head, []byte(bom)):
		return utf8Only, nil
	case !utf8.Valid(trimPartial(head, whole)):
		return windows1252, nil
	}
	return utf8Else1252, nil
}

// trimPartial takes away the beginning of a character that the end of the
// sample has cut.
func trimPartial(head []byte, whole bool) []byte {
	for n := 1; !whole && n < utf8.UTFMax && n <= len(head); n++ {
		if tail := head[len(head)-n:]; utf8.RuneStart(tail[0]) {
			if !utf8.FullRune(tail) {
				return head[:len(head)-n]
			}
			break
		}
	}
	return head
}

// decoded is the file's content without its byte-order mark, UTF-16 made UTF-8.
// Windows-1252 is left to the cells: it has its delimiters where UTF-8 has them.
func decoded(r io.Reader, enc encoding) io.Reader {
	switch enc {
	case utf16LE:
		return transform.NewReader(r, unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder())
	case utf16BE:
		return transform.NewReader(r, unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder())
	}
	return &bomSkipper{r: r}
}

// bomSkipper leaves out the byte-order mark at the beginning.
type bomSkipper struct {
	r    io.Reader
	rest []byte
	past bool
}

func (b *bomSkipper) Read(p []byte) (int, error) {
	if !b.past {
		b.past = true
		head := make([]byte, len(bom))
		n, err := io.ReadFull(b.r, head)
		if err != nil && err != io.EOF && err != io.ErrUnexpectedEOF {
			return 0, err
		}
		b.rest = bytes.TrimPrefix(head[:n], []byte(bom))
	}
	if len(b.rest) > 0 {
		n := copy(p, b.rest)
		b.rest = b.rest[n:]
		return n, nil
	}
	return b.r.Read(p)
}

// decodeCell makes text of a cell's bytes.
func decodeCell(raw []byte, enc encoding) string {
	if enc == windows1252 || enc == utf8Else1252 && !utf8.Valid(raw) {
		if b, err := charmap.Windows1252.NewDecoder().Bytes(raw); err == nil {
			return string(b)
		}
	}
	return strings.ToValidUTF8(string(raw), string(utf8.RuneError))
}
