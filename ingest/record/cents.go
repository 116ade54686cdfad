package record

import (
	"fmt"
	"math"
	"math/big"
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
// zero: by the decimal number that the amount is written as, so that 1.005,
// which no float is, gives 1.01. It fails on amounts that are not finite or
// beyond 90 trillion.
func CentsOf(amount float64) (Cents, error) { return centsOf(amount, 100) }

// centsOf is amount × factor, half away from zero. Only where the float lies so
// near a half that its last bits decide is its shortest decimal text asked.
func centsOf(amount, factor float64) (Cents, error) {
	v := amount * factor
	if !(math.Abs(v) < mostCents) {
		return 0, fmt.Errorf("%v is no amount of money", amount*factor/100)
	}
	if half := math.Abs(v - math.Trunc(v)); math.Abs(half-0.5) > 1e-9+1e-15*math.Abs(v) {
		return Cents(math.Round(v)), nil
	}
	c, _, err := CentsOfDecimal(strconv.FormatFloat(amount, 'f', -1, 64), int64(factor))
	return c, err
}

// mostCents is beyond any amount of money: 90 trillion.
const mostCents = 9e15

// CentsOfDecimal is a decimal number in Go's syntax, times a whole number,
// rounded to a whole one, half away from zero. exact says that there was
// nothing to round.
func CentsOfDecimal(text string, times int64) (c Cents, exact bool, err error) {
	v, ok := new(big.Rat), len(text) <= mostFigures
	if ok {
		v, ok = v.SetString(text)
	}
	if !ok {
		return 0, false, fmt.Errorf("%.40q is no amount of money", text)
	}
	v.Mul(v, new(big.Rat).SetInt64(times))
	twice := new(big.Int).Lsh(new(big.Int).Abs(v.Num()), 1)
	n := twice.Add(twice, v.Denom()).Div(twice, new(big.Int).Lsh(v.Denom(), 1)) // ⌊|v| + ½⌋
	if n.BitLen() > 53 || n.Int64() >= mostCents {
		return 0, false, fmt.Errorf("%.40q is no amount of money", text)
	}
	return Cents(n.Int64() * int64(v.Sign())), v.IsInt(), nil
}

// mostFigures bounds the work of reading a number in full.
const mostFigures = 400

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

// TimesRate is quantity × rate, rounded to the cent, half away from zero by the
// decimal number that the quantity is written as.
func TimesRate(quantity float64, rate Cents) (Cents, error) { return centsOf(quantity, float64(rate)) }

// askedAbove is the amount, in the currency's unit, from which on a small crew's
// job is more likely to have a slip of a digit than to cost that much (common
// practice, no published source).
const askedAbove = 10e6

// init has amounts of money beyond that asked about, in every column of them.
func init() {
	for _, t := range Tables {
		for i := range t.Columns {
			if c := &t.Columns[i]; c.Kind == KindMoney && c.Soft == (Range{}) {
				c.Soft = Range{Max: Some(askedAbove)}
			}
		}
	}
}
