package sheet

import (
	"strings"

	"pourback/ingest/record"
)

// remark is one thing to say about a value: why it cannot be read, or a
// reservation about how it was read.
type remark struct {
	severity           record.Severity
	code, wrong, right string
}

// remarks gathers what is said about one value.
type remarks []remark

func (r *remarks) fail(code, wrong, right string) {
	*r = append(*r, remark{record.Error, code, wrong, right})
}

func (r *remarks) warn(code, wrong, right string) {
	*r = append(*r, remark{record.Warning, code, wrong, right})
}

// failed says whether the value could not be read.
func (r remarks) failed() bool {
	for _, x := range r {
		if x.severity == record.Error {
			return true
		}
	}
	return false
}

// missingWords are what people write where they have no value.
var missingWords = map[string]bool{"": true, "n/a": true, "na": true, "n.a.": true, "-": true, "--": true, "---": true, "–": true, "—": true,
	"?": true, "??": true, "???": true, "tbd": true, "tba": true, "none": true, "null": true, "nil": true, "unknown": true, "unk": true}

const longestMissingWord = 9 // bytes

func isMissingWord(s string) bool {
	return len(s) <= longestMissingWord && missingWords[strings.ToLower(s)]
}

// SaysNothing says whether a text stands for no value: it is empty, or n/a, -, no.
func SaysNothing(text string) bool {
	s := strings.ToLower(plainSigns(text))
	return strings.TrimFunc(s, isBlank) == "" || isMissingWord(s) || isMissingWord(record.Fold(s)) || noCallback.MatchString(s)
}

// cellErrors are what spreadsheets show where a formula has no value.
var cellErrors = map[string]bool{"#DIV/0!": true, "#N/A": true, "#NAME?": true, "#NULL!": true, "#NUM!": true, "#REF!": true, "#VALUE!": true,
	"#GETTING_DATA": true, "#SPILL!": true, "#CALC!": true, "#FIELD!": true, "#BLOCKED!": true, "#CONNECT!": true, "#BUSY!": true, "#UNKNOWN!": true}

func isCellError(s string) bool {
	if s == "" || s[0] != '#' && s[0] != 'E' {
		return false
	}
	return cellErrors[strings.ToUpper(s)] || strings.HasPrefix(s, "Err:5") || len(s) > 2 && strings.Trim(s, "#") == ""
}

// signs brings the typographic forms of signs that numbers are written with to
// the plain ones.
var signs = strings.NewReplacer("\u00a0", " ", "\u2007", " ", "\u2009", " ", "\u202f", " ", "\t", " ", "\n", " ",
	"\u2212", "-", "\u2013", "-", "\u2014", "-", "\u2012", "-", "\u2010", "-", "\u2011", "-",
	"’", "'", "‘", "'", "′", "'", "”", `"`, "“", `"`, "″", `"`, "''", `"`, "\u2044", "/")

func plainSigns(s string) string {
	for i := range len(s) {
		if s[i] >= 0x80 || s[i] < ' ' || s[i] == '\'' {
			return strings.TrimSpace(signs.Replace(withoutInvisible(s)))
		}
	}
	return strings.TrimSpace(s)
}

var approxBefore = []string{"~", "≈", "<", ">", "≤", "≥", "approximately ", "approx. ", "approx ", "approx.", "about ", "around ", "abt ", "ca. ", "ca ", "circa "}
var approxBehind = []string{"+/-", "+-", "+", "?", "(est.)", "(est)", " est.", " est", " approx.", " approx", "ish"}

// approxEnds are the last letters of approxBehind.
const approxEnds = "-+?).tTxXhH"

// trimApprox takes away the words that say a value is rough.
func trimApprox(s string) (rest string, rough bool) {
	if s == "" {
		return s, false
	}
	if !isDigit(s[0]) {
		for _, p := range approxBefore {
			if len(s) > len(p) && strings.EqualFold(s[:len(p)], p) {
				return strings.TrimSpace(s[len(p):]), true
			}
		}
	}
	if strings.IndexByte(approxEnds, s[len(s)-1]) >= 0 {
		for _, p := range approxBehind {
			if n := len(s) - len(p); n > 0 && strings.EqualFold(s[n:], p) {
				return strings.TrimSpace(s[:n]), true
			}
		}
	}
	return s, false
}
