package record

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Cents is an exact amount of money in hundredths of the currency's unit.
type Cents int64

// String writes the amount with two decimals and no sign of currency: "-12.50".
func (c Cents) String() string { return string(c.append(nil)) }

func (c Cents) append(b []byte) []byte {
	n := uint64(c)
	if c < 0 {
		b, n = append(b, '-'), uint64(-c)
	}
	b = strconv.AppendUint(b, n/100, 10)
	return append(b, '.', byte('0'+n/10%10), byte('0'+n%10))
}

// MarshalJSON writes the amount in the currency's unit, exact to the cent.
func (c Cents) MarshalJSON() ([]byte, error) { return c.append(nil), nil }

// Dollars is the amount as a fraction of the currency's unit, for statistics.
func (c Cents) Dollars() float64 { return float64(c) / 100 }

// CentsOf rounds an amount in the currency's unit to the cent, half away from
// zero. It fails on amounts that are not finite or beyond 90 trillion.
func CentsOf(amount float64) (Cents, error) {
	c := math.Round(amount * 100)
	if !(math.Abs(c) < 9e15) {
		return 0, fmt.Errorf("%v is no amount of money", amount)
	}
	return Cents(c), nil
}

// ParseCents reads the form that [Cents.String] writes, with up to two decimals.
func ParseCents(s string) (Cents, error) {
	digits := strings.TrimPrefix(s, "-")
	whole, frac, _ := strings.Cut(digits, ".")
	if whole == "" || len(frac) > 2 || strings.ContainsAny(digits, "+-") {
		return 0, fmt.Errorf("%q is no amount such as 1250.00", s)
	}
	n, err := strconv.ParseInt(whole+(frac + "00")[:2], 10, 64)
	if err != nil || n > 9e15 {
		return 0, fmt.Errorf("%q is no amount such as 1250.00", s)
	}
	if len(digits) < len(s) {
		n = -n
	}
	return Cents(n), nil
}

// TimesRate is quantity × rate, rounded to the cent.
func TimesRate(quantity float64, rate Cents) (Cents, error) {
	return CentsOf(quantity * float64(rate) / 100)
}
