package score

import (
	"fmt"
	"math/big"

	"pourback/analysis/stat"
)

// Change is what moved an amount from one month to the next.
type Change struct {
	Price    float64
	Quantity float64 // Volume + Mix
	Volume   float64 // more or less of everything
	Mix      float64 // more of one thing than of another
	Total    float64
}

// Bennet splits Σp₁q₁ − Σp₀q₀ over things that occur in both lists at the same
// place:
//
//	price    Σ ½(q₀+q₁)(p₁−p₀)
//	quantity Σ ½(p₀+p₁)(q₁−q₀), of which
//	volume   (Q₁−Q₀)·½(P₀+P₁), Q = Σq, P = Σpq/Q the mean price
//	mix      the rest
//
// Units must be of one kind for Q to have a meaning. When one of the months
// has no quantity at all there is no mean price, and the quantity effect is
// all volume.
//
// Source: Bennet (1920), J. Royal Stat. Soc. 83:455; Diewert (2005).
func Bennet(before, after []Line) (Change, error) {
	if err := checkLines(len(before), len(after)); err != nil {
		return Change{}, err
	}
	var c Change
	var q0, q1, r0, r1 float64
	for i, b := range before {
		a := after[i]
		c.Price += (b.Quantity + a.Quantity) / 2 * (a.Price - b.Price)
		c.Quantity += (b.Price + a.Price) / 2 * (a.Quantity - b.Quantity)
		q0, q1 = q0+b.Quantity, q1+a.Quantity
		r0, r1 = r0+b.Quantity*b.Price, r1+a.Quantity*a.Price
	}
	c.Volume = c.Quantity
	if q0 != 0 && q1 != 0 {
		c.Volume = (q1 - q0) * (r0/q0 + r1/q1) / 2
	}
	c.Mix, c.Total = c.Quantity-c.Volume, c.Price+c.Quantity
	return c, stat.Finite("price, volume and mix", c.Price, c.Volume, c.Mix)
}

// ChangeCents is a [Change] in whole cents that add up.
type ChangeCents struct{ Price, Volume, Mix, Total int64 }

// BennetCents is [Bennet] to the cent: Total is the rounded later less the
// rounded earlier amount, and the parts add up to it.
func BennetCents(before, after []ExactLine) (ChangeCents, error) {
	if err := checkLines(len(before), len(after)); err != nil {
		return ChangeCents{}, err
	}
	half := big.NewRat(1, 2)
	price, quantity := new(big.Rat), new(big.Rat)
	r0, r1, q0, q1 := new(big.Rat), new(big.Rat), new(big.Rat), new(big.Rat)
	for i, b := range before {
		a := after[i]
		if err := checkCounts(b.Quantity, b.Price, a.Quantity, a.Price); err != nil {
			return ChangeCents{}, fmt.Errorf("thing %d: %w", i, err)
		}
		price.Add(price, product(b.Quantity+a.Quantity, a.Price-b.Price))
		quantity.Add(quantity, product(a.Quantity-b.Quantity, b.Price+a.Price))
		r0.Add(r0, b.cents())
		r1.Add(r1, a.cents())
		q0.Add(q0, new(big.Rat).SetInt64(b.Quantity))
		q1.Add(q1, new(big.Rat).SetInt64(a.Quantity))
	}
	price.Mul(price, half)
	quantity.Mul(quantity, half)
	volume := new(big.Rat).Set(quantity)
	if q0.Sign() != 0 && q1.Sign() != 0 {
		mean := new(big.Rat).Quo(r0, q0)
		mean.Add(mean, new(big.Rat).Quo(r1, q1)).Mul(mean, half)
		volume.Sub(q1, q0).Mul(volume, mean)
	}
	total, err := changeInCents(r0, r1)
	if err != nil {
		return ChangeCents{}, err
	}
	parts, err := Apportion(total, []*big.Rat{price, volume, quantity.Sub(quantity, volume)})
	if err != nil {
		return ChangeCents{}, err
	}
	return ChangeCents{Price: parts[0], Volume: parts[1], Mix: parts[2], Total: total}, nil
}

func checkLines(before, after int) error {
	if before != after {
		return fmt.Errorf("%d things before and %d after: %w", before, after, stat.ErrShape)
	}
	if before == 0 {
		return fmt.Errorf("nothing to compare: %w", stat.ErrNoData)
	}
	return nil
}
