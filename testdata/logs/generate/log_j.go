package main

import (
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"time"
)

// The owner of log j took the firm over from her father and bought a form for job logs at the office store: one tab,
// one row of plain headings, a sum at the foot; tidy, but for what slips while typing at night.

const (
	pairOfJ  = "1274" // two slabs
	afterOfJ = "1291" // its number typed on another site's row as well
)

func jobsOfJ() []*job {
	r := rand.New(rand.NewPCG(1247, 3))
	jobs := invent(r, firm{first: date(2025, 3, 10), last: date(2025, 10, 28), ticket: 44100, oneRect: true,
		number:    func(i int, _ time.Time) string { return fmt.Sprint(1247 + i) },
		customers: []string{"Sage", "Tarragon", "Fennel", "Lovage", "Sorrel", "Chervil", "Dill", "Borage", "Savory", "Hyssop", "Anise"},
		streets:   []string{"Trellis Rd", "Arbor Ct", "Pergola Dr", "Gazebo Ln", "Hedge St", "Mulch Way"},
		crews:     []string{"-"}, outfits: []string{"-"},
		notes: []string{"", "", "", "", "Repeat customer", "Removed old concrete", "Neighbor of the last job", "Gate code 4471", "Paid by check", "Dad quoted this one"}}, 62)
	onePair(r, jobs, pairOfJ)
	standsAt(jobs, map[string]string{"1281": "no date"}, "")
	callsUntil(jobs, date(2025, 12, 15))
	return jobs
}

var columnsOfJ = []column{
	{"", "Job Number", "job_no", func(e *entry) any { n, _ := strconv.Atoi(e.no); return n }},
	{"", "Customer Name", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"", "Job Address", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"", "Date Poured", "placed_on", dayOfJ},
	{"", "Type of Work", "use", useOfJ},
	{"", "Size (ft)", "size", sizeOfJ},
	{"", "Thickness (in)", "thickness_in", func(e *entry) any {
		e.read("thickness_in", e.thick)
		return oneOf[any](e.r, e.thick, e.thick, e.thick, e.thick, num(e.thick)+`"`)
	}},
	{"", "Reinforcement", "reinforcement", steelOfJ},
	{"", "Joint Spacing (ft)", "joint_spacing_ft", func(e *entry) any {
		e.read("joint_spacing_ft", e.joint)
		e.read("joint_cut", nil)
		return oneOf[any](e.r, e.joint, e.joint, e.joint, e.joint, e.joint, num(e.joint)+"'", num(e.joint)+" ft")
	}},
	{"", "Yards Ordered", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfJ(e, e.planned) }},
	{"", "Yards Delivered", "delivered_yd", func(e *entry) any { e.read("delivered_yd", e.delivered); return yardsOfJ(e, e.delivered) }},
	{"", "Pump (Y/N)", "method", pumpOfJ},
	{"", "Temperature", "air_temp_f", func(e *entry) any {
		e.read("air_temp_f", e.temp)
		return oneOf[any](e.r, e.temp, e.temp, e.temp, e.temp, e.temp, fmt.Sprint(e.temp, "F"))
	}},
	{"", "Total Labor Hours", "labor_hours", func(e *entry) any { e.read("labor_hours", e.hours()); return e.hours() }},
	{"", "Contract Price", "contract_price", once("contract_price", func(e *entry) any {
		e.read("contract_price", e.price+e.change)
		return moneyOfJ(e, e.price+e.change)
	})},
	{"", "Actual Cost", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return moneyOfJ(e, e.cost()) })},
	{"", "Callback Date", "callback_on", once("callback_on", backDayOfJ)},
	{"", "Callback Reason", "callback_kind", once("callback_kind", backWhyOfJ)},
	{"", "Invoice No.", "", once("", func(e *entry) any { n, _ := strconv.Atoi(e.no); return 3*n - 1400 })},
	{"", "Notes", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

var oddOfJ = []odd{
	{"1258", "Yards Delivered", "delivered_yd", "see ticket", false, nil},
	{"1296", "Total Labor Hours", "labor_hours", "check w/ Dad", false, nil},
	{"1269", "Yards Delivered", "delivered_yd", "325", true, nil},
	{"1288", "Temperature", "air_temp_f", "770", true, nil},
}

func dayOfJ(e *entry) any {
	if e.fate == "no date" {
		return "TBD"
	}
	e.read("placed_on", iso(e.day))
	return oneOf[any](e.r, e.day, e.day, e.day, e.day, e.day, e.day, e.day, e.day, e.day.Format("1/2/06"), e.day.Format("1/2/06 "), e.day.Format("1-2-06"))
}

// useOfJ is mostly the right word rightly spelled.
func useOfJ(e *entry) any {
	e.read("use", e.use)
	word := map[string]string{"driveway": "Driveway", "walkway": "Sidewalk", "patio": "Patio", "shed slab": "Shed Slab", "garage slab": "Garage Floor", "apron": "Apron"}[e.use]
	slip := map[string]string{"driveway": "Drivway", "walkway": "Side walk", "patio": "Patio ", "shed slab": "shed slab", "garage slab": "Garage floor", "apron": "Driveway Apron"}[e.use]
	return oneOf(e.r, word, word, word, word, word, strings.ToLower(word), slip)
}

func sizeOfJ(e *entry) any {
	e.read("area_sqft", e.area())
	l, w := num(e.length), num(e.width)
	return oneOf(e.r, w+"x"+l, w+"x"+l, w+"x"+l, w+"x"+l, w+" x "+l, w+"X"+l, w+"'x"+l+"'")
}

func steelOfJ(e *entry) any {
	e.read("bar_spacing_in", nil)
	e.read("reinforcement", e.steel)
	e.read("bar", e.bar)
	if e.steel == "rebar" {
		return oneOf(e.r, e.bar, e.bar, e.bar, e.bar, e.bar+" rebar", "# "+e.bar[1:])
	}
	word := map[string]string{"mesh": "wire", "fiber": "fiber", "none": "none", "mesh+fiber": "wire + fiber"}[e.steel]
	return oneOf(e.r, word, word, word, strings.ToUpper(word[:1])+word[1:])
}

func yardsOfJ(e *entry, x float64) any { return oneOf[any](e.r, x, x, x, x, x, x, x, num(x)+" yds") }

// pumpOfJ says that it was pumped, or that it was not, and then not how it got there.
func pumpOfJ(e *entry) any {
	if e.method == "pump" {
		e.read("method", "pump")
		return oneOf(e.r, "Y", "Y", "y", "Yes")
	}
	e.read("method", nil)
	return oneOf(e.r, "N", "N", "N", "n", "")
}

func moneyOfJ(e *entry, x float64) any { return oneOf[any](e.r, x, x, x, x, x, x, dollars(x)) }

func backDayOfJ(e *entry) any {
	if e.back == nil {
		e.read("callback_on", nil)
		return oneOf(e.r, "", "", "", "", "N/A")
	}
	e.read("callback_on", iso(e.back.on))
	return oneOf[any](e.r, e.back.on, e.back.on, e.back.on, e.back.on.Format("1/2/06"))
}

func backWhyOfJ(e *entry) any {
	if e.back == nil {
		e.read("callback_kind", nil)
		return nil
	}
	e.read("callback_kind", e.back.kind)
	return oneOf(e.r, map[string][]string{"crack": {"Crack", "Cracked", "crack in corner"}, "scaling": {"Scaling", "Surface scaling"},
		"settlement": {"Settled", "Settling"}, "ponding": {"Water ponding", "Standing water"}}[e.back.kind]...)
}

// officeForm writes log j.
func officeForm() *book {
	b := newBook(1247, oddOfJ)
	s := &sheet{name: "Job Log"}
	b.explain("", columnsOfJ)
	b.has("bar")
	s.add("JOB LOG", nil, nil, "Year:", 2025)
	s.add()
	s.heads = s.add(headings(columnsOfJ)...)
	for _, j := range jobsOfJ() {
		b.keep(s, columnsOfJ, j)
		if j.no == afterOfJ {
			b.keep(s, columnsOfJ, twiceTyped(j, "Marjoram", "310 Espalier Ct"))
		}
	}
	s.asTyped(oddOfJ)
	last := len(s.rows)
	s.add()
	sum := make([]any, len(columnsOfJ))
	sum[0] = "TOTAL"
	for _, at := range []int{9, 10, 13, 14, 15} {
		sum[at] = s.added(at, s.heads+1, last)
	}
	s.add(sum...)
	b.sheets = []*sheet{s}
	return b
}

// asTyped makes numbers of the odd cells that are numbers, as a spreadsheet does of what is typed.
func (s *sheet) asTyped(cells []odd) {
	for _, row := range s.rows {
		for i, v := range row {
			for _, o := range cells {
				if x, err := strconv.ParseFloat(o.text, 64); err == nil && v == o.text {
					row[i] = x
				}
			}
		}
	}
}
