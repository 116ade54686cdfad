package sheet

import (
	"math"
	"regexp"
	"slices"
	"strings"

	"pourback/ingest/record"
)

// steel is what a cell says about reinforcement.
type steel struct {
	kinds   []string      // mesh, rebar, fiber, or none
	bar     string        // #4, or the mesh's designation
	spacing record.Number // in
	other   string        // what of the cell is not understood
}

// Ways in which the trade writes what goes into a slab.
var (
	noSteel    = regexp.MustCompile(`^(?:none|no|non|nada|nothing|plain|sin|sin refuerzo|unreinforced|no steel|no iron|no wire|no bar|sin varilla|sin malla|sin acero|nothing in it|no reinf(?:orcement)?|no mesh|no rebar|0|ninguno)$`)
	fiberWord  = regexp.MustCompile(`\bfib(?:er|re|ra)s?(?: ?mesh)?\b|\bfib(?:er|re)mesh\b|\bmacro ?fib|\bmicro ?fib|\bpoly ?(?:pro)?\b|\bfiber`)
	meshWord   = regexp.MustCompile(`\b(?:wire ?mesh|welded wire(?: ?mesh| ?fabric)?|mesh|wwm|wwf|wwr|wire|remesh|malla(?: electrosoldada)?|roll(?:ed)? wire|fabric|cwm)\b`)
	meshStyle  = regexp.MustCompile(`\b([46]) ?["']? ?[x/-] ?([46])["']?(?: *[-/ ,x]? *(?:w? ?\d+(?:\.\d+)? ?[x/-] ?w? ?\d+(?:\.\d+)?|(?:10|8|6) ?(?:ga|gauge)))?|\bw ?\d\.\d(?: ?x ?w ?\d\.\d)?|\b(?:10|8|6) ?(?:ga|gauge)\b`)
	barWord    = regexp.MustCompile(`\b(?:re ?-?bars?|bars?|varillas?|steel|deformed|acero|iron|dowels?|sticks?)\b`)
	barNumber  = regexp.MustCompile(`(?:#|\bno?\.? ?|\bnumber |\bnum\.? ?)([2-9]|1[0-8])(?:'?s)?\b|\b([3-9]) (?:re)?bars?\b`)
	barInches  = regexp.MustCompile(`\b([1-9])/([28])(?: ?(?:"|in\b\.?|inch\b))?`)
	barMetric  = regexp.MustCompile(`\b(10|12|13|15|16|19|20|25)(?: ?(m)\b| ?(mm)\b)`)
	spacingFor = regexp.MustCompile(`(?:@|\bx\b|\bat\b|\bon\b|\bevery\b|\bspaced\b|\ba\b|\ba cada\b|\bcada\b|-|,|^|\s)\s*(\d+(?:[.,/]\d+)?(?: \d/\d)?)\s*(''|"|'|in\b\.?|inch(?:es)?\b|ft\b\.?|feet\b|foot\b|cm\b|mm\b|m\b)?\s*(?:x\s*\d+\s*(?:"|'|in\b|ft\b)?)?\s*(?:oc\b|o ?\. ?c\b\.?|o/c|on cent(?:er|re)s?|cent(?:er|re)s?|ctrs?\b|c/c|grid|spacing|ew\b|e\.?w\.?|each way|both ways|bw\b)?`)
	center     = regexp.MustCompile(`\b(?:oc|o\.? ?c\.?|o/c|on cent(?:er|re)s?|cent(?:er|re)s?|ctrs?|c/c|grid|spacing|ew|e\.w\.|each way|both ways|bw)(?:\b|$)`)
)

var steelJoiner = regexp.MustCompile(`\s*(?:\+|&|;|\band\b|\bplus\b|\bwith\b|\bw/|\by\b|\bcon\b)\s*`)

// parseSteel reads reinforcement: its kinds, the bar or mesh, and how far apart.
// It is false where no kind is understood.
func parseSteel(text string, h habit) (steel, bool) {
	s := steelSigns.Replace(accents.Replace(strings.ToLower(strings.TrimSpace(plainSigns(text)))))
	if noSteel.MatchString(record.Fold(s)) {
		return steel{kinds: []string{"none"}}, true
	}
	var all steel
	for _, part := range steelJoiner.Split(s, -1) {
		for _, piece := range slashedWords(part) {
			if piece = strings.TrimSpace(piece); piece != "" && !all.add(piece, h) {
				return steel{}, false
			}
		}
	}
	slices.SortFunc(all.kinds, func(a, b string) int { return slices.Index(steelOrder, a) - slices.Index(steelOrder, b) })
	all.kinds = slices.Compact(all.kinds)
	return all, len(all.kinds) > 0
}

// steelSigns brings signs to plainer ones: W.W.M., brackets around a spacing.
var steelSigns = strings.NewReplacer("w.w.m.", "wwm", "w.w.f.", "wwf", "w.w.m", "wwm", "(", " ", ")", " ")

var steelOrder = []string{"none", "mesh", "rebar", "fiber"}

// slashedWords parts mesh/rebar at the stroke, and leaves 10/10 and 1/2 alone.
func slashedWords(s string) []string {
	parts := strings.Split(s, "/")
	for i := 1; i < len(parts); i++ {
		a, b := strings.TrimSpace(parts[i-1]), strings.TrimSpace(parts[i])
		if a == "" || b == "" || isDigit(a[len(a)-1]) || isDigit(b[0]) || len(a) == 1 || len(b) == 1 {
			return []string{s}
		}
	}
	return parts
}

// add takes one piece of a cell. It is false where the piece is no steel.
func (all *steel) add(piece string, h habit) bool {
	switch {
	case fiberWord.MatchString(piece):
		all.kinds = append(all.kinds, "fiber")
	case meshWord.MatchString(piece) || meshStyle.MatchString(piece) && !barWord.MatchString(piece) && !barNumber.MatchString(piece):
		all.kinds = append(all.kinds, "mesh")
		if style := meshStyle.FindString(piece); style != "" && all.bar == "" {
			all.bar = styleSpaces.ReplaceAllString(strings.TrimSpace(style), "x")
		}
	default:
		return all.addBar(piece, h)
	}
	return true
}

// styleSpaces are the spaces around the sign within a mesh's style.
var styleSpaces = regexp.MustCompile(`\s*x\s*`)

// addBar takes a piece that speaks of bars.
func (all *steel) addBar(piece string, h habit) bool {
	bar, rest := cutBar(piece)
	named := barWord.MatchString(rest)
	if bar == "" && !named {
		return false
	}
	rest = strings.TrimSpace(barWord.ReplaceAllString(rest, " "))
	rest = strings.TrimSpace(strings.TrimPrefix(strings.TrimPrefix(rest, "s "), "de "))
	if bar != "" {
		all.bar = bar
	}
	all.kinds = append(all.kinds, "rebar")
	if rest == "" || strings.Trim(rest, " @,.-") == "" {
		return true
	}
	var ok bool
	if all.spacing, ok = barSpacing(rest, h); !ok {
		all.other = strings.TrimSpace(rest)
	}
	return true
}

// cutBar takes the bar's size out of a piece: by number, by eighths of an inch,
// or metric.
func cutBar(piece string) (bar, rest string) {
	if at := barNumber.FindStringSubmatchIndex(piece); at != nil && (at[0] == 0 || piece[at[0]-1] != '/') {
		n := submatch(piece, at, 1) + submatch(piece, at, 2)
		rest = piece[:at[0]] + " " + piece[at[1]:]
		if at[4] >= 0 {
			rest += " bar"
		}
		return "#" + n, rest
	}
	if at := barInches.FindStringSubmatchIndex(piece); at != nil {
		eighths := atoi(submatch(piece, at, 1))
		if submatch(piece, at, 2) == "2" {
			eighths *= 4
		}
		if eighths >= 2 && eighths <= 11 {
			return "#" + string(rune('0'+eighths)), piece[:at[0]] + " " + piece[at[1]:]
		}
	}
	if at := barMetric.FindStringSubmatchIndex(piece); at != nil {
		unit := " mm"
		if submatch(piece, at, 2) != "" {
			unit = "M"
		}
		return submatch(piece, at, 1) + unit, piece[:at[0]] + " " + piece[at[1]:]
	}
	return "", piece
}

func submatch(s string, at []int, n int) string {
	if at[2*n] < 0 {
		return ""
	}
	return s[at[2*n]:at[2*n+1]]
}

// barSpacing reads how far apart bars are, in inches. A bare number is inches if
// it can be, and a spacing both ways is its longer one.
func barSpacing(s string, h habit) (record.Number, bool) {
	p := spacingFor.FindStringSubmatchIndex(s)
	if p == nil {
		return record.Number{}, false
	}
	q := quantityReader{m: ownUnit(record.Inch), h: h}
	unit := submatch(s, p, 2)
	if unit == "''" {
		unit = `"`
	}
	a, err := q.terms(strings.TrimSpace(submatch(s, p, 1) + " " + unit))
	left := strings.Trim(center.ReplaceAllString(s[:p[0]]+" "+s[p[1]:], " "), " .,@-\"'")
	ok := err == nil && a.value >= 4 && a.value <= 72 && left == ""
	return record.Number{V: math.Round(a.value*1e4) / 1e4, OK: ok}, ok
}
