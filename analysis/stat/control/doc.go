// Package control answers: did something change, or is this month only as
// different from the last as months always are?
//
//   - [XmR], for one measurement a period: with mR̄ the mean of |xᵢ − xᵢ₋₁|,
//     x̄ ± 3 mR̄/1.128, in round numbers x̄ ± 2.66 mR̄, "worth a look"; and, for
//     limits that rest on few points, x̄ ± t(.99865; .62(m−1)) √(1+1/m) mR̄/1.128,
//     "a real change". Shewhart 1931; Wheeler & Chambers 1992.
//   - [P], for x of n: p̄ ± 3√(p̄(1−p̄)/n), and binomial tails. Shewhart 1931.
//   - [U], for counts over an exposure: ū ± 3√(ū/n), and Poisson tails.
//   - both with the correction of Laney (2002) for counts that vary more, or
//     less, than the binomial and the Poisson allow.
//   - [RareEvents], for the time or volume between events: an XmR chart of
//     x^(1/3.6), and exponential tails. Nelson 1994.
//
// # Assumptions
//
// Points come in order of time, each on its own but for the change sought;
// those of the base, from which the limits come, are of one process. Every
// chart needs [MinPoints] points in its base, and run rules [MinRunPoints].
//
// # What it does not do
//
// No chart tells why. None here allows for a trend, a season or dependence of
// one point on the last. With 12 points in the base the 2.66 limits give a
// false signal in about one of six following years, the strict limit in one of
// sixty. The base is taken as given: points of it that signal are not dropped.
package control
