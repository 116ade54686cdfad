package report

import (
	"math"
	"strconv"

	"pourback/analysis/figure"
	"pourback/ingest/record"
)

// sign stands before amounts of money.
func (a *author) sign() string {
	if len([]rune(a.currency)) > 1 {
		return a.currency + " "
	}
	return a.currency
}

// money writes an amount in whole units of the currency: "$84,200".
func (a *author) money(c record.Cents) string { return a.cash().at(math.Round(c.Dollars())) }

func (a *author) moneyCell(c record.Cents) Cell { return Cell{Text: a.money(c), Value: c.String()} }

// cash shows sums of money that were booked.
func (a *author) cash() measure { return measure{factor: 1, sign: a.sign(), digits: round} }

// about shows estimates of money, which are good to two figures.
func (a *author) about() measure { return measure{factor: 1, sign: a.sign(), digits: rough} }

// dollars is a bare estimate of money in a sentence.
func (a *author) dollars(v float64) string { return a.about().at(v) }

// perArea shows costs of an area, which are in the currency per ft².
func (a *author) perArea() measure {
	return measure{factor: 1 / a.units.area.factor, sign: a.sign(), digits: cents}
}

// sumCell is a figure of money that was booked.
func (a *author) sumCell(f figure.Figure) Cell { return a.cash().cell(f) }

// moneyFigure is an amount with its range: "$5,710 (5,200 to 6,300)".
func (a *author) moneyFigure(f figure.Figure, decimals int) Cell {
	c := Cell{Text: a.amount(f.Value, decimals), Value: strconv.FormatFloat(f.Value, 'g', -1, 64)}
	if f.Bounded && !math.IsInf(f.Low, 0) && !math.IsInf(f.High, 0) {
		c.Text += " (" + grouped(f.Low, decimals) + " to " + grouped(f.High, decimals) + ")"
	}
	return c
}

// amount is money with so many decimals.
func (a *author) amount(v float64, decimals int) string { return a.cash().number(v, decimals) }

// gained says what an amount did to the margin: "$658 lost" or "$120 gained".
func (a *author) gained(dollars float64) string {
	if dollars < 0 {
		return a.cash().at(-dollars) + " lost"
	}
	return a.cash().at(dollars) + " gained"
}

// centsOf is a margin in percent as cents of each dollar: "23 cents".
func (a *author) centsOf(pct float64) string {
	n := int(math.Round(math.Abs(pct)))
	if a.currency != "$" {
		return strconv.Itoa(n) + "%"
	}
	return plural(n, "cent")
}

// centsApart is how far two margins in percent lie apart: "4 cents".
func (a *author) centsApart(gap float64) string {
	n := int(math.Round(math.Abs(gap)))
	if a.currency != "$" {
		return plural(n, "point")
	}
	return plural(n, "cent")
}

// ofEach is what the cents are of.
func (a *author) ofEach() string {
	if a.currency != "$" {
		return "of its revenue"
	}
	return "of each dollar"
}
