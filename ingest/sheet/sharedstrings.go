package sheet

import (
	"bytes"
	"io"
	"strconv"
)

// mostShared bounds the memory that shared strings may take.
const mostShared = 256 << 20

// loadStrings reads the texts that cells share.
func (b *workbook) loadStrings(name string) error {
	part := b.parts[name]
	if part == nil {
		return nil
	}
	r, err := b.open(part)
	if err != nil {
		return err
	}
	defer r.Close()
	x := newXMLScanner(r)
	for held := 0; ; {
		t, err := x.next()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		if t.kind != startTag || string(t.name) != "si" {
			continue
		}
		text, err := x.richText("si")
		if err != nil {
			return err
		}
		if held += len(text) + 16; held > mostShared {
			return b.unpacks(part)
		}
		b.shared = append(b.shared, text)
	}
}

// richText gathers the text of an element, without the pronunciation that may
// stand beside it.
func (x *xmlScanner) richText(element string) (string, error) {
	var text []byte
	spoken, within := false, false
	for {
		t, err := x.next()
		if err != nil {
			return "", notEnd(err)
		}
		switch name := string(t.name); {
		case t.kind == textPiece:
			if within && !spoken {
				text = append(text, t.text...)
			}
		case name == "t":
			within = t.kind == startTag
		case name == "rPh":
			spoken = t.kind == startTag
		case name == element && t.kind == endTag:
			return unescapeX(text), nil
		}
	}
}

func notEnd(err error) error {
	if err == io.EOF {
		return errXML
	}
	return err
}

var escapedX = patternOf(`_x[0-9A-Fa-f]{4}_`)

// unescapeX resolves the escapes _x000D_ that workbooks use for characters XML
// does not allow.
func unescapeX(text []byte) string {
	if !bytes.Contains(text, []byte("_x")) {
		return string(text)
	}
	return string(escapedX.ReplaceAllFunc(text, func(m []byte) []byte {
		n, _ := strconv.ParseUint(string(m[2:6]), 16, 32)
		return []byte(string(rune(n)))
	}))
}
