// Package score answers: were the forecasts any good, could a simpler rule
// have done as well, how many of many findings are chance, and where did the
// money go?
//
// # Forecasts against what came
//
//   - [Pinball]: (y−q)(τ−1(y<q)) for a quantile. Koenker & Bassett 1978.
//   - [IntervalScore]: width + 2/α times the miss. Winkler 1972; Gneiting &
//     Raftery 2007, J. Am. Stat. Assoc. 102:359.
//   - [CRPSNormal]: σ(z(2Φ(z)−1) + 2φ(z) − 1/√π). Gneiting & Raftery 2007.
//   - [Coverage]: share of intervals that held, with Wilson limits.
//   - [Splits], [Roll]: rolling origin; every forecast is made from strictly
//     earlier periods. Tashman 2000, Int. J. Forecasting 16:437.
//   - [PairedDifference]: mean difference of two rules' losses, bootstrapped
//     by period.
//
// All scores are losses: 0 is perfect, less is better. Pinball and interval
// score are proper: the honest quantile does best on average.
//
// # Many findings
//
//   - [Bonferroni], [Holm], [Hochberg], [BenjaminiHochberg],
//     [BenjaminiYekutieli]: p-values adjusted so that those under a level may
//     be called findings. Holm 1979; Hochberg 1988; Benjamini & Hochberg 1995;
//     Benjamini & Yekutieli 2001.
//
// # Money
//
//   - [PriceUsage], [Material]: standard cost, (AP−SP)·AQ + (AQ−SQ)·SP.
//     Horngren, Datar & Rajan, Cost Accounting.
//   - [Bennet]: price ½(q₀+q₁)(p₁−p₀), quantity ½(p₀+p₁)(q₁−q₀), the latter
//     in volume and mix. Bennet 1920, J. Royal Stat. Soc. 83:455.
//   - Each in floating point, and in whole cents that add up: see [Apportion].
//
// # What it does not do
//
// It does not fit, choose or rank models; a Diebold-Mariano test is not here,
// with some dozens of placements the bootstrap by month says as much. Joint
// price and quantity effects are not a third variance: Bennet halves them, the
// standard-cost split gives them to price.
package score
