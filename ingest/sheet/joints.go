package sheet

import (
	"regexp"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// joints is what a cell says about joints: 8x8, saw 8', tooled 5', every 8 ft,
// 10' o.c., 1/4 saw @ 10.
type joints struct {
	spacing record.Number // ft, the longer side
	cuts    []string
}

var cutWords = []struct {
	term  string
	words *regexp.Regexp
}{
	{"tooled", regexp.MustCompile(`\b(?:hand ?)?tool(?:ed|ing)?\b|\bgroov(?:ed?|er|ing)\b|\bhand(?: joints?)?\b|\bjointer\b|\bmarcad[oa]s?\b|\b(?:con|a) (?:herramienta|mano|volteador)\b`)},
	{"saw", regexp.MustCompile(`\b(?:wet |dry )?saw(?:n|ed|ing)?(?:[ -]?cuts?)?\b|\bsawcuts?\b|\bcut(?:s|ting)?\b|\bcort(?:e|es|ado|ados)(?: con (?:sierra|disco))?\b|\bcon (?:sierra|disco)\b|\bsierra\b|\bsc\b`)},
	{"early-entry", regexp.MustCompile(`\bearly[ -]?entry(?: saw(?:n|ed)?)?\b|\bgreen[ -]?(?:saw|cut)(?:s|n)?\b|\bsoft[ -]?cut\b|\bsoff ?cut\b`)},
}

// jointFiller are words around a spacing that add nothing to it.
var jointFiller = regexp.MustCompile(`\b(?:every|each way|each|ew|e\.w\.|both ways|bw|o/c|oc|o\.? ?c\.?|on cent(?:er|re)s?|cent(?:er|re)s?|ctrs?|spacing|spaced|panels?|joints?|jts?|cjs?|control|grid|squares?|sq|max|typ\.?|typical|cada|juntas?|panos?|at|at about|a)(?:\b|$)|[@;:]|,(?:\s|$)|\.\s*$`)

var noJoints = regexp.MustCompile(`^(?:no|none|no joints?|sin juntas?|ninguna)$`)

// parseJoints reads a spacing, in the measure of its column, and how joints were
// made. It is false where the cell holds anything else.
func parseJoints(text string, m measure, h habit, say *remarks) (joints, bool) {
	s := accents.Replace(strings.ToLower(strings.TrimSpace(plainSigns(text))))
	if noJoints.MatchString(record.Fold(s)) {
		return joints{cuts: []string{"none"}}, true
	}
	var j joints
	for i := len(cutWords) - 1; i >= 0; i-- { // early-entry before saw
		c := cutWords[i]
		if c.words.MatchString(s) {
			j.cuts = append(j.cuts, c.term)
			s = c.words.ReplaceAllString(s, " ")
		}
	}
	slices.Reverse(j.cuts)
	s, rough := trimApprox(strings.TrimSpace(s))
	s = strings.TrimSpace(jointFiller.ReplaceAllString(s, " "))
	s = strings.Trim(strings.ReplaceAll(s, "'/", "'"), " -/+&")
	if s == "" {
		return j, len(j.cuts) > 0
	}
	if panel, ok := parseSizeIn(s, h, m); ok && !panel.depth.OK && len(panel.sides) == 2 {
		j.spacing = record.Some(twelveDigits(panel.longerSide()))
	} else if low, high, ok := splitRange(s); ok {
		a, ok := rangeMiddle(low, high, m, h, say)
		if !ok {
			return joints{}, false
		}
		j.spacing = record.Some(a.value)
	} else {
		q := quantityReader{m: m, h: h}
		a, err := q.terms(s)
		if err != nil {
			return joints{}, false
		}
		q.remark(say, trimFloat(a.value))
		j.spacing = record.Some(a.value)
	}
	if rough {
		say.warn(codeApproximate, "a rough value", "read as "+trimFloat(j.spacing.V))
	}
	return j, true
}
