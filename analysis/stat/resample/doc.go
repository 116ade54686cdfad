// Package resample answers: how far might this answer have been off, had the
// company met other jobs than it did? It draws the data anew, many times, and
// looks at how the answer moves.
//
// # Methods
//
//   - [Bootstrap]: n units drawn with replacement from n, B times; the answer
//     from each draw. Units are rows, or clusters of rows (the slabs of one
//     job) where rows of a cluster go together. Efron 1979; Davison & Hinkley
//     1997 §3.8.
//   - [Sample.Percentile]: the (1−level)/2 and (1+level)/2 quantiles of the
//     draws, type 7. Efron & Tibshirani 1993 §13.3.
//   - [Sample.BCa]: the same at Φ(z0 + (z0+z)/(1−a(z0+z))), with
//     z0 = Φ⁻¹(share of draws below the estimate) and a the skewness of the
//     jackknife over 6. Efron 1987, J. Am. Stat. Assoc. 82:171.
//   - [Jackknife]: each unit left out once; SE² = (n−1)/n·Σ(θᵢ−θ̄)².
//     Quenouille 1956; Tukey 1958.
//   - [MonteCarlo]: draws of a model, in parallel.
//
// # Assumptions
//
// Units are independent and of one kind, and there are enough of them: with
// under some twenty units, or an answer that jumps (a maximum, a rate of a
// thing never seen), no resampling helps. Limits are approximate.
//
// # Randomness
//
// Nothing here reads a clock or a global source. Replicate b draws from a
// stream of its own, made from the seed and b, so that a seed gives the same
// figures on one core as on sixty-four.
//
// # What it does not do
//
// No parametric, wild or block bootstrap, no studentised limits, no permutation
// tests; no correction for having chosen the model by looking.
package resample
