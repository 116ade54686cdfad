package chart

import (
	"html/template"
	"strconv"

	"rsc.io/qr"
)

// quiet is how many modules around a code are left white: ISO/IEC 18004 asks for
// four.
const quiet = 4

// Code draws a text as a QR code that tells up to 15% of damage right (level M
// of ISO/IEC 18004), with its quiet zone; says is for those who do not see it.
// It has colors of its own, since it is read dark on white, whatever the page's
// are. "" where the text is empty or too long for a code.
func Code(text, says string) template.HTML {
	if text == "" {
		return ""
	}
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return ""
	}
	side := strconv.Itoa(code.Size + 2*quiet)
	w := &svg{}
	w.raw(`<svg class="code" viewBox="0 0 `+side+` `+side+`"`).attribute("role", "img").attribute("aria-label", says)
	w.raw(` shape-rendering="crispEdges"><rect width="` + side + `" height="` + side + `" fill="#fff"/><path fill="#000" d="`)
	for y := range code.Size {
		for x := 0; x < code.Size; {
			from := x
			for x < code.Size && code.Black(x, y) {
				x++
			}
			if run := x - from; run > 0 {
				at, wide := strconv.Itoa(from+quiet), strconv.Itoa(run)
				w.raw("M" + at + " " + strconv.Itoa(y+quiet) + "h" + wide + "v1h-" + wide + "z")
			} else {
				x++
			}
		}
	}
	w.raw(`"/></svg>`)
	return template.HTML(w.String()) // markup of ours, everything else escaped
}
