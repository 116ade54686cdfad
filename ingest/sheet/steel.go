package sheet

import (
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

// steelOrder is the order in which kinds are joined.
var steelOrder = []string{"none", "mesh", "rebar", "fiber"}

// Ways in which the trade writes what goes into a slab. Bars by number are of
// ASTM A615, mesh styles of ASTM A1064; 10M of CSA G30.18, N12 and SL72 of AS/NZS
// 4671; the rest is common practice, no published source.
var (
	noSteel     = patternOf(`^(?:none|no|non|nada|nothing|plain|sin|0|ninguno|n/r|nil|no reo|zip|zero|unreinf\.?|plain conc(?:rete)?)$`)
	negated     = patternOf(`\b(?:no|without|w/o|sin|zero|not any)\s+(?:any\s+)?(?:steel|iron|metal|reinf\w*|wwm|wwf|reo|wire|mesh|re-?bars?|bars?|rods?|fib(?:er|re)s?|refuerzo|acero|malla|varillas?|fibra)\b(?:\s*(?:or|nor|/|ni)\s*(?:wire|mesh|re-?bars?|bars?|rods?|fib(?:er|re)s?|malla|varillas?|steel)\b)*`)
	emptyOf     = patternOf(`\b(?:none|nothing|plain|unreinforced|nada|ninguno|bare|just (?:mud|concrete)|(?:mud|concrete) only|straight (?:mud|concrete))\b`)
	noneAtAll   = patternOf(`\b(?:none|ninguno)\b`)
	steelOf     = patternOf(`\b(?:steel|iron|welded|plain|metal)[ -]+(fib(?:er|re)s?|mesh|wire|mats?|fabric)\b`)
	steelTalk   = patternOf(`\b(?:gr(?:ade)?\.? ?[46]0|[46]0 ?ksi|epoxy(?: coated)?)\b|\d+(?:\.\d+)? ?(?:lbs?|pounds?|kgs?|oz|bags?)\b\.?(?: ?(?:/|per|a) ?(?:yd|yard|cy|m3|y)\b)?|\b\d+(?:\.\d+)?# ?(?:/|per|a) ?(?:yd|yard|cy)\b|\b\d+ ?x ?\d+ ?(?:sheets?|mats?)\b`)
	steelAside  = patternOf(lengthIn.String() + `\s*(?:laps?|overlaps?|cover|clear|chairs?|dobies|long|sticks?|rolls?|deep|edges?|thick|up|off)\b|\b(?:lap(?:ped)?|overlap|cover) ` + lengthIn.String())
	fiberWord   = patternOf(`\bfibs?\b|\bfib(?:er|re|ra)s?(?: ?mesh)?\b|\bfbr\b|\b(?:macro|micro|syn(?:thetic)?)[ -]?(?:fib\w*|poly\w*)|\bmacros?\b|\bpolypro\w*|\bpoly fib\w*|\bhair(?:y)?\b(?: mix)?|\bnylon\b|\bglass ?fib\w*`)
	meshWord    = patternOf(`\b(?:mesh|msh|wwm|wwf|wwr|wires?|re-?mesh|malla(?: electrosoldada)?|fabric|cwm|wiremesh)\b`)
	meshStyle   = patternOf(`\b([46]) ?["']? ?(?:[x/-]|by) ?([46])["']?(?: *[-/ ,x]? *(?:#? ?(?:w|d|mw) ?\d+(?:\.\d+)? ?[x/-] ?(?:w|d|mw)? ?\d+(?:\.\d+)?|#?(?:10|8|6) ?[x/-] ?#?(?:10|8|6)\b|#? ?(?:10|8|6) ?(?:ga|gauge|gage)?\b))?|\b(66)[-/ ]?(1010|88|10-10|10/10|10x10)\b|\bw ?\d\.\d(?: ?x ?w ?\d\.\d)?|\b(?:10|8|6) ?(?:ga|gauge|gage)\b|\b(?:sl|rl|f|se)[5-9]\d2\b|\b(?:sl|f|se) ?[5-9]2\b|\ba(?:98|142|193|252|393)\b|\b66[58]\b`)
	matWord     = patternOf(`\b(?:mats?|rolls?|sheets?|panels?|roll(?:ed)? ?out)\b`)
	barWord     = patternOf(`\b(?:re ?-?bars?|bars?|rods?|varillas?|dowels?|deformed|sticks?)\b`)
	steelWord   = patternOf(`\b(?:steel|iron|acero|fierro)\b`)
	barNumber   = patternOf(`(?:# ?|\bno?\.? ?|\bnumber |\bnum\.? ?|\bnr\.? ?)([2-9])(?:'?s)?\b|(?:# ?|\bno\.? ?|\bnumber |\bnum\.? ?|\bnr\.? ?)(1[0148])(?:'?s)?\b|(?:^|[ ,@])([3-9])'?s\b|(?:^|[ ,@])([3-9])[ -](?:re-?bar|bar|rod|varilla)\b|^([3-6])(?: ?@| at)`)
	barBehind   = patternOf(`\b(?:re-?bar|bar|rod|varilla) ([3-6])\b(?: ?(?:'|"|ft|feet|foot|in\b|inch))?`)
	countAhead  = patternOf(`(?:\(\d{1,2}\)|\b\d)\s*-?\s*#\s?(\d)`)
	wireNumber  = patternOf(`#\s?(10|8|6)(\s*(?:ga|gauge|wire|wwm|wwf|mesh)\b)`)
	fiberLong   = patternOf(`\b[1357]/[248]\s*(?:"|in\b\.?|inch\b)?\s*(?:long )?(fib(?:er|re))`)
	barCount    = patternOf(`\b([2-9]|1\d|2\d) (?:re-?bars|bars|rods|varillas|rows|runs|lines|pcs|pieces|cont(?:inuous)?)\b|\((\d)\) ?|\b[2-9](?: -)? (#)`)
	barInches   = patternOf(`\b(?:(1)/([248])|(3)/([48])|(5)/(8)|(7)/(8))(?:[ -]?(?:"|in\b\.?|inch\b))?`)
	barMetric   = patternOf(`\b(10|15|20|25|30) ?(m)\b|\b(6|8|10|12|14|16|20|25) ?(mm)\b|\b([ntyhrd]) ?(8|10|12|16|20|24|25|28|32)\b`)
	steelFiller = patternOf(`\b(?:o\.? ?c\.?|o/c|on cent(?:er|re)s?|cent(?:er|re)s?|ctrs?|ctr|c/c|c to c|grid|squares?|sq|spac(?:ed|ing)|apart|ew|e\.w\.|ea\.? ?way|each way|both ways|2 ways?|bw|e/w|ocew|o\.c\.e\.w\.|at|every|on|in|the|a|de|cada|con|with|w|and|plus|y|mix|mud|only|of|both|it|this|1|all|over|under|through(?:out)?|s)\b`)
)

// parseSteel reads reinforcement: its kinds, the bar or mesh, and how far apart.
// It is false where no kind is understood.
func parseSteel(text string, h habit) (steel, bool) {
	s := barCode.ReplaceAllString(steelSigns.Replace(inFigures(plainLower(text))), "#$1 @ $2")
	if noSteel.MatchString(strings.Trim(s, ".! ")) {
		return steel{kinds: []string{"none"}}, true
	}
	if hedged.MatchString(s) && !negated.MatchString(s) {
		return steel{}, false
	}
	if !eachIsSteel(s) {
		return steel{}, false
	}
	var all steel
	s, none := cut(s, negated)
	s = countAhead.ReplaceAllString(wireNumber.ReplaceAllString(fiberLong.ReplaceAllString(s, "$1"), "$1 ga$2"), "#$1")
	s = steelOf.ReplaceAllString(s, "$1")
	s = steelTalk.ReplaceAllString(steelAside.ReplaceAllString(s, " "), " ")
	s, fiber := cut(s, fiberWord)
	s = all.mesh(s)
	s = all.bars(s, h)
	rest, empty := cut(s, emptyOf)
	if steelWord.MatchString(rest) && !slices.Contains(all.kinds, "rebar") {
		all.kinds = append(all.kinds, "rebar")
	}
	if fiber {
		all.kinds = append(all.kinds, "fiber")
	}
	if len(all.kinds) == 0 && matWord.MatchString(rest) && !none && !empty {
		all.kinds = append(all.kinds, "mesh")
	}
	if len(all.kinds) == 0 && (none || empty) {
		return steel{kinds: []string{"none"}}, true
	}
	if noneAtAll.MatchString(s) && len(all.kinds) > 0 {
		all.kinds = append(all.kinds, "none")
	}
	all.other = leftOver(steelWord.ReplaceAllString(matWord.ReplaceAllString(rest, " "), " "))
	slices.SortFunc(all.kinds, func(a, b string) int { return slices.Index(steelOrder, a) - slices.Index(steelOrder, b) })
	all.kinds = slices.Compact(all.kinds)
	return all, len(all.kinds) > 0
}

// eachIsSteel says whether each of several kinds that a + joins is one.
func eachIsSteel(s string) bool {
	parts := strings.Split(s, "+")
	if len(parts) < 2 {
		return true
	}
	for _, part := range parts {
		known := negated.MatchString(part) || emptyOf.MatchString(part) || fiberWord.MatchString(part) || meshWord.MatchString(part) || meshStyle.MatchString(part) ||
			barWord.MatchString(part) || steelWord.MatchString(part) || matWord.MatchString(part) || lengthIn.MatchString(part)
		if !known && leftOver(part) != "" {
			return false
		}
	}
	return true
}

// barCode finds rebar, its number and its spacing in one code: R4-18.
var barCode = patternOf(`^(?:r|rb|b|bar|rebar) ?#?([3-6]) ?[-/@x] ?(\d{2})$`)

// steelSigns brings signs to plainer ones: W.W.M., brackets around a spacing.
var steelSigns = strings.NewReplacer("w.w.m.", "wwm", "w.w.f.", "wwf", "w.w.m", "wwm", "(", " ", ")", " ", "half-inch", "1/2 inch", "1/2-inch", "1/2 inch", "3/8-inch", "3/8 inch")

// cut takes what matches out of a text.
func cut(s string, what *pattern) (rest string, found bool) {
	rest = what.ReplaceAllString(s, " ")
	return rest, rest != s
}

// leftOver are the words of a text that are neither fillers nor signs.
func leftOver(s string) string {
	s = strings.Join(strings.Fields(steelFiller.ReplaceAllString(s, " ")), " ")
	return strings.Trim(s, " .,;:@+&/-'\"!")
}

// mesh takes welded wire out of a text.
func (all *steel) mesh(s string) string {
	rest, named := cut(s, meshWord)
	at := meshStyle.FindStringIndex(rest)
	if at == nil || !named && barNumber.MatchString(rest) && !meshAlone.MatchString(rest) {
		if named {
			all.kinds = append(all.kinds, "mesh")
		}
		return rest
	}
	all.kinds = append(all.kinds, "mesh")
	all.bar = styleText(rest[at[0]:at[1]])
	return rest[:at[0]] + " " + rest[at[1]:]
}

// meshAlone finds a style that can be no spacing of bars.
var meshAlone = patternOf(`[46]["']? ?[x-] ?[46]["']?[-/ x]+(?:#?10|w)|\bsl\d`)

// styleText is a mesh's designation as it is kept: 6x6-10/10 for 6-6-10-10.
func styleText(s string) string {
	s = strings.TrimSpace(strings.NewReplacer(`"`, "", "'", "", "#", "", " by ", "x").Replace(s))
	if p := oldStyle.FindStringSubmatch(s); p != nil {
		return p[1] + "x" + p[2] + "-" + p[3] + "/" + p[4]
	}
	return styleSpaces.ReplaceAllString(s, "x")
}

var (
	styleSpaces = patternOf(`\s*x\s*`)
	oldStyle    = patternOf(`^(6|4) ?[-/x]? ?(6|4) ?[-/ x]? ?(10|8|6) ?[-/x]? ?(10|8|6)$`)
)

// bars takes bars and how far apart they are out of a text.
func (all *steel) bars(s string, h habit) string {
	bar, rest := cutBar(s)
	rest, named := cut(rest, barWord)
	if bar == "" && !named {
		return s
	}
	all.kinds = append(all.kinds, "rebar")
	if bar != "" && bar != twoBars {
		all.bar = bar
	}
	var left string
	all.spacing, left = barSpacing(rest, bar, h)
	return left
}

// twoBars says that a cell names bars of several sizes.
const twoBars = "?"

// cutBar takes the bar's size out of a piece: by number, by eighths of an inch,
// or metric.
func cutBar(s string) (bar, rest string) {
	bars, rest := []string{}, s
	for _, p := range barNumber.FindAllStringSubmatch(s, 4) {
		bars = append(bars, "#"+strings.Join(p[1:], ""))
	}
	rest = barNumber.ReplaceAllStringFunc(s, func(m string) string {
		if strings.HasSuffix(m, "@") || strings.HasSuffix(m, "at") {
			return " @"
		}
		return " bar "
	})
	if len(bars) == 0 {
		if p := barCount.FindStringSubmatch(s); p != nil && p[1] != "" && len(p[1]) == 1 && p[1] != "2" && spacingMark.MatchString(s) && strings.HasSuffix(p[0], "s") && strings.ContainsAny(p[0], "bd") {
			bars = append(bars, "#"+p[1])
		}
		rest = barCount.ReplaceAllString(rest, " bar $3")
	}
	if at := barMetric.FindStringSubmatchIndex(rest); at != nil && len(bars) == 0 {
		switch {
		case at[2] >= 0:
			bars = append(bars, submatch(rest, at, 1)+"M")
		case at[6] >= 0:
			bars = append(bars, submatch(rest, at, 3)+" mm")
		default:
			bars = append(bars, strings.ToUpper(submatch(rest, at, 5))+submatch(rest, at, 6))
		}
		rest = rest[:at[0]] + " bar " + rest[at[1]:]
	}
	if at := barInches.FindStringSubmatchIndex(rest); at != nil && len(bars) == 0 && (at[0] == 0 || rest[at[0]-1] == ' ' && (at[0] < 2 || !isDigit(rest[at[0]-2]))) {
		p := barInches.FindStringSubmatch(rest[at[0]:at[1]])
		eighths := atoi(p[1]+p[3]+p[5]+p[7]) * 8 / atoi(p[2]+p[4]+p[6]+p[8])
		bars, rest = append(bars, "#"+string(rune('0'+eighths))), rest[:at[0]]+" bar "+rest[at[1]:]
	}
	if p := barBehind.FindStringSubmatchIndex(rest); p != nil && len(bars) == 0 && p[1] == p[3] {
		bars, rest = append(bars, "#"+submatch(rest, p, 1)), rest[:p[0]]+" bar "+rest[p[1]:]
	}
	slices.Sort(bars)
	switch bars = slices.Compact(bars); len(bars) {
	case 0:
		return "", rest
	case 1:
		return bars[0], rest
	}
	return twoBars, rest
}

// spacingMark finds what shows that a number is a spacing.
var spacingMark = patternOf(`@|\bo\.? ?c\b|\bo/c\b|\bat \d|\bevery\b|\bapart\b|\bcent(?:er|re)s?\b|\bctrs?\b|\bways?\b|\bew\b|\bcada\b|\d ?(?:"|')`)

func submatch(s string, at []int, n int) string {
	if at[2*n] < 0 {
		return ""
	}
	return s[at[2*n]:at[2*n+1]]
}

// barSpacing reads how far apart bars are, in inches, and what is left of the
// text. A bare number is inches, or feet where inches cannot be, or millimetres
// beside a metric bar. Two that differ say nothing for sure.
func barSpacing(s, bar string, h habit) (spacing record.Number, rest string) {
	rest = lengthIn.ReplaceAllString(s, " ")
	var found []float64
	metric := strings.ContainsAny(bar, "MmNTYHRD")
	for _, text := range lengthIn.FindAllString(s, 4) {
		if metric && strings.Trim(text, "0123456789 ") == "" && atoi(strings.TrimSpace(text)) >= 100 {
			text += " mm"
		}
		v, ok := lengthsIn(text, inches, h)
		if !ok || len(v) != 1 {
			return record.Number{}, s
		}
		if bare := strings.Trim(text, "0123456789. /-½¼¾"); bare == "" && v[0] <= 3 {
			if !spacingMark.MatchString(s) {
				continue // two of them, not two feet apart
			}
			v[0] *= 12
		}
		if !slices.Contains(found, v[0]) {
			found = append(found, v[0])
		}
	}
	if len(found) == 0 {
		return record.Number{}, s
	}
	if len(found) > 1 || found[0] < 4 || found[0] > 72 || found[0] < 6 && !strings.ContainsAny(s, `"'i`) {
		return record.Number{}, s
	}
	return record.Some(found[0]), strings.NewReplacer(" x ", " ", " by ", " ").Replace(rest)
}

func (r *cellReader) readSteel(c *column, field any, text string) {
	f := field.(*string)
	*f = ""
	folded := foldWords(text)
	if term, ok := c.words.terms[folded]; ok {
		*f = term
		return
	}
	if s := strings.ToLower(plainSigns(text)); isMissingWord(s) && !noSteel.MatchString(s) {
		return
	}
	if meaning := c.shorts[codeKey(text)]; meaning != "" {
		text = meaning
	}
	s, ok := r.steelOf(text)
	if !ok || len(s.kinds) > 1 && s.kinds[0] == "none" {
		*f = r.readString(c, text)
		return
	}
	*f = strings.Join(s.kinds, "+")
	if s.bar != "" {
		r.spill("bar", setText(s.bar))
	}
	if s.spacing.OK {
		r.spill("bar_spacing_in", setNumber(s.spacing.V))
	}
	if s.other != "" {
		r.say.warn(codeUnitLeftOut, "\""+s.other+"\" is left out", "write the bars' spacing as bar_spacing_in")
	}
}

// steelOf reads what stands in many rows once.
func (r *cellReader) steelOf(text string) (steel, bool) {
	s, met := r.steels[text]
	if !met {
		s, _ = parseSteel(text, r.habit)
		if r.steels == nil || len(r.steels) > 1000 {
			r.steels = map[string]steel{}
		}
		r.steels[text] = s
	}
	return s, len(s.kinds) > 0
}
