package say

// spanishWords are the words of the records' vocabularies, of their columns, and
// the months, in Spanish.
var spanishWords = map[string]string{
	"driveway": "entrada de cochera", "walkway": "banqueta", "patio": "patio", "shed slab": "losa de cobertizo", "garage slab": "losa de cochera",
	"apron": "rampa de acceso", "curb": "guarnición", "steps": "escalones", "other": "otro",
	"chute": "canaleta", "pump": "bomba", "buggy": "buggy", "barrow": "carretilla", "conveyor": "banda",
	"native": "terreno natural", "compacted": "compactado", "crushed base": "base triturada", "existing slab": "losa existente",
	"none": "ninguno", "mesh": "malla", "rebar": "varilla", "fiber": "fibra",
	"clog": "tapón", "truck late": "camión tarde", "plant": "planta", "weather": "clima", "crew": "cuadrilla", "equipment": "equipo", "form": "cimbra", "inspection": "inspección",
	"hopper": "tolva", "manifold": "múltiple", "reducer": "reductor", "hose": "manguera", "line": "tubería",
	"set up": "preparar", "reinforce": "armar refuerzo", "place": "colar", "finish": "acabado", "joint": "hacer juntas", "strip": "descimbrar", "callback": "reclamo",
	"tooled": "a mano", "saw": "sierra", "early-entry": "sierra temprana",
	"water": "agua", "compound": "membrana de curado", "sheet": "plástico", "blanket": "manta",
	"sound": "sana", "crack": "grieta", "scaling": "descascarado", "settlement": "asentamiento", "ponding": "encharcamiento",
	"planned": "programada", "plastic": "contracción plástica", "drying": "contracción por secado", "corner": "esquina", "structural": "estructural", "unknown": "desconocido",
	"concrete": "concreto", "labor": "mano de obra", "reinforcement": "refuerzo", "base": "base", "disposal": "tiro de escombro", "subcontract": "subcontrato", "extra work": "trabajo extra",

	"January": "enero", "February": "febrero", "March": "marzo", "April": "abril", "May": "mayo", "June": "junio", "July": "julio", "August": "agosto",
	"September": "septiembre", "October": "octubre", "November": "noviembre", "December": "diciembre",
}
