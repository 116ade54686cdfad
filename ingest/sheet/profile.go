package sheet

import (
	"math"
	"slices"
	"strings"
	"unicode"

	"pourback/ingest/record"
)

// profile is what stands below a heading, as far as it takes to tell which
// columns it can be.
type profile struct {
	cells  int // that hold something
	blank  int
	filled int // cells that say something: n/a and its kin left out

	numbers, whole, quarters, tens int
	broken                         int       // numbers with decimals or fractions
	values                         []float64 // by row; NaN where there is no number
	unitTexts                      map[string]int
	money, changed                 int // marks of money; a price with a change order
	edges                          int // thicknesses with an edge
	pairs                          int // two temperatures: 66/72
	sums                           int // 10 + 3.25

	dates, inText, clocks int // cells that are a date, that hold one among words, that are a time of day
	days                  []record.Date

	flags, nos         int // yes and no; no alone
	noneWords          int
	jointed            int // spacings with words around them
	sizes, solids      int // 8x8, 24x40x4
	people             int // 4 guys x 7
	uses, methods      int // words of the vocabularies
	steels, joints     int
	tasks, finds       int
	items, causes      int
	finishes           int
	streets, ids       int
	letters, length    int // cells that begin with a letter; their length in all
	distinct           int
	repeats            int // of the cell right above
	samples            []string
	ordered, unordered int // numbers or ids that rise or fall from row to row
	texts              []string
	words              map[string]uint16 // the vocabularies that know a cell, by its text
	sorted             []float64         // the numbers, in rising order
}

func (p *profile) share(n int) float64 {
	if p.filled == 0 {
		return 0
	}
	return float64(n) / float64(p.filled)
}

// most is how many rows are looked at.
const mostProfiled = 240

// newProfile looks at the cells of one column, a row each.
func newProfile(cells []string, h habit, cal calendar) *profile {
	p := &profile{values: make([]float64, len(cells)), days: make([]record.Date, len(cells)), unitTexts: map[string]int{}, words: map[string]uint16{}, texts: cells}
	seen := map[string]bool{}
	last := ""
	for i, cell := range cells {
		p.values[i] = math.NaN()
		s := plainSigns(cell)
		if s == "" {
			p.blank++
			continue
		}
		p.cells++
		if isMissingWord(s) && s != "none" || isCellError(s) {
			continue
		}
		p.filled++
		folded := strings.ToLower(s)
		if !seen[folded] {
			seen[folded] = true
			p.distinct++
			if len(p.samples) < 3 {
				p.samples = append(p.samples, strings.TrimSpace(cell))
			}
		}
		if folded == last {
			p.repeats++
		} else if last != "" {
			if naturally(last, folded) < 0 {
				p.ordered++
			} else {
				p.unordered++
			}
		}
		last = folded
		p.look(i, s, folded, h, cal)
	}
	p.undated(cal)
	for _, x := range p.values {
		if !math.IsNaN(x) {
			p.sorted = append(p.sorted, x)
		}
	}
	slices.Sort(p.sorted)
	return p
}

var (
	decimals    = patternOf(`\d[.,]\d{1,2}(?:\D|$)|\d/\d|[½¼¾]`)
	idShape     = patternOf(`^[a-z#]{0,6}[-._ #]?\d{1,6}(?:[-._/ ]?[a-z]?\d{0,5}){0,2}[a-z]?$`)
	streetShape = patternOf(`^(?:\d+[a-z]?\s+(?:[nsew]\.? )?[a-z].*[a-z]|(?:lot|unit|lote|calle|av|avenida|apt) .*\d.*|.*[a-z]{3}.* \d+[a-z]?)$`)
	tempPair    = patternOf(`^(\d{2,3})\s*[°FfCc]*\s*/\s*(?:\d{2,3}\s*[°FfCc]*|-*)$`)
	weatherWord = patternOf(`\b(?:clear|cloud\w*|muggy|sun\w*|hot|cold|wind\w*|breez\w*|rain\w*|overcast|humid|warm|cool|nice|fog\w*|haz\w*|drizzl\w*|high|low|degrees?|deg)\b`)
	clockShape  = patternOf(`^\d{1,2}(?::\d{2}){1,2} ?(?:[ap]\.?m\.?)?$|^\d{1,2} ?[ap]\.?m\.?$`)
	peopleShape = patternOf(`^\d+(?:\.5)? ?(?:[a-z-]+ ?)?(?:@|x|for|por|\*|,|-)? ?\d+(?:\.\d+)? ?(?:h|hr|hrs|hours|horas|each|ea)?\.?(?: each| ea)?$`)
	personWord  = patternOf(`\b(?:guys?|men|man|people|hands|workers|crew|pers|ppl|hombres?|trabajadores|personas|fellas|bodies)\b`)
)

// look notes what one cell can be.
func (p *profile) look(i int, s, folded string, h habit, cal calendar) {
	switch folded {
	case "y", "yes", "si", "sí", "x", "true":
		p.flags++
	case "n", "no", "none", "false":
		p.flags++
		p.nos++
		if folded != "false" {
			p.noneWords++
		}
	}
	var ignored remarks
	if d, ok := parseDay(s, cal, &ignored); ok && looksDated(folded) {
		p.dates++
		p.days[i] = d.date
	} else if d, _, ok := dateInside(s, cal); ok {
		p.inText++
		p.days[i] = d
	}
	if clockShape.MatchString(folded) {
		p.clocks++
	}
	if p.days[i] == 0 {
		p.lookAtNumber(i, s, h)
	}
	if idShape.MatchString(folded) && p.days[i] == 0 {
		p.ids++
	}
	if streetShape.MatchString(folded) && p.days[i] == 0 {
		p.streets++
	}
	if unicode.IsLetter(firstRune(s)) {
		p.letters++
		p.length += len(s)
	}
	p.lookAtWords(s, folded)
}

// looksDated keeps bare numbers from being the days that spreadsheets count.
func looksDated(folded string) bool {
	return strings.ContainsAny(folded, "-/. abcdefghijklmnopqrstuvwxyz") || compact.MatchString(folded) && (strings.HasPrefix(folded, "20") || strings.HasPrefix(folded, "19"))
}

func firstRune(s string) rune {
	for _, r := range s {
		return r
	}
	return 0
}

func (p *profile) lookAtNumber(i int, s string, h habit) {
	if strings.Contains(s, "$") || strings.Contains(s, "€") {
		p.money++
	}
	if d, ok := parseSize(s, h); ok {
		if d.depth.OK {
			p.solids++
		} else {
			p.sizes++
		}
	}
	if personWord.MatchString(strings.ToLower(s)) && peopleShape.MatchString(strings.ToLower(s)) {
		p.people++
	}
	mixed := holdsFigure(s) && strings.IndexFunc(s, unicode.IsLetter) >= 0 // figures among letters
	if mixed && p.lookAtMarked(i, s, h) {
		return
	}
	n, ok := looseNumber(s, h)
	if mixed {
		if v, ok := besideWeather(strings.ToLower(s)); ok {
			p.pairs++
			p.values[i] = v
			return
		}
	}
	if v := tempPair.FindStringSubmatch(s); v != nil {
		p.pairs++
		p.values[i] = float64(atoi(v[1]))
		return
	}
	if !ok {
		if v, is := feetAndInches(s); is {
			n, ok = number{v, "ft", 1}, true
		}
	}
	if !ok {
		p.lookAtDressed(s, h)
		return
	}
	p.numbers++
	if n.terms > 1 {
		p.sums++
	}
	if decimals.MatchString(s) {
		p.broken++
	}
	p.values[i] = n.value
	if n.unit != "" {
		p.unitTexts[n.unit]++
	}
	v := n.value
	switch {
	case v == math.Trunc(v):
		p.whole++
		p.quarters++
		if math.Mod(v, 10) == 0 {
			p.tens++
		}
	case 4*v == math.Trunc(4*v):
		p.quarters++
	}
}

var feetInches = patternOf(`^(\d{1,3})\s*(?:'|’|ft\.?|feet|foot)\s*-?\s*(\d{1,2})\s*(?:\d/\d\s*)?(?:"|''|”|in\.?|inch(?:es)?)?$`)

// feetAndInches is 23 ft 8 in in feet.
func feetAndInches(s string) (float64, bool) {
	p := feetInches.FindStringSubmatch(strings.ToLower(s))
	if p == nil {
		return 0, false
	}
	return float64(atoi(p[1])) + float64(atoi(p[2]))/12, true
}

// lookAtDressed notes numbers that stand among words.
func (p *profile) lookAtDressed(s string, h habit) {
	var ignored remarks
	if thickEdge.MatchString(s) {
		p.edges++
	} else if changeTail.MatchString(s) && endsInWord(strings.TrimRight(s, ")")) {
		p.changed++
	} else if !strings.ContainsAny(s, "0123456789") || len(s) > longestKnown {
		return
	} else if j, ok := parseJoints(s, ownUnit(record.Foot), h, &ignored); ok && j.spacing.OK && j.other == "" {
		p.jointed++
	}
}

// trades are the vocabularies that a cell's words are looked up in, with what
// counts them.
var trades = []struct {
	knows func(string) bool
	count func(*profile) *int
}{
	{isUse, func(p *profile) *int { return &p.uses }}, {isMethod, func(p *profile) *int { return &p.methods }},
	{isSteel, func(p *profile) *int { return &p.steels }}, {isJoint, func(p *profile) *int { return &p.joints }},
	{isTask, func(p *profile) *int { return &p.tasks }}, {isFinding, func(p *profile) *int { return &p.finds }},
	{isItem, func(p *profile) *int { return &p.items }}, {isCause, func(p *profile) *int { return &p.causes }},
	{isFinish, func(p *profile) *int { return &p.finishes }},
}

func (p *profile) lookAtWords(s, folded string) {
	if strings.IndexFunc(s, unicode.IsLetter) < 0 && !strings.Contains(s, "#") {
		return
	}
	known, met := p.words[folded]
	if !met {
		words := foldWords(s)
		for k, t := range trades {
			if t.knows(words) {
				known |= 1 << k
			}
		}
		p.words[folded] = known
	}
	for k, t := range trades {
		if known&(1<<k) != 0 {
			*t.count(p)++
		}
	}
}

// number is a number as written, with what stands around it.
type number struct {
	value float64
	unit  string
	terms int
}

// looseNumber reads a number however it is dressed: ~94, 94-99, 101F, $1,250.00,
// 9 + 1.5, 4 1/2 in. It is for telling columns apart, not for keeping.
func looseNumber(s string, h habit) (number, bool) {
	s, _ = trimApprox(s)
	if a, b, ok := splitRange(s); ok {
		x, okX := looseTerm(a, h)
		y, okY := looseTerm(b, h)
		return number{(x.value + y.value) / 2, y.unit, 1}, okX && okY
	}
	if parts := strings.Split(s, "+"); len(parts) > 1 && len(parts) < 9 {
		sum := number{}
		for _, part := range parts {
			t, ok := looseTerm(strings.TrimSpace(part), h)
			if !ok {
				return number{}, false
			}
			sum = number{sum.value + t.value, t.unit, sum.terms + 1}
		}
		return sum, true
	}
	return looseTerm(s, h)
}

func looseTerm(s string, h habit) (number, bool) {
	s, negative := cutMoneySigns(s)
	n, rest, ok := scanNumeral(s, h)
	if !ok {
		return number{}, false
	}
	unit, rest := scanUnit(rest)
	if (unit == "k" || unit == "K") && rest == "" { // thousands: 1.9k
		n.value, unit = 1000*n.value, ""
	}
	if rest != "" && !(unit == "'" || strings.EqualFold(unit, "ft")) || len(unit) > 14 || strings.Contains(unit, " ") && !knownUnit(unit) {
		return number{}, false
	}
	return number{sign(n.value, negative), unit, 1}, true
}

// naturally compares texts so that numbers within them count as numbers.
func naturally(a, b string) int {
	for a != "" && b != "" {
		if isDigit(a[0]) && isDigit(b[0]) {
			x, i := digitRun(a)
			y, j := digitRun(b)
			if x != y {
				if len(x) != len(y) {
					return len(x) - len(y)
				}
				return strings.Compare(x, y)
			}
			a, b = a[i:], b[j:]
			continue
		}
		if a[0] != b[0] {
			return int(a[0]) - int(b[0])
		}
		a, b = a[1:], b[1:]
	}
	return len(a) - len(b)
}

func digitRun(s string) (digits string, end int) {
	for end < len(s) && isDigit(s[end]) {
		end++
	}
	return strings.TrimLeft(s[:end], "0"), end
}

// known are the values that are numbers, in rising order.
func (p *profile) known() []float64 { return p.sorted }

func median(sorted []float64) float64 {
	if len(sorted) == 0 {
		return math.NaN()
	}
	return sorted[len(sorted)/2]
}
