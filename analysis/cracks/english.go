package cracks

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"pourback/analysis/figure"
)

// What follows goes once the answers about visits are said by the report.

// OutOf100 is a share as an owner says it: "7 in 100 (between 5 and 9)".
func OutOf100(f figure.Figure) string {
	digits := 0
	if f.Bounded && 100*(f.High-f.Low) < 2 || !f.Bounded && 100*math.Abs(f.Value) < 2 {
		digits = 1
	}
	text := func(v float64) string { return Signed(100*v, digits) }
	if !f.Bounded {
		return text(f.Value) + " in 100"
	}
	return fmt.Sprintf("%s in 100 (between %s and %s)", text(f.Value), text(f.Low), text(f.High))
}

// Of100 is the same with what there are 100 of: "7 of 100 slabs (between 5
// and 9)".
func Of100(f figure.Figure, noun string) string {
	return strings.Replace(OutOf100(f), "in 100", "of 100 "+noun, 1)
}

// Signed writes a number with a true minus, and no minus before 0.
func Signed(v float64, digits int) string {
	s := strconv.FormatFloat(math.Abs(v), 'f', digits, 64)
	if v < 0 && strings.Trim(s, "0.") != "" {
		return "−" + s
	}
	return s
}
