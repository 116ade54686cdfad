package main

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// The owner of log a has his daughter do the books: one tab for the year, two heading rows with merged groups, a band
// for each month and its totals below, dates as the spreadsheet made them, and now and then one typed by hand.

func jobsOfA() []*job {
	r := rand.New(rand.NewPCG(1041, 7))
	jobs := invent(r, firm{first: date(2024, 3, 4), last: date(2024, 11, 16), ticket: 50100,
		number:    func(i int, _ time.Time) string { return fmt.Sprint(1041 + i) },
		customers: []string{"Agate", "Basalt", "Chert", "Dolomite", "Feldspar", "Gneiss", "Jasper", "Mica", "Onyx", "Pumice", "Shale", "Talc"},
		streets:   []string{"Quarry Rd", "Ledge Ln", "Gravel Pit Rd", "Outcrop Dr", "Seam St"},
		crews:     []string{"Lefty", "Red", "Shorty"}, outfits: []string{"line pump"},
		notes: []string{"", "", "", "paid 50% down", `gate only 36" wide`, "nbr wants a price on his", "long haul from plant", "stamped the border", "HOA - no trucks before 8"}}, 74)
	standsAt(jobs, map[string]string{"1051": "cancelled", "1084": "no size", "1096": "no date"}, "cancelled, kept the deposit")
	return jobs
}

var columnsOfA = []column{
	{"JOB", "Nr", "job_no", func(e *entry) any { var n int; fmt.Sscan(e.no, &n); return n }},
	{"JOB", "Day", "placed_on", dayOfA},
	{"JOB", "Owner", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"JOB", "Street", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"SLAB", "Slab for", "use", useOfA},
	{"SLAB", "L x W [ft]", "size", sizeOfA},
	{"SLAB", "T [in]", "thickness_in", thickOfA},
	{"SLAB", "Reinf.", "reinforcement", steelOfA},
	{"SLAB", "Contr. jts [ft]", "joint_spacing_ft", jointsOfA},
	{"MUD", "PSI", "mix_psi", func(e *entry) any { e.read("mix_psi", e.psi); return e.psi }},
	{"MUD", "Called in [yd]", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfA(e, e.planned) }},
	{"MUD", "Got [yd]", "delivered_yd", gotOfA},
	{"MUD", "Dumped [yd]", "leftover_yd", func(e *entry) any { e.read("leftover_yd", e.left); return leftOfA(e) }},
	{"MUD", "Got there by", "method", methodOfA},
	{"SKY", "°F at pour", "air_temp_f", func(e *entry) any { e.read("air_temp_f", e.temp); return skyOfA(e) }},
	{"HANDS", "Lead man", "crew", func(e *entry) any { e.read("crew", e.crew); return oneOf(e.r, e.crew, e.crew, e.crew+" ") }},
	{"HANDS", "# hands", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"HANDS", "Man-hrs", "labor_hours", hoursOfA},
	{"$$$", "Contract", "contract_price", once("contract_price", contractOfA)},
	{"$$$", "Figured", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return oneOf[any](e.r, e.bid, e.bid, dollars(e.bid)) })},
	{"$$$", "Spent", "actual_cost", once("actual_cost", func(e *entry) any {
		e.read("actual_cost", e.cost())
		return oneOf[any](e.r, e.cost(), dollars(e.cost()))
	})},
	{"WARRANTY", "Went back", "callback_on", once("callback_on", backOfA)},
	{"WARRANTY", "Cost us", "callback_cost", once("callback_cost", backCostOfA)},
	{"", "Inv.", "", func(e *entry) any { return e.r.IntN(4000) + 2000 }},
	{"", "Fyi", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfA = []odd{
	{"1047", "HANDS / Man-hrs", "labor_hours", "ck w/ Red", false, nil},
	{"1058", "MUD / Dumped [yd]", "leftover_yd", "some", false, nil},
	{"1073", "SLAB / Contr. jts [ft]", "joint_spacing_ft", "per plan", false, []string{"joint_cut"}},
	{"1079", "SKY / °F at pour", "air_temp_f", "hot as hell", false, nil},
	{"1091", "MUD / Called in [yd]", "planned_yd", "see tix", false, nil},
	{"1087", "MUD / Got [yd]", "delivered_yd", "1050", true, nil},
}

// dayOfA is a spreadsheet's date; a few were typed by hand, three of them without the year that the title has.
func dayOfA(e *entry) any {
	e.read("placed_on", iso(e.day))
	if e.fate == "cancelled" {
		return "CANCELLED"
	}
	if e.fate == "no date" {
		return "when its dry"
	}
	switch n := e.r.IntN(12); {
	case e.no == "1049" || e.no == "1070" || e.no == "1094":
		return e.day.Format("Mon 1/2")
	case n == 0:
		return e.day.Format("Mon 1/2/06")
	case n == 1:
		return e.day.Format("Jan 2, 2006")
	case n == 2:
		return e.day.Format("1-2-06")
	}
	return e.day
}

func useOfA(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"Drive", "driveway", "D/W", "DRIVEWAY", "new drivway"}, "walkway": {"front walk", "Sidewalk", "S/W", "walk"},
		"patio": {"Patio", "back patio", "patio"}, "shed slab": {"shed pad", "Shed", "shed floor"},
		"garage slab": {"Garage", "gar. floor", "2-car garage"}, "apron": {"apron", "Approach", "Apron"}}[e.use]...)
}

func sizeOfA(e *entry) any {
	e.read("area_sqft", e.area())
	if e.fate == "no size" {
		return "odd shape"
	}
	if e.length2 > 0 {
		return fmt.Sprintf("%gx%g + %gx%g", e.length, e.width, e.length2, e.width2)
	}
	return oneOf(e.r, num(e.length)+"x"+num(e.width), num(e.length)+" X "+num(e.width), halfFeet(e.length)+" x "+halfFeet(e.width),
		num(e.area())+" sf", num(e.area())+" sq ft")
}

func thickOfA(e *entry) any {
	e.read("thickness_in", e.thick)
	return oneOf[any](e.r, e.thick, e.thick, vulgar(e.thick, false), vulgar(e.thick, false)+`"`, vulgar(e.thick, true))
}

func steelOfA(e *entry) any {
	written := oneOf(e.r, map[string][]string{"mesh": {"wire", "WWM", "6x6 wire"}, "fiber": {"fiber", "fibermesh"}, "none": {"none", "plain", "no steel"},
		"mesh+fiber": {"wire & fiber", "wire + fiber"}, "rebar": {fmt.Sprintf(`%s @ %g" EW`, e.bar, e.barAt), fmt.Sprintf("%s %g oc", e.bar, e.barAt),
			fmt.Sprintf(`%s" bar @ %g"`, map[string]string{"#3": "3/8", "#4": "1/2"}[e.bar], e.barAt)}}[e.steel]...)
	return e.readSteel(written)
}

func jointsOfA(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	e.read("joint_cut", e.cut)
	switch e.cut {
	case "saw":
		return oneOf(e.r, num(e.joint)+" saw", num(e.joint)+"' sawcut", "saw "+num(e.joint)+"'")
	case "tooled":
		return oneOf(e.r, "tooled "+num(e.joint), num(e.joint)+"' tooled")
	}
	return oneOf[any](e.r, e.joint, num(e.joint)+"'", fmt.Sprintf("%gx%g", e.joint, e.joint), fmt.Sprintf("%g x %g", e.joint-2, e.joint))
}

func yardsOfA(e *entry, x float64) any {
	return oneOf[any](e.r, x, x, num(x)+" yd", vulgar(x, false), vulgar(x, true))
}

func gotOfA(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) > 1 {
		return trucks(e.loads)
	}
	return yardsOfA(e, e.delivered)
}

func leftOfA(e *entry) any {
	if e.left == 0 {
		return oneOf[any](e.r, 0, 0, "none")
	}
	return oneOf[any](e.r, e.left, vulgar(e.left, false), num(e.left)+" yd")
}

func methodOfA(e *entry) any {
	e.read("method", e.method)
	return oneOf(e.r, map[string][]string{"chute": {"chute", "off the truck", "Chute"}, "pump": {"line pump", "pumped", "pump"},
		"buggy": {"buggy", "power buggy"}, "barrow": {"wheelbarrow", "W.B.", "wheel barrows"}}[e.method]...)
}

func skyOfA(e *entry) any {
	return oneOf[any](e.r, e.temp, e.temp, fmt.Sprintf("%dF", e.temp), fmt.Sprintf("%d°", e.temp), fmt.Sprintf("~%d", e.temp), fmt.Sprintf("%d-%d", e.temp-3, e.temp+3))
}

func hoursOfA(e *entry) any {
	e.read("labor_hours", e.hours())
	n, each := e.people, num(e.each)
	return oneOf[any](e.r, e.hours(), e.hours(), fmt.Sprintf("%dx%s", n, each), fmt.Sprintf("%d guys %s hrs", n, each), fmt.Sprintf("%d @ %s", n, each),
		fmt.Sprintf("%d x %s + %s", n-1, each, each))
}

func contractOfA(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change > 0 {
		return fmt.Sprintf("%g + %g CO", e.price, e.change)
	}
	return oneOf[any](e.r, e.price, e.price, dollars(e.price), dollars(e.price)+".00")
}

func backOfA(e *entry) any {
	e.readBack()
	if e.back == nil {
		return oneOf(e.r, "", "", "", "no", "-")
	}
	word := map[string]string{"crack": "cracked", "scaling": "scaling", "settlement": "settled", "ponding": "ponding"}[e.back.kind]
	return oneOf(e.r, e.back.on.Format("1/2/06 ")+word, word+e.back.on.Format(" 1/2/06"), e.back.on.Format("1/2/2006 - ")+word)
}

func backCostOfA(e *entry) any {
	if e.back == nil {
		e.read("callback_cost", nil)
		return nil
	}
	e.read("callback_cost", e.back.cost)
	return oneOf[any](e.r, e.back.cost, dollars(e.back.cost))
}
