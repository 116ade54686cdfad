// Package regress answers: how does an outcome move with what is known about
// a placement, and what may the next placement bring?
//
// Outcomes and their models, each in the file of its name:
//
//   - wls: y = x'β + e, Var(e) = σ²/w. Weighted least squares by Householder QR;
//     R'Rβ = X'Wy, Cov(β) = σ²(X'WX)⁻¹, σ² = Σw·r²/(n−p) (Searle 1971, Linear
//     Models). predict: t_{n−p} quantiles of a next outcome, the lognormal mean
//     exp(x'β+σ²/2) and Duan's smearing mean (Duan 1983, JASA 78, 605-610).
//   - glm: binomial outcomes on the logit scale and Poisson counts with an
//     exposure, by iteratively reweighted least squares (Nelder & Wedderburn
//     1972; McCullagh & Nelder 1989). φ = Σ(y−μ)²/V(μ)/(n−p) is Pearson's
//     dispersion; quasi standard errors are √φ times the model's.
//   - standardise: the mean risk if every placement had been of one kind, and
//     its contrast with the other kind, with delta-method errors (Lane & Nelder
//     1982, Biometrics 38, 613-621).
//   - firth: logistic regression maximising ℓ(β)+½log|X'WX|, finite where
//     maximum likelihood is not (Firth 1993, Biometrika 80, 27-38; Heinze &
//     Schemper 2002, Statistics in Medicine 21, 2409-2419).
//   - robust: Student-t errors by EM with weights (ν+1)/(ν+r²/s²) (Lange, Little
//     & Taylor 1989, JASA 84, 881-896) and Huber's M-estimate with the median
//     absolute residual as scale (Huber 1981, Robust Statistics).
//   - varfun: restricted maximum likelihood of a variance that changes with size,
//     σ²(1+κh) or σ²v^{2d} (Patterson & Thompson 1971; Pinheiro & Bates 2000).
//   - student, tolerance: the t distribution to twelve digits, and the one-sided
//     normal tolerance factor by the noncentral t (Hahn & Meeker 1991).
//
// Assumed throughout: rows independent given their columns, the columns the
// right ones in the right form. Rows that share a job or a crew are not
// independent; package pool is for those.
//
// A model that the data cannot fit is an error that says why: [stat.ErrSeparated]
// when some combination of columns predicts the outcome perfectly (with the
// columns named), [stat.ErrCollinear] when a column is a combination of those
// before it, [stat.ErrNoEvents] when there is nothing to count.
//
// It does not select variables, does not impute, and does not adjust p-values
// for how many models were tried.
package regress
