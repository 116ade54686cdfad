package sheet

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"

	"pourback/ingest/record"
)

// maxTextChars is the longest text of a column that names no limit of its own.
const maxTextChars = 10000

// MaxChars is how many characters a text of a column may have.
func MaxChars(c *record.Column) int {
	if c.MaxChars == 0 {
		return maxTextChars
	}
	return c.MaxChars
}

// parseText reads free text: trimmed, without control characters. Lines may be
// broken in a note but not in a key.
func parseText(text string, c *record.Column, say *remarks) (string, bool) {
	s := strings.TrimFunc(text, isBlank)
	clean := strings.TrimFunc(cleanText(s, c.Key || c.MaxChars > 0), isBlank)
	if isMissingWord(clean) {
		return "", true
	}
	if clean != s && lineBreaks.Replace(s) != clean {
		say.warn(codeControl, "characters that cannot be shown", fmt.Sprintf("kept as %q", shorten(clean)))
	}
	if strings.ContainsRune(clean, utf8.RuneError) {
		say.warn(codeUnreadable, "characters that could not be read", "save the file as UTF-8")
	}
	limit := MaxChars(c)
	if len(clean) > limit && utf8.RuneCountInString(clean) > limit {
		say.fail(codeTooLong, fmt.Sprintf("longer than %d characters", limit), "shorten it")
		return "", false
	}
	return clean, true
}

// isBlank says whether r is a space of any width, or nothing to be seen.
func isBlank(r rune) bool { return unicode.IsSpace(r) || isInvisible(r) }

// isInvisible says whether r is a mark of direction, a space of no width or a
// byte-order mark: pasted along, and never meant.
func isInvisible(r rune) bool {
	switch {
	case r == '\u200b', r == '\ufeff', r == '\u200e', r == '\u200f', r == '\u2060':
		return true
	}
	return r >= '\u202a' && r <= '\u202e' || r >= '\u2066' && r <= '\u2069'
}

func withoutInvisible(s string) string {
	if strings.IndexFunc(s, isInvisible) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		if isInvisible(r) {
			return -1
		}
		return r
	}, s)
}

// cleanText takes control characters away, or puts a space for those that part
// words.
func cleanText(s string, oneLine bool) string {
	if strings.IndexFunc(s, func(r rune) bool { return unicode.IsControl(r) || isInvisible(r) }) < 0 {
		return s
	}
	return strings.Map(func(r rune) rune {
		switch {
		case (r == '\n' || r == '\t') && !oneLine:
			return r
		case r == '\n' || r == '\t':
			return ' '
		case unicode.IsControl(r) || isInvisible(r):
			return -1
		}
		return r
	}, lineBreaks.Replace(s))
}

var lineBreaks = strings.NewReplacer("\r\n", "\n", "\r", "\n")

func shorten(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
