// Package pool answers: what can a small group of records say when it borrows
// from the others? A use with four placements, a crew with ten, an outfit with
// one clog: each is drawn towards what the company as a whole has seen, the more
// so the less it has seen itself, and what comes next is given as a whole
// distribution.
//
// The engine, in the files model, sums, cell and posterior (student refits it with
// errors of heavier tails):
//
//	y_i = x_i'β + u_g(i) + e_i,  Var(e_i) = σ²(1+κh_i)/q_i,  u_g ~ N(0, r²σ²)
//	β_j ~ N(m0_j, s0_j²σ²/σ0²),  σ² ~ scaled-inverse-χ²(ν0, σ0²),
//	r ~ half-Cauchy(s_r) on a grid, κ with equal weight on its grid.
//
// Given (r, κ) all is conjugate. With W = diag(q/(1+κh)), Z = [X, groups] and
// P0 = diag(σ0²/s0², 1/r², …): A = P0+Z'WZ, m = A⁻¹(P0m0+Z'Wy), ν = ν0+n,
// S = ν0σ0²+Σwy²+m0'P0m0−m'Am, and the weight of the cell is
//
//	½Σlog P0 − ½log|A| + ½Σlog w − (ν/2)log S + log Δr − log(1+(r/s_r)²)
//
// on the log scale, Δr the trapezoid width. The next outcome is a mixture over
// the cells of Student-t(ν) laws at z'm with squared scale
// (S/ν)(1+κh+z'A⁻¹z+r²·[new group]). Sources: Box & Tiao 1973, Bayesian Inference
// in Statistical Analysis, ch. 7; Gelman 2006, Bayesian Analysis 1, 515-534;
// Morris 1983, JASA 78, 47-65; Bühlmann & Gisler 2005, A Course in Credibility
// Theory.
//
// Beside it, each in the file of its name: rates (gamma-Poisson, by maximum
// marginal likelihood, and in rategrid on a grid, with negative-binomial prediction),
// betabinomial, normal (DerSimonian-Laird, Paule-Mandel, REML) and halfcauchy
// (the same model with the between-group spread integrated out), credibility
// (Bühlmann-Straub), stein (James-Stein), oneway (random-intercept REML), anova,
// learning (Wright's curve). The closed forms and REML put the spread between few
// groups at zero too often, and then promise too much: they are checks, and their
// results say so when it happens.
//
// Assumed throughout: groups exchangeable before the data are seen, rows
// independent given their group. A crew always sent to the hard jobs is not
// exchangeable with the others, and no pooling cures that.
//
// It fits one grouping at a time; two (use and base) are given as their
// combinations. It does not choose priors: they are assumptions and come from
// the caller.
package pool
