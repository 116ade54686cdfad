package sheet

import (
	"slices"
	"strings"
)

// readBar reads a bar's size, and how far apart the bars are, from a column of its
// own: #4, 16 both ways; #3 @ 18". What is no size of one bar is kept as written.
func (r *cellReader) readBar(c *column, field any, text string) {
	if !r.loose {
		r.readKind(c, field, text)
		return
	}
	f := field.(*string)
	*f = ""
	if isMissingWord(strings.ToLower(plainSigns(text))) {
		return
	}
	*f = strings.TrimSpace(text)
	s, ok := r.steelOf(text)
	if ok && slices.Equal(s.kinds, []string{"none"}) {
		*f = ""
		return
	}
	if !ok || s.other != "" || s.bar == "" || s.bar == twoBars {
		return
	}
	*f = s.bar
	if s.spacing.OK {
		r.spill("bar_spacing_in", setNumber(s.spacing.V))
	}
}
