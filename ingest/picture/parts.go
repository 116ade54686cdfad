package picture

import (
	"bytes"
	"encoding/binary"
)

// Markers of a JPEG (T.81, table B.1).
const (
	markSOF0 = 0xc0
	markSOF2 = 0xc2 // progressive
	markDHT  = 0xc4
	markRST0 = 0xd0
	markRST7 = 0xd7
	markEOI  = 0xd9
	markSOS  = 0xda
	markDQT  = 0xdb
	markAPP1 = 0xe1
)

// segments walks through a JPEG's segments up to its first scan, as the decoder
// does: what stands between them is passed over. It ends where walk says so.
func segments(file []byte, walk func(marker byte, at int, content []byte) bool) {
	for i := 2; i+4 <= len(file); {
		if file[i] != 0xff {
			i++
			continue
		}
		switch marker := file[i+1]; {
		case marker == 0xff:
			i++
		case marker == 0 || marker >= markRST0 && marker <= markRST7:
			i += 2
		case marker == markEOI:
			return
		default:
			long := int(binary.BigEndian.Uint16(file[i+2:]))
			if long < 2 || i+2+long > len(file) || !walk(marker, i, file[i+4:i+2+long]) || marker == markSOS {
				return
			}
			i += 2 + long
		}
	}
}

const exifName = "Exif\x00\x00"

// partsOfJPEG finds the first Exif segment, and whether there are several scans
// to keep. Where neither kind of frame is met it is held to the tighter limit.
func (f *found) partsOfJPEG() {
	f.heavy = true
	segments(f.file, func(marker byte, _ int, content []byte) bool {
		switch {
		case marker == markSOF0 || marker == markSOF0+1:
			f.heavy = false
		case marker == markAPP1 && f.exif == nil && bytes.HasPrefix(content, []byte(exifName)):
			f.exif = content[len(exifName):]
		}
		return marker != markSOF2
	})
}

// mostPlainHead is how long the tables of a plain JPEG are at most: ours are 623
// bytes.
const mostPlainHead = 1024

// plain says whether a JPEG that was decoded is as ours are, nothing in it but
// one baseline picture of three components: it need not be written anew, and
// stays as it is to the byte.
func plain(file []byte) bool {
	scan, sound := 0, true
	segments(file, func(marker byte, at int, content []byte) bool {
		switch {
		case scan > 0, at > mostPlainHead,
			marker == markSOF0 && (len(content) != 15 || content[5] != 3),
			marker != markSOF0 && marker != markDHT && marker != markDQT && marker != markSOS:
			sound = false
		case marker == markSOS:
			scan = at + 4 + len(content)
		}
		return sound
	})
	if !sound || scan == 0 || scan > mostPlainHead {
		return false
	}
	for i := scan; i+1 < len(file); i++ {
		if file[i] == 0xff && file[i+1] != 0 {
			return file[i+1] == markEOI && i+2 == len(file)
		}
	}
	return false
}

// partsOfPNG finds the Exif chunk, which may stand before the picture or behind
// it, and how much the picture takes to decode.
func (f *found) partsOfPNG() {
	const header = 8 + 8 + 13 // the signature, and the IHDR chunk without its checksum
	if len(f.file) >= header {
		depth, interlaced := f.file[24], f.file[28]
		f.heavy = depth == 16 || interlaced != 0
	}
	for i := 8; i+12 <= len(f.file); {
		long := int64(binary.BigEndian.Uint32(f.file[i:]))
		if long > int64(len(f.file)-i-12) {
			return
		}
		switch content := f.file[i+8 : i+8+int(long)]; string(f.file[i+4 : i+8]) {
		case "eXIf":
			f.exif = content
			return
		case "IEND":
			return
		}
		i += 12 + int(long)
	}
}

// partsOfWebP finds the Exif chunk, and whether it is an animation.
func (f *found) partsOfWebP() {
	const animation = 0x02
	for i := 12; i+8 <= len(f.file); {
		long := int64(binary.LittleEndian.Uint32(f.file[i+4:]))
		if long > int64(len(f.file)-i-8) {
			return
		}
		switch content := f.file[i+8 : i+8+int(long)]; string(f.file[i : i+4]) {
		case "VP8X":
			f.moving = f.moving || long > 0 && content[0]&animation != 0
		case "ANIM", "ANMF":
			f.moving = true
		case "EXIF":
			f.exif = bytes.TrimPrefix(content, []byte(exifName)) // some writers put the name of JPEG's segment before it
			return
		}
		i += 8 + int(long+long%2)
	}
}
