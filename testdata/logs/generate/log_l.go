package main

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"time"
)

// The owner of log l opens a tab a month, copied from the last one: two heading rows, a sum and an empty row after each
// week, a tab that has the months side by side; of callbacks only cracks are asked about.

const (
	pairOfL  = "5143" // two slabs
	twiceOfL = "5118" // typed on another site's row of the month after as well
	afterOfL = "5124"
)

func jobsOfL() []*job {
	r := rand.New(rand.NewPCG(5101, 11))
	jobs := invent(r, firm{first: date(2024, 1, 8), last: date(2024, 12, 13), ticket: 8100, oneRect: true,
		number:    func(i int, _ time.Time) string { return fmt.Sprint(5101 + i) },
		customers: []string{"Vega", "Rigel", "Altair", "Deneb", "Mizar", "Capella", "Spica", "Antares", "Bellatrix", "Castor", "Hadar"},
		streets:   []string{"Zenith St", "Nadir Ct", "Equinox Ave", "Eclipse Rd", "Meridian Dr"},
		crews:     []string{"Dale", "Rosa", "Kip"}, outfits: []string{"-"},
		notes: []string{"", "", "", "", "HOA wants a sample", "haul off by owner", "no truck on new street", "gutter first", "see picture"}}, 72)
	onePair(r, jobs, pairOfL)
	standsAt(jobs, map[string]string{"5155": "no date"}, "")
	for _, j := range jobs {
		if j.back != nil && j.back.kind != "crack" {
			j.back = nil
		}
	}
	callsUntil(jobs, date(2025, 1, 31))
	return jobs
}

var columnsOfL = []column{
	{"JOB", "No.", "job_no", func(e *entry) any { n, _ := strconv.Atoi(e.no); return n }},
	{"JOB", "Name", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"JOB", "Address", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"JOB", "Permit", "", once("", func(e *entry) any { return oneOf(e.r, "ok", "ok", "n/a", "city has it") })},
	{"POUR", "Date", "placed_on", dayOfL},
	{"POUR", "What", "use", useOfL},
	{"POUR", "How", "method", func(e *entry) any {
		return e.coded("method", e.method, map[string]string{"chute": "chute", "pump": "pump", "buggy": "buggy", "barrow": "wheelbarrow"})
	}},
	{"POUR", "Temp", "air_temp_f", func(e *entry) any { e.read("air_temp_f", e.temp); return e.temp }},
	{"SIZE", "L", "length", func(e *entry) any { e.read("area_sqft", e.area()); return feetOfL(e, e.length) }},
	{"SIZE", "W", "width", func(e *entry) any { return feetOfL(e, e.width) }},
	{"SIZE", "T", "thickness_in", func(e *entry) any {
		e.read("thickness_in", e.thick)
		return oneOf[any](e.r, e.thick, e.thick, num(e.thick)+`"`, vulgar(e.thick, false)+`"`)
	}},
	{"", "Steel", "reinforcement", steelOfL},
	{"", "Joints", "joint_spacing_ft", func(e *entry) any {
		e.read("joint_spacing_ft", e.joint)
		e.read("joint_cut", nil)
		return oneOf(e.r, num(e.joint)+"x"+num(e.joint), num(e.joint)+"x"+num(e.joint), num(e.joint-1)+"x"+num(e.joint))
	}},
	{"CU YDS", "Order", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return e.planned }},
	{"CU YDS", "Rec'd", "delivered_yd", func(e *entry) any { e.read("delivered_yd", e.delivered); return e.delivered }},
	{"CU YDS", "Left", "leftover_yd", func(e *entry) any { e.read("leftover_yd", e.left); return e.left }},
	{"CREW", "Lead", "crew", func(e *entry) any { e.read("crew", e.crew); return e.crew }},
	{"CREW", "Men", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"CREW", "Total Hrs", "labor_hours", func(e *entry) any { e.read("labor_hours", e.hours()); return e.hours() }},
	{"BILL", "Price", "contract_price", once("contract_price", func(e *entry) any { e.read("contract_price", e.price+e.change); return e.price + e.change })},
	{"BILL", "Deposit", "", once("", func(e *entry) any { return depositOfL(e) })},
	{"BILL", "Balance", "", once("", balanceOfL)},
	{"JOB COST", "Concrete", "", once("", func(e *entry) any { return e.part("concrete") })},
	{"JOB COST", "Labor", "", once("", func(e *entry) any { return e.part("labor") })},
	{"JOB COST", "Total", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return e.cost() })},
	{"CALLBACK", "Crack?", "callback_kind", once("callback_kind", crackOfL)},
	{"CALLBACK", "Date", "callback_on", once("callback_on", crackDayOfL)},
	{"", "Note", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfL = []odd{
	{"5111", "CU YDS / Rec'd", "delivered_yd", "lost tkt", false, nil},
	{"5137", "Joints", "joint_spacing_ft", "per arch", false, nil},
	{"5128", "CU YDS / Order", "planned_yd", "1700", true, nil},
	{"5149", "CU YDS / Left", "leftover_yd", "75", true, nil},
	{"5164", "POUR / Temp", "air_temp_f", "612", true, nil},
}

// dayOfL is mostly the spreadsheet's day, shown without its year; a few were typed, the year being the tab's.
func dayOfL(e *entry) any {
	if e.fate == "no date" {
		return "call 1st"
	}
	e.read("placed_on", iso(e.day))
	return oneOf[any](e.r, e.day, e.day, e.day, e.day, e.day, e.day, e.day.Format("1/2"), e.day.Format("1/2/06"))
}

func useOfL(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"driveway", "drive"}, "walkway": {"sidewalk", "walk"}, "patio": {"patio"}, "shed slab": {"shed slab", "shed"},
		"garage slab": {"garage slab", "garage"}, "apron": {"apron"}}[e.use]...)
}

func feetOfL(e *entry, x float64) any { return oneOf[any](e.r, x, x, x, num(x)+"'") }

func steelOfL(e *entry) any {
	return e.readSteel(oneOf(e.r, map[string][]string{"mesh": {"6x6 wire", "wire"}, "fiber": {"fiber"}, "none": {"none"}, "mesh+fiber": {"wire & fiber"},
		"rebar": {fmt.Sprintf("%s @ %g", e.bar, e.barAt), fmt.Sprintf(`%s @ %g"`, e.bar, e.barAt), fmt.Sprintf("%s %g oc", e.bar, e.barAt)}}[e.steel]...))
}

func depositOfL(e *entry) float64 { return to((e.price+e.change)/3, 50) }

func balanceOfL(e *entry) any {
	price, paid := e.price+e.change, depositOfL(e)
	return oneOf[any](e.r, formula{num(price) + "-" + num(paid), price - paid}, 0, "PAID")
}

func crackOfL(e *entry) any {
	if e.back == nil {
		e.read("callback_kind", nil)
		return oneOf(e.r, "no", "no", "no", "No", "N")
	}
	e.read("callback_kind", "crack")
	return oneOf(e.r, "yes", "YES", "Y")
}

func crackDayOfL(e *entry) any {
	if e.back == nil {
		e.read("callback_on", nil)
		return nil
	}
	e.read("callback_on", iso(e.back.on))
	return oneOf[any](e.r, e.back.on, e.back.on, e.back.on.Format("1/2/06"))
}
