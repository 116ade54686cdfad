package say

import (
	"math"

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

// PerArea shows costs of an area, which are in the currency per ft².
func (a *Voice) PerArea() Measure {
	return Measure{Factor: 1 / a.Units.Area.Factor, Sign: a.Sign(), Digits: Cents}
}

// Amount is money with so many decimals.
func (a *Voice) Amount(v float64, decimals int) string { return a.Number(a.Cash(), v, decimals) }
