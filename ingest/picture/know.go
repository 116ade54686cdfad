package picture

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"slices"
	"strings"
)

// kind is a format that is taken, by its name.
type kind string

const (
	kindJPEG kind = "JPEG"
	kindPNG  kind = "PNG"
	kindWebP kind = "WebP"
)

// found is a file with what is known of it before it is decoded.
type found struct {
	file   []byte
	kind   kind
	exif   []byte // the TIFF structure that Exif is, or nil
	heavy  bool   // takes much memory to decode
	moving bool   // an animation
}

const (
	jpegMagic = "\xff\xd8\xff"
	pngMagic  = "\x89PNG\r\n\x1a\n"
)

// know finds out what kind of file it is, or refuses it.
func know(file []byte) (*found, *Refusal) {
	f := &found{file: file}
	switch {
	case len(file) == 0:
		return nil, refuse(CodeEmpty, "is empty", wantPicture)
	case len(file) > MostBytes:
		return nil, refuse(CodeLarge, fmt.Sprintf("is longer than %d MB", MostBytes>>20), "make it smaller, and send that")
	case bytes.HasPrefix(file, []byte(jpegMagic)):
		f.kind = kindJPEG
	case bytes.HasPrefix(file, []byte(pngMagic)):
		f.kind = kindPNG
	case len(file) >= 12 && string(file[:4]) == "RIFF" && string(file[8:12]) == "WEBP":
		f.kind = kindWebP
	default:
		return nil, foreign(file)
	}
	forms[f.kind].parts(f)
	return f, nil
}

// others are beginnings of what people hand in for a picture.
var others = []struct{ magic, what, right string }{
	{"GIF8", "is a GIF", wantsSaving},
	{"%PDF", "is a PDF", "save its page as a picture, and send that"},
	{"BM", "is a bitmap (BMP)", wantsSaving},
	{"II*\x00", "is a TIFF, or a camera's raw picture", wantsSaving},
	{"MM\x00*", "is a TIFF, or a camera's raw picture", wantsSaving},
	{"\xff\x0a", "is a JPEG XL picture", wantsSaving},
	{"\x00\x00\x00\x0cJXL ", "is a JPEG XL picture", wantsSaving},
	{"\x00\x00\x00\x0cjP  ", "is a JPEG 2000 picture", wantsSaving},
	{"PK\x03\x04", "is a packed file", "unpack it, and send the pictures in it"},
}

// foreign says what a file is that is not taken.
func foreign(file []byte) *Refusal {
	if r := phones(file); r != nil {
		return r
	}
	for _, o := range others {
		if bytes.HasPrefix(file, []byte(o.magic)) {
			return refuse(CodeForeign, o.what, o.right)
		}
	}
	text := strings.ToLower(string(bytes.TrimLeft(file[:min(len(file), 4096)], "\ufeff \t\r\n")))
	switch {
	case strings.HasPrefix(text, "<") && strings.Contains(text, "<svg"):
		return refuse(CodeForeign, "is an SVG drawing", "save it as a PNG, and send that")
	case strings.HasPrefix(text, "<"):
		return refuse(CodeForeign, "is a web page or XML, not a picture", wantPicture)
	}
	return refuse(CodeForeign, "is no picture", wantPicture)
}

// phones knows pictures and films in the container of ISO/IEC 14496-12, whose
// first box is ftyp, by their brands: a main one and, behind its version, those
// that it is compatible with (ISO/IEC 23008-12 for HEIC, the AV1 Image File
// Format for AVIF).
func phones(file []byte) *Refusal {
	if len(file) < 12 || string(file[4:8]) != "ftyp" {
		return nil
	}
	box := file[:min(len(file), int(min(binary.BigEndian.Uint32(file), 1024)))]
	brands := []string{string(file[8:12])}
	for i := 16; i+4 <= len(box); i += 4 {
		brands = append(brands, string(box[i:i+4]))
	}
	is := func(names ...string) bool {
		return slices.ContainsFunc(brands, func(b string) bool { return slices.Contains(names, b) })
	}
	const right = "send it as a JPEG: in the phone's camera settings choose the most compatible format, or take a screenshot of it"
	switch {
	case is("avif", "avis"):
		return refuse(CodePhone, "is an AVIF picture, which is not read", right)
	case is("heic", "heix", "hevc", "hevx", "heim", "heis", "hevm", "hevs", "mif1", "msf1"):
		return refuse(CodePhone, "is a HEIC picture, as some phones keep them, which is not read", right)
	}
	return refuse(CodeForeign, "is a film", "send a still picture")
}
