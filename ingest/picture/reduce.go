package picture

import (
	"image"
	"image/color"
)

// reduced is the picture with its longer side at most so many pixels long, as
// full planes of brightness and color. Each pixel is the average of the area that
// it covers: what a finer filter would add is lost in the JPEG, and this keeps a
// picture of 12 megapixels within some 30 MB, where interpolating takes 190.
func reduced(m image.Image, side int) *image.YCbCr {
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	dw, dh := w, h
	if long := max(w, h); long > side {
		dw, dh = max(1, (w*side+long/2)/long), max(1, (h*side+long/2)/long)
	}
	out := image.NewYCbCr(image.Rect(0, 0, dw, dh), image.YCbCrSubsampleRatio444)
	if y, ok := m.(*image.YCbCr); ok {
		rx, ry := ratio(y.SubsampleRatio)
		average(out.Y, dw, dh, rows{w: w, h: h, rx: 1, ry: 1, n: 1, at: plane(y.Y, y.YStride)})
		average(out.Cb, dw, dh, rows{w: w, h: h, rx: rx, ry: ry, n: 1, at: plane(y.Cb, y.CStride)})
		average(out.Cr, dw, dh, rows{w: w, h: h, rx: rx, ry: ry, n: 1, at: plane(y.Cr, y.CStride)})
		return out
	}
	rgb := make([]byte, 3*dw*dh)
	average(rgb, dw, dh, rows{w: w, h: h, rx: 1, ry: 1, n: 3, at: onWhite(m)})
	for i := range out.Y {
		out.Y[i], out.Cb[i], out.Cr[i] = color.RGBToYCbCr(rgb[3*i], rgb[3*i+1], rgb[3*i+2])
	}
	return out
}

// ratio is how many pixels a sample of color covers, across and down.
func ratio(r image.YCbCrSubsampleRatio) (x, y int) {
	switch r {
	case image.YCbCrSubsampleRatio422:
		return 2, 1
	case image.YCbCrSubsampleRatio420:
		return 2, 2
	case image.YCbCrSubsampleRatio440:
		return 1, 2
	case image.YCbCrSubsampleRatio411:
		return 4, 1
	case image.YCbCrSubsampleRatio410:
		return 4, 2
	}
	return 1, 1
}

// rows are samples, a row at a time: n channels of them, side by side, for a
// picture of w by h pixels of which each sample covers rx by ry.
type rows struct {
	w, h, rx, ry, n int
	at              func(y int) []byte
}

func plane(samples []byte, stride int) func(y int) []byte {
	return func(y int) []byte { return samples[y*stride:] }
}

// onWhite are the rows of any picture in red, green and blue, as it looks on white
// paper.
func onWhite(m image.Image) func(y int) []byte {
	b := m.Bounds()
	row := make([]byte, 3*b.Dx())
	at := func(x, y int) color.RGBA64 {
		r, g, b, a := m.At(x, y).RGBA()
		return color.RGBA64{R: uint16(r), G: uint16(g), B: uint16(b), A: uint16(a)}
	}
	if quick, ok := m.(image.RGBA64Image); ok {
		at = quick.RGBA64At
	}
	return func(y int) []byte {
		for x := range b.Dx() {
			c := at(b.Min.X+x, b.Min.Y+y)
			white := 0xffff - c.A
			row[3*x], row[3*x+1], row[3*x+2] = byte((c.R+white)>>8), byte((c.G+white)>>8), byte((c.B+white)>>8)
		}
		return row
	}
}

// span is the samples that a pixel covers, with how much of the first and the
// last.
type span struct {
	from, to    int // both included
	first, last uint64
}

// spans are those of each of n pixels that a length of size pixels is reduced to,
// in samples of r pixels. A whole sample weighs n×r, and those of a pixel weigh
// size in all, but for what lies beyond the last sample.
func spans(n, size, r int) []span {
	all := make([]span, n)
	whole := n * r
	for i := range all {
		a, b := i*size, (i+1)*size
		s := span{from: a / whole, to: (b - 1) / whole}
		if s.from == s.to {
			s.first = uint64(b - a)
		} else {
			s.first, s.last = uint64((s.from+1)*whole-a), uint64(b-s.to*whole)
		}
		all[i] = s
	}
	return all
}

// average fills into with the averages of what its pixels cover.
func average(into []byte, w, h int, from rows) {
	across, down := spans(w, from.w, from.rx), spans(h, from.h, from.ry)
	sums, row, have := make([]uint64, w*from.n), make([]uint64, w*from.n), -1
	whole, all := uint64(h*from.ry), uint64(from.w)*uint64(from.h)
	for y, s := range down {
		clear(sums)
		for i := s.from; i <= s.to; i++ {
			if i != have { // a row on the edge counts for two
				addUp(row, from.at(i), across, from.n, uint64(w*from.rx))
				have = i
			}
			weight := whole
			if i == s.from {
				weight = s.first
			} else if i == s.to {
				weight = s.last
			}
			for x, v := range row {
				sums[x] += weight * v
			}
		}
		for x, sum := range sums {
			into[y*len(sums)+x] = byte((sum + all/2) / all)
		}
	}
}

// addUp adds up a row's samples, each as much as it counts.
func addUp(into []uint64, samples []byte, across []span, n int, whole uint64) {
	for x, s := range across {
		for c := range n {
			sum := s.first * uint64(samples[s.from*n+c])
			if s.to > s.from {
				inner := uint64(0)
				for i := (s.from+1)*n + c; i < s.to*n; i += n {
					inner += uint64(samples[i])
				}
				sum += whole*inner + s.last*uint64(samples[s.to*n+c])
			}
			into[x*n+c] = sum
		}
	}
}
