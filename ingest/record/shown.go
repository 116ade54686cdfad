package record

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Shown is a name, such as a file's, as it may be shown and kept as text: what a
// terminal would obey, what turns the direction of writing and bytes that are no
// UTF-8 are written as escapes, \n, \x1b or \u202e. Any other name is as it is.
func Shown(name string) string {
	if !strings.ContainsFunc(name, unshown) && utf8.ValidString(name) {
		return name
	}
	var b strings.Builder
	for i, r := range name {
		_, size := utf8.DecodeRuneInString(name[i:])
		switch {
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\r':
			b.WriteString(`\r`)
		case r == '\t':
			b.WriteString(`\t`)
		case r == utf8.RuneError && size == 1, r < 0x80 && unshown(r):
			fmt.Fprintf(&b, `\x%02x`, name[i])
		case unshown(r):
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// unshown says whether a character is obeyed, not seen.
func unshown(r rune) bool {
	return unicode.IsControl(r) || unicode.Is(unicode.Bidi_Control, r) || r == '\u2028' || r == '\u2029'
}
