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

	"date of the pour": "fecha del colado", "date": "fecha", "placement": "tramo", "people": "personas", "measured, in": "espesor medido, pulg.",
	"delivered, yd³": "entregado, yd³", "left over, yd³": "sobrante, yd³", "air, °F": "temp. del aire, °F", "concrete, °F": "temp. del concreto, °F",
	"humidity, %": "humedad, %", "wind, mph": "viento, mph", "who pumps": "bomba, quién", "hose, in": "manguera, pulg.", "note": "nota", "no.": "núm.",
	"tooled, saw, early-entry": "junta: tooled = a mano, saw = sierra, early-entry = sierra temprana", "depth of the cut, in": "profundidad del corte, pulg.",
	"hours from finish to cut": "horas del acabado al corte", "broom, trowel …": "acabado", "none, water, compound, sheet, blanket": "curado", "mix": "mezcla",
	"of the truck": "boleta", "yd³ on it": "yardas", "time loaded": "hora de carga", "time there": "llegada", "pour starts": "empieza a vaciar", "pour ends": "termina", "time it began": "hora en que empezó",
	"slump, in": "revenimiento, pulg.", "water, gal": "agua agregada, gal",
	"cause, see below": "causa", "where the clog was": "lugar del tapón", "minutes": "minutos", "task, see below": "tarea", "person-hours": "horas-persona",

	"January": "enero", "February": "febrero", "March": "marzo", "April": "abril", "May": "mayo", "June": "junio", "July": "julio", "August": "agosto",
	"September": "septiembre", "October": "octubre", "November": "noviembre", "December": "diciembre",
}
