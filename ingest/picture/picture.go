// Package picture makes of a picture that was handed in one that can be kept and
// shown: bytes in, a [Picture] out, and nothing else is touched.
//
// JPEG, PNG and WebP are taken, known by decoding them and never by a name. What
// comes out is a JPEG of ours: upright, at most [LongSide] pixels long, white
// where it was transparent, and with nothing in it but the picture: no position,
// no camera, no comment, nothing behind its end. So what hides in a file, from a
// script to a customer's address, does not stay.
//
// Pictures come from anywhere, so each is held to limits before it is decoded, is
// decoded under a deadline, and one at a time: fifty at once would take over a
// gigabyte of memory.
//
// Formats: JPEG, ITU-T T.81; PNG, W3C Portable Network Graphics (Third Edition);
// WebP, RFC 9649; Exif, CIPA DC-008 (Exif 2.3).
package picture

import (
	"bytes"
	"context"
	"image"
	"image/jpeg"
	"time"

	"pourback/ingest/record"
)

// Limits of a picture that is taken.
const (
	MostBytes  = 10 << 20 // of the file
	MostPixels = 50e6
	// MostHeavy is the limit of those that take more than some 4 bytes a pixel to
	// decode: a progressive JPEG keeps its coefficients to its last scan, 105 MB for
	// 12 megapixels.
	MostHeavy = 16e6
)

// What comes out.
const (
	LongSide  = 2048 // pixels of the longer side, at most
	ThumbSide = 320  // of the thumbnail's

	quality      = 82
	thumbQuality = 75
)

// Options are what may be kept beside the picture, and how long it may take.
type Options struct {
	KeepTime     bool          // when it was taken
	KeepPosition bool          // and where
	Within       time.Duration // of decoding; 2 seconds where it is zero
}

// Picture is a picture that can be kept and shown.
type Picture struct {
	JPEG          []byte
	Width, Height int    // of it, in pixels
	Thumb         []byte // the same in small, a JPEG too

	TakenAt  record.Moment // by the camera's clock; 0 where not known or not to be kept
	Position *Position     // nil where not known or not to be kept
}

// Position is a place on earth in degrees, north and east positive.
type Position struct{ Latitude, Longitude float64 }

// turn is whose turn it is to decode: one at a time in the whole program.
var turn = make(chan struct{}, 1)

// Take makes a picture of a file's bytes. What cannot be taken is a [*Refusal];
// another error is the end of ctx. A picture that Take has made comes out as the
// same bytes again.
func Take(ctx context.Context, file []byte, opt Options) (*Picture, error) {
	f, refusal := know(file)
	if refusal != nil {
		return nil, refusal
	}
	select {
	case turn <- struct{}{}:
		defer func() { <-turn }()
	case <-ctx.Done():
		return nil, ctx.Err()
	}
	m, err := f.decode(ctx, opt.Within)
	if err != nil {
		return nil, err
	}
	said := readExif(f.exif)
	p, err := f.drawn(m, said.orientation)
	if err != nil {
		return nil, err
	}
	if opt.KeepTime {
		p.TakenAt = said.takenAt
	}
	if opt.KeepPosition {
		p.Position = said.position
	}
	return p, nil
}

// drawn is what is kept and shown of a decoded picture.
func (f *found) drawn(m image.Image, orientation int) (p *Picture, err error) {
	p = &Picture{JPEG: f.file, Width: m.Bounds().Dx(), Height: m.Bounds().Dy()}
	if f.kind == kindJPEG && max(p.Width, p.Height) <= LongSide && plain(f.file) {
		p.JPEG = bytes.Clone(f.file)
		p.Thumb, err = encoded(reduced(m, ThumbSide), thumbQuality)
		return p, err
	}
	small := upright(reduced(m, LongSide), orientation)
	p.Width, p.Height = small.Rect.Dx(), small.Rect.Dy()
	if p.JPEG, err = encoded(small, quality); err != nil {
		return nil, err
	}
	p.Thumb, err = encoded(reduced(small, ThumbSide), thumbQuality)
	return p, err
}

func encoded(m *image.YCbCr, quality int) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, m, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}
