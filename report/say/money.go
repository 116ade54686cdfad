package say

import (
	"math"
	"strconv"

	"pourback/ingest/record"
)

// Sign stands before amounts of money.
func (a *Voice) Sign() string {
	if len([]rune(a.Currency)) > 1 {
		return a.Currency + " "
	}
	return a.Currency
}

// Money writes an amount in whole units of the currency: "$84,200".
func (a *Voice) Money(c record.Cents) string { return a.At(a.Cash(), math.Round(c.Dollars())) }

// Cash shows sums of money that were booked.
func (a *Voice) Cash() Measure { return Measure{Factor: 1, Sign: a.Sign(), Digits: Round} }

// About shows estimates of money, which are good to two figures.
func (a *Voice) About() Measure { return Measure{Factor: 1, Sign: a.Sign(), Digits: rough} }

// Estimate is a bare estimate of money in a sentence.
func (a *Voice) Estimate(v float64) string { return a.At(a.About(), v) }

// PerArea shows costs of an area, which are in the currency per ft².
func (a *Voice) PerArea() Measure {
	return Measure{Factor: 1 / a.Units.Area.Factor, Sign: a.Sign(), Digits: Cents}
}

// Amount is money with so many decimals.
func (a *Voice) Amount(v float64, decimals int) string { return a.Number(a.Cash(), v, decimals) }

// Gained says what an amount did to the margin: "$658 lost" or "$120 gained".
func (a *Voice) Gained(dollars float64) string {
	if dollars < 0 {
		return a.At(a.Cash(), -dollars) + " lost"
	}
	return a.At(a.Cash(), dollars) + " gained"
}

// CentsOf is a margin in percent as cents of each dollar: "23 cents".
func (a *Voice) CentsOf(pct float64) string {
	n := int(math.Round(math.Abs(pct)))
	if a.Currency != "$" {
		return strconv.Itoa(n) + "%"
	}
	return Plural(n, "cent")
}

// CentsApart is how far two margins in percent lie apart: "4 cents".
func (a *Voice) CentsApart(gap float64) string {
	n := int(math.Round(math.Abs(gap)))
	if a.Currency != "$" {
		return Plural(n, "point")
	}
	return Plural(n, "cent")
}

// OfEach is what the cents are of.
func (a *Voice) OfEach() string {
	if a.Currency != "$" {
		return "of its revenue"
	}
	return "of each dollar"
}
