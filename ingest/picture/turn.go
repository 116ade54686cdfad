package picture

import "image"

// upright is a picture turned as its orientation says (Exif 2.3, section 4.6.4,
// Orientation: which corner of the scene its first row and column are).
func upright(m *image.YCbCr, orientation int) *image.YCbCr {
	if orientation < 2 || orientation > 8 {
		return m
	}
	w, h := m.Rect.Dx(), m.Rect.Dy()
	if orientation >= 5 {
		w, h = h, w
	}
	out := image.NewYCbCr(image.Rect(0, 0, w, h), image.YCbCrSubsampleRatio444)
	for y := range h {
		for x := range w {
			// right and down are how far x and y lie from the other side
			from, right, down := 0, w-1-x, h-1-y
			switch orientation {
			case 2: // mirrored
				from = m.YOffset(right, y)
			case 3: // upside down
				from = m.YOffset(right, down)
			case 4: // upside down and mirrored
				from = m.YOffset(x, down)
			case 5: // lying, mirrored
				from = m.YOffset(y, x)
			case 6: // lying on its left side
				from = m.YOffset(y, right)
			case 7: // lying, mirrored, the other way
				from = m.YOffset(down, right)
			case 8: // lying on its right side
				from = m.YOffset(down, x)
			}
			to := out.YOffset(x, y)
			out.Y[to], out.Cb[to], out.Cr[to] = m.Y[from], m.Cb[from], m.Cr[from]
		}
	}
	return out
}
