package say

import "strings"

// spanishFrame is what stands around pages in Spanish, and how days, lists and
// ranges are said.
var spanishFrame = map[string]string{
	"{month} {day}, {year}": "{day} de {month} de {year}",
	"{month} {year}":        "{month} de {year}",
	"{first} or {last}":     "{first} o {last}",

	"The report is in {path}: open it in any browser.":                         "El reporte está en {path}: abrirlo en cualquier navegador.",
	"The letter is in {path}: open it in any browser and print it.":            "La carta está en {path}: abrirla en cualquier navegador e imprimirla.",
	"The tables are in {path}: open it in a spreadsheet.":                      "Las tablas están en {path}: abrirlo en una hoja de cálculo.",
	"The cost sheet is in {path}: for the office, it shows costs and margins.": "La hoja de costos está en {path}: es para la oficina, trae costos y el margen.",
	"The pour-day sheet is in {path}: print it for the crew.":                  "La hoja del día del colado está en {path}: imprimirla para la cuadrilla.",
	"Kept as bid {id}. During the pour: {command}":                             "Guardada como cotización {id}. Durante el colado: {command}",

	"{company} does not exist: its records are invented.": "{company} no existe: sus registros son inventados.",
	"Its next bid: {answer}":                              "Su próxima cotización: {answer}",
	"the report":                                          "el reporte",
	"open {path} in any browser":                          "abrir {path} en cualquier navegador",
	"the bid":                                             "la cotización",
	"open {path}, for the office; its spec is {spec}":     "abrir {path}, para la oficina; sus datos están en {spec}",
	"the crew's sheet":                                    "la hoja de la cuadrilla",
	"open {path} and print it":                            "abrir {path} e imprimirla",
	"during the pour":                                     "durante el colado",
	"how bids did":                                        "cómo salieron las cotizaciones",
	"slabs to visit":                                      "losas por visitar",
	"the record files":                                    "los archivos de registros",
	"{folder} (seven tables), {file} (the same as one job log)": "{folder} (siete tablas), {file} (lo mismo como una sola bitácora)",
}

// spanishSigns are the signs of units that Spanish writes in another way, by the
// English: a metric sign is the same, and so are h, min, lb, psi, gal and °F.
var spanishSigns = map[string]string{
	" sq ft": " pies²", " ft²": " pies²", "ft²": "pie²", " ft": " pies", " in": " pulg.",
	" yd": " yd³", "yd": "yd³", "%": "\u00a0%", " lb/ft²/h": " lb/pie²/h", " gal/yd": " gal/yd³",
	"/yd": "/yd³", "/100 ft²": "/100 pies²", "/ft²": "/pie²", "/ft": "/pie",
	" ft² per person-hour": " pies² por hora-persona", " m² per person-hour": " m² por hora-persona",
	" per 100 yd³": " por cada 100 yd³", " per 100 m³": " por cada 100 m³",
}

var spanishOnes = map[string]string{" pies": " pie", " pies²": " pie²"}

// beforeInSpanish says "y" as "e" before the sound of an i, and "o" as "u" before
// that of an o, as in "bomba e imprevistos" or "7 u 8".
func beforeInSpanish(words, value string) string {
	switch begin := strings.ToLower(value); {
	case endsIn(words, "y") && soundsLikeI(begin):
		return words[:len(words)-len("y ")] + "e "
	case endsIn(words, "o") && soundsLikeO(begin):
		return words[:len(words)-len("o ")] + "u "
	}
	return words
}

func endsIn(words, last string) bool {
	return words == last+" " || strings.HasSuffix(words, " "+last+" ")
}

func soundsLikeI(word string) bool {
	word = strings.TrimPrefix(word, "h")
	return begins(word, "i", "í") && !begins(word, "ia", "ie", "io")
}

// soundsLikeO: ocho and its hundreds and thousands begin with an 8, once and its
// thousands with an 11.
func soundsLikeO(word string) bool {
	eleven := strings.HasPrefix(word, "11") && !(len(word) > 2 && word[2] >= '0' && word[2] <= '9')
	return begins(word, "o", "ó", "ho", "hó", "8") || eleven
}

func begins(word string, with ...string) bool {
	for _, w := range with {
		if strings.HasPrefix(word, w) {
			return true
		}
	}
	return false
}
