package picture

import (
	"context"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"io"
	"time"

	"golang.org/x/image/webp"
)

// form is how a kind of file is read.
type form struct {
	config func(io.Reader) (image.Config, error) // its size, before anything of it is decoded
	decode func(io.Reader) (image.Image, error)
	parts  func(f *found) // finds what is in it beside the picture
}

var forms = map[kind]form{
	kindJPEG: {jpeg.DecodeConfig, jpeg.Decode, (*found).partsOfJPEG},
	kindPNG:  {png.DecodeConfig, png.Decode, (*found).partsOfPNG},
	kindWebP: {webp.DecodeConfig, decodeWebP, (*found).partsOfWebP},
}

// decode decodes the file once its size is known to be within the limits.
func (f *found) decode(ctx context.Context, within time.Duration) (m image.Image, err error) {
	if within <= 0 {
		within = 2 * time.Second
	}
	defer func() {
		if recover() != nil { // a crafted file must not end a program in which others work
			m, err = nil, f.unread(nil)
		}
	}()
	r := &clocked{ctx: ctx, until: time.Now().Add(within)}
	is, err := forms[f.kind].config(r.again(f.file))
	if err == nil {
		if refusal := f.within(is); refusal != nil {
			return nil, refusal
		}
		m, err = forms[f.kind].decode(r.again(f.file))
	}
	switch {
	case ctx.Err() != nil:
		return nil, ctx.Err()
	case r.late:
		return nil, refuse(CodeSlow, "takes too long to read", wantsSaving)
	case err != nil:
		return nil, f.unread(err)
	}
	return m, nil
}

// within says why a picture of such a size is not decoded, if it is too large.
func (f *found) within(is image.Config) *Refusal {
	pixels, most := float64(is.Width)*float64(is.Height), MostPixels
	if f.heavy || is.ColorModel != color.YCbCrModel && f.kind == kindJPEG && is.ColorModel != color.GrayModel {
		most = MostHeavy
	}
	if pixels > most {
		return tooManyPixels(is.Width, is.Height, most)
	}
	return nil
}

// decodeWebP decodes with the whole range of values: a lossy WebP has brightness
// from 16 to 235 and color from 16 to 240 (RFC 6386, section 9.2, by ITU-R
// BT.601), and its decoder hands both over as they are, in a type that means 0 to
// 255. Black would be gray.
func decodeWebP(r io.Reader) (image.Image, error) {
	m, err := webp.Decode(r)
	switch m := m.(type) {
	case *image.YCbCr:
		widen(m)
	case *image.NYCbCrA:
		widen(&m.YCbCr)
	}
	return m, err
}

func widen(m *image.YCbCr) {
	var bright, tint [256]byte
	for i := range bright {
		bright[i] = byte(max(0, min(255, ((i-16)*255+109)/219)))
		tint[i] = byte(max(0, min(255, (i*255-128*255+128*224+112)/224)))
	}
	for i, v := range m.Y {
		m.Y[i] = bright[v]
	}
	for i, v := range m.Cb {
		m.Cb[i], m.Cr[i] = tint[v], tint[m.Cr[i]]
	}
}

// clocked reads a file until its time is over: decoders take no context, and a
// JPEG of half a megabyte can hold a minute's work.
type clocked struct {
	ctx   context.Context
	file  []byte
	until time.Time
	late  bool
}

// readAtOnce is how much is given at a time, so that the clock is looked at
// often: this much can be twenty empty scans.
const readAtOnce = 512

func (r *clocked) again(file []byte) *clocked {
	r.file = file
	return r
}

func (r *clocked) Read(b []byte) (int, error) {
	if err := r.ctx.Err(); err != nil {
		return 0, err
	}
	if r.late = time.Now().After(r.until); r.late {
		return 0, context.DeadlineExceeded
	}
	if len(r.file) == 0 {
		return 0, io.EOF
	}
	n := copy(b[:min(len(b), readAtOnce)], r.file)
	r.file = r.file[n:]
	return n, nil
}
