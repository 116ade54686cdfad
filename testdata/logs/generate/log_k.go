package main

import (
	"fmt"
	"math/rand/v2"
	"time"
)

// The owner of log k is a foreman who keeps his log among the notes on his telephone, which hands it out as a list of
// two-word fields; of money he knows the price and what it came to; a callback he says in the note, with its day.

const (
	pairOfK  = "F-028" // two slabs
	afterOfK = "F-041" // its number typed on another site's row as well
)

func jobsOfK() []*job {
	r := rand.New(rand.NewPCG(6010, 5))
	jobs := invent(r, firm{first: date(2025, 4, 1), last: date(2025, 9, 26), ticket: 2300,
		number:    func(i int, _ time.Time) string { return fmt.Sprintf("F-%03d", 1+i) },
		customers: []string{"Cobalt", "Umber", "Ochre", "Sienna", "Indigo", "Teal", "Russet", "Mauve", "Sepia", "Fawn", "Taupe"},
		streets:   []string{"Easel St", "Palette Ct", "Canvas Rd", "Stencil Dr", "Gesso Ln"},
		crews:     []string{"-"}, outfits: []string{"-"},
		notes: []string{"", "", "", "Gate on left", "Truck could not turn around", "Old walk next to it was cracked before we came", "Come back in spring for the steps", "Two dogs", "Swept and hosed street"}}, 58)
	onePair(r, jobs, pairOfK)
	standsAt(jobs, map[string]string{"F-034": "no size"}, "")
	callsUntil(jobs, date(2025, 10, 31))
	for _, j := range jobs {
		for _, s := range j.slabs {
			if s.finish == "trowel" {
				s.finish = "salt"
			}
		}
		switch {
		case j.no == pairOfK: // a note would not say which slab it was
			j.back, j.note = nil, ""
		case j.no == "F-012" && j.back == nil:
			j.note = j.slabs[0].day.AddDate(0, 0, 24).Format("Owner called 1/2/06 to say thanks, all good")
		case j.back != nil:
			j.note = toldOfK(r, j.back)
		}
	}
	return jobs
}

// toldOfK is the note of a callback, in two cases of three with what it cost; a cost that the note does not say is none.
func toldOfK(r *rand.Rand, back *callback) string {
	on := back.on.Format("1/2/06")
	told := oneOf(r, map[string][]string{
		"crack":      {"Callback " + on + " crack across middle", "Called back " + on + ", cracked at the corner", "They called us back " + on + " for a crack"},
		"scaling":    {"Callback " + on + " scaling near street", "Called back " + on + ", top is scaling"},
		"settlement": {"Callback " + on + " settled at downspout", "Called back " + on + ", one edge settled"},
		"ponding":    {"Callback " + on + " water ponding", "Called back " + on + ", ponding by door"}}[back.kind]...)
	if r.IntN(3) == 0 {
		back.cost = 0
		return told
	}
	return told + oneOf(r, ", cost us $", ", repair cost $") + num(back.cost)
}

var columnsOfK = []column{
	{"", "Entry Time", "", func(e *entry) any {
		return e.day.Format("2006-01-02 ") + oneOf(e.r, "16:42", "17:05", "18:31", "20:10")
	}},
	{"", "Job Code", "job_no", func(e *entry) any { return e.no }},
	{"", "Home Owner", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"", "Street Address", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"", "Pour Date", "placed_on", func(e *entry) any {
		e.read("placed_on", iso(e.day))
		return oneOf(e.r, e.day.Format("Jan 2 2006"), e.day.Format("Jan 2, 2006"), e.day.Format("1/2/2006"))
	}},
	{"", "Slab Type", "use", useOfK},
	{"", "Square Feet", "area_sqft", func(e *entry) any {
		if e.fate == "no size" {
			return "measure later"
		}
		e.read("area_sqft", e.area())
		return oneOf(e.r, num(e.area()), num(e.area()), num(e.area())+" sf")
	}},
	{"", "Slab Depth", "thickness_in", func(e *entry) any {
		e.read("thickness_in", e.thick)
		return oneOf(e.r, num(e.thick)+" in", num(e.thick)+"in", num(e.thick))
	}},
	{"", "Steel Used", "reinforcement", steelOfK},
	{"", "Joint Feet", "joint_spacing_ft", func(e *entry) any { e.read("joint_spacing_ft", e.joint); return num(e.joint) }},
	{"", "Joint Method", "joint_cut", func(e *entry) any {
		return e.coded("joint_cut", e.cut, map[string]string{"saw": "Saw", "tooled": "Tooled"})
	}},
	{"", "Start Time", "", func(e *entry) any { return oneOf(e.r, "6:30 AM", "7:00 AM", "7:15 AM", "8:00 AM") }},
	{"", "Done Time", "", func(e *entry) any { return oneOf(e.r, "1:30 PM", "2:45 PM", "3:00 PM", "4:20 PM") }},
	{"", "Yards Planned", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return fmt.Sprintf("%.2f", e.planned) }},
	{"", "Yards Received", "delivered_yd", func(e *entry) any { e.read("delivered_yd", e.delivered); return fmt.Sprintf("%.2f", e.delivered) }},
	{"", "Leftover Yards", "leftover_yd", func(e *entry) any { e.read("leftover_yd", e.left); return fmt.Sprintf("%.2f", e.left) }},
	{"", "Ticket Count", "", func(e *entry) any { return max(1, len(e.loads)) }},
	{"", "Placed With", "method", func(e *entry) any {
		return e.coded("method", e.method, map[string]string{"chute": "Chute", "pump": "Pump", "buggy": "Power Buggy", "barrow": "Wheelbarrow"})
	}},
	{"", "Air Temp", "air_temp_f", func(e *entry) any { return degreesOfK(e, "air_temp_f", e.temp) }},
	{"", "Mix Temp", "concrete_temp_f", func(e *entry) any { return degreesOfK(e, "concrete_temp_f", 41+e.temp/2+e.r.IntN(4)) }},
	{"", "Finish", "finish", func(e *entry) any {
		return e.coded("finish", e.finish, map[string]string{"broom": "Broom", "salt": "Salt", "exposed": "Exposed"})
	}},
	{"", "Crew Count", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
	{"", "Man Hours", "labor_hours", func(e *entry) any {
		e.read("labor_hours", e.hours())
		return oneOf(e.r, fmt.Sprintf("%.1f", e.hours()), fmt.Sprintf("%.2f", e.hours()))
	}},
	{"", "Job Price", "contract_price", once("contract_price", priceOfK)},
	{"", "Total Cost", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return moneyOfK(e, e.cost()) })},
	{"", "Photo Count", "", func(e *entry) any { return e.r.IntN(9) }},
	{"", "Job Notes", "note", once("note", noteOfK)},
}

var oddOfK = []odd{
	{"F-009", "Leftover Yards", "leftover_yd", "some", false, nil},
	{"F-023", "Man Hours", "labor_hours", "Beto has it", false, nil},
	{"F-047", "Air Temp", "air_temp_f", "hot", false, nil},
	{"F-018", "Yards Received", "delivered_yd", "475.00", true, nil},
	{"F-052", "Mix Temp", "concrete_temp_f", "740°", true, nil},
}

func useOfK(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"Driveway"}, "walkway": {"Front Walk", "Side Walk", "Walkway"}, "patio": {"Patio", "Back Patio"},
		"shed slab": {"Shed Slab", "Shed Pad"}, "garage slab": {"Garage Slab", "Garage Floor"}, "apron": {"Apron"}}[e.use]...)
}

func steelOfK(e *entry) any {
	return e.readSteel(oneOf(e.r, map[string][]string{"mesh": {"Wire Mesh", "Mesh"}, "fiber": {"Fiber", "Fiber Only"}, "none": {"None", "No Steel"},
		"mesh+fiber": {"Mesh And Fiber"}, "rebar": {fmt.Sprintf("%s Bar %g In", e.bar, e.barAt), fmt.Sprintf("%s Rebar At %g In", e.bar, e.barAt)}}[e.steel]...))
}

func degreesOfK(e *entry, column string, t int) any {
	e.read(column, t)
	return oneOf(e.r, fmt.Sprint(t, "°"), fmt.Sprint(t, "°"), fmt.Sprint(t, "°F"))
}

func moneyOfK(e *entry, x float64) any { return oneOf(e.r, num(x), num(x), dollars(x)) }

func priceOfK(e *entry) any {
	e.read("contract_price", e.price+e.change)
	if e.change > 0 {
		return dollars(e.price) + " + " + dollars(e.change) + " extra"
	}
	return moneyOfK(e, e.price)
}

func noteOfK(e *entry) any {
	e.read("note", e.note)
	e.readBack()
	e.read("callback_cost", nil)
	if e.back != nil && e.back.cost > 0 {
		e.read("callback_cost", e.back.cost)
	}
	return e.note
}

// phoneNotes writes log k.
func phoneNotes() *book {
	b := newBook(6010, oddOfK)
	s := &sheet{name: "k"}
	b.explain("", columnsOfK)
	b.has("bar", "bar_spacing_in", "callback_on", "callback_kind", "callback_cost")
	s.add(headings(columnsOfK)...)
	for _, j := range jobsOfK() {
		b.keep(s, columnsOfK, j)
		if j.no == afterOfK {
			b.keep(s, columnsOfK, twiceTyped(j, "Fuchsia", "14 Varnish Way"))
		}
	}
	second := b.truth.Rows[pairOfK+"#2"] // the note stands with the first slab
	second["callback_on"], second["callback_kind"], second["callback_cost"] = nil, nil, nil
	b.sheets = []*sheet{s}
	return b
}
