package main

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"time"
)

// The owner of log f married into an accountant's family: one wide tab for all years, numbered from the books' account
// for jobs, a row of groups, a row of headings and a row of units, price and cost in parts, and per cents worked out.

func jobsOfF() []*job {
	r := rand.New(rand.NewPCG(40101, 7))
	jobs := invent(r, firm{first: date(2023, 3, 13), last: date(2024, 10, 30), ticket: 100, oneRect: true,
		number:    func(i int, _ time.Time) string { return fmt.Sprint(40101 + i) },
		customers: []string{"Alder", "Birch", "Cypress", "Elm", "Hazel", "Hickory", "Larch", "Linden", "Maple", "Poplar", "Rowan", "Spruce"},
		streets:   []string{"Ledger Ln", "Abacus Ave", "Tally Ct", "Quill Rd", "Inkwell Dr"},
		crews:     []string{"-"}, outfits: []string{"line pump"},
		notes: []string{"", "", "", "paid 30 days late", "ck #2207", "cash, receipt in the blue box", "fence panel 8 ft, we replaced it", "dug out 2 ft of muck first", "asked about a 3 in overlay, told him no", "2nd time for him"}}, 74)
	standsAt(jobs, map[string]string{"40152": "no date"}, "")
	return jobs
}

var columnsOfF = []column{
	{"JOB", "acct", "job_no", func(e *entry) any {
		var n float64
		fmt.Sscan(e.no, &n)
		return oneOf[any](e.r, n, n, n, e.no)
	}},
	{"JOB", "bid", "bid_on", bidDayOfF},
	{"JOB", "pour day", "placed_on", dayOfF},
	{"JOB", "for whom", "customer", func(e *entry) any { e.read("customer", e.customer); return e.customer }},
	{"JOB", "house & street", "site", func(e *entry) any { e.read("site", e.site); return e.site }},
	{"SLAB", "used as", "use", useOfF},
	{"SLAB", "long", "length", func(e *entry) any {
		e.read("area_sqft", e.area())
		if areaOnlyOfF[e.no] && !e.second {
			return num(e.area()) + " sf"
		}
		return lengthOfF(e, e.length)
	}},
	{"SLAB", "wide", "width", func(e *entry) any {
		if areaOnlyOfF[e.no] && !e.second {
			return "odd"
		}
		return lengthOfF(e, e.width)
	}},
	{"SLAB", "deep", "thickness_in", func(e *entry) any {
		e.read("thickness_in", e.thick)
		return oneOf[any](e.r, e.thick, e.thick, num(e.thick), vulgar(e.thick, false))
	}},
	{"SLAB", "rod or wire", "reinforcement", steelOfF},
	{"SLAB", "rod o.c.", "bar_spacing_in", func(e *entry) any {
		e.read("bar_spacing_in", e.barAt)
		if e.barAt == 0 {
			return nil
		}
		return asTextOfF(e, e.barAt)
	}},
	{"SLAB", "panels", "joint_spacing_ft", panelsOfF},
	{"YARDS", "on paper", "neat_yd", func(e *entry) any { e.read("neat_yd", cents(e.neat())); return cents(e.neat()) }},
	{"YARDS", "to order", "planned_yd", func(e *entry) any { e.read("planned_yd", e.planned); return asTextOfF(e, e.planned) }},
	{"YARDS", "came", "delivered_yd", func(e *entry) any { e.read("delivered_yd", e.delivered); return asTextOfF(e, e.delivered) }},
	{"YARDS", "tossed", "leftover_yd", func(e *entry) any { e.read("leftover_yd", e.left); return asTextOfF(e, e.left) }},
	{"YARDS", "over paper", "", func(e *entry) any { return perCentOfF(e, (cameOfF(e)-e.neat())/e.neat()) }},
	{"THE DAY", "got in by", "method", methodOfF},
	{"THE DAY", "outside", "air_temp_f", func(e *entry) any { e.read("air_temp_f", e.temp); return asTextOfF(e, float64(e.temp)) }},
	{"THE DAY", "labor", "labor_hours", hoursOfF},
	{"PRICE", "base", "contract_price", once("contract_price", func(e *entry) any {
		e.read("contract_price", e.price+e.change)
		return moneyOfF(e, e.price)
	})},
	{"PRICE", "extras", "change_orders", once("", extrasOfF)},
	{"COST", "carried", "bid_cost", once("bid_cost", func(e *entry) any { e.read("bid_cost", e.bid); return moneyOfF(e, e.bid) })},
	{"COST", "concrete", "actual_cost", once("actual_cost", func(e *entry) any {
		e.read("actual_cost", spentOfF(e.job))
		return moneyOfF(e, e.part("concrete"))
	})},
	{"COST", "labor", "actual_cost", once("", func(e *entry) any { return moneyOfF(e, e.part("labor")) })},
	{"COST", "pump", "actual_cost", once("", func(e *entry) any {
		if e.part("pump") == 0 {
			return oneOf[any](e.r, nil, nil, 0, "-")
		}
		return moneyOfF(e, e.part("pump"))
	})},
	{"COST", "other", "actual_cost", once("", func(e *entry) any { return moneyOfF(e, e.part("reinforcement", "base")) })},
	{"", "made", "", once("", madeOfF)},
	{"", "complaint", "callback_on", once("callback_on", complaintOfF)},
	{"", "comments", "note", once("note", func(e *entry) any { e.read("note", e.note); return e.note })},
}

// unitsOfF stand on a row of their own below the headings.
var unitsOfF = map[string]string{"JOB / bid": "m/d/y", "JOB / pour day": "m/d/y", "SLAB / long": "ft", "SLAB / wide": "ft", "SLAB / deep": "in",
	"SLAB / rod o.c.": "in", "SLAB / panels": "ft", "YARDS / on paper": "yd", "YARDS / to order": "yd", "YARDS / came": "yd", "YARDS / tossed": "yd",
	"YARDS / over paper": "%", "THE DAY / outside": "°F", "THE DAY / labor": "man-hr", "PRICE / base": "$", "PRICE / extras": "$", "COST / carried": "$",
	"COST / concrete": "$", "COST / labor": "$", "COST / pump": "$", "COST / other": "$", "made": "%"}

var oddOfF = []odd{
	{"40117", "THE DAY / outside", "air_temp_f", "jacket", false, nil},
	{"40131", "COST / labor", "actual_cost", "Ray's sheet", false, nil}, // a cost with a part unknown is no cost
	{"40146", "YARDS / came", "delivered_yd", "one full + a short", false, nil},
	{"40124", "YARDS / came", "delivered_yd", "1075", true, nil},
	{"40163", "YARDS / tossed", "leftover_yd", "75", true, nil},
}

// areaOnlyOfF are jobs of no plain shape: the area stands where the length should, and says so.
var areaOnlyOfF = map[string]bool{"40109": true, "40138": true, "40166": true}

// asTextOfF is a number that was sometimes pasted as text.
func asTextOfF(e *entry, x float64) any { return oneOf[any](e.r, x, x, x, x, num(x), num(x)+" ") }

func bidDayOfF(e *entry) any {
	if e.second {
		return nil
	}
	e.read("bid_on", iso(e.quoted))
	return oneOf[any](e.r, e.quoted, e.quoted, e.quoted, e.quoted.Format("1/2/06"), e.quoted.Format("2-Jan-06"))
}

func dayOfF(e *entry) any {
	if e.fate == "no date" {
		return "gas co. first"
	}
	e.read("placed_on", iso(e.day))
	return oneOf[any](e.r, e.day, e.day, e.day, e.day, e.day.Format("1/2/06"), e.day.Format("Jan 2 '06"), e.day.Format("1.2.06"))
}

func useOfF(e *entry) any {
	e.read("use", e.use)
	return oneOf(e.r, map[string][]string{"driveway": {"driveway", "Driveway", "drive", "dbl driveway"}, "walkway": {"side walk", "walk to door", "walkway"},
		"patio": {"patio", "rear patio", "Patio"}, "shed slab": {"shed", "storage shed slab"}, "garage slab": {"garage floor", "det. garage", "garage"},
		"apron": {"apron", "drive approach", "apron @ street"}}[e.use]...)
}

func lengthOfF(e *entry, x float64) any {
	return oneOf[any](e.r, x, x, x, num(x), vulgar(x, false))
}

func steelOfF(e *entry) any {
	written := oneOf(e.r, map[string][]string{"mesh": {"roll wire", "wire", "6x6-10/10 wire"}, "fiber": {"fiber", "fiber in the mix"}, "none": {"none", "none"},
		"mesh+fiber": {"wire and fiber", "wire, fiber"}, "rebar": {e.bar, e.bar + " rod", e.bar + " bar",
			map[string]string{"#3": "3/8", "#4": "1/2"}[e.bar] + `" rod`}}[e.steel]...)
	return e.readSteel(written)
}

func panelsOfF(e *entry) any {
	e.read("joint_spacing_ft", e.joint)
	e.read("joint_cut", nil)
	n := num(e.joint)
	return oneOf[any](e.r, e.joint, e.joint, n, n+" by "+n, num(e.joint-1)+" by "+n)
}

func methodOfF(e *entry) any {
	e.read("method", e.method)
	return oneOf(e.r, map[string][]string{"chute": {"chute", "truck chute", "right off truck"}, "pump": {"pump", "line pump"},
		"buggy": {"buggy", "rented buggy"}, "barrow": {"wheelbarrow", "barrows"}}[e.method]...)
}

// hoursOfF keeps half hours as the books do, now and then by the clock: 31:30.
func hoursOfF(e *entry) any {
	e.read("labor_hours", e.hours())
	clock := fmt.Sprintf("%d:%02.0f", int(e.hours()), (e.hours()-float64(int(e.hours())))*60)
	return oneOf[any](e.r, e.hours(), e.hours(), e.hours(), e.hours(), num(e.hours()), clock)
}

func moneyOfF(e *entry, x float64) any {
	x = cents(x)
	return oneOf[any](e.r, x, x, x, x, commas(x), "$"+commas(x))
}

// extrasOfF are what was added after the price was agreed.
func extrasOfF(e *entry) any {
	if e.change == 0 {
		return oneOf[any](e.r, nil, nil, nil, 0)
	}
	return oneOf[any](e.r, e.change, e.change, num(e.change)+" step", "$"+commas(e.change))
}

// part is what a job cost for the items.
func (j *job) part(items ...string) float64 {
	sum := 0.0
	for _, p := range j.parts {
		if slices.Contains(items, p.item) {
			sum += p.amount
		}
	}
	return cents(sum)
}

// spentOfF adds up the four columns of a job's cost.
func spentOfF(j *job) float64 {
	return cents(j.part("concrete") + j.part("labor") + j.part("pump") + j.part("reinforcement", "base"))
}

// cameOfF is what the sheet works with: the number as it was typed.
func cameOfF(e *entry) float64 {
	if e.no == "40124" && !e.second {
		return 1075
	}
	return e.delivered
}

// perCentOfF is what the sheet works out, shown one way or the other.
func perCentOfF(e *entry, x float64) any {
	x = to(x*100, .1)
	if e.no == "40146" && !e.second {
		return "#VALUE!"
	}
	return oneOf[any](e.r, fmt.Sprintf("%.1f%%", x), cents(x))
}

func madeOfF(e *entry) any {
	if e.no == "40131" {
		return "#VALUE!"
	}
	price := e.price + e.change
	return fmt.Sprintf("%.1f%%", (price-spentOfF(e.job))/price*100)
}

// complaintOfF has the day and what was wrong, sometimes with what it cost.
func complaintOfF(e *entry) any {
	e.readBack()
	e.read("callback_cost", nil)
	if e.back == nil {
		return oneOf(e.r, "", "", "", "", "none")
	}
	word := oneOf(e.r, map[string][]string{"crack": {"crack", "cracked"}, "scaling": {"scaling", "scaled"},
		"settlement": {"settled", "settling"}, "ponding": {"ponding", "ponds"}}[e.back.kind]...)
	on := e.back.on.Format("1/2/06")
	if e.r.IntN(2) == 0 {
		e.read("callback_cost", e.back.cost)
		return oneOf(e.r, word+" "+on+" $"+num(e.back.cost), on+" "+word+", $"+num(e.back.cost))
	}
	return oneOf(e.r, on+" "+word, word+" "+on)
}
