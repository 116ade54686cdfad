package picture

import (
	"bytes"
	"errors"
	"fmt"
	"io"

	"pourback/ingest/record"
)

// Refusal is the error of a file of which no picture is made: what is wrong with
// it, and what would be right.
type Refusal struct{ record.Problem }

func (r *Refusal) Error() string { return r.Problem.String() }

// Codes of a [Refusal].
const (
	CodeEmpty   = "picture-empty"
	CodeLarge   = "picture-too-large" // in bytes
	CodePixels  = "picture-too-wide"  // in pixels
	CodeForeign = "picture-foreign"   // no picture, or of a kind that is not taken
	CodePhone   = "picture-heic"      // as phones keep them, HEIC or AVIF
	CodeMoving  = "picture-moving"    // an animation
	CodeDamaged = "picture-damaged"   // cut off, or not as its format has it
	CodeUnusual = "picture-unusual"   // of its format, in a way that is not read
	CodeSlow    = "picture-slow"      // not decoded within the time
)

// What would be right, where several say it.
const (
	wantPicture  = "send a JPEG, PNG or WebP picture"
	wantsSaving  = "open it, save it as a JPEG, and send that"
	wantsAnother = "send it again, or another"
)

func refuse(code, wrong, right string) *Refusal {
	return &Refusal{record.Problem{Severity: record.Error, Code: code, Wrong: wrong, Right: right}}
}

func tooManyPixels(width, height int, most float64) *Refusal {
	return refuse(CodePixels, fmt.Sprintf("%d by %d pixels", width, height),
		fmt.Sprintf("up to %.0f million pixels of this kind; make it smaller, %d pixels on its longer side are kept", most/1e6, LongSide))
}

// unread is why a file could not be decoded: nil is a decoder that stumbled.
func (f *found) unread(err error) *Refusal {
	switch {
	case f.moving:
		return refuse(CodeMoving, "moves: it holds several pictures", "send a still picture")
	case errors.Is(err, io.ErrUnexpectedEOF) || errors.Is(err, io.EOF):
		return refuse(CodeDamaged, "ends before the picture does", wantsAnother)
	case err != nil && bytes.Contains([]byte(err.Error()), []byte("unsupported")):
		return refuse(CodeUnusual, "is a "+string(f.kind)+" of an unusual kind, which is not read", wantsSaving)
	}
	return refuse(CodeDamaged, "is damaged: it says it is a "+string(f.kind)+", and cannot be read as one", wantsAnother)
}
