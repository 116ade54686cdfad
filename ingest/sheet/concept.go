package sheet

import (
	"math"
	"slices"
	"strings"
	"unicode"
)

// A heading is understood by its parts: each word of it stands for a concept,
// such as volume, plan or cost, and a column is known by the concepts that speak
// for it and against it (affinity.go). Words that mean several things are
// concepts of their own: "back" may be concrete that went back or a call back.

// vocabulary lists the words of each concept, several words of one phrase joined
// by a dash. Spanish stands beside English; accents are left out.
var vocabulary = map[string]string{
	"job":       "job project proj wo work-order obra proyecto orden orden-de-trabajo w-o contract-# contract-no contract-num contract-number j",
	"num":       "no num number nr nbr # id code numero nro clave folio control-no ref reference line",
	"name":      "name nombre who quien",
	"customer":  "customer client cust homeowner home-owner owner sold-to bill-to builder gc general-contractor cliente propietario dueno buyer whose for-whom contact",
	"site":      "site address addr location loc where street jobsite job-site place property lot subdivision direccion domicilio ubicacion calle lugar sitio city town donde",
	"date":      "date day when fecha dia cuando",
	"pour":      "pour poured placed placement place-date colado vaciado colada vertido cast",
	"type":      "type kind use tipo uso clase category",
	"work":      "work scope description descr desc item trabajo concepto descripcion element structure task-type",
	"slab":      "slab flatwork losa placa pad section piece",
	"area":      "sf sqft sq-ft sq-feet area square-feet square-foot square-footage sq-footage footage ft2 m2 sqm sq-m square-meters square-metres superficie metros-cuadrados pies-cuadrados pies2 s-f",
	"length":    "length len lgth l long largo longitud long-side",
	"width":     "width wdth w wide ancho anchura short-side",
	"size":      "size dim dims dimension dimensions lxw lxwxd lxwxt l-x-w l-x-w-x-d l-x-w-x-t medida medidas tamano measurements",
	"thick":     "thick thickness thk thck thkns thickn depth deep dpth d t th espesor grosor profundidad grueso slab-depth inches pulgadas",
	"edge":      "edge thickened-edge turndown turn-down haunch borde perimeter-edge",
	"vol":       "yd yds yard yards yardage cy cuyd cu-yd cu-yds cubic-yards cubic-yard cubic m3 cum cu-m cubic-meters cubic-metres cubics concrete conc mud crete ready-mix readymix rmc concreto hormigon yarda yardas metros-cubicos volume vol mezcla yds3 yd3",
	"plan":      "est estimate estimated plan planned planning figured calc calculated calcd takeoff take-off expected projected forecast allowed estimado estimada estimados estimadas calculado calculados planeado planeadas planeados previsto previstos proposed",
	"budget":    "budget budgeted budgt presupuesto presupuestado presup",
	"bid":       "bid bids",
	"quote":     "quote quoted quotation cotizacion cotizado proposal",
	"order":     "order ordered ord called-in called-for requested booked pedido pedidos pedida pedidas ordenado ordenadas solicitado solicitadas",
	"neat":      "neat net theoretical theo drawing needed exact required takeoff-volume geometric teorico neto",
	"actual":    "act actual actuals real reales final used true usado usados usadas",
	"deliver":   "delivered deliv delivery del dlvd delvd received recd rcvd came shipped hauled entregado entregados entregada entregadas recibido recibidos recibidas on-truck tickets-total came-in",
	"ticket":    "ticket tickets tkt tkts tix boleta remision vale slip",
	"truck":     "truck trucks camion load loads carga cargas viaje viajes",
	"left":      "left leftover leftovers left-over over overs returned return returns ret retd excess waste wasted dump dumped washout remaining rest surplus unused sobrante sobrantes sobra sobras sobro devuelto devolucion desperdicio went-back sent-back brought-back extra-concrete excess-concrete not-used washed-out",
	"back":      "back",
	"extra":     "extra extras",
	"method":    "method how how-placed how-poured placed-by placed-with placing means metodo como colocacion placement-method pour-method way got-there got-there-by got-in-by brought-in",
	"chute":     "chute tailgate direct buggy wheelbarrow canal canaleta",
	"pump":      "pump pumped pumper pumping boom bomba bombeo bombeado line-pump",
	"company":   "co company outfit vendor operator compania empresa contractor sub supplier service",
	"steel":     "steel reinforcement reinf reinforcing reinforce reinforced rebar mesh wire bars bar fiber fibre wwm wwf iron refuerzo acero varilla malla armado rnf rein",
	"joint":     "joint joints jt jts cj cjs jnt jnts control-joint control-joints contraction panel panels saw-cut saw-cuts sawcut sawcuts cut cuts scoring junta juntas corte cortes panos pano grid crack-control",
	"saw":       "saw sawed sawing sawn tooled",
	"spacing":   "spacing space spaced spc spcg o-c oc @ every apart separacion espaciado espaciamiento",
	"temp":      "temp temps temperature temperatures tmp high hi deg degrees f c degf degc temperatura grados heat clima high-temp",
	"air":       "air outside ambient aire outdoor",
	"crew":      "crew crews foreman lead leader boss super superintendent gang team supervisor cuadrilla capataz encargado jefe finisher crew-leader crew-lead lead-man leadman run-by ran-by mayordomo maestro crew-chief",
	"people":    "men guys people hands heads headcount head-count workers laborers crew-size crew-count manpower bodies hombres gente trabajadores personal personas peones obreros size-of-crew how-many fellas",
	"hours":     "hours hrs hr hour mh manhours man-hours manhrs man-hrs man-hour man-hr horas hora hrs-hombre horas-hombre hh labor-hours person-hours crew-hours tiempo time hs m-/-h",
	"labor":     "labor labour man mano-de-obra labr",
	"money":     "$ dollars dollar amount amt usd money monto importe pesos cash",
	"total":     "total tot sum overall job-total",
	"price":     "price sold sold-for sell selling sale sales sales-price contract contract-price charge charged charges revenue billed bill bill-amount invoiced income precio venta vendido cobrado cobro contrato ingreso ingresos gross got-paid contract-amount contract-amt contract-sum job-price",
	"cost":      "cost costs cst spent spend expense expenses expenditure paid-out costo costos coste gasto gastos gastado outlay out-of-pocket cost-us job-cost job-costs all-in",
	"our":       "our ours nuestro us we",
	"change":    "change-order change changes add-on add-ons addl additional added adds c-o change-orders cambios cambio adicional adicionales upcharge cos co's",
	"callback":  "callback callbacks call-back call-backs cb c-b came-back complaint complaints warranty warranty-call problem problems issue issues fix fixed repair repairs repaired redo crack cracks cracked reclamo reclamos queja quejas garantia reparacion reparaciones arreglo llamada return-trip went-back-for trouble defect defects called called-back to-fix service-call punch",
	"note":      "note notes remark remarks comment comments memo misc notas nota observaciones obs comentarios comentario anything-else fyi details other otros",
	"invoice":   "inv invoice invoice-no factura fact receipt po p-o purchase-order check ck",
	"money2":    "deposit down down-payment paid payment balance due owed retainer retention anticipo deposito pagado saldo tax taxes permit fee commission bonus tip",
	"profit":    "profit margin markup mark-up gain made ganancia utilidad margen gross-profit net-profit p-l keep roi",
	"contact":   "phone cell email e-mail telefono tel mail fax web",
	"status":    "status done complete completed finished? stage initials sign signed photo photos picture ok estado hecho inspector approved entered",
	"per":       "per rate ea each a-yard tarifa por cada / hourly wage",
	"mix":       "mix mix-design mixture design recipe",
	"plant":     "plant batch-plant producer planta dispatch",
	"psi":       "psi strength resistencia fc mpa",
	"slump":     "slump revenimiento asentamiento",
	"water":     "water agua gallons gal water-added",
	"humid":     "humidity rh humid humedad",
	"wind":      "wind windy viento mph",
	"weather":   "weather sky conditions forecast-sky tiempo-clima",
	"base":      "base subbase sub-base subgrade sub-grade gravel soil ground suelo terreno",
	"finish":    "finish surface texture broom acabado terminado",
	"cure":      "cure curing cured curado",
	"clog":      "clog clogs plug plugs plugged clogged tapon",
	"delay":     "delay delays wait waiting demora demoras espera late standby",
	"minutes":   "min mins minutes minutos",
	"hose":      "hose manguera",
	"won":       "won awarded accepted",
	"close":     "closed close completed-on closed-out",
	"start":     "start started begin began arrive arrived arrival on-site onsite inicio llegada llego from",
	"end":       "end ended out off finish-time fin salida until",
	"batch":     "batched batch-time loaded left-plant cargado",
	"task":      "task activity tarea actividad doing did",
	"cause":     "cause reason why causa razon motivo porque",
	"found":     "found finding condition hallazgo",
	"measured":  "measured probed probe checked medido",
	"bar-size":  "bar-size rebar-size",
	"year":      "year month week ano mes semana quarter season",
	"months":    "months meses",
	"aggregate": "aggregate rock stone agregado",
	"additive":  "accelerator retarder additive admix admixture calcium acelerante retardante",
	"color":     "color colour stain stamp stamped sealer pattern",
	"unit":      "unit units uom unidad",
	"qty":       "qty quantity cantidad cant",
	"edgeft":    "perimeter lf lin-ft linear-feet lineal",
	"labor$":    "payroll nomina",
	"what":      "what que",
	"account":   "account acct gl cuenta",
	"percent":   "% percent pct porcentaje",
	"got":       "got get",
	"filler":    "the of for at on a an and is was or with by el la los las de en para y x this job's slab's how-much much vs yes/no y/n it",
}

// senseless are the concepts whose words say nothing about a column.
const filler = "filler"

// lexis is the vocabulary turned about: phrase → concept.
var lexis, longestPhrase = turnAbout()

func turnAbout() (map[string]string, int) {
	words, longest := map[string]string{}, 1
	for concept, list := range vocabulary {
		for _, phrase := range strings.Fields(list) {
			phrase = strings.TrimSuffix(phrase, "?")
			words[strings.ReplaceAll(phrase, "-", " ")] = concept
			longest = max(longest, strings.Count(phrase, "-")+1)
		}
	}
	return words, longest
}

// sense is a concept that a heading bears, and how plainly: 1 for a word of the
// vocabulary, less for an abbreviation or a slip of the pen, and half for what
// stands in the row above.
type sense struct {
	concept string
	plain   float64
	word    string
}

// groupMark parts the heading of a group from those below it.
const groupMark = " / "

// sensesOf takes a heading apart.
func sensesOf(heading string) []sense {
	group, own, grouped := strings.Cut(heading, groupMark)
	if !grouped {
		return phraseSenses(headingTokens(heading), 1)
	}
	return append(phraseSenses(headingTokens(own), 1), phraseSenses(headingTokens(group), 0.5)...)
}

func phraseSenses(tokens []string, weight float64) []sense {
	var found []sense
	add := func(concept string, plain float64, word string) {
		if concept != filler && !slices.ContainsFunc(found, func(s sense) bool { return s.concept == concept }) {
			found = append(found, sense{concept, plain * weight, word})
		}
	}
	for i := 0; i < len(tokens); {
		if tokens[i] == "del" && i > 0 && i+1 < len(tokens) { // Fecha del colado
			i++
			continue
		}
		n := min(longestPhrase, len(tokens)-i)
		for ; n > 0; n-- {
			phrase := strings.Join(tokens[i:i+n], " ")
			if concept, ok := lexis[phrase]; ok {
				add(concept, 1, phrase)
				break
			}
			if concept, ok := lexis[strings.TrimSuffix(phrase, "s")]; ok && len(phrase) > 3 {
				add(concept, 1, phrase)
				break
			}
		}
		if n == 0 {
			if concept, plain := guessWord(tokens[i]); concept != "" {
				add(concept, plain, tokens[i])
			} else if isLetterWord(tokens[i]) {
				found = append(found, sense{"", weight, tokens[i]})
			}
			n = 1
		}
		i += n
	}
	return found
}

func isLetterWord(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) >= 0 }

// accents takes the accents off lower-case letters.
var accents = strings.NewReplacer("á", "a", "é", "e", "í", "i", "ó", "o", "ú", "u", "ü", "u", "ñ", "n")

var plainLetters = strings.NewReplacer("²", "2", "³", "3", "º", "", "ª", "",
	"°f", " degf ", "°c", " degc ", "°", " deg ", "w/o", " without ", "w/", " with ", "#", " # ", "$", " $ ", "@", " @ ", "%", " % ", "o.c.", " oc ", "o.c", " oc ", "c.o.", " co ", "p.o.", " po ", "s.f.", " sf ", "c.y.", " cy ")

// headingTokens are the words and signs of a heading, in lower case and without
// accents.
func headingTokens(heading string) []string {
	if len(heading) > longestHeading {
		return nil
	}
	s := plainLetters.Replace(accents.Replace(strings.ToLower(splitCamel(heading))))
	var tokens []string
	for _, w := range strings.FieldsFunc(s, func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune("()[]{}:,;*?!\"'|=<>.-_&+–—", r) || isInvisible(r)
	}) {
		tokens = append(tokens, slashed(w)...)
	}
	return tokens
}

// slashed parts $/hr and Mesh/Rebar at the stroke; behind a money sign or before
// a unit the stroke means per.
func slashed(w string) []string {
	parts := strings.Split(w, "/")
	switch {
	case len(parts) == 1:
		return parts
	case w == "c/o" || w == "c/os":
		return []string{"change", "orders"}
	}
	var tokens []string
	for i, p := range parts {
		if i > 0 && (parts[i-1] == "" || slices.Contains(perUnits, p)) {
			tokens = append(tokens, "/")
		}
		if p != "" {
			tokens = append(tokens, p)
		}
	}
	return tokens
}

var perUnits = []string{"hr", "hour", "h", "yd", "cy", "sf", "sqft", "m2", "m3", "ft", "man", "hora", "yard", "ea"}

func splitCamel(s string) string {
	var b strings.Builder
	var last rune
	for _, r := range s {
		if unicode.IsUpper(r) && unicode.IsLower(last) {
			b.WriteByte(' ')
		}
		b.WriteRune(r)
		last = r
	}
	return b.String()
}

// guessWord knows a word that is cut short (deliv, cust), without its vowels
// (dlvrd) or with a slip in it (thicknes), where only one concept has such a
// word.
func guessWord(w string) (concept string, plain float64) {
	if len(w) < 3 || strings.IndexFunc(w, func(r rune) bool { return !unicode.IsLetter(r) }) >= 0 {
		return "", 0
	}
	if c := onlyConcept(func(word string) bool { return strings.HasPrefix(word, w) }); c != "" {
		return c, 0.85
	}
	if len(w) >= 5 {
		if c := onlyConcept(func(word string) bool { return len(word) >= 5 && oneSlip(w, word) }); c != "" {
			return c, 0.8
		}
	}
	if !strings.ContainsAny(w[1:], "aeiou") || len(w) == 3 {
		return onlyConcept(func(word string) bool { return len(word) > len(w) && skeleton(w, word) }), 0.7
	}
	return "", 0
}

// onlyConcept is the concept of all single words that fit, if it is one.
func onlyConcept(fits func(word string) bool) string {
	only := ""
	for word, concept := range lexis {
		if concept == filler || strings.Contains(word, " ") || !fits(word) {
			continue
		}
		if only != "" && only != concept {
			return ""
		}
		only = concept
	}
	return only
}

// oneSlip says whether a letter too many, too few or another parts the words.
func oneSlip(a, b string) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 || a[0] != b[0] {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	if len(a) == len(b) {
		return a[min(i+1, len(a)):] == b[min(i+1, len(b)):] || i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
	}
	return a[i:] == b[i+1:]
}

// skeleton says whether the letters of short stand in long in their order, the
// first at its beginning and the last among its last two consonants.
func skeleton(short, long string) bool {
	if short[0] != long[0] || len(long) > 4*len(short) {
		return false
	}
	at := 0
	for i := range len(short) {
		k := strings.IndexByte(long[at:], short[i])
		if k < 0 {
			return false
		}
		at += k + 1
	}
	return len(long)-at <= 2
}

// affinity is how much the senses of a heading speak for a column.
func affinity(senses []sense, column map[string]float64) float64 {
	sum, best := 0.0, 0.0
	for _, s := range senses {
		w, listed := column[s.concept]
		switch {
		case s.concept == "":
			w = -0.5
		case !listed:
			w = against(s.concept)
		}
		sum += w * s.plain
		best = max(best, w*s.plain)
	}
	if best == 0 {
		return math.Min(sum, 0)
	}
	return sum
}

// against is what a concept takes from a column that does not know it: little
// where it goes with anything.
func against(concept string) float64 {
	switch concept {
	case "job", "total", "slab", "num", "pour", "our", "name", "what":
		return -1.5
	case "vol", "date", "money2", "profit", "contact", "invoice", "per", "plant", "color", "percent":
		return -6
	}
	return -4
}
