package record

import "strings"

// What a Spanish-speaking crew writes for our terms: the words that its pour-day sheet
// offers, and those beside them in the trade (from memory, no published source).
var (
	useSpanish = accented(map[string]string{"entrada de cochera": "driveway", "cochera": "garage slab", "losa de cochera": "garage slab", "losa de cobertizo": "shed slab",
		"rampa": "apron", "rampa de acceso": "apron", "guarnición": "curb", "otro": "other"})
	methodSpanish = accented(map[string]string{"banda": "conveyor", "canalón": "chute"})
	baseSpanish   = accented(map[string]string{"terreno natural": "native", "tierra": "native", "compactado": "compacted", "base triturada": "crushed base", "grava": "crushed base", "losa existente": "existing slab"})
	steelSpanish  = accented(map[string]string{"ninguno": "none", "nada": "none", "sin refuerzo": "none"})
	cutSpanish    = accented(map[string]string{"a mano": "tooled", "sierra": "saw", "con sierra": "saw", "sierra temprana": "early-entry", "ninguno": "none", "nada": "none"})
	curingSpanish = accented(map[string]string{"ninguno": "none", "nada": "none", "agua": "water", "membrana": "compound", "membrana de curado": "compound", "plástico": "sheet", "manta": "blanket"})
	causeSpanish  = accented(map[string]string{"tapón": "clog", "tapada": "clog", "tapado": "clog", "camión tarde": "truck late", "planta": "plant", "clima": "weather", "lluvia": "weather", "viento": "weather", "calor": "weather",
		"cuadrilla": "crew", "equipo": "equipment", "cimbra": "form", "inspección": "inspection", "inspector": "inspection", "otro": "other"})
	spotSpanish = accented(map[string]string{"tolva": "hopper", "múltiple": "manifold", "reductor": "reducer", "manguera": "hose", "tubería": "line", "línea": "line"})
	taskSpanish = accented(map[string]string{"preparar": "set up", "preparación": "set up", "cimbrar": "form", "armar": "reinforce", "armar refuerzo": "reinforce", "acabar": "finish", "hacer juntas": "joint", "juntas": "joint", "cortar": "joint",
		"descimbrar": "strip", "reclamo": "callback", "otro": "other"})
)

var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n")

// Unaccented takes the accents off lower-case letters.
func Unaccented(s string) string { return accents.Replace(s) }

// accented is words with their accents, and without: phones and log books leave them out.
func accented(words map[string]string) map[string]string {
	all := map[string]string{}
	for word, term := range words {
		all[Fold(word)], all[Fold(Unaccented(word))] = term, term
	}
	return all
}
