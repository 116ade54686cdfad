package say

import "math"

// Dollars is an estimate of money in a sentence, rounded as in a table, so that no
// amount stands in two ways on one page: "$85", "$1,200", "$17,000".
func (v *Voice) Dollars(amount float64) string { return v.At(v.About(), amount) }

// Asked is a price, to the next 25.
func (v *Voice) Asked(price float64) string { return v.Exactly(math.Round(price/25) * 25) }

// Exactly is an amount in whole units of the currency.
func (v *Voice) Exactly(amount float64) string { return v.Number(v.Cash(), amount, 0) }

// UpTo says how far an amount may reach: a range that begins at next to nothing
// is said by its end alone.
func (v *Voice) UpTo(low, high float64) string {
	if low < high/20 {
		return v.say("could be anywhere from nothing to {high}", with{"high": v.Dollars(high)})
	}
	return v.between(v.Dollars(low), v.Dollars(high))
}

// Sure says a probability in words: sure over 95 in 100, likely from 80, leaning
// from 65, else a toss-up.
func (v *Voice) Sure(p float64) string {
	switch {
	case p > 0.95:
		return v.text("sure")
	case p >= 0.80:
		return v.text("likely")
	case p >= 0.65:
		return v.text("leaning that way")
	}
	return v.text("a toss-up")
}
