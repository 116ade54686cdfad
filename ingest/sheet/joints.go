package sheet

import (
	"math"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// joints is what a cell says about joints: 8x8, saw 8', tooled 5', every 8 ft,
// 10' o.c., 1/4 saw @ 10, sawed next morning, 10' apart.
type joints struct {
	spacing record.Number // ft, the longer side
	cuts    []string
	other   string // words that are not understood
}

var cutWords = []struct {
	term  string
	words *pattern
}{
	{"tooled", patternOf(`\b(?:hand ?)?tool(?:ed|ing)?\b|\b(?:hand )?groov(?:ed?|er|ing)\b|\bhand(?: joints?)?\b|\bjointer\b|\bstruck\b|\bmarcad[oa]s?\b|\b(?:con|a) (?:herramienta|mano|volteador)\b`)},
	{"saw", patternOf(`\b(?:wet |dry )?saw(?:n|ed|ing)?(?:[ -]?cuts?)?\b|\bsawcuts?\b|\bcut(?:s|ting)?\b|\bcort(?:e|es|ado|ados)(?: con (?:sierra|disco))?\b|\bcon (?:sierra|disco)\b|\bsierra\b|\bsc\b`)},
	{"early-entry", patternOf(`\bearly[ -]?entry(?: saw(?:n|ed)?)?\b|\bgreen[ -]?(?:saw|cut)(?:s|n)?\b|\bsoft[ -]?cut\b|\bsoff ?-?cut\b|\bsame[ -]day saw(?:n|ed)?\b`)},
}

// jointFiller are words around a spacing that add nothing to it.
var jointFiller = patternOf(`\b(?:every|each way|each|ew|e\.w\.|both ways|bw|o/c|oc|o\.? ?c\.?|on cent(?:er|re)s?|cent(?:er|re)s?|ctrs?|spacing|spaced|apart|panels?|joints?|jts?|cjs?|control|contraction|grid|squares?|sq|max(?:imum)?|typ\.?|typical|cada|juntas?|panos?|at|at about|a|in|with|w|the|by|them|next (?:morning|day)|same day|day after|morning after|later|after|spaces?|way|ways|lines?|both|deep|and|of)(?:\b|$)|[@;:]|,(?:\s|$)|\.\s*$`)

// jointCount finds how many joints there are, which says nothing of how far apart.
var jointCount = patternOf(`\b\d+ (?:saw ?cuts|cuts|panels|joints|lines|rows|bays)\b|\b1 (?:saw ?cut|cut|joint|line)\b|\b\d+ (?:down|across|through)\b.*|\b(?:tooled|rounded) edges?\b|\bedges? tooled\b`)

// inchesIn finds inches by a word that could be another.
var inchesIn = patternOf(`(\d)\s*in\b\.?`)

var noJoints = patternOf(`^(?:no|none|no joints?|no cuts?|not? jointed|sin juntas?|ninguna)$`)

// jointAside finds lengths and times that are no spacing: the depth of the cut,
// the hours before it.
var jointAside = patternOf(lengthIn.String() + `\s*(?:deep|depth|dp|of depth|in depth|profund\w*)\b|\b(?:deep|depth)\s*` + lengthIn.String() + `|\b\d+(?:\.\d+)?(?:\s*(?:-|to)\s*\d+)?\s*(?:h|hrs?|hours?|min(?:utes)?|days?)\b(?: (?:after|later))?|\bt ?/ ?[34]\b|\bd ?/ ?4\b|\b1/4\b(?: ?(?:"|in\b))?(?: ?t\b)?`)

// parseJoints reads a spacing, in the measure of its column, and how joints were
// made. It is false where the cell holds anything else.
func parseJoints(text string, m measure, h habit, say *remarks) (joints, bool) {
	s := inFigures(plainLower(text))
	if noJoints.MatchString(record.Fold(s)) {
		return joints{cuts: []string{"none"}}, true
	}
	var j joints
	if len(s) > 5 {
		s = jointCount.ReplaceAllString(jointAside.ReplaceAllString(s, " "), " ")
	}
	for i := len(cutWords) - 1; i >= 0; i-- { // early-entry before saw
		c := cutWords[i]
		if c.words.MatchString(s) {
			j.cuts = append(j.cuts, c.term)
			s = c.words.ReplaceAllString(s, " ")
		}
	}
	slices.Reverse(j.cuts)
	if hedged.MatchString(s) {
		return joints{}, false
	}
	s, rough := trimApprox(strings.TrimSpace(s))
	s = strings.TrimSpace(inchesIn.ReplaceAllString(s, `$1"`))
	read, ok := j.spaced(s, m, h, say)
	if !ok {
		return joints{}, false
	}
	if rough && j.spacing.OK {
		say.warn(codeApproximate, "a rough value", "read as "+trimFloat(j.spacing.V))
	}
	return j, read || len(j.cuts) > 0
}

// spaced reads the spacing in what is left of a cell. read says whether there is
// one; ok is false where there is something that is none.
func (j *joints) spaced(s string, m measure, h habit, say *remarks) (read, ok bool) {
	s = strings.ReplaceAll(s, "'/", "'")
	if p := pairIn.FindStringSubmatchIndex(s); p != nil {
		a, okA := lengthsIn(submatch(s, p, 1), m, h)
		b, okB := lengthsIn(submatch(s, p, 2), m, h)
		rest := s[:p[0]] + " " + s[p[1]:]
		if !okA || !okB || len(a) != 1 || len(b) != 1 || lengthIn.MatchString(rest) || math.Min(a[0], b[0]) <= 0 {
			return false, false
		}
		j.spacing, j.other = record.Some(math.Max(a[0], b[0])), otherThan(rest)
		return true, true
	}
	words := strings.Join(strings.Fields(jointFiller.ReplaceAllString(s, " ")), " ")
	words = strings.Trim(words, " -/+&.")
	if words == "" {
		return false, true
	}
	if low, high, ok := splitRange(words); ok {
		a, ok := rangeMiddle(low, high, m, h, say)
		j.spacing = record.Number{V: a.value, OK: ok}
		return ok, ok
	}
	q := quantityReader{m: m, h: h}
	if a, err := q.terms(words); err == nil {
		q.remark(say, trimFloat(a.value))
		j.spacing = record.Some(a.value)
		return true, true
	}
	found, ok := lengthsIn(words, m, h)
	if j.other = otherThan(words); !ok || len(found) > 1 || len(found) == 0 && len(j.cuts) == 0 || strings.ContainsAny(words, "?$%#") {
		return false, false
	}
	if len(found) == 1 && found[0] > 0 {
		j.spacing = record.Some(found[0])
	}
	return len(found) == 1, true
}

// otherThan are the words of a text beside its lengths.
func otherThan(s string) string {
	s = jointFiller.ReplaceAllString(lengthIn.ReplaceAllString(s, " "), " ")
	return strings.Trim(strings.Join(strings.Fields(s), " "), " .,;:@+&/-'\"!()")
}

func (r *cellReader) readJoints(c *column, field any, text string) {
	f := field.(*record.Number)
	*f = record.Number{}
	if isMissingWord(strings.ToLower(plainSigns(text))) && record.Fold(text) != "none" {
		return
	}
	if v, ok := plainFigures(text, r.habit); ok {
		*f = record.Number{V: c.bare(v), OK: r.inRange(c, c.bare(v), c.foreign)}
		return
	}
	j, ok := parseJoints(text, c.measure, r.habit, &r.say)
	if !ok {
		if !r.say.failed() {
			r.say.fail(codeNotNumber, "not a spacing of joints", "write one such as 8, 8x10 or saw 8'")
		}
		return
	}
	if j.spacing.OK {
		*f = record.Number{V: j.spacing.V, OK: r.inRange(c, j.spacing.V, true)}
	}
	if len(j.cuts) > 0 {
		r.spill("joint_cut", setText(strings.Join(j.cuts, "+")))
	}
}

// readCut reads how joints are made; a spacing beside it is kept.
func (r *cellReader) readCut(c *column, field any, text string) {
	f := field.(*string)
	if r.readShort(c, text, f) {
		return
	}
	if _, ok := c.words.terms[record.Fold(plainSigns(text))]; !ok {
		var ignored remarks
		if j, ok := parseJoints(text, ownUnit(record.Foot), r.habit, &ignored); ok && len(j.cuts) > 0 {
			*f = strings.Join(j.cuts, "+")
			if j.spacing.OK {
				r.spill("joint_spacing_ft", setNumber(j.spacing.V))
			}
			return
		}
	}
	*f = r.readString(c, text)
}
