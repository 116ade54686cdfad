// Package interval answers: how sure can one be of a proportion, a rate, a
// mean, a ratio or a quantile, and do two or more of them differ?
//
// # A proportion: x of n independent trials of one probability
//
//   - [Wilson]: (p + z²/2n ± z√(p(1−p)/n + z²/4n²))/(1 + z²/n). Wilson 1927.
//   - [ClopperPearson]: quantiles of Beta(x, n−x+1), Beta(x+1, n−x); never
//     covers less than its level. Clopper & Pearson 1934.
//   - [Jeffreys]: quantiles of Beta(x+½, n−x+½). Brown, Cai & DasGupta 2001.
//
// # Two proportions, watched over one same length of time
//
//   - [Newcombe]: difference, the Wilson limits joined by squares. 1998.
//   - [MiettinenNurminen]: difference, by inverting the score test. 1985.
//   - [RiskRatio]: by inverting the score test. Koopman 1984.
//   - [OddsRatio]: exact, given the margins. Cornfield 1956.
//   - [Fisher]: exact test, Σ of probabilities not above the observed. 1935.
//
// # A rate: y events, Poisson over an exposure E known without error
//
//   - [Garwood]: χ²(α/2; 2y)/2E and χ²(1−α/2; 2y+2)/2E. Garwood 1936.
//   - [CompareRates]: y₁ given y₁+y₂ is binomial. Przyborowski & Wilenski 1940.
//   - [EqualRates]: X² = Σ(y−e)²/e, exact by going through all ways to share
//     the events, up to [MaxTables] of them. Cochran 1952.
//
// # Measurements: independent values of one distribution
//
//   - [MeanT]: x̄ ± t s/√n. "Student" 1908. Needs a mean that is near normal.
//   - [Ratio]: ΣU/ΣV ± t √[Σ(U−rV)²/((n−1)n)]/V̄. Cochran 1977 §6.4. Biased by
//     order 1/n; needs some dozens of pairs. A past average, no order rule:
//     part of an overage is fixed yards, so the next job's ratio depends on its
//     size. [MeanOfRatios] and [MeanLogRatio] weigh small jobs like large.
//   - [Quantiles], [GroupQuantiles]: type 7 of Hyndman & Fan 1996.
//   - [QuantileInterval]: between order statistics. Conover 1999 §3.2.
//   - [ConformalUpper]: bound on the next value. Vovk et al. 2005.
//   - [HurdleLognormal]: some values 0, the others lognormal; mean
//     p·exp(μ+s²/2), Cox's interval. Zhou & Gao 1997.
//
// [EValue] tells how strong an unmeasured cause would have to be to explain a
// ratio away (VanderWeele & Ding 2017), and [StudentQuantile] serves all that
// needs a t.
//
// # What it does not do
//
// No method here adjusts for a third variable, for trials that go together
// (slabs of one job), for a rate that drifts or that varies more than Poisson,
// or for having looked at many comparisons. A p-value is neither the
// probability that there is no difference nor the size of one. An interval at
// 95 % is right nineteen times in twenty only if the question was chosen
// before the data were seen.
//
// The exact limits rest on gonum's integrals: good to 1e-9 for counts up to a
// million. Levels above 1 − 2e-6 are refused.
package interval
