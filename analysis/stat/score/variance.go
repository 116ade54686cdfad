package score

import (
	"math/big"

	"pourback/analysis/stat"
)

// Line is a quantity at a price.
type Line struct{ Quantity, Price float64 }

// Variance is actual less standard cost in its two parts; above 0 is
// unfavourable.
type Variance struct{ Price, Usage, Total float64 }

// PriceUsage splits actual less standard cost: (AP−SP)·AQ for the price (of
// labor, the rate) and (AQ−SQ)·SP for the usage (the efficiency).
//
// Source: Horngren, Datar & Rajan, Cost Accounting, ch. 7.
func PriceUsage(actual, standard Line) (Variance, error) {
	v := Variance{
		Price: (actual.Price - standard.Price) * actual.Quantity,
		Usage: (actual.Quantity - standard.Quantity) * standard.Price,
	}
	v.Total = v.Price + v.Usage
	return v, stat.Finite("price, usage and total", v.Price, v.Usage, v.Total)
}

// VarianceCents is a [Variance] in whole cents that add up.
type VarianceCents struct{ Price, Usage, Total int64 }

// PriceUsageCents is [PriceUsage] to the cent: Total is the rounded actual less
// the rounded standard cost, and the parts add up to it.
func PriceUsageCents(actual, standard ExactLine) (VarianceCents, error) {
	if err := checkCounts(actual.Quantity, actual.Price, standard.Quantity, standard.Price); err != nil {
		return VarianceCents{}, err
	}
	total, err := changeInCents(standard.cents(), actual.cents())
	if err != nil {
		return VarianceCents{}, err
	}
	parts, err := Apportion(total, []*big.Rat{
		product(actual.Quantity, actual.Price-standard.Price),
		product(actual.Quantity-standard.Quantity, standard.Price),
	})
	if err != nil {
		return VarianceCents{}, err
	}
	return VarianceCents{Price: parts[0], Usage: parts[1], Total: total}, nil
}

// changeInCents is the change between two amounts as the books show it, each
// rounded to the cent.
func changeInCents(before, after *big.Rat) (int64, error) {
	b, err := wholeCents(before)
	if err != nil {
		return 0, err
	}
	a, err := wholeCents(after)
	if err != nil {
		return 0, err
	}
	return toInt64(new(big.Int).Sub(big.NewInt(a), big.NewInt(b)))
}

// Material is the concrete of a job. The quantities lead from what the price
// was made for to what was paid for.
type Material struct {
	Planned   int64 // thousandths of a yd³: the standard quantity, as drawn
	Built     int64 // the standard quantity at the geometry that was built
	Used      int64 // what went in
	Delivered int64 // what was paid for; less Used it is the leftover

	StandardPrice int64 // hundredths of a cent a yd³
	ActualPrice   int64
}

// MaterialVariance is actual less standard cost in whole cents that add up;
// above 0 is unfavourable.
type MaterialVariance struct {
	Price    int64 // (AP−SP)·Delivered
	Geometry int64 // (Built−Planned)·SP
	Use      int64 // (Used−Built)·SP
	Leftover int64 // (Delivered−Used)·SP
	Total    int64
}

// Variance splits the usage part of [PriceUsageCents] by cause: the geometry
// built, use at that geometry, and leftover.
func (m Material) Variance() (MaterialVariance, error) {
	if err := checkCounts(m.Planned, m.Built, m.Used, m.Delivered, m.StandardPrice, m.ActualPrice); err != nil {
		return MaterialVariance{}, err
	}
	total, err := changeInCents(product(m.Planned, m.StandardPrice), product(m.Delivered, m.ActualPrice))
	if err != nil {
		return MaterialVariance{}, err
	}
	parts, err := Apportion(total, []*big.Rat{
		product(m.Delivered, m.ActualPrice-m.StandardPrice),
		product(m.Built-m.Planned, m.StandardPrice),
		product(m.Used-m.Built, m.StandardPrice),
		product(m.Delivered-m.Used, m.StandardPrice),
	})
	if err != nil {
		return MaterialVariance{}, err
	}
	return MaterialVariance{Price: parts[0], Geometry: parts[1], Use: parts[2], Leftover: parts[3], Total: total}, nil
}
