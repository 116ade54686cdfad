package page

// phrases are the words of the pour-day sheet in one language. What is filled
// in keeps the names of the record columns in every language.
type phrases struct {
	Lang, Title, Heading, To                    string
	Order, Layout, Care, Facts, Blanks          string
	OrderFirst, OrderOnce, Hold, CallAt, Loads  string // with %s for amounts
	Short, Balance, Empty, Cut                  string
	Covered, Down, Reckon, Plain, Saw           string
	AreaAlone, Panels, Limit, LimitDo, NoDesign string
	Hot, Metric, Memory                         string
	Placement, Area, Thickness, Pour, Neat      string
	Page, Fill                                  string
	tables                                      map[string]string // record tables
	gloss                                       map[string]string // record columns; the column's unit where there is none
	words                                       map[string]string // of the vocabularies; the word itself where there is none
	cautions                                    map[Caution]string
}

var english = &phrases{
	Lang: "en", Title: "Pour-day sheet", Heading: "Pour day", To: " to ",
	Order: "The concrete", Layout: "Joints", Care: "Take care", Facts: "The slab", Blanks: "Write down",
	OrderFirst: "Order first: %s", OrderOnce: "Order: %s", Loads: "in loads of %s",
	Hold:   "Hold back about %s for the last load.",
	CallAt: "When %s are down and about %s of the area is covered, measure what is left and call the last load in.",
	Short:  "All at once it would be %s, which runs short %s.", Balance: "How much to call in: %s",
	Plain: "no reinforcement", Saw: "When to saw: %s",
	Covered: "covered", Down: "down → still to have,%s",
	Reckon:    "Find what is covered and about what is down: behind the arrow is all that the rest takes. Take off what is still in the trucks, and call in the difference.",
	Empty:     "Nobody holds this back: have the plant's number at hand in case it runs short (%s).",
	Cut:       "Joints %s deep, %s of them in all.",
	AreaAlone: "The bid had the area and no shape: this plan only stands for it. Lay the joints out on site.", Panels: "%d panels, the longest side %s. Dashed lines are joints.",
	Limit:     "%s of the pours on record in %s dried at or over %s, where plastic cracking begins to threaten.",
	Hot:       "On a hot, dry or windy day a fresh slab dries at %s and faster, and cracks while still soft: read air, concrete, humidity and wind first.",
	LimitDo:   "Have fog or wind breaks, evaporation retarder and curing ready before the first truck.",
	NoDesign:  "Local codes and a licensed engineer decide.",
	Placement: "Placement", Area: "Area", Thickness: "Thickness", Pour: "Use, reinforcement, base, method", Neat: "Neat",
	Page: "Bid %d, made as of %s", Fill: "The names above the blanks are the columns of the record files.",
	Metric: "Where a value is metric, write its unit behind it: 7.6 m3, 100 mm, 29 C.", Memory: "from memory",
	tables: map[string]string{"placements": "placements: the slab", "loads": "loads: one row a truck", "delays": "delays: one row each time work stopped", "labor": "labor: person-hours by task"},
	gloss: map[string]string{"placed_on": "date", "delivered_yd": "yd³", "leftover_yd": "yd³", "crew": "name", "crew_size": "people", "pump_outfit": "name", "joint_cut": "tooled, saw, early-entry",
		"finish": "broom, trowel …", "curing": "none, water, compound, sheet, blanket", "ticket_no": "of the truck", "batched_at": "time", "arrived_at": "time", "pour_start": "time", "pour_end": "time",
		"seq": "no.", "cause": "below", "spot": "of a clog", "task": "below", "worked_on": "date", "note": "", "mix": "", "job_no": "", "placement": ""},
}

// The Spanish is that of the trade in the United States and Mexico.
var spanish = &phrases{
	Lang: "es", Title: "Hoja del día del colado", Heading: "Día del colado", To: " a ",
	Order: "El concreto", Layout: "Juntas", Care: "Cuidado", Facts: "La losa", Blanks: "Apuntar",
	OrderFirst: "Pedir primero: %s", OrderOnce: "Pedir: %s", Loads: "en viajes de %s",
	Hold:   "Dejar pendiente para el último viaje: cerca de %s.",
	CallAt: "Cuando se haya colado %s y esté cubierto cerca del %s del área, medir lo que falta y pedir el último viaje.",
	Short:  "Todo de una vez serían %s, y faltaría concreto %s.", Balance: "Cuánto pedir al final: %s",
	Plain: "sin refuerzo", Saw: "Cuándo cortar: en cuanto el corte no despostille la orilla y antes de que la losa se agriete sola; por lo común de %.0f a %.0f horas después de colar en tiempo de calor, y hasta %.0f en frío (UFC 3-250-04 §9-4.4).",
	Covered: "cubierto", Down: "colado → falta tener,%s",
	Reckon:    "Buscar lo cubierto y más o menos lo colado: después de la flecha está todo lo que pide el resto. Restarle lo que queda en los camiones y pedir la diferencia.",
	Empty:     "No queda nada pendiente: tener a la mano el teléfono de la planta por si falta (%s).",
	Cut:       "Juntas de %s de profundidad, %s en total.",
	AreaAlone: "La cotización traía el área sin la forma: este plano es supuesto. Trazar las juntas en la obra.", Panels: "%d tableros, el lado más largo de %s. Las líneas punteadas son juntas.",
	Limit:     "%s de los colados registrados en %s se secaron a %s o más, donde empieza el riesgo de grietas por secado en fresco.",
	Hot:       "En un día de calor, seco o con viento la losa fresca se seca a %s o más, y se agrieta antes de endurecer: medir primero aire, concreto, humedad y viento.",
	LimitDo:   "Tener listos el rociador o los rompevientos, el retardador de evaporación y el curado antes del primer camión.",
	NoDesign:  "Mandan el reglamento local y el ingeniero con licencia.",
	Placement: "Tramo", Area: "Área", Thickness: "Espesor", Pour: "Uso, refuerzo, base, método", Neat: "Volumen neto",
	Page: "Cotización %d, con datos al %s", Fill: "Los nombres sobre los espacios son las columnas de los registros: dejarlos como están.",
	Metric: "Si el dato es métrico, apuntar su unidad detrás: 7.6 m3, 100 mm, 29 C.", Memory: "de memoria",
	tables: map[string]string{"placements": "placements: la losa", "loads": "loads: un renglón por camión", "delays": "delays: un renglón por cada paro", "labor": "labor: horas-persona por tarea"},
	gloss: map[string]string{
		"job_no": "núm. de trabajo", "placement": "tramo", "placed_on": "fecha del colado", "measured_thickness_in": "espesor medido, pulg.", "delivered_yd": "entregado, yd³", "leftover_yd": "sobrante, yd³",
		"pump_outfit": "bomba, quién", "hose_in": "manguera, pulg.", "mix": "mezcla", "joint_cut": "junta: tooled = a mano, saw = sierra, early-entry = sierra temprana", "joint_depth_in": "profundidad del corte, pulg.", "saw_hours": "horas del acabado al corte",
		"finish": "acabado", "curing": "curado", "air_temp_f": "temp. del aire, °F", "concrete_temp_f": "temp. del concreto, °F", "humidity_pct": "humedad, %", "wind_mph": "viento, mph",
		"crew": "cuadrilla", "crew_size": "personas",
		"ticket_no": "boleta", "yards": "yardas", "batched_at": "hora de carga", "arrived_at": "llegada", "pour_start": "empieza a vaciar", "pour_end": "termina", "slump_in": "revenimiento, pulg.", "water_added_gal": "agua agregada, gal", "note": "nota",
		"seq": "núm.", "cause": "causa", "spot": "lugar del tapón", "minutes": "minutos",
		"worked_on": "fecha", "task": "tarea", "hours": "horas-persona"},
	words: map[string]string{
		"driveway": "entrada de cochera", "walkway": "banqueta", "patio": "patio", "shed slab": "losa de cobertizo", "garage slab": "losa de cochera", "apron": "rampa de acceso", "curb": "guarnición", "steps": "escalones", "other": "otro",
		"chute": "canaleta", "pump": "bomba", "buggy": "buggy", "barrow": "carretilla", "conveyor": "banda",
		"native": "terreno natural", "compacted": "compactado", "crushed base": "base triturada", "existing slab": "losa existente",
		"none": "nada", "mesh": "malla", "rebar": "varilla", "fiber": "fibra",
		"clog": "tapón", "truck late": "camión tarde", "plant": "planta", "weather": "clima", "crew": "cuadrilla", "equipment": "equipo", "form": "cimbra", "inspection": "inspección",
		"hopper": "tolva", "manifold": "múltiple", "reducer": "reductor", "hose": "manguera", "line": "tubería",
		"set up": "preparar", "reinforce": "armar refuerzo", "place": "colar", "finish": "acabar", "joint": "hacer juntas", "strip": "descimbrar", "callback": "garantía"},
	cautions: map[Caution]string{
		PluggedHose:     "El aire atrapado detrás de un tapón guarda presión, y la manguera suelta da latigazos. Parar la bomba y quitar la presión primero, todos lejos de la punta, nunca abrazar ni montarse en la manguera; el destape es del operador capacitado.",
		heatIllness:     "El mismo aire que seca la losa agota a la gente: agua, descanso y sombra, y a los nuevos ir metiéndolos poco a poco los primeros días.",
		causticConcrete: "El concreto fresco quema la piel, muchas veces sin dolor al principio: guantes, botas y lentes, y lavarse enseguida.",
		SilicaDust:      "El corte con sierra levanta polvo de sílice que daña los pulmones: agua al disco, o campana con aspiradora; si toca mascarilla depende de la herramienta, el lugar y las horas.",
		truckTime:       "De la carga a terminar de vaciar, 90 minutos, salvo otro acuerdo. Cada galón de agua agregada por yarda quita de 150 a 200 psi, más o menos: apuntarla.",
		metricWater:     "De la carga a terminar de vaciar, 90 minutos, salvo otro acuerdo. Cada 5 L de agua agregados por metro cúbico quitan de 1.0 a 1.4 MPa, más o menos: apuntarlos.",
	},
}

// metricWater is what water costs in strength, where it is measured in liters:
// a gallon a yard is 4.95 L/m³ (NIST SP 811).
var metricWater = Caution{
	"From batching to the end of discharge 90 minutes, unless otherwise agreed. Each 5 L of water added to a cubic meter takes away some 1.0 to 1.4 MPa: write it down.",
	"ASTM C94; NRMCA, from memory"}

// truckTime is for the crew at the truck.
var truckTime = Caution{
	"From batching to the end of discharge 90 minutes, unless otherwise agreed. Each gallon of water added to a yard takes away some 150 to 200 psi: write it down.",
	"ASTM C94; NRMCA, from memory"}

var monthsInSpanish = [13]string{"", "enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"}

// Languages are those of the pour-day sheet.
var Languages = []string{"en", "es"}

func phrasesOf(lang string) *phrases {
	if lang == "es" {
		return spanish
	}
	return english
}

// word is a word of a vocabulary in the sheet's language.
func (p *phrases) word(w string) string {
	if s, ok := p.words[w]; ok {
		return s
	}
	return w
}

// both is a record's word with what it means behind it, where that differs.
func (p *phrases) both(w string) string {
	if s := p.word(w); s != w {
		return w + " (" + s + ")"
	}
	return w
}
