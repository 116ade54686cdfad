package sheet

import (
	"fmt"
	"testing"
)

// TestAmountsOfFormulas: what floating-point numbers add to an amount is nothing to
// say, and real fractions of a cent are said once for each column. An amount that is
// not quantity × rate to the cent still stands out.
func TestAmountsOfFormulas(t *testing.T) {
	rows := [][]any{{"job_no", "item", "actual_qty", "actual_rate", "actual_amount"}}
	for i := range 40 {
		qty, rate := 7.25+float64(i)/3, 41.75/3
		rows = append(rows, []any{fmt.Sprint("J-", i), "labor", qty, rate, qty * rate})
		rows = append(rows, []any{fmt.Sprint("J-", i), "concrete", 9.7, 165.3, 9.7*165.3 + 0.1 + 0.2 - 0.3})
	}
	rows = append(rows, []any{"J-50", "pump", 2, 100, 205}, []any{"J-51", "pump", 2.5, 41.75 / 3, 36})
	book := makeWorkbook(t, "costs", rows, nil)
	g := read(t, "costs.xlsx", string(book), Options{})
	equal(t, "rows with something to say", g.said, `costs.xlsx, costs, row 82, actual_amount "205": not quantity × rate; that gives 200.00`,
		`costs.xlsx, costs, row 83, actual_amount "36": not quantity × rate; that gives 34.80`)
	var said []string
	for _, p := range g.Problems {
		said = append(said, p.String())
	}
	equal(t, "of the table", said, "costs.xlsx, costs, actual_rate: finer than a cent in 41 rows; read to the nearest cent", "costs.xlsx, costs, actual_amount: finer than a cent in 40 rows; read to the nearest cent")
}
