package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log b writes Spanish and English as they come, keeps one sheet and saves it as CSV: titles on top, blank
// rows, a subtotal a month, the headings once more in the middle, a footnote, lengths and widths in their own columns.

func jobsOfB() []*job {
	r := rand.New(rand.NewPCG(77, 11))
	jobs := invent(r, firm{first: date(2025, 2, 10), last: date(2025, 11, 8), ticket: 8800, oneRect: true,
		number:    func(i int, _ time.Time) string { return fmt.Sprintf("T-%02d", i+1) },
		customers: []string{"Abeto", "Cedro", "Encino", "Fresno", "Mezquite", "Nogal", "Olmo", "Pino", "Roble", "Sauce"},
		streets:   []string{"Calle del Sol", "Camino Viejo", "Arroyo Rd", "Loma Ct", "Acequia Ln"},
		crews:     []string{"Águila", "Halcón", "Búho"}, outfits: []string{"P1", "P4"},
		notes: []string{"", "", "", "pagó en efectivo", "acceso angosto", "buen trabajo", "quiere otro precio p/ banqueta", "perro bravo", "color gris, sin sello"}}, 50)
	standsAt(jobs, map[string]string{"T-19": "cancelled", "T-37": "no size"}, "cancelado por el cliente")
	return jobs
}

var columnsOfB = []column{
	{"", "Trabajo / Job", "job_no", func(e *entry) any { return e.no }},
	{"", "Colado (pour date)", "placed_on", dayOfB},
	{"", "Cliente", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"", "Dirección", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"", "Contrato / Contract ($)", "contract_price", once("contract_price", contractOfB)},
	{"", "Anticipo ($)", "", once("", func(e *entry) any { return to(e.price/2, 50) })},
	{"", "Clase de losa / Kind", "use", useOfB},
	{"", "Largo (ft)", "length", func(e *entry) any { return lengthOfB(e, e.length) }},
	{"", "Ancho (ft)", "width", func(e *entry) any { e.read("area_sqft", e.area()); return lengthOfB(e, e.width) }},
	{"", "Grueso / Thick (in)", "thickness_in", func(e *entry) any {
		e.read("thickness_in", e.thick)
		return oneOf(e.r, num(e.thick), num(e.thick), vulgar(e.thick, false)+`"`)
	}},
	{"", "Varilla o malla / Reinf", "reinforcement", steelOfB},
	{"", "Juntas / Joints (ft)", "joint_spacing_ft", jointsOfB},
	{"", "Pedido / Ordered (yd3)", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfB(e, e.planned) }},
	{"", "Llegó / Delivered (yd3)", "delivered_yd", gotOfB},
	{"", "Sobró (yd3)", "leftover_yd", func(e *entry) any {
		e.read("leftover_yd", e.left)
		return oneOf(e.r, num(e.left), vulgar(e.left, false))
	}},
	{"", "Colado con / Placed w/", "method", methodOfB},
	{"", "Bomba / Pump outfit", "pump_outfit", func(e *entry) any {
		e.read("pump_outfit", e.outfit)
		return e.outfit
	}},
	{"", "Temp aire (F)", "air_temp_f", tempOfB},
	{"", "Humedad (%)", "humidity_pct", func(e *entry) any {
		e.read("humidity_pct", e.humidity)
		return oneOf(e.r, fmt.Sprint(e.humidity), fmt.Sprintf("%d%%", e.humidity))
	}},
	{"", "Cuadrilla / Crew", "crew", func(e *entry) any { e.read("crew", e.crew); return oneOf(e.r, e.crew, e.crew, strings.ToUpper(e.crew)) }},
	{"", "Gente / People", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"", "Horas-hombre / Man-hours", "labor_hours", hoursOfB},
	{"", "Presupuesto de costo ($)", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return oneOf(e.r, num(e.bid), dollars(e.bid)) })},
	{"", "Costo real ($)", "actual_cost", once("actual_cost", func(e *entry) any {
		e.read("actual_cost", e.cost())
		return oneOf(e.r, num(e.cost()), dollars(e.cost()))
	})},
	{"", "Reclamo / Callback", "callback_on", once("callback_on", backOfB)},
	{"", "Costo del reclamo ($)", "callback_cost", once("callback_cost", backCostOfA)},
	{"", "Comentarios", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfB = []odd{
	{"T-06", "Temp aire (F)", "air_temp_f", "mucho calor", false, nil},
	{"T-14", "Sobró (yd3)", "leftover_yd", "un poco", false, nil},
	{"T-28", "Horas-hombre / Man-hours", "labor_hours", "preguntar", false, nil},
	{"T-41", "Juntas / Joints (ft)", "joint_spacing_ft", "según plano", false, []string{"joint_cut"}},
	{"T-23", "Llegó / Delivered (yd3)", "delivered_yd", "975", true, nil},
	{"T-45", "Humedad (%)", "humidity_pct", "480", true, nil},
}

var (
	daysInSpanish   = []string{"domingo", "lunes", "martes", "miércoles", "jueves", "viernes", "sábado"}
	monthsInSpanish = []string{"", "enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre"}
)

// dayOfB puts the month first, as the country does, or the month's name.
func dayOfB(e *entry) any {
	e.read("placed_on", iso(e.day))
	if e.fate == "cancelled" {
		return ""
	}
	month := monthsInSpanish[e.day.Month()]
	return oneOf(e.r, e.day.Format("1/2/2006"), e.day.Format("1/2/06"), daysInSpanish[e.day.Weekday()]+e.day.Format(" 1/2/06"),
		fmt.Sprintf("%d de %s de %d", e.day.Day(), month, e.day.Year()), fmt.Sprintf("%d-%s-%02d", e.day.Day(), month[:3], e.day.Year()%100),
		e.day.Format("Jan 2, 2006"), e.day.Format("Mon 1/2/06"))
}

func useOfB(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"entrada", "Driveway", "entrada de carros", "driveway"}, "walkway": {"banqueta", "Sidewalk", "andador"},
		"patio": {"patio", "Patio", "patio trasero"}, "shed slab": {"shed", "losa de cobertizo", "shed slab"},
		"garage slab": {"piso de garaje", "garage", "Garage floor"}, "apron": {"apron", "Apron", "approach"}}[e.use]...)
}

func lengthOfB(e *entry, x float64) any {
	if e.fate == "no size" {
		return "?"
	}
	return oneOf(e.r, num(x), num(x), num(x)+"'", halfFeet(x))
}

func steelOfB(e *entry) any {
	written := oneOf(e.r, map[string][]string{"mesh": {"malla", "mesh", "malla 6x6"}, "fiber": {"fibra", "fiber"}, "none": {"sin acero", "none", "nada"},
		"mesh+fiber": {"malla + fibra", "malla y fibra"}, "rebar": {fmt.Sprintf(`varilla %s @ %g"`, e.bar, e.barAt), fmt.Sprintf("%s @ %g", e.bar, e.barAt),
			fmt.Sprintf(`varilla de %s" a cada %g"`, map[string]string{"#3": "3/8", "#4": "1/2"}[e.bar], e.barAt)}}[e.steel]...)
	return e.readSteel(written)
}

func jointsOfB(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	e.read("joint_cut", e.cut)
	n := num(e.joint)
	switch e.cut {
	case "saw":
		return oneOf(e.r, "sierra "+n+"'", n+" saw cut", "corte con sierra "+n)
	case "tooled":
		return oneOf(e.r, "tooled "+n+"'", n+"' con herramienta")
	}
	return oneOf(e.r, n, "cada "+n+"'", n+"x"+n, n+" ft")
}

func yardsOfB(e *entry, x float64) any {
	return oneOf(e.r, num(x), num(x), vulgar(x, false), num(x)+" yds", num(x)+" yardas")
}

func gotOfB(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) > 1 {
		return strings.ReplaceAll(trucks(e.loads), " ", "")
	}
	return yardsOfB(e, e.delivered)
}

func methodOfB(e *entry) any {
	e.read("method", e.method)
	return oneOf(e.r, map[string][]string{"chute": {"canal", "chute", "directo del camión"}, "pump": {"bomba", "pump", "Bomba"},
		"buggy": {"buggy"}, "barrow": {"carretilla", "carretillas", "wheelbarrow"}}[e.method]...)
}

// tempOfB once took the reading off a Celsius thermometer, and wrote so.
func tempOfB(e *entry) any {
	if e.no == "T-31" {
		e.read("air_temp_f", 86)
		return "30 C"
	}
	e.read("air_temp_f", e.temp)
	return oneOf(e.r, fmt.Sprint(e.temp), fmt.Sprint(e.temp), fmt.Sprintf("%d F", e.temp), fmt.Sprintf("%d°F", e.temp), fmt.Sprintf("%d-%d", e.temp-2, e.temp+2))
}

func hoursOfB(e *entry) any {
	e.read("labor_hours", e.hours())
	n, each := e.people, num(e.each)
	return oneOf(e.r, num(e.hours()), num(e.hours())+" hrs", fmt.Sprintf("%d x %s", n, each), fmt.Sprintf("%d personas x %s", n, each), fmt.Sprintf("%d hombres %s hrs", n, each))
}

func contractOfB(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change > 0 {
		return fmt.Sprintf("%s + %g extra", dollars(e.price), e.change)
	}
	return oneOf(e.r, num(e.price), dollars(e.price), dollars(e.price)+".00", "$ "+num(e.price))
}

func backOfB(e *entry) any {
	e.readBack()
	if e.back == nil {
		return oneOf(e.r, "", "", "no", "ninguno", "-")
	}
	word := oneOf(e.r, map[string][]string{"crack": {"grieta", "crack", "se agrietó"}, "scaling": {"se descascaró", "scaling"},
		"settlement": {"se hundió", "settled"}, "ponding": {"charco", "ponding"}}[e.back.kind]...)
	return oneOf(e.r, e.back.on.Format("1/2/06 ")+word, word+e.back.on.Format(" 1/2/2006"), e.back.on.Format("Jan 2, 2006 - ")+word)
}

// bilingualLog writes log b.
func bilingualLog() *book {
	b := newBook(2025, oddOfB)
	jobs := jobsOfB()
	s := &sheet{name: "b"}
	b.explain("", columnsOfB)
	wide := func(cells ...any) { s.add(append(cells, make([]any, len(columnsOfB)-len(cells))...)...) }
	heads := func() {
		cells := []any{}
		for _, c := range columnsOfB {
			cells = append(cells, c.head)
		}
		s.add(cells...)
	}
	wide("BITÁCORA DE COLADOS 2025")
	wide("(concrete log - las medidas son de campo)")
	wide()
	heads()
	for i, month := range byMonth(jobs) {
		if i == 5 {
			wide()
			heads()
		}
		for _, j := range month {
			b.keep(s, columnsOfB, j)
		}
		n, _, yards, price := sums(month)
		total := make([]any, len(columnsOfB))
		total[0], total[2], total[4], total[13] = "Subtotal "+monthsInSpanish[month[0].slabs[0].day.Month()], fmt.Sprintf("%d trabajos", n), dollars(price), yards
		s.add(total...)
		if i%2 == 1 {
			wide()
		}
	}
	n, _, yards, price := sums(jobs)
	total := make([]any, len(columnsOfB))
	total[0], total[2], total[4], total[13] = "TOTAL DEL AÑO", fmt.Sprintf("%d trabajos", n), dollars(price), yards
	s.add(total...)
	wide()
	wide("Nota: horas-hombre = toda la gente sumada. 1 yd3 = 27 ft3.")
	b.sheets = []*sheet{s}
	return b
}
