package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"
)

// The owners of log d are husband and wife; she writes it, in whole words of her own: a tab for each crew, what is added
// up on top, a blank green row between months, rows coloured by who has paid, feet and inches, sums worked out in the
// cell, callbacks as she would tell them. What the plant brought is on a tab of its own.

const (
	pairOfD    = "23-043" // two slabs
	twiceOfD   = "23-021" // typed on another site's row as well, in place of missingOfD
	missingOfD = 47       // the number that the other site should have had
)

func jobsOfD() []*job {
	r := rand.New(rand.NewPCG(2312, 5))
	jobs := invent(r, firm{first: date(2023, 3, 13), last: date(2023, 11, 11), ticket: 61200, oneRect: true,
		number: func(i int, _ time.Time) string {
			if i+1 >= missingOfD {
				i++
			}
			return fmt.Sprintf("23-%03d", i+1)
		},
		customers: []string{"Mrs. Gingham", "Tweed", "the Calicos", "Muslin", "Corduroy", "Mr. Denim", "Flannel", "Poplin", "Twill", "the Chambrays", "Velvet"},
		streets:   []string{"Bobbin Ct", "Selvage Rd", "Hem St", "Needle Rd", "Spool Ln", "Thimble Way"},
		crews:     []string{"Boyd", "Ray"}, outfits: []string{"pump"},
		notes: []string{"", "", "", "", "dog!!", "gate code 0417", "gave them the neighbor discount", "use their hose, they said ok", "wanted it darker", "septic lid in the way", "sent a pie"}}, 76)
	onePair(r, jobs, pairOfD)
	for _, j := range jobs {
		for _, s := range j.slabs { // the tape says feet and inches
			s.length -= oneOf(r, 0.0, 0, 4, 6, 8) / 12
			s.width -= oneOf(r, 0.0, 0, 0, 2, 6) / 12
		}
	}
	standsAt(jobs, map[string]string{"23-034": "no size"}, "")
	return jobs
}

// columnsOfD are those of Boyd's tab; on Ray's the street comes before the name.
var columnsOfD = []column{
	{"", "Folder", "job_no", func(e *entry) any { return e.no }},
	{"", "Who for", "customer", func(e *entry) any { return againOfD(e, "customer", e.customer) }},
	{"", "Where at", "site", func(e *entry) any { return againOfD(e, "site", e.site) }},
	{"", "When we poured", "placed_on", dayOfD},
	{"", "What we made", "use", useOfD},
	{"", "How long", "length", func(e *entry) any { return feetOfD(e, e.length) }},
	{"", "How wide", "width", func(e *entry) any {
		if e.fate == "no size" {
			return nil
		}
		return feetOfD(e, e.width)
	}},
	{"", "sf", "area_sqft", feetSquaredOfD},
	{"", "How deep", "thickness_in", deepOfD},
	{"", "Steel in it", "reinforcement", steelOfD},
	{"", "Lines (how far apart)", "joint_spacing_ft", linesOfD},
	{"", "Yards we asked for", "planned_yd", func(e *entry) any {
		e.read("planned_yd", e.planned)
		return oneOf[any](e.r, e.planned, e.planned, vulgar(e.planned, false), vulgar(e.planned, false)+" yds")
	}},
	{"", "Thrown away", "leftover_yd", thrownOfD},
	{"", "How we got it in", "method", wayOfD},
	{"", "Weather", "air_temp_f", weatherOfD},
	{"", "How many guys", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"", "All their hours", "labor_hours", hoursOfD},
	{"", "What we charge", "contract_price", once("contract_price", chargeOfD)},
	{"", "What it took us", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return e.cost() })},
	{"", "Left for us", "", func(*entry) any { return nil }}, // worked out once the row has its number
	{"", "Did they call us back", "callback_on", once("callback_on", toldOfD)},
	{"", "Remember", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfD = []odd{
	{"23-009", "All their hours", "labor_hours", "Boyd has the sheet", false, nil},
	{"23-028", "Thrown away", "leftover_yd", "went in the neighbor's post holes", false, nil},
	{"23-061", "Did they call us back", "callback_on", "somebody called, ask Ray", false, []string{"callback_kind", "callback_cost"}},
	{"23-017", "Yards we asked for", "planned_yd", "725", true, nil},
	{"23-052", "Weather", "air_temp_f", "871, clear", true, nil},
}

// againOfD is what the second slab's row has as "same".
func againOfD(e *entry, column, text string) any {
	e.read(column, text)
	if e.second {
		return "same"
	}
	return text
}

// dayOfD is a spreadsheet's date, or one typed as she says it; the year is the title's.
func dayOfD(e *entry) any {
	e.read("placed_on", iso(e.day))
	if e.second {
		return e.day
	}
	week := []string{"Sun", "Mon", "Tues", "Weds", "Thurs", "Fri", "Sat"}[e.day.Weekday()]
	return oneOf[any](e.r, e.day, e.day, e.day, e.day, e.day, e.day, e.day.Format("January ")+nth(e.day.Day()), week+e.day.Format(". 1/2/06"),
		e.day.Format("1/2/2006"), week+e.day.Format(" Jan 2"), strings.Replace(e.day.Format("Jan. 2, 2006"), "May.", "May", 1))
}

func nth(day int) string {
	end := "th"
	if day/10 != 1 && day%10 >= 1 && day%10 <= 3 {
		end = []string{"st", "nd", "rd"}[day%10-1]
	}
	return fmt.Sprint(day, end)
}

func useOfD(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"Driveway", "driveway", "their driveway"}, "walkway": {"walk to the front door", "Side walk", "walk around back"},
		"patio": {"Patio", "patio out back"}, "shed slab": {"slab for a shed", "tool shed slab"},
		"garage slab": {"Garage floor", "slab for the garage"}, "apron": {"apron at the garage", "Apron", "driveway apron"}}[e.use]...)
}

func feetAndInches(x float64) (feet, inches int) {
	all := int(math.Round(x * 12))
	return all / 12, all % 12
}

func feetOfD(e *entry, x float64) any {
	if e.fate == "no size" {
		return "kidney shape, Boyd drew it"
	}
	feet, inches := feetAndInches(x)
	if inches == 0 {
		return oneOf[any](e.r, feet, fmt.Sprintf("%d'", feet), fmt.Sprintf("%d ft", feet), fmt.Sprintf(`%d'-0"`, feet))
	}
	return oneOf(e.r, fmt.Sprintf(`%d'-%d"`, feet, inches), fmt.Sprintf(`%d' %d"`, feet, inches), fmt.Sprintf("%d ft %d in", feet, inches), fmt.Sprintf(`%d'%d"`, feet, inches))
}

// feetSquaredOfD stands in a column that she hides, worked out of decimal feet.
func feetSquaredOfD(e *entry) any {
	if e.fate == "no size" {
		return nil
	}
	e.read("area_sqft", cents(e.area()))
	l, w := cents(e.length), cents(e.width)
	return formula{num(l) + "*" + num(w), cents(l * w)}
}

func deepOfD(e *entry) any {
	e.read("thickness_in", e.thick)
	return oneOf[any](e.r, e.thick, vulgar(e.thick, false)+`"`, vulgar(e.thick, false)+" in", vulgar(e.thick, true)+" inches")
}

func steelOfD(e *entry) any {
	bar := oneOf(e.r, map[string][]string{"#3": {"3/8 rebar", "3/8 inch bars"}, "#4": {"half inch rebar", "half-inch bars", "number 4 bar"}, "": {""}}[e.bar]...)
	apart := oneOf(e.r, map[float64][]string{16: {`every 16"`, "16 inches both ways"}, 18: {`every 18"`, `1'-6" both ways`, "18 inches apart"},
		24: {"every 2 ft", "in 2' squares", `24" apart`}, 0: {""}}[e.barAt]...)
	written := oneOf(e.r, map[string][]string{"mesh": {"roll of mesh", "wire mesh sheets", "6x6 mesh sheets", "6-6-10-10 wire"}, "fiber": {"fibers in the mud", "the hairy mix (fiber)"},
		"none": {"nothing in it", "no steel in this one"}, "mesh+fiber": {"mesh sheets plus fibers", "fibers AND wire mesh"}, "rebar": {bar + " " + apart, bar + ", " + apart}}[e.steel]...)
	e.readSteel(written)
	if strings.HasPrefix(written, "6-6-") {
		delete(e.reads, "bar") // an old designation: as it is written, or as it is called now
	}
	return written
}

func linesOfD(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	e.read("joint_cut", e.cut)
	n := num(e.joint)
	switch e.cut {
	case "saw":
		return oneOf(e.r, "sawed every "+n+" ft", "sawed next morning, "+n+"' apart", n+"' - Ray sawed them")
	case "tooled":
		return oneOf(e.r, "tooled in every "+n+" ft", n+"', with the hand groover")
	}
	return oneOf[any](e.r, e.joint, "every "+n+" ft", n+`'-0"`, n+" ft squares", fmt.Sprintf("%g by %g", e.joint-1, e.joint))
}

func thrownOfD(e *entry) any {
	e.read("leftover_yd", e.left)
	switch e.left {
	case 0:
		return oneOf[any](e.r, 0, "none", "not a bit")
	case .5:
		return oneOf[any](e.r, .5, "half a yard", "1/2 yd")
	}
	return oneOf[any](e.r, e.left, vulgar(e.left, false)+" yd")
}

func wayOfD(e *entry) any {
	e.read("method", e.method)
	return oneOf(e.r, map[string][]string{"chute": {"straight off the truck", "down the chute", "truck chute"}, "pump": {"had it pumped", "the pump"},
		"buggy": {"motor buggy", "rented the buggy"}, "barrow": {"wheelbarrows, all of it", "by wheelbarrow"}}[e.method]...)
}

func weatherOfD(e *entry) any {
	if e.second {
		if e.above["air_temp_f"] == e.temp {
			e.read("air_temp_f", e.temp)
			return "same"
		}
		e.read("air_temp_f", nil)
		return nil
	}
	if e.no == "23-039" {
		return "in the 90s" // hot for certain, how hot is a guess
	}
	e.read("air_temp_f", e.temp)
	sky := oneOf(e.r, "clear", "cloudy", "breezy", "muggy")
	return oneOf[any](e.r, e.temp, fmt.Sprintf("%d and %s", e.temp, sky), fmt.Sprintf("%d, %s", e.temp, sky), fmt.Sprintf("%s, %d", sky, e.temp), fmt.Sprintf("%d degrees", e.temp))
}

// hoursOfD is mostly worked out in the cell.
func hoursOfD(e *entry) any {
	e.read("labor_hours", e.hours())
	n, each := e.people, num(e.each)
	return oneOf[any](e.r, e.hours(), formula{fmt.Sprintf("%d*%s", n, each), e.hours()}, formula{fmt.Sprintf("%d*%s", n, each), e.hours()},
		fmt.Sprintf("%d men, %s hrs each", n, vulgar(e.each, false)), fmt.Sprintf("%d of them %s hours apiece", n, each))
}

func chargeOfD(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change == 0 {
		return e.price
	}
	return oneOf[any](e.r, formula{fmt.Sprintf("%g+%g", e.price, e.change), e.price + e.change},
		fmt.Sprintf("%s + %s for the extra they wanted", dollars(e.price), dollars(e.change)))
}

// toldOfD tells a callback in a sentence, with its day, what was wrong and what it cost; thanks are no callback.
func toldOfD(e *entry) any {
	e.readBack()
	e.read("callback_cost", nil)
	switch {
	case e.no == "23-013" && e.back == nil:
		return "called " + e.day.AddDate(0, 0, 31).Format("1/2/06") + " just to say thank you, no problems"
	case e.back == nil:
		return oneOf(e.r, "", "", "", "no", "not a peep", "nope, happy")
	}
	e.read("callback_cost", e.back.cost)
	on, cost := e.back.on.Format(oneOf(e.r, "1/2/06", "Jan 2 2006", "1/2/2006")), dollars(e.back.cost)
	if e.no == "23-026" {
		on = "twice, " + e.back.on.Format("1/2/06") + " and again " + e.back.on.AddDate(0, 0, 23).Format("1/2/06")
	}
	return oneOf(e.r, map[string][]string{
		"crack":      {fmt.Sprintf("Called %s, crack clear across the middle. Cost us %s.", on, cost), fmt.Sprintf("It cracked by the steps, they called %s, %s to fix", on, cost)},
		"scaling":    {fmt.Sprintf("Top is scaling off, she called %s. %s out of our pocket", on, cost), fmt.Sprintf("called %s - surface flaking, cost %s", on, cost)},
		"settlement": {fmt.Sprintf("One corner settled, called %s, cost us %s to raise it", on, cost), fmt.Sprintf("called %s, it sank by the downspout, %s", on, cost)},
		"ponding":    {fmt.Sprintf("Water stands on it, they called %s. %s to grind it down", on, cost), fmt.Sprintf("called %s, puddles that won't drain, cost us %s", on, cost)},
	}[e.back.kind]...)
}
