package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"time"
)

// The owner of log h is an old foreman with an old database: he saves it parted by tabs, headed in capitals of eight
// letters at most, codes where a word would do and their legend at the foot, money without cents, fractions with a dash.

func jobsOfH() []*job {
	r := rand.New(rand.NewPCG(388, 19))
	jobs := invent(r, firm{first: date(2024, 4, 8), last: date(2025, 9, 20), ticket: 70200,
		number:    func(i int, _ time.Time) string { return fmt.Sprintf("%04d", 388+i) },
		customers: []string{"PIKE", "PERCH", "STURGEON", "BURBOT", "GRAYLING", "BOWFIN", "SCULPIN", "SHAD", "MINNOW", "CHUB"},
		streets:   []string{"MILL POND RD", "FERRY LN", "WEIR ST", "LOCK CT", "SLUICE AVE"},
		crews:     []string{"RLD", "JKM", "TWB"}, outfits: []string{"-"},
		notes: []string{"", "", "", "", "STEEP DRIVE", "OWNER HAULED OFF OLD SLAB", "NO TRUCK PAST CULVERT", "2 STEPS LEFT FOR SPRING", "PD CHECK 3106"}}, 66)
	standsAt(jobs, map[string]string{"0436": "no size"}, "")
	callsUntil(jobs, date(2025, 10, 31))
	return jobs
}

// callsUntil leaves out the callbacks that came after the log was handed over.
func callsUntil(jobs []*job, last time.Time) {
	for _, j := range jobs {
		if j.back != nil && j.back.on.After(last) {
			j.back = nil
		}
	}
}

// columnsOfH are the fields of the database; the first counts its records.
func columnsOfH() []column {
	records := 0
	return []column{
		{"", "RECNO", "", func(*entry) any { records++; return records }},
		{"", "JOBNUM", "job_no", func(e *entry) any { return e.no }},
		{"", "OWNR", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
		{"", "LOCATN", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
		{"", "ESTDT", "bid_on", once("bid_on", func(e *entry) any { e.read("bid_on", iso(e.quoted)); return dayOfH(e, e.quoted) })},
		{"", "PLCDATE", "placed_on", func(e *entry) any { e.read("placed_on", iso(e.day)); return dayOfH(e, e.day) }},
		{"", "KIND", "use", kindOfH},
		{"", "AREASF", "area_sqft", areaOfH},
		{"", "THKIN", "thickness_in", func(e *entry) any {
			e.read("thickness_in", e.thick)
			return oneOf(e.r, num(e.thick), num(e.thick), dashed(e.thick))
		}},
		{"", "STEEL", "reinforcement", steelOfH},
		{"", "JNTFT", "joint_spacing_ft", func(e *entry) any {
			e.read("joint_spacing_ft", e.joint)
			return oneOf(e.r, num(e.joint), num(e.joint), fmt.Sprintf("%gX%g", e.joint, e.joint), fmt.Sprintf("%gX%g", e.joint-1, e.joint))
		}},
		{"", "JNTCUT", "joint_cut", func(e *entry) any { return e.coded("joint_cut", e.cut, cutsOfH) }},
		{"", "MIXPSI", "mix_psi", func(e *entry) any { e.read("mix_psi", e.psi); return e.psi }},
		{"", "RETARDR", "retarder", retarderOfH},
		{"", "CYPLAN", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return yardsOfH(e, e.planned) }},
		{"", "CYRECD", "delivered_yd", receivedOfH},
		{"", "CYLEFT", "leftover_yd", leftOfH},
		{"", "TRUCKS", "", func(e *entry) any { return max(1, len(e.loads)) }},
		{"", "PLACBY", "method", func(e *entry) any { return e.coded("method", e.method, methodsOfH) }},
		{"", "FINSH", "finish", func(e *entry) any { e.read("finish", e.finish); return strings.ToUpper(e.finish) }},
		{"", "TEMPAC", "air_temp_f", tempsOfH},
		{"", "FOREMN", "crew", func(e *entry) any { e.read("crew", e.crew); return e.crew }},
		{"", "MENCNT", "crew_size", func(e *entry) any { e.read("crew_size", e.people); return e.people }},
		{"", "MANHRS", "labor_hours", func(e *entry) any {
			e.read("labor_hours", e.hours())
			return oneOf(e.r, num(e.hours()), num(e.hours()), fmt.Sprintf("%dX%g", e.people, e.each))
		}},
		{"", "CONTRCT", "contract_price", once("contract_price", func(e *entry) any { e.read("contract_price", e.price+e.change); return moneyOfH(e, e.price) })},
		{"", "EXTRAS", "change_orders", once("change_orders", extrasOfH)},
		{"", "ESTCOST", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return moneyOfH(e, e.bid) })},
		{"", "ACTCOST", "actual_cost", once("actual_cost", func(e *entry) any { e.read("actual_cost", e.cost()); return moneyOfH(e, e.cost()) })},
		{"", "PERMIT", "", func(e *entry) any { return oneOf(e.r, "Y", "N", "N") }},
		{"", "PAIDYN", "", func(e *entry) any { return oneOf(e.r, "Y", "Y", "Y", "N") }},
		{"", "CALBKDT", "callback_on", once("callback_on", backDayOfH)},
		{"", "CALBKWHY", "callback_kind", once("callback_kind", backWhyOfH)},
		{"", "CALBKAMT", "callback_cost", once("callback_cost", backCostOfA)},
		{"", "REMARKS", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
	}
}

// The codes of the legend. One letter means another thing in another column: P a patio or a pump, W a walk or a barrow.
var (
	kindsOfH = map[string]string{"driveway": "D", "walkway": "W", "patio": "P", "shed slab": "SH", "garage slab": "G", "apron": "A"}
	wordsOfH = map[string]string{"driveway": "DRIVEWAY", "walkway": "WALK", "patio": "PATIO", "shed slab": "SHED SLAB", "garage slab": "GARAGE FLR", "apron": "APRON"}

	steelsOfH  = map[string]string{"mesh": "M", "fiber": "F", "none": "N", "mesh+fiber": "MF"}
	methodsOfH = map[string]string{"chute": "C", "pump": "P", "buggy": "B", "barrow": "W"}
	cutsOfH    = map[string]string{"saw": "S", "tooled": "T"}
)

// legendOfH stands below the records, a line a coded column.
var legendOfH = [][]any{
	{"KIND", "D=DRIVEWAY", "W=WALK", "P=PATIO", "SH=SHED SLAB", "G=GARAGE FLOOR", "A=APRON"},
	{"STEEL", "N=NONE", "M=WIRE MESH", "F=FIBER", "MF=MESH AND FIBER", "R3-16=NO. 3 BARS 16 IN. APART", "R4-18=NO. 4 BARS 18 IN. APART"},
	{"JNTCUT", "S=SAWED", "T=TOOLED"},
	{"PLACBY", "C=CHUTE", "P=PUMP", "B=BUGGY", "W=WHEELBARROW"},
	{"TEMPAC", "AIR/CONCRETE, DEG F, AT FIRST TRUCK"},
	{"CY", "CUBIC YARDS. CYLEFT IS WHAT WENT BACK OR IN THE DITCH"},
}

var oddOfH = []odd{
	{"0394", "JNTFT", "joint_spacing_ft", "BY ENGR", false, nil},
	{"0411", "CYLEFT", "leftover_yd", "PART BARROW", false, nil},
	{"0423", "MANHRS", "labor_hours", "ASK RLD", false, nil},
	{"0418", "CYRECD", "delivered_yd", "250", true, nil},
	{"0441", "TEMPAC", "concrete_temp_f", "84/790", true, nil},
}

// coded notes a word in the column and returns its code.
func (e *entry) coded(column, word string, codes map[string]string) string {
	e.read(column, word)
	return codes[word]
}

// dayOfH is the database's day in its first season; later he typed over it as he pleased.
func dayOfH(e *entry, day time.Time) any {
	if day.Before(date(2024, 9, 1)) {
		return day.Format("20060102")
	}
	return oneOf(e.r, day.Format("20060102"), day.Format("1-2-06"), day.Format("1-2-06"))
}

func kindOfH(e *entry) any {
	code := e.coded("use", e.use, kindsOfH)
	return oneOf(e.r, code, code, code, code, code, code, code, code, code, wordsOfH[e.use])
}

// areaOfH is the area, or what makes it: 24X18, 480+40.
func areaOfH(e *entry) any {
	e.read("area_sqft", e.area())
	switch {
	case e.fate == "no size":
		return "SEE PLAN"
	case e.length2 > 0:
		return fmt.Sprintf("%g+%g", e.length*e.width, e.length2*e.width2)
	}
	return oneOf(e.r, num(e.area()), num(e.area()), num(e.area()), fmt.Sprintf("%gX%g", e.length, e.width))
}

func steelOfH(e *entry) any {
	size := strings.TrimPrefix(e.bar, "#")
	if e.steel == "rebar" {
		coded := fmt.Sprintf("R%s-%g", size, e.barAt)
		return e.readSteel(oneOf(e.r, coded, coded, coded, fmt.Sprintf("NO. %s AT %g", size, e.barAt)))
	}
	return e.readSteel(steelsOfH[e.steel])
}

func retarderOfH(e *entry) any {
	if e.temp > 80 {
		e.read("retarder", "yes")
		return "Y"
	}
	e.read("retarder", "no")
	return "N"
}

// dashed writes quarters as on a drawing: 9-1/2.
func dashed(x float64) string { return strings.ReplaceAll(vulgar(x, false), " ", "-") }

func yardsOfH(e *entry, x float64) string {
	return oneOf(e.r, fmt.Sprintf("%.2f", x), fmt.Sprintf("%.2f", x), dashed(x))
}

func receivedOfH(e *entry) any {
	e.read("delivered_yd", e.delivered)
	if len(e.loads) > 1 {
		return strings.ReplaceAll(trucks(e.loads), " ", "")
	}
	return yardsOfH(e, e.delivered)
}

func leftOfH(e *entry) any {
	e.read("leftover_yd", e.left)
	if e.left == 0 {
		return oneOf(e.r, "0", ".00", "NONE")
	}
	return oneOf(e.r, strings.TrimPrefix(fmt.Sprintf("%.2f", e.left), "0"), dashed(e.left))
}

// tempsOfH has the air and the concrete in one cell; now and then nobody took the second.
func tempsOfH(e *entry) any {
	if e.no == "0441" {
		e.read("air_temp_f", 84)
		return nil // the odd cell comes here
	}
	mix := int(math.Round(66+.45*float64(e.temp-62))) + e.r.IntN(5)
	e.read("air_temp_f", e.temp)
	if e.r.IntN(9) == 0 {
		e.read("concrete_temp_f", nil)
		return oneOf(e.r, fmt.Sprintf("%d/", e.temp), fmt.Sprintf("%d/--", e.temp))
	}
	e.read("concrete_temp_f", mix)
	return fmt.Sprintf("%d/%d", e.temp, mix)
}

func moneyOfH(e *entry, x float64) any {
	return oneOf(e.r, num(x), num(x), num(x), "$"+num(x), dollars(x)[1:])
}

func extrasOfH(e *entry) any {
	if e.change == 0 {
		e.read("change_orders", nil)
		return nil
	}
	e.read("change_orders", e.change)
	return num(e.change)
}

// backDayOfH is a day, nothing, or the zeros of a date never filled in.
func backDayOfH(e *entry) any {
	if e.back == nil {
		e.read("callback_on", nil)
		return oneOf(e.r, "", "", "", "00000000")
	}
	e.read("callback_on", iso(e.back.on))
	return dayOfH(e, e.back.on)
}

func backWhyOfH(e *entry) any {
	if e.back == nil {
		e.read("callback_kind", nil)
		return nil
	}
	e.read("callback_kind", e.back.kind)
	return oneOf(e.r, map[string][]string{"crack": {"CRACK", "CRACKED", "RANDOM CRACK"}, "scaling": {"SCALED", "SCALING"},
		"settlement": {"SETTLED", "SANK AT EDGE"}, "ponding": {"BIRDBATH", "PONDING"}}[e.back.kind]...)
}

// oldDatabase writes log h.
func oldDatabase() *book {
	b := newBook(1988, oddOfH)
	s := &sheet{name: "h"}
	columns := columnsOfH()
	b.explain("", columns)
	b.truth.Heads = append(b.truth.Heads, "concrete_temp_f") // the second half of TEMPAC
	s.add(headings(columns)...)
	for _, j := range jobsOfH() {
		b.keep(s, columns, j)
		if j.no == "0407" {
			b.keep(s, columns, twiceTyped(j, "LAMPREY", "9 TOWPATH RD"))
		}
	}
	records := len(s.rows) - 1
	s.add()
	for _, line := range legendOfH {
		s.add(line...)
	}
	s.add(fmt.Sprintf("%d RECORDS", records))
	b.sheets = []*sheet{s}
	return b
}
