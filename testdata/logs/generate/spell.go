package main

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"
)

func num(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }

// vulgar writes quarters as people do: 9 1/2, or 9½ where signs is true.
func vulgar(x float64, signs bool) string {
	whole, rest := math.Modf(x)
	part := map[float64]string{.25: "1/4", .5: "1/2", .75: "3/4"}[rest]
	if part == "" {
		return num(x)
	}
	if signs {
		part = map[float64]string{.25: "¼", .5: "½", .75: "¾"}[rest]
	} else if whole > 0 {
		part = " " + part
	}
	if whole == 0 {
		return part
	}
	return num(whole) + part
}

// trucks writes the loads as a sum: 9 + 1.5.
func trucks(loads []load) string {
	var each []string
	for _, l := range loads {
		each = append(each, num(l.yards))
	}
	return strings.Join(each, " + ")
}

// dollars writes money with a sign and commas.
func dollars(x float64) string {
	if x < 1000 {
		return "$" + num(x)
	}
	return fmt.Sprintf("$%d,%03d", int(x)/1000, int(x)%1000)
}

// halfFeet writes 4.5 as 4'6".
func halfFeet(x float64) string {
	whole, rest := math.Modf(x)
	if rest == 0 {
		return num(x) + "'"
	}
	return fmt.Sprintf(`%g'%g"`, whole, rest*12)
}

// iso is the day as a record has it.
func iso(t time.Time) string { return t.Format("2006-01-02") }

// readSteel notes what the steel is, and returns it as written; mesh written as 6x6 has that for its bar.
func (e *entry) readSteel(written string) string {
	bar := e.bar
	if strings.Contains(written, "6x6") {
		bar = "6x6"
	}
	e.read("reinforcement", e.steel)
	e.read("bar", bar)
	e.read("bar_spacing_in", e.barAt)
	return written
}

// readBack notes a callback, or that there was none.
func (e *entry) readBack() {
	if e.back == nil {
		e.read("callback_on", nil)
		e.read("callback_kind", nil)
		return
	}
	e.read("callback_on", iso(e.back.on))
	e.read("callback_kind", e.back.kind)
}

// sums adds up the slabs of jobs for a subtotal row: rows, ft², yards and contracts.
func sums(jobs []*job) (n int, area, yards, price float64) {
	for _, j := range jobs {
		if j.fate != "" {
			continue
		}
		n++
		price += j.price + j.change
		for _, s := range j.slabs {
			area += s.area()
			yards += s.delivered
		}
	}
	return n, area, yards, price
}

// byMonth parts jobs where the month changes.
func byMonth(jobs []*job) [][]*job {
	var months [][]*job
	for _, j := range jobs {
		last := len(months) - 1
		if last < 0 || months[last][0].slabs[0].day.Month() != j.slabs[0].day.Month() {
			months = append(months, nil)
			last++
		}
		months[last] = append(months[last], j)
	}
	return months
}
