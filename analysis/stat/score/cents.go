package score

import (
	"fmt"
	"math"
	"math/big"
	"slices"

	"pourback/analysis/stat"
)

// ExactLine is a quantity at a price, without rounding.
type ExactLine struct {
	Quantity int64 // thousandths of a unit
	Price    int64 // hundredths of a cent a unit
}

// most is the largest count of thousandths or hundredths taken, far below what
// an int64 holds, so that sums of two do not overflow.
const most = 1e15

func checkCounts(counts ...int64) error {
	for _, n := range counts {
		if n > most || n < -most {
			return fmt.Errorf("%d thousandths or hundredths, too large to keep to the cent: %w", n, stat.ErrDomain)
		}
	}
	return nil
}

// Exact turns units and dollars a unit into an [ExactLine], rounding to its
// thousandths and ten-thousandths.
func Exact(quantity, dollars float64) (ExactLine, error) {
	if err := stat.Finite("quantity and price", quantity, dollars); err != nil {
		return ExactLine{}, err
	}
	if math.Abs(quantity*1e3) > most || math.Abs(dollars*1e4) > most {
		return ExactLine{}, fmt.Errorf("quantity %v at %v, too large to keep to the cent: %w", quantity, dollars, stat.ErrDomain)
	}
	return ExactLine{int64(math.Round(quantity * 1e3)), int64(math.Round(dollars * 1e4))}, nil
}

// centParts is how many products of thousandths and hundredths make a cent.
const centParts = 1000 * 100

// product is a·b/100000 cents.
func product(quantity, price int64) *big.Rat {
	r := new(big.Rat).SetFrac(big.NewInt(quantity), big.NewInt(centParts))
	return r.Mul(r, new(big.Rat).SetInt64(price))
}

func (l ExactLine) cents() *big.Rat { return product(l.Quantity, l.Price) }

// wholeCents rounds half away from zero.
func wholeCents(r *big.Rat) (int64, error) {
	half := big.NewRat(1, 2)
	if r.Sign() < 0 {
		half.Neg(half)
	}
	n := new(big.Rat).Add(r, half)
	q := new(big.Int).Quo(n.Num(), n.Denom()) // toward zero
	return toInt64(q)
}

func toInt64(q *big.Int) (int64, error) {
	if !q.IsInt64() {
		return 0, fmt.Errorf("%v cents do not fit: %w", q, stat.ErrDomain)
	}
	return q.Int64(), nil
}

// Apportion rounds exact parts, in cents, to whole cents that add up to total:
// each is rounded down, and the cents that are missing go to the parts that
// lost most; of equals, to the first (largest remainder, Hamilton's method).
// No part moves by a cent or more. Parts that cannot add up to total in this
// way give [stat.ErrDomain].
func Apportion(total int64, parts []*big.Rat) ([]int64, error) {
	out := make([]int64, len(parts))
	lost := make([]*big.Rat, len(parts))
	order := make([]int, len(parts))
	missing := big.NewInt(total)
	for i, p := range parts {
		if p == nil {
			return nil, fmt.Errorf("part %d is missing: %w", i, stat.ErrNoData)
		}
		floor := new(big.Int).Div(p.Num(), p.Denom()) // Euclidean, the denominator is positive
		n, err := toInt64(floor)
		if err != nil {
			return nil, fmt.Errorf("part %d: %w", i, err)
		}
		out[i], order[i] = n, i
		lost[i] = new(big.Rat).Sub(p, new(big.Rat).SetInt(floor))
		missing.Sub(missing, floor)
	}
	if missing.Sign() < 0 || missing.Cmp(big.NewInt(int64(len(parts)))) > 0 {
		return nil, fmt.Errorf("%d parts rounded down leave %v of %d cents, want 0 to %d: they do not add up: %w", len(parts), missing, total, len(parts), stat.ErrDomain)
	}
	slices.SortStableFunc(order, func(a, b int) int { return lost[b].Cmp(lost[a]) })
	for _, i := range order[:missing.Int64()] {
		out[i]++
	}
	return out, nil
}
