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
		Synonyms: merged(useSpanish, map[string]string{"sidewalk": "walkway", "walk": "walkway", "walks": "walkway", "path": "walkway", "pathway": "walkway", "side walk": "walkway", "swalk": "walkway", "s walk": "walkway", "s w": "walkway", "sw": "walkway", "front walk": "walkway",
			"banqueta": "walkway", "acera": "walkway", "andador": "walkway",
			"drive": "driveway", "dw": "driveway", "d w": "driveway", "drvwy": "driveway", "drwy": "driveway", "dwy": "driveway", "drive way": "driveway", "driveways": "driveway", "entrada": "driveway", "entrada de autos": "driveway",
			"alfresco": "patio", "alfresco slab": "patio", "terrace": "patio", "verandah": "patio", "veranda": "patio", "pto": "patio", "pat": "patio", "back slab": "patio", "bbq pad": "patio",
			"footpath": "walkway", "foot path": "walkway", "side path": "walkway", "sidepath": "walkway", "swlk": "walkway", "wlk": "walkway",
			"d'way": "driveway", "d way": "driveway", "dway": "driveway", "drv": "driveway", "parking pad": "driveway",
			"crossover": "apron", "cross over": "apron", "driveway crossover": "apron", "vehicle crossover": "apron", "vehicle crossing": "apron", "crossing": "apron", "layback": "apron",
			"garg": "garage slab", "grg": "garage slab", "gar": "garage slab", "dbl garage": "garage slab", "double garage": "garage slab", "single garage": "garage slab",
			"terraza": "patio", "patios": "patio", "back patio": "patio",
			"shed": "shed slab", "shed pad": "shed slab", "shed floor": "shed slab", "shed base": "shed slab", "storage pad": "shed slab", "cobertizo": "shed slab", "caseta": "shed slab",
			"garage": "garage slab", "garage floor": "garage slab", "garage pad": "garage slab", "garaje": "garage slab", "piso de garaje": "garage slab", "losa de garaje": "garage slab", "piso de cochera": "garage slab",
			"drive approach": "apron", "driveway approach": "apron", "approach": "apron", "drive apron": "apron", "driveway apron": "apron", "dw approach": "apron", "dw apron": "apron", "garage apron": "apron", "aprons": "apron",
			"kerb": "curb", "curbs": "curb", "curbing": "curb", "curb and gutter": "curb", "c&g": "curb", "bordillo": "curb", "guarnicion": "curb",
			"stairs": "steps", "step": "steps", "stoop": "steps", "escalones": "steps", "escalera": "steps", "gradas": "steps"})}
	methods = &Vocabulary{
		Words: []string{"chute", "pump", "buggy", "barrow", "conveyor"},
		Synonyms: merged(methodSpanish, map[string]string{"tailgate": "chute", "truck": "chute", "direct": "chute", "off truck": "chute", "off the truck": "chute", "from truck": "chute", "truck chute": "chute", "chuted": "chute", "straight off truck": "chute", "backed in": "chute", "back up": "chute", "canal": "chute", "canaleta": "chute", "camion": "chute", "directo": "chute",
			"line pump": "pump", "line": "pump", "static line": "pump", "static pump": "pump", "line pumped": "pump", "boom pump": "pump", "pumped": "pump", "boom": "pump", "pumper": "pump", "pump truck": "pump", "trailer pump": "pump", "grout pump": "pump", "bomba": "pump", "bombeado": "pump", "bombeo": "pump",
			"power buggy": "buggy", "buggies": "buggy", "georgia buggy": "buggy", "motorized buggy": "buggy", "concrete buggy": "buggy", "buggied": "buggy", "track buggy": "buggy",
			"wheelbarrow": "barrow", "wheel barrow": "barrow", "wheelbarrows": "barrow", "wheelbarrowed": "barrow", "w b": "barrow", "wb": "barrow", "barrowed": "barrow", "barrows": "barrow", "wheeled": "barrow", "wheeled in": "barrow", "hand wheeled": "barrow", "carretilla": "barrow", "carretillas": "barrow", "belt": "conveyor", "conveyor belt": "conveyor", "conveyed": "conveyor"})}
	bases = &Vocabulary{Open: true,
		Words:    []string{"native", "compacted", "crushed base", "existing slab"},
		Synonyms: merged(baseSpanish, map[string]string{"native soil": "native", "soil": "native", "gravel": "crushed base", "crushed stone": "crushed base", "compacted fill": "compacted"})}
	reinforcements = &Vocabulary{Joined: true,
		Words: []string{"none", "mesh", "rebar", "fiber"},
		Synonyms: merged(steelSpanish, map[string]string{"plain": "none", "no": "none", "unreinforced": "none", "fiber mesh": "fiber", "fibermesh": "fiber", "fibra": "fiber", "malla": "mesh", "varilla": "rebar", "varillas": "rebar", "re bar": "rebar", "rebars": "rebar", "wire mesh": "mesh", "wwm": "mesh", "wwf": "mesh", "wwr": "mesh", "wire": "mesh",
			"bar": "rebar", "bars": "rebar", "steel bar": "rebar", "fibre": "fiber", "fibers": "fiber", "fibres": "fiber"})}
	jointCuts = &Vocabulary{Joined: true,
		Words: []string{"tooled", "saw", "early-entry", "none"},
		Synonyms: merged(cutSpanish, map[string]string{"hand tooled": "tooled", "grooved": "tooled", "sawn": "saw", "sawed": "saw", "saw cut": "saw", "sawcut": "saw",
			"early entry saw": "early-entry", "green saw": "early-entry"})}
	curings = &Vocabulary{
		Words: []string{"none", "water", "compound", "sheet", "blanket"},
		Synonyms: merged(curingSpanish, map[string]string{"wet": "water", "wet cure": "water", "sprinkler": "water", "curing compound": "compound", "cure compound": "compound", "membrane": "compound",
			"plastic": "sheet", "poly": "sheet", "sheeting": "sheet", "blankets": "blanket", "burlap": "blanket"})}
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
		Synonyms: merged(causeSpanish, map[string]string{"plug": "clog", "plugged": "clog", "clogged": "clog", "blockage": "clog", "late truck": "truck late", "truck": "truck late",
			"rain": "weather", "wind": "weather", "heat": "weather", "forms": "form", "inspector": "inspection", "breakdown": "equipment"})}
	clogSpots = &Vocabulary{Words: []string{"hopper", "manifold", "reducer", "hose", "line"},
		Synonyms: merged(spotSpanish, map[string]string{"pipe": "line", "pipeline": "line"})}
	tasks = &Vocabulary{Words: []string{"set up", "form", "reinforce", "place", "finish", "joint", "strip", "callback", "other"},
		Synonyms: merged(taskSpanish, map[string]string{"setup": "set up", "forms": "form", "forming": "form", "rebar": "reinforce", "mesh": "reinforce", "reinforcing": "reinforce",
			"pour": "place", "placing": "place", "finishing": "finish", "saw": "joint", "jointing": "joint", "sawing": "joint", "joints": "joint", "saw cut": "joint", "sawcut": "joint", "saw cutting": "joint", "cutting": "joint", "cuts": "joint", "prep": "set up", "layout": "set up", "grade": "set up", "grading": "set up", "excavate": "set up", "demo": "set up", "mobilize": "set up",
			"form up": "form", "formwork": "form", "tie steel": "reinforce", "tie rebar": "reinforce", "steel": "reinforce", "concrete": "place", "poured": "place", "pouring": "place", "placement": "place", "finished": "finish", "trowel": "finish", "broom": "finish", "strip forms": "strip", "wreck forms": "strip", "pull forms": "strip", "remove forms": "strip", "wrecking": "strip", "set forms": "form", "wreck": "strip", "clean up": "strip", "cleanup": "strip", "backfill": "strip",
			"colado": "place", "colar": "place", "acabado": "finish", "cimbra": "form", "descimbra": "strip", "corte": "joint", "armado": "reinforce", "preparacion": "set up", "stripping": "strip", "call back": "callback"})}
	costItems = &Vocabulary{Words: []string{"concrete", "pump", "labor", "reinforcement", "base", "disposal", "equipment", "subcontract", "callback", "extra work", "other"},
		Synonyms: map[string]string{"change order": "extra work", "change orders": "extra work", "extras": "extra work", "added work": "extra work", "labour": "labor", "ready mix": "concrete", "readymix": "concrete", "redi mix": "concrete", "redimix": "concrete", "mud": "concrete", "concreto": "concrete", "plant": "concrete", "pumping": "pump", "pumper": "pump", "bomba": "pump", "wages": "labor", "payroll": "labor", "crew": "labor", "mano de obra": "labor", "nomina": "labor",
			"wire": "reinforcement", "bar": "reinforcement", "fiber": "reinforcement", "acero": "reinforcement", "varilla": "reinforcement", "malla": "reinforcement", "stone": "base", "rock": "base", "fill": "base", "sand": "base", "grava": "base", "haul off": "disposal", "dumpster": "disposal", "landfill": "disposal", "dump fee": "disposal",
			"rent": "equipment", "saw blades": "equipment", "saw blade": "equipment", "blades": "equipment", "fuel": "equipment", "diesel": "equipment", "skid steer": "equipment", "tools": "equipment", "renta": "equipment", "warranty": "callback", "repair": "callback", "lumber": "other", "forms": "other", "form lumber": "other", "permit": "other", "misc": "other", "sealer": "other", "cure": "other", "rebar": "reinforcement", "mesh": "reinforcement", "steel": "reinforcement",
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
