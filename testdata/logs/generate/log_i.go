package main

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log i is young and writes as she talks: a tab of jobs, a tab of pours, a tab of callbacks, bound by the
// job's number; words picked from a list in some columns and whatever came to mind in others.

func jobsOfI() []*job {
	r := rand.New(rand.NewPCG(2424, 13))
	jobs := invent(r, firm{first: date(2024, 5, 1), last: date(2025, 9, 24), ticket: 91000,
		number:    func(i int, _ time.Time) string { return fmt.Sprintf("J%d", 101+i+i/6) },
		customers: []string{"Viola", "Banjo", "Oboe", "Cornet", "Lute", "Fiddle", "Bassoon", "Zither", "Piccolo", "Marimba", "Tuba"},
		streets:   []string{"Tempo Way", "Refrain Rd", "Chorus Ct", "Cadenza Ln", "Encore St"},
		crews:     []string{"Moose", "Biscuit", "Ozzie"}, outfits: []string{"ours", "rental"},
		notes: []string{"", "", "", "", "gate is 40 in, measure first next time", "super nice, gave us lemonade", "sprinkler line hit, fixed it", "bring the 2nd bull float", "they want the side yard done next year"}}, 60)
	standsAt(jobs, map[string]string{"J139": "no date"}, "")
	callsUntil(jobs, date(2025, 10, 31))
	for _, j := range jobs {
		switch j.no {
		case "J123": // the number stands twice: nobody could tell whose callback it was
			j.back = nil
		case "J118":
			j.back = &callback{j.slabs[0].day.AddDate(0, 0, 6), "other", 0}
		case "J144":
			j.back = &callback{j.slabs[0].day.AddDate(0, 0, 33), "ponding", 310}
		}
	}
	return jobs
}

// columnsOfPours are those of the tab of slabs.
var columnsOfPours = []column{
	{"", "Job number", "job_no", func(e *entry) any { return oneOf(e.r, e.no, e.no, e.no, e.no, e.no, e.no+" ") }},
	{"", "Whose", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"", "What day", "placed_on", pourDayOfI},
	{"", "What is it", "use", func(e *entry) any { return e.coded("use", e.use, usesOfI) }},
	{"", "How big", "size", sizeOfI},
	{"", "How thick?", "thickness_in", func(e *entry) any { e.read("thickness_in", e.thick); return num(e.thick) + " in" }},
	{"", "What's in it", "reinforcement", func(e *entry) any { return e.coded("reinforcement", e.steel, steelsOfI) }},
	{"", "If rebar, which", "bar", barOfI},
	{"", "How far apart are the joints", "joint_spacing_ft", jointsOfI},
	{"", "Sawed or tooled", "joint_cut", func(e *entry) any { return e.coded("joint_cut", e.cut, cutsOfI) }},
	{"", "What we ordered", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfI(e, e.planned) }},
	{"", "What showed up", "delivered_yd", showedUpOfI},
	{"", "What was left", "leftover_yd", leftOfI},
	{"", "How it got there", "method", func(e *entry) any { return e.coded("method", e.method, methodsOfI) }},
	{"", "Whose pump", "pump_outfit", func(e *entry) any { e.read("pump_outfit", e.outfit); return e.outfit }},
	{"", "Top", "finish", func(e *entry) any { e.read("finish", e.finish); return strings.ToUpper(e.finish[:1]) + e.finish[1:] }},
	{"", "Who poured it", "crew", func(e *entry) any { e.read("crew", e.crew); return e.crew }},
	{"", "How many of us", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"", "Hours, everybody", "labor_hours", hoursOfI},
	{"", "What it was like out", "air_temp_f", weatherOfI},
	{"", "Pics?", "", func(e *entry) any { return oneOf(e.r, "on my phone", "yes", "yes", "forgot") }},
	{"", "How'd it go (1-5)", "", func(e *entry) any { return oneOf(e.r, 3, 4, 4, 5, 5) }},
	{"", "Anything to remember", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

// hintsOfPours stand in grey under the headings of the pours.
var hintsOfPours = []any{"same as Jobs", nil, nil, "pick", "L x W, feet", "pick", "pick", nil, "feet", "pick", "yards", "yards", "yards", "pick", "pick", "pick", "pick", nil, "add us all up", "deg F"}

// Words picked from a list.
var (
	usesOfI    = map[string]string{"driveway": "Driveway", "walkway": "Walkway", "patio": "Patio", "shed slab": "Shed pad", "garage slab": "Garage floor", "apron": "Apron"}
	steelsOfI  = map[string]string{"mesh": "Wire mesh", "rebar": "Rebar", "fiber": "Fiber", "none": "Nothing", "mesh+fiber": "Mesh and fiber"}
	cutsOfI    = map[string]string{"saw": "Sawed", "tooled": "Tooled"}
	methodsOfI = map[string]string{"chute": "Right off the chute", "pump": "Pumped", "buggy": "Buggy", "barrow": "Wheelbarrows"}
)

var oddOfI = []odd{
	{"J111", "How far apart are the joints", "joint_spacing_ft", "match the neighbor's", false, nil},
	{"J126", "What was left", "leftover_yd", "a wheelbarrow or so", false, nil},
	{"J144", "What it cost us", "callback_cost", "still adding it up", false, nil},
	{"J145", "What we ordered", "planned_yd", "950", true, nil},
	{"J158", "What was left", "leftover_yd", "25", true, nil},
}

func pourDayOfI(e *entry) any {
	if e.fate == "no date" {
		return "whenever the permit shows up"
	}
	e.read("placed_on", iso(e.day))
	return dayOfI(e, e.day)
}

// dayOfI is mostly the spreadsheet's date, or typed on the telephone.
func dayOfI(e *entry, day time.Time) any {
	return oneOf[any](e.r, day, day, day, day, day.Format("1.2.06"), day.Format("Jan 2, 2006"), day.Format("Mon 1/2/06"))
}

func sizeOfI(e *entry) any {
	e.read("area_sqft", e.area())
	l, w := num(e.length), num(e.width)
	switch {
	case e.length2 > 0 && e.length2 == e.length:
		return fmt.Sprintf("two of them, %s x %s each", l, w)
	case e.length2 > 0:
		return fmt.Sprintf("%s x %s plus %g x %g", l, w, e.length2, e.width2)
	}
	return oneOf(e.r, l+"x"+w, l+" x "+w, l+" by "+w, halfFeet(e.length)+" x "+halfFeet(e.width), num(e.area())+" sq ft")
}

func barOfI(e *entry) any {
	e.read("bar", e.bar)
	e.read("bar_spacing_in", e.barAt)
	if e.steel != "rebar" {
		return nil
	}
	return oneOf(e.r, fmt.Sprintf("%s every %g in", e.bar, e.barAt), fmt.Sprintf(`%s @ %g"`, e.bar, e.barAt), fmt.Sprintf("%s, %g both ways", e.bar, e.barAt))
}

func jointsOfI(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	n := num(e.joint)
	return oneOf[any](e.r, e.joint, e.joint, n+" ft", n+" feet", n+"x"+n, fmt.Sprintf("%g by %s", e.joint-1, n))
}

func yardsOfI(e *entry, x float64) any {
	if x-float64(int(x)) == .5 && x > 1 && e.r.IntN(3) == 0 {
		return fmt.Sprintf("%d and a half", int(x))
	}
	return oneOf[any](e.r, x, x, x, num(x)+" yds", num(x)+" yards")
}

func showedUpOfI(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) == 2 {
		first, second := num(e.loads[0].yards), num(e.loads[1].yards)
		return oneOf(e.r, first+" + "+second, first+" then "+second, "two trucks, "+first+" and "+second)
	}
	return yardsOfI(e, e.delivered)
}

func leftOfI(e *entry) any {
	e.read("leftover_yd", e.left)
	switch e.left {
	case 0:
		return oneOf[any](e.r, 0, "nothing", "none")
	case .25:
		return oneOf[any](e.r, .25, .25, "quarter yard")
	case .5:
		return oneOf[any](e.r, .5, "half a yard")
	}
	return e.left
}

// hoursOfI is everybody's; a few times she wrote what each did, beside how many they were.
func hoursOfI(e *entry) any {
	e.read("labor_hours", e.hours())
	if e.r.IntN(12) == 0 {
		return fmt.Sprintf("%g each", e.each)
	}
	return oneOf[any](e.r, e.hours(), e.hours(), e.hours(), num(e.hours())+" hrs", fmt.Sprintf("%d of us x %g", e.people, e.each))
}

// weatherOfI has the temperature among the words; a few times the wind as well, or an hour of the day.
func weatherOfI(e *entry) any {
	e.read("air_temp_f", e.temp)
	e.read("wind_mph", nil)
	t := e.temp
	switch e.r.IntN(12) {
	case 0:
		wind := oneOf(e.r, 12, 15, 20)
		e.read("wind_mph", wind)
		return fmt.Sprintf("%d, wind %d mph", t, wind)
	case 1:
		e.read("air_temp_f", nil)
		return oneOf(e.r, "gray", "sunny", "drizzle")
	}
	return oneOf(e.r, fmt.Sprint(t), fmt.Sprintf("sunny, %d", t), fmt.Sprintf("%d and cloudy", t), fmt.Sprintf("overcast %d°", t), fmt.Sprintf("%d°F, clear", t), fmt.Sprintf("%d, rain after 3 pm", t))
}
