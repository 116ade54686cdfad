package say

// spanishWords are the words of the records' vocabularies, of their columns, and
// the months, in Spanish.
var spanishWords = map[string]string{
	"driveway": "entrada de cochera", "walkway": "banqueta", "patio": "patio", "shed slab": "losa de cobertizo", "garage slab": "losa de cochera",
	"apron": "rampa de acceso", "curb": "guarnición", "steps": "escalones", "other": "otro",
	"chute": "canaleta", "pump": "bomba", "buggy": "buggy", "barrow": "carretilla", "conveyor": "banda",
	"native": "terreno natural", "compacted": "compactado", "crushed base": "base triturada", "existing slab": "losa existente",
	"tooled": "a mano", "saw": "sierra", "early-entry": "sierra temprana", "water": "agua", "compound": "membrana", "sheet": "plástico", "blanket": "cobija",
	"none": "nada", "mesh": "malla", "rebar": "varilla", "fiber": "fibra",
	"clog": "tapón", "truck late": "camión tarde", "plant": "planta", "weather": "clima", "crew": "cuadrilla", "equipment": "equipo", "form": "cimbra", "inspection": "inspección",
	"hopper": "tolva", "manifold": "múltiple", "reducer": "reductor", "hose": "manguera", "line": "tubería",
	"set up": "preparar", "reinforce": "armar refuerzo", "place": "colar", "finish": "acabar", "joint": "hacer juntas", "strip": "descimbrar", "callback": "garantía",

	"January": "enero", "February": "febrero", "March": "marzo", "April": "abril", "May": "mayo", "June": "junio", "July": "julio", "August": "agosto",
	"September": "septiembre", "October": "octubre", "November": "noviembre", "December": "diciembre",
}
