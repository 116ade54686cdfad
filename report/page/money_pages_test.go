package page

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"pourback/analysis"
	"pourback/ingest/record"
	"pourback/report/internal/trial"
	"pourback/report/say"
)

func tableWith(t testing.TB, p Page, caption string) *Table {
	t.Helper()
	for _, e := range p.Exhibits {
		if e.Table != nil && strings.HasPrefix(e.Table.Caption, caption) {
			return e.Table
		}
	}
	t.Fatalf("%s has no table %q", p.Slug, caption)
	return nil
}

func amountOf(t testing.TB, c say.Cell) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(c.Value, 64)
	if err != nil {
		t.Fatalf("%q holds %q", c.Text, c.Value)
	}
	return v
}

// The lines of cost add up, to the cent, to what the bridge says of the
// month without what is paid for change orders.
func TestLinesOfCostAddUp(t *testing.T) {
	f := trial.CompanyFactors(t)
	p := pageOf(t, Pages(f, Options{}), "month")
	rows := tableWith(t, p, "Cost against bid by cost line").Rows
	sum, extra := 0.0, 0.0
	for _, row := range rows[:len(rows)-1] {
		if row[0].Text == "Work added after signing" {
			extra = amountOf(t, row[1])
		}
		sum += amountOf(t, row[1])
	}
	all := amountOf(t, rows[len(rows)-1][1])
	bridge := tableWith(t, p, "From bid to earned").Rows
	against := amountOf(t, bridge[len(bridge)-1][1])
	for _, row := range bridge {
		if row[0].Text == "Change orders" { // what the customer paid for is no line of cost
			against -= amountOf(t, row[1]) - extra // the step holds what it cost against its pay
		}
	}
	if math.Abs(sum-all) > 0.005 || math.Abs(all-against) > 0.005 {
		t.Errorf("the lines add up to %.2f, all is %.2f, the bridge says %.2f", sum, all, against)
	}
}

func TestRecordsAreGroupedAndCapped(t *testing.T) {
	var checks []record.Problem
	for kind := range mostChecked + 3 {
		for i := range 2*mostOfKind - kind {
			checks = append(checks, record.Problem{Code: fmt.Sprintf("odd-%02d", kind), Column: "area_sqft", Record: fmt.Sprintf("J-%d %d", kind, i), Wrong: "is odd"})
		}
	}
	f := &analysis.Factors{Placements: 1000, Jobs: 900, Checks: checks}
	p := NewAuthor(f, Options{}).records()
	if n := len(p.Exhibits); n != 1+mostChecked {
		t.Fatalf("%d exhibits", n)
	}
	if rows := p.Exhibits[0].Table.Rows; len(rows) != mostChecked+3 || rows[0][2].Text != say.Count(2*mostOfKind) {
		t.Errorf("%d kinds, the commonest %q times", len(rows), rows[0][2].Text)
	}
	first := p.Exhibits[1].Table
	if len(first.Rows) != mostOfKind || first.More != fmt.Sprintf("And %d more of %d: fix these first.", mostOfKind, 2*mostOfKind) || !strings.Contains(first.Caption, "20 records") {
		t.Errorf("%d rows, %q, %q", len(first.Rows), first.Caption, first.More)
	}
	if !strings.Contains(strings.Join(p.Notes, " "), "3 rarer kinds are only counted.") {
		t.Errorf("%q", p.Notes)
	}
	one := NewAuthor(&analysis.Factors{Placements: 1, Jobs: 1, Checks: checks[:1]}, Options{}).records()
	if want := "1 record deserves a look. It counts in the figures as it stands."; one.Answer != want {
		t.Errorf("%q", one.Answer)
	}
	out := []record.Problem{{Job: "J-12", Record: "J-12 A", Column: "delivered_yd", Value: "1100"}, {Job: "J-3", Record: "job J-3", Column: "contract_price", Value: "745000.00"}}
	left := NewAuthor(&analysis.Factors{Placements: 1, Jobs: 1, Checks: out, LeftOut: out}, Options{}).records()
	const want = "J-12 A, concrete delivered: 1100 cannot be: left out until you correct it or say it is right (pourback fix J-12/A delivered_yd=1100). " +
		"job J-3, price as signed: 745000.00 cannot be: left out until you correct it or say it is right (pourback fix J-3 contract_price=745000.00). 2 records deserve a look. All other values count as they stand."
	if left.Answer != want {
		t.Errorf("%q", left.Answer)
	}
}

// Whatever the month, other currencies and units than dollars and yards say no
// dollar and no cent.
func TestOtherCurrencies(t *testing.T) {
	f := trial.CompanyFactors(t)
	for _, p := range Pages(f, Options{Currency: "€", Units: "si"}) {
		for _, w := range face(p) {
			if strings.Contains(w, "$") || regexp.MustCompile(`\bcents?\b`).MatchString(w) {
				t.Errorf("%s: %q", p.Slug, w)
			}
		}
	}
}
