package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log e works alone with whom he can get and writes as few letters as will do, in any case: one sheet, saved
// with semicolons in Windows-1252; ditto where the row above says the same, times of day where there is room, money in
// thousands, a range for what is between two thicknesses.

const (
	pairOfE  = "328" // two slabs
	twiceOfE = "340" // typed on another site's row as well
)

func jobsOfE() []*job {
	r := rand.New(rand.NewPCG(88, 13))
	jobs := invent(r, firm{first: date(2024, 2, 26), last: date(2024, 12, 3), ticket: 15000,
		number:    func(i int, _ time.Time) string { return fmt.Sprint(301 + i) },
		customers: []string{"Wren", "Finch", "Heron", "Egret", "Plover", "Dunlin", "Tern", "Rail", "Grebe"},
		streets:   []string{"Roost", "Perch", "Nest", "Wing", "Talon", "Co Rd 9"},
		crews:     []string{"-"}, outfits: []string{"Tanager", "Tanager", "Ibis"},
		notes: []string{"", "", "", "", "", "gate 30in", "cash", "dog", "wnts $ on wlk", "no hose bib", "nbr mad", "slow pay", "hauled brkn 2 trips"}}, 68)
	onePair(r, jobs, pairOfE)
	standsAt(jobs, map[string]string{"319": "cancelled"}, "sold house")
	return jobs
}

var columnsOfE = []column{
	{"", "No", "job_no", func(e *entry) any {
		if e.second {
			return "ditto"
		}
		return e.no
	}},
	{"", "Dt", "placed_on", dayOfE},
	{"", "Strt", "", func(e *entry) any { return oneOf(e.r, "6:30a", "7", "7a", "6:45", "8:15a", "") }},
	{"", "Nm", "customer", func(e *entry) any { return e.ditto(anyCase(e.r, e.customer), values{"customer": e.customer}, 1) }},
	{"", "Addr", "site", func(e *entry) any { return e.ditto(e.site, values{"site": e.site}, 1) }},
	{"", "Jb", "use", useOfE},
	{"", "Sz", "size", sizeOfE},
	{"", "Thk", "thickness_in", thickOfE},
	{"", "Stl", "reinforcement", steelOfE},
	{"", "Jt", "joint_spacing_ft", jointsOfE},
	{"", "Yd est", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfE(e, e.planned) }},
	{"", "Yd", "delivered_yd", cameOfE},
	{"", "Back", "leftover_yd", backYardsOfE},
	{"", "Pmp", "method", pumpOfE},
	{"", "Wx", "air_temp_f", weatherOfE},
	{"", "Hrs", "labor_hours", hoursOfE},
	{"", "$", "contract_price", once("contract_price", priceOfE)},
	{"", "Est $", "bid_cost", once("bid_cost", func(e *entry) any { return thousands(e, "bid_cost", e.bid) })},
	{"", "Cst", "actual_cost", once("actual_cost", func(e *entry) any { return thousands(e, "actual_cost", e.cost()) })},
	{"", "Trbl", "callback_on", once("callback_on", troubleOfE)},
	{"", "Pd", "", once("", func(e *entry) any { return oneOf(e.r, "y", "Y", "n", fmt.Sprint("ck ", 1000+e.r.IntN(900)), "1/2") })},
	{"", "Rmk", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfE = []odd{
	{"312", "Back", "leftover_yd", "lil bit", false, nil},
	{"333", "Hrs", "labor_hours", "chk w Mo", false, []string{"crew_size"}},
	{"347", "Wx", "air_temp_f", "HOT", false, nil},
	{"322", "Yd", "delivered_yd", "875", true, nil},
	{"355", "Wx", "air_temp_f", "nice 680", true, nil},
	{"361", "Trbl", "callback_on", "crk 2/3/24", true, []string{"callback_cost"}}, // months before its pour
}

// values are what a cell says, by record column.
type values map[string]any

// ditto writes "ditto" where the row above says the same and, one time in often, the owner cannot be bothered.
func (e *entry) ditto(written string, says values, often int) any {
	same := e.above != nil && (often > 1 || e.second)
	for column, v := range says {
		e.read(column, v)
		was, there := e.above[column]
		same = same && there && was == e.reads[column]
	}
	if same && e.r.IntN(often) == 0 {
		return oneOf(e.r, "ditto", "Ditto", "ditto")
	}
	return written
}

func anyCase(r *rand.Rand, s string) string {
	return oneOf(r, s, s, strings.ToLower(s), strings.ToUpper(s))
}

// dayOfE has mostly no year, for the title has it; now and then the hour stands behind it.
func dayOfE(e *entry) any {
	e.read("placed_on", iso(e.day))
	switch {
	case e.fate == "cancelled":
		return "cxl"
	case e.second:
		return "ditto"
	}
	week := []string{"Su", "M", "Tu", "W", "Th", "F", "Sa"}[e.day.Weekday()]
	return oneOf(e.r, e.day.Format("1/2"), e.day.Format("1/2"), e.day.Format("1/2/06"), week+e.day.Format(" 1/2"),
		e.day.Format("1/2")+oneOf(e.r, " 7a", " 6:30a"))
}

func useOfE(e *entry) any {
	e.read("use", e.use)
	return anyCase(e.r, oneOf(e.r, map[string][]string{"driveway": {"Drvwy", "Dw"}, "walkway": {"Wlk", "Sdwk"}, "patio": {"Pto", "Patio"},
		"shed slab": {"Shed", "Shed flr"}, "garage slab": {"Gar flr", "Garg"}, "apron": {"Aprn"}}[e.use]...))
}

func sizeOfE(e *entry) any {
	e.read("area_sqft", e.area())
	l, w := num(e.length), num(e.width)
	switch {
	case e.length2 > 0 && e.length2 == e.length:
		return "2@" + l + "x" + w
	case e.length2 > 0:
		return fmt.Sprintf("%sx%s+%gx%g", l, w, e.length2, e.width2)
	}
	return oneOf(e.r, l+"x"+w, l+"x"+w, l+"X"+w, l+"*"+w, num(e.area())+"sf", num(e.area())+" SF")
}

// thickOfE writes what is between two thicknesses as a range: 4-5.
func thickOfE(e *entry) any {
	e.read("thickness_in", e.thick)
	if low := int(e.thick); e.thick > float64(low) {
		return oneOf(e.r, fmt.Sprintf("%d-%d", low, low+1), fmt.Sprintf("%d-%d", low, low+1), vulgar(e.thick, true))
	}
	return oneOf(e.r, num(e.thick), num(e.thick), num(e.thick)+"in")
}

func steelOfE(e *entry) any {
	bar := strings.TrimPrefix(e.bar, "#")
	written := oneOf(e.r, map[string][]string{"mesh": {"wire", "Mesh", "msh"}, "fiber": {"fib", "FIBER"}, "none": {"no", "none", "0"}, "mesh+fiber": {"msh+fib", "wire/fib"},
		"rebar": {fmt.Sprintf("#%s %goc", bar, e.barAt), fmt.Sprintf("%ss@%g", bar, e.barAt), fmt.Sprintf("#%s RB %g", bar, e.barAt)}}[e.steel]...)
	return e.ditto(written, values{"reinforcement": e.steel, "bar": e.bar, "bar_spacing_in": e.barAt}, 2)
}

func jointsOfE(e *entry) any {
	n := num(e.joint)
	written := oneOf(e.r, map[string][]string{"saw": {n + "' OC saw", n + " oc SAW", "saw " + n}, "tooled": {n + "' OC tool", n + " tool"},
		"": {n + "' OC", n + "oc", n, fmt.Sprintf("%gx%g", e.joint, e.joint-1)}}[e.cut]...)
	return e.ditto(written, values{"joint_spacing_ft": e.joint, "joint_cut": e.cut}, 2)
}

func yardsOfE(e *entry, x float64) any {
	return oneOf(e.r, num(x), strings.TrimPrefix(num(x), "0"), vulgar(x, true))
}

func cameOfE(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) > 1 {
		return strings.ReplaceAll(trucks(e.loads), " ", "")
	}
	return yardsOfE(e, e.delivered)
}

func backYardsOfE(e *entry) any {
	e.read("leftover_yd", e.left)
	switch e.left {
	case 0:
		return oneOf(e.r, "0", "0", "none")
	case .25:
		return oneOf(e.r, "qtr yd", "1/4", ".25")
	case .5:
		return oneOf(e.r, "half yd back", "half", "1/2 yd", ".5")
	case 1:
		return oneOf(e.r, "1", "1 yd back")
	}
	return oneOf(e.r, vulgar(e.left, false), vulgar(e.left, true)+" yd back")
}

// pumpOfE says whose pump came; a bare "no" does not say what did the work instead.
func pumpOfE(e *entry) any {
	e.read("method", e.method)
	e.read("pump_outfit", e.outfit)
	written := oneOf(e.r, map[string][]string{"chute": {"no", "No", "chute"}, "pump": {"yes - " + e.outfit, "y - " + strings.ToLower(e.outfit), "YES - " + e.outfit},
		"buggy": {"no - buggy", "buggy"}, "barrow": {"no - wheelbarrow", "whlbarrow"}}[e.method]...)
	if strings.EqualFold(written, "no") {
		e.read("method", nil)
	}
	return written
}

func weatherOfE(e *entry) any {
	word := "cold"
	switch {
	case e.temp >= 85:
		word = "hot"
	case e.temp >= 68:
		word = "nice"
	case e.temp >= 50:
		word = "cool"
	}
	t := fmt.Sprint(e.temp)
	return e.ditto(anyCase(e.r, oneOf(e.r, word+" "+t, word+" "+t, t+" "+word, t, t+" @2p")), values{"air_temp_f": e.temp}, 2)
}

// hoursOfE has the people and the hours and minutes of each, or one number: then nobody knows how many they were.
func hoursOfE(e *entry) any {
	e.read("labor_hours", e.hours())
	e.read("crew_size", e.people)
	n, clock := e.people, fmt.Sprintf("%d:%02d", int(e.each), int(e.each*60)%60)
	if e.r.IntN(4) == 0 {
		e.read("crew_size", nil)
		return num(e.hours())
	}
	return oneOf(e.r, fmt.Sprintf("%d guys %s", n, clock), fmt.Sprintf("%d Guys %s", n, clock), fmt.Sprintf("%d guys %s", n, num(e.each)), fmt.Sprintf("%dx%s", n, clock))
}

func inThousands(x float64) string { return num(x/1000) + "k" }

// thousands writes a cost in dollars, or in thousands to the nearest hundred: then that is what the log says.
func thousands(e *entry, column string, x float64) any {
	if e.r.IntN(2) == 0 {
		e.read(column, x)
		return num(x)
	}
	e.read(column, to(x, 100))
	return inThousands(to(x, 100))
}

func priceOfE(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change > 0 {
		return oneOf(e.r, inThousands(e.price), num(e.price)) + oneOf(e.r, "+", " + ") + num(e.change) + oneOf(e.r, " co", " xtra")
	}
	return oneOf(e.r, inThousands(e.price), inThousands(e.price), num(e.price), strings.ToUpper(inThousands(e.price)))
}

// troubleOfE has a callback's day (without a year in the year of the title), its kind and mostly what it cost.
func troubleOfE(e *entry) any {
	e.readBack()
	e.read("callback_cost", nil)
	if e.back == nil {
		return oneOf(e.r, "", "", "", "no", "0", "none")
	}
	day, word := e.back.on.Format("1/2"), map[string]string{"crack": "crk", "scaling": "scaling", "settlement": "sank", "ponding": "puddles"}[e.back.kind]
	if e.back.on.Year() != e.day.Year() || e.r.IntN(2) == 0 {
		day = e.back.on.Format("1/2/06")
	}
	written := oneOf(e.r, word+" "+day, day+" "+word)
	if e.r.IntN(3) > 0 {
		e.read("callback_cost", e.back.cost)
		written += " $" + num(e.back.cost)
	}
	return written
}
