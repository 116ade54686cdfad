package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log c keeps a tab a season in his own short hand, the whole size in one cell, the crew's time on a tab
// of its own, and telephone numbers on another. The fall tab has a title and one column more.

func jobsOfC() []*job {
	r := rand.New(rand.NewPCG(303, 6))
	count := map[string]int{}
	jobs := invent(r, firm{first: date(2025, 3, 10), last: date(2025, 11, 20), ticket: 300,
		number: func(_ int, day time.Time) string {
			season := seasonOf(day)
			count[season]++
			return fmt.Sprintf("%s%02d", strings.ToUpper(season[:2]), count[season])
		},
		customers: []string{"Bracken", "Clover", "Fern", "Heather", "Juniper", "Lupine", "Moss", "Sedge", "Thistle", "Yarrow"},
		streets:   []string{"-"}, crews: []string{"Dub", "Cal"}, outfits: []string{"pump"},
		notes: []string{"", "", "", "tear out by others", "rain on the 2nd", "chk grade w/ laser", "nice folks", "wants sealer in spring", "used 36 in. trowel machine"}}, 44)
	standsAt(jobs, map[string]string{"SU09": "cancelled", "FA04": "no size"}, "backed out, refunded")
	return jobs
}

func seasonOf(day time.Time) string {
	switch m := day.Month(); {
	case m < 6:
		return "Spring"
	case m < 9:
		return "Summer"
	}
	return "Fall"
}

var columnsOfC = []column{
	{"", "J#", "job_no", func(e *entry) any { return e.no }},
	{"", "Qtd", "bid_on", quotedOfC},
	{"", "Pour dt", "placed_on", dayOfC},
	{"", "Cust", "customer", customerOfC},
	{"", "Wht", "use", useOfC},
	{"", "Dims LxWxT", "size", dimsOfC},
	{"", "Sub-base", "base", func(e *entry) any {
		e.read("base", e.base)
		return oneOf(e.r, e.base, strings.ToUpper(e.base[:1])+e.base[1:])
	}},
	{"", "Iron", "reinforcement", ironOfC},
	{"", "Jnts", "joint_spacing_ft", jointsOfC},
	{"", "Yds fig'd", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfC(e, e.planned) }},
	{"", "Yds in", "delivered_yd", inOfC},
	{"", "Yds wasted", "leftover_yd", func(e *entry) any {
		e.read("leftover_yd", e.left)
		return oneOf[any](e.r, e.left, e.left, vulgar(e.left, true))
	}},
	{"", "How plcd", "method", howOfC},
	{"", "Finish", "finish", func(e *entry) any { e.read("finish", e.finish); return oneOf(e.r, e.finish, strings.ToUpper(e.finish)) }},
	{"", "Deg F", "air_temp_f", func(e *entry) any {
		e.read("air_temp_f", e.temp)
		return oneOf[any](e.r, e.temp, fmt.Sprint(e.temp, "f"), fmt.Sprint(e.temp, " deg"))
	}},
	{"", "Boss", "crew", func(e *entry) any { e.read("crew", e.crew); return oneOf(e.r, e.crew, strings.ToLower(e.crew)) }},
	{"", "Hds", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"", "Sell $", "contract_price", once("contract_price", sellOfC)},
	{"", "Est cst $", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return e.bid })},
	{"", "True cst $", "actual_cost", once("actual_cost", func(e *entry) any {
		e.read("actual_cost", e.cost())
		return oneOf[any](e.r, e.cost(), dollars(e.cost()))
	})},
	{"", "C/B", "callback_on", once("callback_on", backOfC)},
	{"", "C/B $", "callback_cost", once("callback_cost", backCostOfA)},
	{"", "Pd?", "", once("", func(e *entry) any { return oneOf(e.r, "y", "y", "Y", "half", "") })},
	{"", "Misc", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

// sentOfC is the column that the fall tab has more.
var sentOfC = column{"", "Inv sent", "", func(e *entry) any {
	if e.second || e.fate == "cancelled" {
		return nil
	}
	return e.day.AddDate(0, 0, 3)
}}

var timeOfC = []column{{head: "Wk day", is: "labor.worked_on"}, {head: "Hand", is: ""}, {head: "J#", is: "labor.job_no"}, {head: "Doing", is: "labor.task"}, {head: "Hrs", is: "labor.hours"}}

var oddOfC = []odd{
	{"SP04", "Deg F", "air_temp_f", "brr", false, nil},
	{"SU03", "Yds wasted", "leftover_yd", "a bit", false, nil},
	{"SU12", "Jnts", "joint_spacing_ft", "ask arch.", false, []string{"joint_cut"}},
	{"FA06", "C/B", "callback_on", "called, not been out", false, []string{"callback_kind"}},
	{"SP11", "Yds in", "delivered_yd", "1125", true, nil},
	{"FA10", "Deg F", "air_temp_f", "565", true, nil},
}

func quotedOfC(e *entry) any {
	if e.second {
		return nil
	}
	e.read("bid_on", iso(e.quoted))
	return e.quoted
}

// dayOfC leaves a second slab's day to the merged cell above or, in fall, to ditto marks.
func dayOfC(e *entry) any {
	e.read("placed_on", iso(e.day))
	switch {
	case e.fate == "cancelled":
		return "never poured"
	case e.second && seasonOf(e.day) == "Fall":
		return `"`
	case e.second:
		return nil
	case e.no == "SP07" || e.no == "SU06" || e.no == "FA02":
		return e.day.Format("Mon 1/2")
	}
	return oneOf[any](e.r, e.day, e.day, e.day.Format("Mon 1/2/06"), e.day.Format("Jan 2 2006"), e.day.Format("1/2/06"))
}

func customerOfC(e *entry) any {
	e.read("customer", e.customer)
	if e.second && seasonOf(e.day) == "Fall" {
		return `"`
	}
	if e.second {
		return nil
	}
	return e.customer
}

func useOfC(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"drv", "drvwy", "driveway"}, "walkway": {"swalk", "walk", "sdwlk"},
		"patio": {"patio", "pat."}, "shed slab": {"shed", "shed slb"}, "garage slab": {"gar slb", "garage", "gar."}, "apron": {"apron", "appr."}}[e.use]...)
}

// dimsOfC has length, width and thickness in one cell; two pads alike as (2).
func dimsOfC(e *entry) any {
	e.read("area_sqft", e.area())
	e.read("thickness_in", e.thick)
	t := num(e.thick)
	switch {
	case e.fate == "no size":
		return "L shaped, see dwg"
	case e.length2 > 0 && e.length2 == e.length:
		return fmt.Sprintf(`(2) %gx%g @ %s"`, e.length, e.width, t)
	case e.length2 > 0:
		return fmt.Sprintf(`%gx%g + %gx%g @ %s"`, e.length, e.width, e.length2, e.width2, t)
	}
	l, w := num(e.length), num(e.width)
	return oneOf(e.r, l+"x"+w+"x"+t, l+" x "+w+" x "+vulgar(e.thick, false), halfFeet(e.length)+" x "+halfFeet(e.width)+" x "+t+`"`,
		l+"x"+w+" @ "+t+`"`, fmt.Sprintf(`%g sf @ %s"`, e.area(), t), l+"x"+w+"; "+t+" in")
}

func ironOfC(e *entry) any {
	size := map[string]string{"#3": "3", "#4": "4"}[e.bar]
	written := oneOf(e.r, map[string][]string{"mesh": {"mesh", "wwf", "6x6 mesh"}, "fiber": {"fiber", "fibers"}, "none": {"none", "no iron"},
		"mesh+fiber": {"mesh+fiber", "mesh & fiber"}, "rebar": {fmt.Sprintf("#%s@%g", size, e.barAt), fmt.Sprintf("#%s's %g o/c", size, e.barAt),
			fmt.Sprintf("No. %s @ %g in", size, e.barAt)}}[e.steel]...)
	return e.readSteel(written)
}

func jointsOfC(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	e.read("joint_cut", e.cut)
	n := num(e.joint)
	switch e.cut {
	case "saw":
		return oneOf(e.r, "saw @ "+n, "sawn "+n+"'")
	case "tooled":
		return oneOf(e.r, "tool @ "+n, "tooled "+n+"'")
	}
	return oneOf[any](e.r, e.joint, n+" o/c", n+"x"+n, "every "+n)
}

func yardsOfC(e *entry, x float64) any {
	return oneOf[any](e.r, x, x, x, vulgar(x, true), num(x)+"y", num(x)+" cy")
}

func inOfC(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) > 1 {
		return strings.ReplaceAll(trucks(e.loads), " + ", "+")
	}
	return yardsOfC(e, e.delivered)
}

func howOfC(e *entry) any {
	e.read("method", e.method)
	return oneOf(e.r, map[string][]string{"chute": {"chuted", "chute"}, "pump": {"pump", "pumped"}, "buggy": {"buggy", "buggies"}, "barrow": {"barrow", "wheelbarrow", "wheelbarrowed"}}[e.method]...)
}

func sellOfC(e *entry) any {
	e.read("contract_price", e.price+e.change)
	switch {
	case e.change > 0:
		return fmt.Sprintf("%g + CO %g", e.price, e.change)
	case e.no == "SU05":
		return num(e.price/1000) + "k"
	}
	return oneOf[any](e.r, e.price, e.price, dollars(e.price), "$"+num(e.price))
}

func backOfC(e *entry) any {
	e.readBack()
	if e.back == nil {
		return oneOf(e.r, "", "", "", "none", "n")
	}
	word := map[string]string{"crack": "crk", "scaling": "scaling", "settlement": "settled", "ponding": "ponds"}[e.back.kind]
	if word == "crk" {
		word = oneOf(e.r, "crk", "crack", "hairline crack")
	}
	return oneOf(e.r, word+e.back.on.Format(" 1/2/06"), e.back.on.Format("1/2/06 ")+word, e.back.on.Format("Jan 2 2006, ")+word)
}
