package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// hypothesis is one thing that a column of a file may be: a column of a record
// table, or a measure that gives one.
type hypothesis struct {
	name   string             // of the column, or length, width, size
	words  map[string]float64 // concept → what it adds
	suits  func(*evidence) float64
	unit   *record.Unit
	needed bool    // worth a question where it stays open
	least  float64 // points that the heading itself must bring
}

// evidence is what is known about one column of a file when a hypothesis is
// held against it.
type evidence struct {
	*profile
	scaled []float64 // the numbers in the hypothesis's unit, in rising order
}

// hypotheses are what the columns of each table are known by. The words are
// concepts of the vocabulary with what each adds; what is not listed counts
// against the column. Behind them stands what its values look like.
var hypotheses = map[*record.Table][]hypothesis{
	record.Placements: {
		{name: "job_no", words: adds("job 7, num 4, customer -4, invoice -6, work 2, ticket -4, contact -9, account 5, who -3, our 1"), suits: uniqueID, needed: true},
		{name: "placement", words: adds("slab 3, num 3, pour 3"), least: 5, suits: never},
		{name: "placed_on", words: adds("date 7, pour 6, job 0, work 1, callback -8, bid -6, won -6, close -1, start 1, end 0, actual 1, slab 1, year 0, status 0, finish -1, truck 0, made 2, who -5, what -3, took -5, deliver 0, weather -4, by -4"), suits: pourDate, needed: true},
		{name: "use", words: adds("type 7, work 6, slab 4, job 1, pour 1, steel -8, joint -8, task 2, customer -5, callback -6, finish -5, mix -5, what 6, made 5, how -3"), suits: vocabulary3((*profile).useShare), needed: true},
		{name: "area_sqft", words: adds("area 8, slab 2, size 3, total 1, job 0, pour 1, work 0, per -8, finish -2, qty 2, how 0, deliver -6, left -6"), suits: numeric(record.SquareFoot, 350, 0.95), unit: record.SquareFoot, needed: true},
		{name: ColumnSize, words: adds("size 7, slab 2, length 3, width 3, thick 1, area 4, job 0, pour 1, people -6, crew -6, bar-size -8, how 1"), suits: sizeCells, unit: record.Foot, needed: true},
		{name: ColumnLength, words: adds("length 8, slab 1, size 1, area 0, joint -4, how 0, hours -6, callback -8"), suits: numeric(record.Foot, 22, 0.7), unit: record.Foot, needed: true},
		{name: ColumnWidth, words: adds("width 8, slab 1, size 1, area 0, joint -4, how 0, callback -8"), suits: numeric(record.Foot, 14, 0.6), unit: record.Foot, needed: true},
		{name: "thickness_in", words: adds("thick 8, slab 2, size 1, vol 1, bid 1, plan 1, pour 0, measured -3, edge -6, joint -7, base -6, cut -5, how 0"), suits: numeric(record.Inch, 4.4, 0.3), unit: record.Inch, needed: true},
		{name: "edge_in", words: adds("edge 9, thick 2, slab 0"), least: 5, suits: numeric(record.Inch, 10, 0.4), unit: record.Inch},
		{name: "measured_thickness_in", words: adds("measured 6, thick 5, actual 5, slab 0"), least: 7, suits: numeric(record.Inch, 4.4, 0.3), unit: record.Inch},
		{name: "neat_yd", words: adds("neat 8, vol 3, plan -1, order -4, steel -6, how 0"), least: 6, suits: numeric(record.CubicYard, 6, 0.95), unit: record.CubicYard},
		{name: "planned_yd", words: adds("plant 0, vol 4, plan 6, order 7, bid 4, quote 3, budget 4, our 0, total 1, money -8, truck 0, cost -8, hours -8, people -6, qty 2, pour 0, price -8, neat 2, got -6, how 0, what 0, deliver -5, left -7, back -7, made -2"), suits: numeric(record.CubicYard, 6, 0.95), unit: record.CubicYard, needed: true},
		{name: "delivered_yd", words: adds("vol 5, actual 5, deliver 7, ticket 4, pour 3, total 1, truck 2, plan -7, order -7, bid -7, quote -6, budget -7, neat -6, left -8, back -7, money -8, cost -8, price -8, hours -8, extra -3, qty 2, invoice -3, plant 0, got 5, took 4, how 0, what 1, who -5, by -3"), suits: numeric(record.CubicYard, 6, 0.95), unit: record.CubicYard, needed: true},
		{name: "leftover_yd", words: adds("plant 0, left 8, back 5, extra 3, vol 3, truck 0, deliver -2, pour 0, callback -8, money -8, cost -8, change -8, actual 0, what 1, how 0, profit -6"), suits: leftover, unit: record.CubicYard, needed: true},
		{name: "method", words: adds("method 7, chute 5, pump 4, pour 2, vol 1, deliver 1, finish -6, company -4, cost -8, money -8, hours -8, type 1, truck 1, name -4, how 6, by 3, what 0, who -4, people -7, thick -7, length -7, width -7, area -6, size -5, temp -7, left -6"), suits: methodCells, needed: true},
		{name: "pump_outfit", words: adds("customer 2, pump 5, company 5, name 2, method -2, money -8, cost -8, hours -8, num 1, who 3, by 2, how -3"), suits: outfit, needed: true},
		{name: "hose_in", words: adds("hose 9, size 1, pump 0"), least: 6, suits: numeric(record.Inch, 2.5, 0.4), unit: record.Inch},
		{name: "mix", words: adds("mix 7, vol 1, type 1, num 1, plant 0, psi 1, name 0"), least: 5, suits: mixCells},
		{name: "mix_psi", words: adds("psi 8, mix 4, vol 1"), least: 4, suits: numeric(record.PSI, 4000, 0.3), unit: record.PSI},
		{name: "base", words: adds("base 8, type 1"), least: 5, suits: unseen},
		{name: "reinforcement", words: adds("steel 8, type 1, slab 0, size -2, spacing -3, money -8, cost -8, method 0, what 1"), suits: vocabulary3((*profile).steelShare), needed: true},
		{name: "bar", words: adds("bar-size 9, steel 4, size 5, num 1"), suits: barCells},
		{name: "bar_spacing_in", words: adds("steel 4, spacing 6, bar-size 2"), least: 8, suits: numeric(record.Inch, 18, 0.3), unit: record.Inch},
		{name: "joint_spacing_ft", words: adds("joint 7, spacing 5, size 2, saw 2, length 0, width 0, money -8, hours -8, date -8, thick -4, type -2, how 0"), suits: jointCells, unit: record.Foot, needed: true},
		{name: "joint_cut", words: adds("joint 5, type 4, method 4, saw 5, work 1"), least: 5, suits: cutCells},
		{name: "joint_depth_in", words: adds("joint 4, saw 2, thick 5"), least: 8, suits: numeric(record.Inch, 1.2, 0.4), unit: record.Inch},
		{name: "saw_hours", words: adds("saw 4, joint 2, hours 5, delay 2"), least: 8, suits: numeric(record.Hour, 12, 0.7), unit: record.Hour},
		{name: "retarder", words: adds("retard 9, mix 1, additive 2"), least: 5, suits: flagCells},
		{name: "finish", words: adds("finish 7, type 2, color 1, people -8, crew -8, hours -8, date -8, what 0, how 0"), suits: finishCells},
		{name: "curing", words: adds("cure 8, method 2, type 1"), least: 5, suits: unseen},
		{name: "air_temp_f", words: adds("temp 8, air 4, pour 0, vol -7, mix -7, weather 6, date -3, how 0, what 0"), suits: temperature(record.Fahrenheit), unit: record.Fahrenheit, needed: true},
		{name: "concrete_temp_f", words: adds("temp 5, vol 6, mix 5, air -8, truck 3, deliver 1"), least: 8, suits: temperature(record.Fahrenheit), unit: record.Fahrenheit},
		{name: "humidity_pct", words: adds("humid 9, air 0, percent 3"), least: 6, suits: numeric(record.Percent, 50, 0.6), unit: record.Percent},
		{name: "wind_mph", words: adds("wind 8"), least: 5, suits: numeric(record.MilesPerHour, 8, 0.8), unit: record.MilesPerHour},
		{name: "crew", words: adds("crew 8, name 2, pour 1, num -2, people 1, hours -8, cost -8, money -8, labor 1, work 0, who 4, by 4, customer -7, deliver -3"), suits: crewName, needed: true},
		{name: "crew_size", words: adds("people 8, crew 4, size 4, num 3, labor 2, our 0, job 0, how 0, deliver -4"), suits: headcount, needed: true},
		{name: "labor_hours", words: adds("hours 8, labor 4, people 2, crew 2, total 1, actual 2, job 0, per -7, plan -7, bid -7, budget -7, delay -8, saw -8, start -6, end -6, money -8, cost -8, pump -8, truck -6, took 3, how 0, made 0, length 0, our 0"), suits: crewHours, unit: record.Hour, needed: true},
		{name: columnHoursEach, words: adds("hours 7, per 6, people 2, labor 2, crew 1, money -9, cost -9, plan -7, bid -7"), least: 10, suits: numeric(record.Hour, 8, 0.4), unit: record.Hour},
		{name: "clogs", words: adds("clog 8, num 2, pump 1"), least: 5, suits: headcount},
		{name: "clog_min", words: adds("clog 6, minutes 4, hours 1, delay 1"), least: 8, suits: numeric(record.Minute, 20, 0.8), unit: record.Minute},
		{name: "delay_min", words: adds("delay 7, minutes 4, total 1, truck 1, plant 1"), least: 5, suits: numeric(record.Minute, 25, 0.9), unit: record.Minute},
		{name: "callback_on", words: adds("callback 7, date 3, back 2, customer 0, type -1, money -9, cost -9, num -3, found 1, who -2, what 3, our 0, made -2"), suits: callbackCells, needed: true},
		{name: "callback_kind", words: adds("callback 5, type 5, found 6, harm 6, cause 6, work 3, money -9, cost -9, date -7, what 5"), least: 5, suits: kindCells},
		{name: "callback_cost", words: adds("left 0, callback 7, cost 4, money 5, total 0, back 2, our 0, fix 0"), suits: callbackMoney, needed: true},
		{name: "site", words: adds("site 8, job 1, work 0, customer -2, name 0, who -4, made 0"), suits: streets, needed: true},
		{name: "customer", words: adds("customer 8, name 4, job 2, company 2, crew -8, contact -8, site -2, who 5, by -2, pour -2, pump -6"), suits: names, needed: true},
		{name: "bid_on", words: adds("bid 5, plan 4, quote 5, date 4, cost -9, money -9"), least: 3, suits: pourDate},
		{name: "won_on", words: adds("won 7, price 2, date 3, money -9, who -2"), least: 3, suits: pourDate},
		{name: "closed_on", words: adds("close 7, date 3, job 0, status 2, end 2"), least: 3, suits: pourDate},
		{name: "contract_price", words: adds("base 1, price 8, money 3, bid 3, quote 4, plan 1, total 2, invoice 2, customer 1, job 0, work 0, cost -7, our 0, per -9, money2 -5, callback -9, vol -5, pump -8, labor -8, steel -8, got 5, what 1, made -2, took -4, by -3"), suits: money(3500, 0.9), needed: true},
		{name: "change_orders", words: adds("change 8, money 2, extra 5, order 1, total 0, work 2, vol -8, price 0, company 3, what 0"), least: 4, suits: changes, needed: true},
		{name: "bid_cost", words: adds("cost 3, plan 5, budget 7, bid 4, quote 2, money 2, job 0, our 0, total 1, price -7, actual -7, per -9, callback -9, vol -6, labor -5, pump -7, steel -7, hours -8, what 0, took -3, how 0"), suits: money(2400, 0.9), needed: true},
		{name: "actual_cost", words: adds("cost 7, actual 4, our 3, money 2, total 2, job 0, plan -7, budget -7, bid -7, quote -7, price -6, per -9, callback -9, vol -6, labor -6, pump -7, steel -7, deliver -4, truck -6, extra -4, hours -8, took 5, what 1, how 0"), suits: money(2400, 0.9), needed: true},
		{name: "warranty_months", words: adds("months 6, callback 2, year 3"), least: 7, suits: headcount},
		{name: "note", words: adds("note 8, job 0, callback -2, extra 0, pour 0, what 0"), suits: notes, needed: true},
	},
	record.Jobs: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 4, customer -4, invoice -6, work 2, contact -9"), suits: uniqueID, needed: true},
		{name: "site", words: adds("site 8, job 1, work 0, name 0"), suits: streets},
		{name: "customer", words: adds("customer 8, who 5, name 4, job 2, contact -8"), suits: names},
		{name: "bid_on", words: adds("bid 5, plan 4, quote 5, date 4, cost -9, money -9"), least: 3, suits: pourDate},
		{name: "won_on", words: adds("won 7, price 2, date 3, money -9"), least: 3, suits: pourDate},
		{name: "closed_on", words: adds("close 7, date 3, job 0, status 2, end 2"), least: 3, suits: pourDate},
		{name: "contract_price", words: adds("price 8, money 3, bid 3, quote 4, plan 1, total 2, invoice 2, customer 1, job 0, work 0, cost -7, per -9, money2 -5"), suits: money(3500, 0.9), needed: true},
		{name: "change_orders", words: adds("change 8, money 2, extra 5, order 1, total 0"), least: 4, suits: changes},
		{name: "bid_cost", words: adds("cost 3, plan 5, budget 7, bid 4, quote 2, money 2, job 0, our 0, total 1, price -7, actual -7, per -9"), suits: money(2400, 0.9), needed: true},
		{name: "actual_cost", words: adds("cost 7, actual 4, our 3, money 2, total 2, job 0, plan -7, budget -7, bid -7, price -6, per -9"), suits: money(2400, 0.9), needed: true},
		{name: "warranty_months", words: adds("months 6, callback 2, year 3"), least: 6, suits: headcount},
		{name: "note", words: adds("note 8, job 0"), suits: notes},
	},
	record.Loads: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 3, invoice -6, ticket -7, customer 1, site 1, truck -5"), suits: repeatedID, needed: true},
		{name: "ticket_no", words: adds("ticket 7, num 3, plant 2, truck 0, deliver 1, invoice 4, job -5"), suits: uniqueID, needed: true},
		{name: "yards", words: adds("vol 7, qty 5, deliver 3, truck 2, size 1, actual 1, total 0, order -4, money -8, price -8, cost -8, per -8, ticket 0"), suits: numeric(record.CubicYard, 7, 0.6), unit: record.CubicYard, needed: true},
		{name: "batched_at", words: adds("batch 8, date 3, plant 3, hours 1, end 0, start -4"), suits: clocks},
		{name: "arrived_at", words: adds("start 6, site 5, date 2, hours 1, job 1, truck 1"), suits: clocks},
		{name: "pour_start", words: adds("pour 5, start 5, hours 1, deliver 1"), least: 5, suits: clocks},
		{name: "pour_end", words: adds("pour 5, end 6, hours 1, deliver 1"), least: 5, suits: clocks},
		{name: "day", words: adds("date 8, deliver 2, pour 2, ticket 1, batch 0"), suits: pourDate},
		{name: "slump_in", words: adds("slump 9"), least: 5, suits: numeric(record.Inch, 4.5, 0.3), unit: record.Inch},
		{name: "concrete_temp_f", words: adds("temp 6, vol 3, mix 3, air -9"), least: 5, suits: temperature(record.Fahrenheit), unit: record.Fahrenheit},
		{name: "water_added_gal", words: adds("water 9, extra 1, change 1"), least: 5, suits: numeric(record.Gallon, 8, 0.9), unit: record.Gallon},
		{name: "note", words: adds("note 8"), suits: notes},
	},
	record.Delays: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 3"), suits: repeatedID, needed: true},
		{name: "cause", words: adds("cause 7, type 5, delay 4, work 2, clog 1, what 4"), suits: vocabulary3((*profile).causeShare), needed: true},
		{name: "minutes", words: adds("minutes 7, delay 3, hours 2, end 0"), suits: numeric(record.Minute, 25, 0.9), unit: record.Minute, needed: true},
		{name: "note", words: adds("note 8"), suits: notes},
	},
	record.Labors: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 3, customer 1, site 1"), suits: repeatedID, needed: true},
		{name: "worked_on", words: adds("date 8, work 2, year 0"), suits: pourDate, needed: true},
		{name: "crew", words: adds("crew 7, who 5, name 1, people 0"), suits: crewName},
		{name: "task", words: adds("task 8, made 5, work 5, type 4, job 1, slab 0, what 5"), suits: vocabulary3((*profile).taskShare), needed: true},
		{name: "hours", words: adds("hours 8, total 1, labor 2, work 1, people 1, per -8, money -8"), suits: numeric(record.Hour, 7, 0.5), unit: record.Hour, needed: true},
		{name: "rate", words: adds("per 6, money 3, hours 3, cost 1"), least: 5, suits: money(35, 0.5)},
	},
	record.Costs: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 3, customer 2, site 1, invoice -5"), suits: repeatedID, needed: true},
		{name: "item", words: adds("type 5, work 5, cost 2, note 4, name 0, account 6, what 5"), suits: itemCells},
		{name: "planned_amount", words: adds("plan 5, budget 7, bid 5, money 3, cost 2"), least: 5, suits: money(700, 1.2)},
		{name: "actual_amount", words: adds("money 7, cost 6, total 3, price 2, actual 3, plan -7, budget -7, bid -7, per -8, money2 1, callback -8"), suits: money(700, 1.2), needed: true},
		{name: "actual_qty", words: adds("qty 8, actual 2"), least: 5, suits: numeric(nil, 10, 1.5)},
		{name: "actual_rate", words: adds("per 7, price 3, cost 2, money 2"), least: 5, suits: money(100, 1.2)},
		{name: "unit", words: adds("unit 8"), least: 5, suits: unseen},
		{name: "day", words: adds("date 8"), suits: pourDate},
		{name: "vendor", words: adds("company 8, name 3, plant 4, customer -3, deliver 2"), suits: names},
	},
	record.Visits: {
		{name: "job_no", words: adds("job 7, our 1, account 4, num 3, customer 1, site 1"), suits: repeatedID, needed: true},
		{name: "seen_on", words: adds("date 8, callback 4, found 2, close -6, start 1"), suits: pourDate, needed: true},
		{name: "finding", words: adds("found 7, type 6, callback 5, work 5, cause 5, note 3, status 1, what 6"), suits: vocabulary3((*profile).findShare), needed: true},
		{name: "cost", words: adds("cost 7, money 6, callback 4, total 1, our 1"), suits: sparseMoney(250, 1)},
		{name: "labor_hours", words: adds("hours 8, labor 2"), least: 5, suits: numeric(record.Hour, 4, 0.8), unit: record.Hour},
		{name: "resolved_on", words: adds("close 7, end 4, status 5, callback 2, date 2, start -6"), suits: closing},
		{name: "width_in", words: adds("width 7, callback 2, size 1"), least: 5, suits: numeric(record.Inch, 0.05, 1), unit: record.Inch},
		{name: "length_ft", words: adds("length 7, callback 2, size 1"), least: 5, suits: numeric(record.Foot, 5, 1), unit: record.Foot},
		{name: "note", words: adds("note 8"), suits: notes},
	},
}

// useless are the concepts that say that a column is of no use here.
var useless = adds("invoice 5, money2 7, profit 9, percent 6, contact 9, status 4, per 6, plant 3, weather 1, color 4, truck 3, slump 4, water 3, edgeft 5, unit 4, year 3, additive 3, aggregate 3, labor$ 5")

// adds reads "concept weight, concept weight".
func adds(list string) map[string]float64 {
	words := map[string]float64{}
	for _, pair := range strings.Split(list, ", ") {
		concept, weight, _ := strings.Cut(pair, " ")
		w, err := strconv.ParseFloat(weight, 64)
		if err != nil {
			panic(fmt.Sprintf("sheet: %q is no concept with its weight", pair))
		}
		words[concept] = w
	}
	return words
}
