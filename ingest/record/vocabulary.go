package record

import "strings"

// Vocabulary is the list of words that a column may hold.
type Vocabulary struct {
	Words    []string          // the terms we use, in the order they are shown
	Synonyms map[string]string // other words in the trade, folded, to our term
	Open     bool              // a word that is not listed is taken as a new term
	Joined   bool              // several words may be joined by +
}

// Find returns our term for a word as written, in any case and with spaces,
// dashes or underscores.
func (v *Vocabulary) Find(word string) (string, bool) {
	f := Fold(word)
	for _, w := range v.Words {
		if Fold(w) == f {
			return w, true
		}
	}
	w, ok := v.Synonyms[f]
	return w, ok
}

// With is v widened by further synonyms (word as written → our term or a new
// one). A term that v lacks is added to its words.
func (v *Vocabulary) With(synonyms map[string]string) *Vocabulary {
	if len(synonyms) == 0 {
		return v
	}
	wide := &Vocabulary{Words: append([]string(nil), v.Words...), Synonyms: map[string]string{}, Open: v.Open, Joined: v.Joined}
	for word, term := range v.Synonyms {
		wide.Synonyms[word] = term
	}
	for word, term := range synonyms {
		known, ok := wide.Find(term)
		if !ok {
			known = strings.TrimSpace(term)
			wide.Words = append(wide.Words, known)
		}
		wide.Synonyms[Fold(word)] = known
	}
	return wide
}

var folder = strings.NewReplacer("-", " ", "_", " ", "/", " ", ".", " ")

// Fold brings a word or a column's name to the form in which it is compared:
// lower case, with single spaces for dashes, underscores, slashes and dots.
func Fold(s string) string {
	return strings.Join(strings.Fields(folder.Replace(strings.ToLower(s))), " ")
}

var (
	uses = &Vocabulary{Open: true,
		Words: []string{"driveway", "walkway", "patio", "shed slab", "garage slab", "apron", "curb", "steps", "other"},
		Synonyms: map[string]string{"sidewalk": "walkway", "walk": "walkway", "path": "walkway", "drive": "driveway",
			"shed": "shed slab", "shed pad": "shed slab", "garage": "garage slab", "garage floor": "garage slab", "kerb": "curb", "stairs": "steps"}}
	methods = &Vocabulary{
		Words: []string{"chute", "pump", "buggy", "barrow", "conveyor"},
		Synonyms: map[string]string{"tailgate": "chute", "truck": "chute", "direct": "chute", "line pump": "pump", "boom pump": "pump", "pumped": "pump",
			"power buggy": "buggy", "wheelbarrow": "barrow", "wheel barrow": "barrow", "belt": "conveyor"}}
	bases = &Vocabulary{Open: true,
		Words:    []string{"native", "compacted", "crushed base", "existing slab"},
		Synonyms: map[string]string{"native soil": "native", "soil": "native", "gravel": "crushed base", "crushed stone": "crushed base", "compacted fill": "compacted"}}
	reinforcements = &Vocabulary{Joined: true,
		Words: []string{"none", "mesh", "rebar", "fiber"},
		Synonyms: map[string]string{"plain": "none", "no": "none", "unreinforced": "none", "wire mesh": "mesh", "wwm": "mesh", "wwf": "mesh", "wwr": "mesh", "wire": "mesh",
			"bar": "rebar", "bars": "rebar", "steel bar": "rebar", "fibre": "fiber", "fibers": "fiber", "fibres": "fiber"}}
	jointCuts = &Vocabulary{Joined: true,
		Words: []string{"tooled", "saw", "early-entry", "none"},
		Synonyms: map[string]string{"hand tooled": "tooled", "grooved": "tooled", "sawn": "saw", "sawed": "saw", "saw cut": "saw", "sawcut": "saw",
			"early entry saw": "early-entry", "green saw": "early-entry"}}
	curings = &Vocabulary{
		Words: []string{"none", "water", "compound", "sheet", "blanket"},
		Synonyms: map[string]string{"wet": "water", "wet cure": "water", "sprinkler": "water", "curing compound": "compound", "cure compound": "compound", "membrane": "compound",
			"plastic": "sheet", "poly": "sheet", "sheeting": "sheet", "blankets": "blanket", "burlap": "blanket"}}
	findings = &Vocabulary{
		Words: []string{"crack", "scaling", "settlement", "ponding", "finish", "other"},
		Synonyms: map[string]string{"cracks": "crack", "cracked": "crack", "cracking": "crack", "spalling": "scaling", "settled": "settlement", "settling": "settlement",
			"puddle": "ponding", "puddles": "ponding", "standing water": "ponding", "surface": "finish", "curling": "other"}}
	visitFindings = &Vocabulary{Words: append([]string{"sound"}, findings.Words...),
		Synonyms: merged(findings.Synonyms, map[string]string{"ok": "sound", "good": "sound", "fine": "sound", "no crack": "sound", "none": "sound"})}
	visitReasons = &Vocabulary{Words: []string{"planned", "callback"},
		Synonyms: map[string]string{"scheduled": "planned", "routine": "planned", "call back": "callback", "complaint": "callback"}}
	crackKinds = &Vocabulary{Words: []string{"plastic", "drying", "settlement", "corner", "structural", "unknown"},
		Synonyms: map[string]string{"plastic shrinkage": "plastic", "shrinkage": "drying", "drying shrinkage": "drying"}}
	delayCauses = &Vocabulary{Words: []string{"clog", "truck late", "plant", "weather", "crew", "equipment", "form", "inspection", "other"},
		Synonyms: map[string]string{"plug": "clog", "plugged": "clog", "clogged": "clog", "blockage": "clog", "late truck": "truck late", "truck": "truck late",
			"rain": "weather", "wind": "weather", "heat": "weather", "forms": "form", "inspector": "inspection", "breakdown": "equipment"}}
	clogSpots = &Vocabulary{Words: []string{"hopper", "manifold", "reducer", "hose", "line"},
		Synonyms: map[string]string{"pipe": "line", "pipeline": "line"}}
	tasks = &Vocabulary{Words: []string{"set up", "form", "reinforce", "place", "finish", "joint", "strip", "callback", "other"},
		Synonyms: map[string]string{"setup": "set up", "forms": "form", "forming": "form", "rebar": "reinforce", "mesh": "reinforce", "reinforcing": "reinforce",
			"pour": "place", "placing": "place", "finishing": "finish", "saw": "joint", "jointing": "joint", "sawing": "joint", "stripping": "strip", "call back": "callback"}}
	costItems = &Vocabulary{Words: []string{"concrete", "pump", "labor", "reinforcement", "base", "disposal", "equipment", "subcontract", "callback", "other"},
		Synonyms: map[string]string{"labour": "labor", "ready mix": "concrete", "readymix": "concrete", "pumping": "pump", "rebar": "reinforcement", "mesh": "reinforcement", "steel": "reinforcement",
			"gravel": "base", "dump": "disposal", "washout": "disposal", "rental": "equipment", "sub": "subcontract", "subcontractor": "subcontract", "call back": "callback"}}
)

func merged(a, b map[string]string) map[string]string {
	out := map[string]string{}
	for _, m := range []map[string]string{a, b} {
		for k, v := range m {
			out[k] = v
		}
	}
	return out
}
