// Package interval answers: how sure can one be of a proportion, a rate, a
// mean, a ratio or a quantile, and do two or more of them differ?
//
// # Proportions: x successes in n independent trials of one probability
//
//   - [Wilson]: (p + z²/2n ± z√(p(1−p)/n + z²/4n²))/(1 + z²/n). Wilson 1927.
//   - [ClopperPearson]: quantiles of Beta(x, n−x+1) and Beta(x+1, n−x). 1934.
//   - [Jeffreys]: quantiles of Beta(x+½, n−x+½). Brown, Cai & DasGupta 2001.
//
// # Rates: y events, Poisson over an exposure E known without error
//
//   - [Garwood]: χ²(α/2; 2y)/2E and χ²(1−α/2; 2y+2)/2E. Garwood 1936.
//
// # Measurements: values of one distribution, independent of each other
//
//   - [MeanT]: x̄ ± t s/√n. "Student" 1908. Needs a mean that is near normal.
//   - [Ratio]: ΣU/ΣV ± t √[Σ(U−rV)²/((n−1)n)]/V̄. Cochran 1977 §6.4. Biased by
//     order 1/n; needs some dozens of pairs.
//   - [Quantiles]: type 7 of Hyndman & Fan 1996, by selection.
//
// # What it does not do
//
// No method here adjusts for a third variable, for clustering of the trials
// (slabs of one job) or for a rate that drifts; no method corrects for having
// looked at many. An interval at 95 % is right nineteen times in twenty only
// if it was chosen before the data were seen.
package interval
