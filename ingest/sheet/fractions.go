package sheet

import (
	"fmt"
	"math/big"
	"slices"
	"strconv"
	"strings"

	"pourback/ingest/record"
)

// fractions counts, column by column, the amounts that were finer than a cent:
// formulas make whole columns of them, and a row with one is no row to look at.
type fractions struct {
	table   *Table
	columns []string
	counted map[string]int
}

// gather takes such amounts out of the problems of rows on their way to yield.
func (f *fractions) gather(yield func([]*Row, error) bool) func([]*Row, error) bool {
	return func(block []*Row, err error) bool {
		for _, row := range block {
			f.look(row)
		}
		return yield(block, err)
	}
}

func (f *fractions) look(row *Row) {
	if !slices.ContainsFunc(row.Problems, f.isFraction) {
		return
	}
	row.Problems = slices.DeleteFunc(row.Problems, func(p record.Problem) bool { return p.Code == codeUnlikeProduct && f.isProduct(row, p) })
	row.Problems = slices.DeleteFunc(row.Problems, func(p record.Problem) bool {
		is := f.isFraction(p)
		if is {
			if f.counted[p.Column] == 0 {
				f.columns = append(f.columns, p.Column)
			}
			f.counted[p.Column]++
		}
		return is
	})
}

// isFraction says whether a problem is that an amount was finer than a cent.
func (f *fractions) isFraction(p record.Problem) bool {
	c := f.table.Records.Column(p.Column)
	return p.Code == codeRounded && c != nil && c.Kind == record.KindMoney
}

// codeUnlikeProduct is the rule of [record.Cost] about quantity × rate.
const codeUnlikeProduct = "amount-unlike-product"

// isProduct says whether an amount that is not quantity × rate to the cent is so
// with the rate as it was written, finer than a cent.
func (f *fractions) isProduct(row *Row, p record.Problem) bool {
	c, ok := row.Record.(*record.Cost)
	if !ok {
		return false
	}
	qty, amount, column := c.ActualQty, c.ActualAmount, "actual_rate"
	if p.Column == "planned_amount" {
		qty, amount, column = c.PlannedQty, c.PlannedAmount, "planned_rate"
	}
	i := slices.IndexFunc(row.Problems, func(p record.Problem) bool { return p.Column == column && f.isFraction(p) })
	if i < 0 {
		return false
	}
	rate, ok := exactAmount(row.Problems[i].Value, f.table.layout.habit)
	times, ok2 := new(big.Rat).SetString(strconv.FormatFloat(qty.V, 'f', -1, 64))
	if !ok || !ok2 {
		return false
	}
	product, _, err := record.CentsOfDecimal(times.Mul(times, rate).FloatString(12), 100)
	return err == nil && product == amount.V
}

// say says once for each column what was rounded.
func (f *fractions) say() {
	for _, column := range f.columns {
		rows := "1 row"
		if n := f.counted[column]; n > 1 {
			rows = fmt.Sprintf("%d rows", n)
		}
		f.table.say(record.Problem{Severity: record.Warning, Code: codeRounded, Column: column, Wrong: "finer than a cent in " + rows, Right: "read to the nearest cent"})
	}
}

// exactAmount is an amount as it is written, however fine.
func exactAmount(text string, h habit) (*big.Rat, bool) {
	s, negative := cutMoneySigns(plainSigns(text))
	n, _, ok := scanFigures(s, h)
	if !ok || len(n.text) > 60 {
		return nil, false
	}
	v, ok := new(big.Rat).SetString(withoutNoise(n.text))
	if ok && negative {
		v.Neg(v)
	}
	return v, ok
}

// withoutNoise is a number in Go's syntax without what floating-point numbers add
// to sums and products of decimal ones: 123.45000000000002 is 123.45. Only numbers
// of 15 to 17 figures, as spreadsheets write those, are taken for such.
func withoutNoise(text string) string {
	figures, _, _ := strings.Cut(strings.ToLower(text), "e")
	figures = strings.TrimLeft(strings.Replace(figures, ".", "", 1), "+-0")
	if len(figures) < 15 || len(figures) > 17 {
		return text
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(v, 'f', finest, 64)
}

// finest are the decimals of the currency's unit beyond which there is only noise:
// of a sum below ten million its 17 figures end there.
const finest = 8
