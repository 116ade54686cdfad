package picture

import (
	"encoding/binary"
	"fmt"
	"math"
	"strings"

	"pourback/ingest/record"
)

// exif is the little that is asked of a camera's notes. Four tags of a published
// structure do not need a library that knows all of them: this reads each list
// once, never follows a list to another, and copies nothing.
type exif struct {
	orientation int // 1 to 8; 1 where none is given
	takenAt     record.Moment
	position    *Position
}

// Tags (Exif 2.3, sections 4.6.3 to 4.6.6).
const (
	tagOrientation = 0x0112
	tagExif        = 0x8769 // where the list of the taking stands
	tagGPS         = 0x8825 // and that of the place
	tagTaken       = 0x9003 // DateTimeOriginal

	tagLatitudeRef, tagLatitude, tagLongitudeRef, tagLongitude = 1, 2, 3, 4
)

// Types of values (the same, section 4.6.2).
const (
	typeText     = 2
	typeShort    = 3
	typeLong     = 4
	typeRational = 5
)

// readExif reads the notes, whatever they hold; what cannot be read is as if it
// were not there.
func readExif(b []byte) exif {
	said := exif{orientation: 1}
	t, ok := tiffOf(b)
	if !ok {
		return said
	}
	main := t.list(t.first)
	if o := main.number(tagOrientation); o >= 1 && o <= 8 {
		said.orientation = o
	}
	said.takenAt = moment(t.list(main.number(tagExif)).text(tagTaken))
	said.position = t.list(main.number(tagGPS)).position()
	return said
}

// tiff is the structure that Exif is written in (TIFF 6.0, section 2).
type tiff struct {
	b     []byte
	order binary.ByteOrder
	first int // where its first list stands
}

func tiffOf(b []byte) (t tiff, ok bool) {
	if len(b) < 8 {
		return t, false
	}
	switch string(b[:4]) {
	case "II*\x00":
		t.order = binary.LittleEndian
	case "MM\x00*":
		t.order = binary.BigEndian
	default:
		return t, false
	}
	t.b = b
	t.first = int(t.order.Uint32(b[4:]))
	return t, true
}

// list is a list of tags, each with its 12 bytes.
type list struct {
	tiff
	entries []byte
}

// list finds the list at an offset; an empty one where there is none.
func (t tiff) list(at int) list {
	l := list{tiff: t}
	if at < 8 || at+2 > len(t.b) {
		return l
	}
	n := int(t.order.Uint16(t.b[at:]))
	l.entries = t.b[at+2 : min(len(t.b), at+2+12*n)]
	return l
}

// value finds the bytes of a tag's value, of the type wanted: in the entry where
// they fit, elsewhere otherwise.
func (l list) value(tag, kind, size int) []byte {
	for e := l.entries; len(e) >= 12; e = e[12:] {
		if int(l.order.Uint16(e)) != tag || int(l.order.Uint16(e[2:])) != kind {
			continue
		}
		long := int64(l.order.Uint32(e[4:])) * int64(size)
		if long <= 4 {
			return e[8 : 8+long]
		}
		at := int64(l.order.Uint32(e[8:]))
		if at+long > int64(len(l.b)) {
			return nil
		}
		return l.b[at : at+long]
	}
	return nil
}

// number is a whole number, or -1.
func (l list) number(tag int) int {
	if v := l.value(tag, typeShort, 2); len(v) >= 2 {
		return int(l.order.Uint16(v))
	}
	if v := l.value(tag, typeLong, 4); len(v) >= 4 {
		return int(l.order.Uint32(v))
	}
	return -1
}

func (l list) text(tag int) string {
	text, _, _ := strings.Cut(string(l.value(tag, typeText, 1)), "\x00")
	return strings.TrimSpace(text)
}

// moment reads "2025:06:03 07:15:00".
func moment(text string) record.Moment {
	if len(text) != 19 || text[4] != ':' || text[7] != ':' {
		return 0
	}
	m, err := record.ParseMoment(fmt.Sprintf("%s-%s-%s", text[:4], text[5:7], text[8:]))
	if err != nil {
		return 0
	}
	return m
}

// position reads degrees, minutes and seconds, and on which side they lie.
func (l list) position() *Position {
	lat, okLat := l.degrees(tagLatitude, 90)
	long, okLong := l.degrees(tagLongitude, 180)
	if !okLat || !okLong {
		return nil
	}
	if l.text(tagLatitudeRef) == "S" {
		lat = -lat
	}
	if l.text(tagLongitudeRef) == "W" {
		long = -long
	}
	return &Position{lat, long}
}

func (l list) degrees(tag int, most float64) (degrees float64, ok bool) {
	v := l.value(tag, typeRational, 8)
	if len(v) != 24 {
		return 0, false
	}
	for i, part := range []float64{1, 60, 3600} {
		over, under := l.order.Uint32(v[8*i:]), l.order.Uint32(v[8*i+4:])
		if under == 0 {
			return 0, false
		}
		degrees += float64(over) / float64(under) / part
	}
	const micro = 1e6 // a tenth of a meter
	return math.Round(degrees*micro) / micro, degrees <= most
}
