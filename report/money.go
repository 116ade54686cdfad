package report

import (
	"math"
	"strconv"

	"pourback/ingest/record"
)

// sign stands before amounts of money.
func (a *voice) sign() string {
	if len([]rune(a.currency)) > 1 {
		return a.currency + " "
	}
	return a.currency
}

// money writes an amount in whole units of the currency: "$84,200".
func (a *voice) money(c record.Cents) string { return a.at(a.cash(), math.Round(c.Dollars())) }

// cash shows sums of money that were booked.
func (a *voice) cash() measure { return measure{factor: 1, sign: a.sign(), digits: round} }

// about shows estimates of money, which are good to two figures.
func (a *voice) about() measure { return measure{factor: 1, sign: a.sign(), digits: rough} }

// dollars is a bare estimate of money in a sentence.
func (a *voice) dollars(v float64) string { return a.at(a.about(), v) }

// perArea shows costs of an area, which are in the currency per ft².
func (a *voice) perArea() measure {
	return measure{factor: 1 / a.units.area.factor, sign: a.sign(), digits: cents}
}

// amount is money with so many decimals.
func (a *voice) amount(v float64, decimals int) string { return a.number(a.cash(), v, decimals) }

// gained says what an amount did to the margin: "$658 lost" or "$120 gained".
func (a *voice) gained(dollars float64) string {
	if dollars < 0 {
		return a.at(a.cash(), -dollars) + " lost"
	}
	return a.at(a.cash(), dollars) + " gained"
}

// centsOf is a margin in percent as cents of each dollar: "23 cents".
func (a *voice) centsOf(pct float64) string {
	n := int(math.Round(math.Abs(pct)))
	if a.currency != "$" {
		return strconv.Itoa(n) + "%"
	}
	return plural(n, "cent")
}

// centsApart is how far two margins in percent lie apart: "4 cents".
func (a *voice) centsApart(gap float64) string {
	n := int(math.Round(math.Abs(gap)))
	if a.currency != "$" {
		return plural(n, "point")
	}
	return plural(n, "cent")
}

// ofEach is what the cents are of.
func (a *voice) ofEach() string {
	if a.currency != "$" {
		return "of its revenue"
	}
	return "of each dollar"
}
