package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log g lives where concrete is metric, days come first and the books close in June: a tab a financial
// year, the second kept better than the first, with other headings. The slabs of its jobs are in m, mm, m³, MPa and °C.

func jobsOfG() []*job {
	r := rand.New(rand.NewPCG(2324, 7))
	count := map[string]int{}
	jobs := invent(r, firm{first: date(2023, 7, 10), last: date(2025, 6, 20), oneRect: true,
		number: func(_ int, day time.Time) string {
			year := yearOfG(day)
			count[year]++
			return fmt.Sprintf("%s/%02d", year[:2], count[year])
		},
		customers: []string{"Bilby", "Brolga", "Bunyip", "Dingo", "Galah", "Kookaburra", "Lorikeet", "Numbat", "Quokka", "Wombat"},
		streets:   []string{"Gumnut Cl", "Paperbark Way", "Saltbush Rd", "Boobook Pde", "Tussock Tce"},
		crews:     []string{"Nev", "Shaz", "Tiny"}, outfits: []string{"line", "line", "boom"},
		notes: []string{"", "", "", "rock at 300, hired breaker", "rained out twice", "owner to seal", "2 m retaining wall next door", "booked again for shed", "strip 50 mm topsoil by others", "tight access, 1.2 m gate"}}, 70)
	for _, j := range jobs {
		for _, s := range j.slabs {
			metric(r, s)
		}
		if len(j.slabs) == 2 { // one sky over both
			j.slabs[1].temp = j.slabs[0].temp
		}
	}
	standsAt(jobs, map[string]string{"24/21": "no size"}, "")
	return jobs
}

func yearOfG(day time.Time) string {
	if day.Before(date(2024, 7, 1)) {
		return "23-24"
	}
	return "24-25"
}

// metric makes a slab one of a metric country: plants there sell fifths of a cubic metre, and January is hot.
func metric(r *rand.Rand, s *slab) {
	s.length, s.width = to(s.length*.3048, .5), to(s.width*.3048, .1)
	s.thick = map[float64]float64{3.5: 90, 4: 100, 4.5: 110, 5: 125, 6: 150}[s.thick]
	s.joint = map[float64]float64{4: 1.2, 5: 1.5, 8: 2.4, 10: 3, 12: 3.6}[s.joint]
	s.barAt = map[float64]float64{16: 200, 18: 250, 24: 300}[s.barAt]
	s.bar = map[string]string{"#3": "N10", "#4": "N12"}[s.bar]
	if strings.HasPrefix(s.steel, "mesh") {
		s.bar = oneOf(r, "", "SL62", "SL72", "SL72", "SL82")
	}
	s.psi = map[int]int{3000: 20, 3500: 25, 4000: 32}[s.psi]
	warm := math.Cos((float64(s.day.YearDay()) - 20) / 365 * 2 * math.Pi)
	s.temp = int(21 + 8*warm + between(r, -4, 4))
	neat := cubic(s)
	s.planned = up(neat * between(r, 1.04, 1.07))
	s.delivered = up(neat * between(r, 1.03, 1.1))
	s.left = max(0, to(s.delivered-neat*between(r, 1.01, 1.05), .1))
}

func cubic(s *slab) float64    { return s.area() * s.thick / 1000 }
func up(cubic float64) float64 { return cents(math.Ceil(cubic*5-1e-9) / 5) }

// What a record has for a metre, a square metre, a cubic metre, a millimetre, a megapascal and a degree.
func feet(m float64) float64         { return m / .3048 }
func squareFeet(m2 float64) float64  { return m2 / (.3048 * .3048) }
func cubicYards(m3 float64) float64  { return m3 / (.9144 * .9144 * .9144) }
func inches(mm float64) float64      { return mm / 25.4 }
func poundsPerInch(mpa int) float64  { return float64(mpa) / .006894757 }
func fahrenheit(celsius int) float64 { return float64(celsius)*9/5 + 32 }

// A headOfG is a column in both years: its heading in each ("" where the year has none).
type headOfG struct {
	before, after string
	is            string
	write         func(e *entry) any
}

var headsOfG = []headOfG{
	{"Ref", "Job ref", "job_no", func(e *entry) any { return e.no }},
	{"", "Quote sent", "bid_on", quotedOfG},
	{"Pour", "Day of pour", "placed_on", dayOfG},
	{"Client", "Client", "customer", func(e *entry) any { e.read("customer", e.customer); return sameAsAbove(e, e.customer) }},
	{"Site addr.", "Site", "site", func(e *entry) any { e.read("site", e.site); return sameAsAbove(e, e.site) }},
	{"Slab", "Element", "use", useOfG},
	{"m²", "Plan m²", "area_sqft", areaOfG},
	{"mm", "Depth mm", "thickness_in", depthOfG},
	{"Mesh / bars", "Reo", "reinforcement", steelOfG},
	{"Control jts (m)", "CJ's max m", "joint_spacing_ft", jointsOfG},
	{"MPa", "Grade", "mix_psi", gradeOfG},
	{"m³ booked", "Booked m³", "planned_yd", func(e *entry) any { e.read("planned_yd", cubicYards(e.planned)); return cubicOfG(e, e.planned) }},
	{"m³ on dockets", "Dockets m³", "delivered_yd", func(e *entry) any {
		e.read("delivered_yd", cubicYards(e.delivered))
		return docketsOfG(e)
	}},
	{"m³ not used", "Surplus m³", "leftover_yd", func(e *entry) any { e.read("leftover_yd", cubicYards(e.left)); return surplusOfG(e) }},
	{"Boom / line / chute", "Boom / line / chute", "method", methodOfG},
	{"°C", "Air °C", "air_temp_f", func(e *entry) any { e.read("air_temp_f", fahrenheit(e.temp)); return degreesOfG(e, e.temp) }},
	{"", "Conc °C", "concrete_temp_f", func(e *entry) any {
		t := (e.temp+26)/2 + 2
		e.read("concrete_temp_f", fahrenheit(t))
		return degreesOfG(e, t)
	}},
	{"RH", "RH %", "humidity_pct", func(e *entry) any {
		e.read("humidity_pct", e.humidity)
		return oneOf[any](e.r, e.humidity, fmt.Sprintf("%d%%", e.humidity))
	}},
	{"Leading hand", "L. hand", "crew", func(e *entry) any { e.read("crew", e.crew); return e.crew }},
	{"Labour", "Labour (men x h)", "labor_hours", labourOfG},
	{"Quote ex GST", "Quoted ex GST $", "contract_price", once("contract_price", quoteOfG)},
	{"", "Variations $", "change_orders", once("", func(e *entry) any {
		if e.change == 0 {
			return nil
		}
		return oneOf[any](e.r, e.change, dollars(e.change))
	})},
	{"GST", "GST 10%", "", once("", func(e *entry) any { return cents((e.price + e.change) / 10) })},
	{"Cost in quote", "Costed at $", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return moneyOfG(e, e.bid) })},
	{"Final cost", "Came out at $", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return moneyOfG(e, e.cost()) })},
	{"Paid", "Paid on", "", once("", func(e *entry) any {
		return oneOf[any](e.r, nil, e.day.AddDate(0, 0, 14+e.r.IntN(40)).Format("2/1/06"))
	})},
	{"Defect", "Defects", "callback_on", once("callback_on", defectOfG)},
	{"Defect $", "$ to rectify", "callback_cost", once("callback_cost", backCostOfA)},
	{"Site diary", "Rmks", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfG = []odd{
	{"23/09", "Labour", "labor_hours", "Tiny has the book", false, nil},
	{"23/24", "m³ not used", "leftover_yd", "couple of barrows", false, nil},
	{"24/16", "CJ's max m", "joint_spacing_ft", "engineer's dwg S02", false, []string{"joint_cut"}},
	{"23/29", "°C", "air_temp_f", "190", true, nil},
	{"24/11", "Dockets m³", "delivered_yd", "280", true, nil},
}

func quotedOfG(e *entry) any {
	if e.second {
		return nil
	}
	e.read("bid_on", iso(e.quoted))
	return oneOf[any](e.r, e.quoted, e.quoted, e.quoted.Format("2/01/2006"), e.quoted.Format("2.1.06"))
}

// dayOfG puts the day first; some lack the year that the tab has, and which half of it the month tells.
func dayOfG(e *entry) any {
	e.read("placed_on", iso(e.day))
	switch {
	case e.second:
		return "as above"
	case e.no == "23/12" || e.no == "23/27" || e.no == "24/14" || e.no == "24/31":
		return e.day.Format("Mon 2/1")
	}
	return oneOf[any](e.r, e.day, e.day, e.day.Format("2/01/2006"), e.day.Format("02/01/06"), e.day.Format("2.1.06"), e.day.Format("Mon 2/1/06"), e.day.Format("2-Jan-06"))
}

func sameAsAbove(e *entry, text string) any {
	if e.second {
		return "as above"
	}
	return text
}

func useOfG(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"driveway", "Driveway", "d'way"}, "walkway": {"footpath", "path", "side path"},
		"patio": {"patio", "alfresco", "Alfresco slab"}, "shed slab": {"shed slab", "shed", "garden shed"}, "garage slab": {"garage slab", "dbl garage"},
		"apron": {"crossover", "Crossover", "driveway crossover"}}[e.use]...)
}

// areaOfG is the area, or the sides of it to be multiplied.
func areaOfG(e *entry) any {
	if e.fate == "no size" {
		return "measure up Mon"
	}
	area := cents(e.area())
	e.read("area_sqft", squareFeet(area))
	return oneOf[any](e.r, area, area, area, num(area)+" m²", num(area)+" sqm", num(e.length)+" x "+num(cents(e.width)))
}

func depthOfG(e *entry) any {
	e.read("thickness_in", inches(e.thick))
	return oneOf[any](e.r, e.thick, e.thick, e.thick, num(e.thick)+"mm", num(e.thick)+" mm")
}

// steelOfG has mesh by its designation, and bars by theirs with the millimetres between them.
func steelOfG(e *entry) any {
	mesh, fibre := e.bar, oneOf(e.r, "fibre", "fibres", "poly fibre")
	if mesh == "" {
		mesh = "slab mesh"
	}
	e.read("reinforcement", e.steel)
	e.read("bar", e.bar)
	e.read("bar_spacing_in", inches(e.barAt))
	switch e.steel {
	case "mesh":
		return oneOf(e.r, mesh, mesh, mesh+" on chairs")
	case "fiber":
		return fibre
	case "mesh+fiber":
		return mesh + oneOf(e.r, " + ", " & ") + fibre
	case "none":
		return oneOf(e.r, "nil", "none")
	}
	return oneOf(e.r, fmt.Sprintf("%s @ %g", e.bar, e.barAt), fmt.Sprintf("%s @ %g EW", e.bar, e.barAt), fmt.Sprintf("%s-%g both ways", e.bar, e.barAt),
		fmt.Sprintf("%s @ %gmm", e.bar, e.barAt))
}

func jointsOfG(e *entry) any {
	e.read("joint_spacing_ft", feet(e.joint))
	e.read("joint_cut", e.cut)
	m := fmt.Sprintf("%.1f", e.joint)
	switch e.cut {
	case "saw":
		return oneOf(e.r, m+" sawn", "sawcut "+m, "saw @ "+m+"m")
	case "tooled":
		return oneOf(e.r, "tooled "+m, m+" m tooled")
	}
	return oneOf[any](e.r, e.joint, e.joint, m, m+" m", fmt.Sprintf("%.1f x %s", e.joint-.3, m), num(math.Round(e.joint*1000))+"mm")
}

func gradeOfG(e *entry) any {
	e.read("mix_psi", poundsPerInch(e.psi))
	return oneOf[any](e.r, e.psi, e.psi, fmt.Sprint("N", e.psi), fmt.Sprint(e.psi, " MPa"), fmt.Sprint(e.psi, "MPa"))
}

func cubicOfG(e *entry, x float64) any {
	return oneOf[any](e.r, x, x, fmt.Sprintf("%.1f", x), fmt.Sprintf("%.1f m³", x), num(x)+"m3", num(x)+" cube")
}

// docketsOfG adds up the trucks where there was more than one.
func docketsOfG(e *entry) any {
	if e.delivered > 7 {
		return fmt.Sprintf("6.8 + %s", num(cents(e.delivered-6.8)))
	}
	return cubicOfG(e, e.delivered)
}

func surplusOfG(e *entry) any {
	if e.left == 0 {
		return oneOf[any](e.r, 0, 0, "nil")
	}
	return oneOf[any](e.r, cents(e.left), cents(e.left), fmt.Sprintf("%.1f m³", e.left))
}

func methodOfG(e *entry) any {
	e.read("method", e.method)
	if e.method == "pump" {
		return oneOf(e.r, e.outfit, e.outfit, e.outfit+" pump")
	}
	return oneOf(e.r, map[string][]string{"chute": {"chute", "off the chute", "Chute"}, "buggy": {"motor buggy", "buggy"}, "barrow": {"barrow", "barrowed", "barrows"}}[e.method]...)
}

func degreesOfG(e *entry, t int) any {
	return oneOf[any](e.r, t, t, t, fmt.Sprintf("%d°", t), fmt.Sprintf("%dC", t), fmt.Sprintf("%d-%d", t-1, t+1))
}

// labourOfG is men by hours; where one knocked off early his hours are added to the others'.
func labourOfG(e *entry) any {
	n, each := e.people, num(e.each)
	if e.each >= 5 && e.r.IntN(4) == 0 {
		e.read("labor_hours", e.hours()-2)
		return fmt.Sprintf("%d x %sh + 1 x %sh", n-1, each, num(e.each-2))
	}
	e.read("labor_hours", e.hours())
	return oneOf(e.r, fmt.Sprintf("%d x %sh", n, each), fmt.Sprintf("%d x %sh", n, each), fmt.Sprintf("%dx%s", n, each), fmt.Sprintf("%d men x %s hrs", n, each), num(e.hours())+"h")
}

func moneyOfG(e *entry, x float64) any {
	return oneOf[any](e.r, x, x, dollars(x), commas(x), "$"+num(x))
}

// quoteOfG has a variation beside the quote in the first year, for which the second year has a column.
func quoteOfG(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change > 0 && yearOfG(e.day) == "23-24" {
		return fmt.Sprintf("%g + %g var", e.price, e.change)
	}
	return moneyOfG(e, e.price)
}

func defectOfG(e *entry) any {
	e.readBack()
	if e.back == nil {
		return oneOf(e.r, "", "", "", "nil", "nil to date")
	}
	word := oneOf(e.r, map[string][]string{"crack": {"crack", "cracking", "cracked"}, "scaling": {"scaling", "surface scaling"},
		"settlement": {"settled", "settlement"}, "ponding": {"ponding", "water ponds"}}[e.back.kind]...)
	return oneOf(e.r, word+e.back.on.Format(" 2/1/06"), e.back.on.Format("2/01/2006 ")+word, e.back.on.Format("2.1.06, ")+word)
}
