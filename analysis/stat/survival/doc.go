// Package survival answers: what is the risk of a callback by a given age,
// when most slabs are still young; how do arms differ in it; and how much is to
// be set aside for callbacks still to come?
//
//	question                             method                      formula
//	risk by an age                       KaplanMeier, KM.Risk        1 − Π(1 − d/n), Greenwood, log-log limits
//	do arms share one hazard             LogRankTest                 Σ(O − E), hypergeometric variance
//	difference and ratio of rates        MantelHaenszelRate…         w = T₁T₀/T (Greenland & Robins 1985)
//	odds, risks of a full year           MantelHaenszelOR, RR, RD    RBG 1986; Greenland-Robins; Sato 1989; CMHTest
//	hazard ratios, covariates            FitCox                      partial likelihood (Cox 1972), Efron or Breslow ties
//	   few events, arms without any      CoxOptions.Firth, Priors    ℓ + ½log|I|; ℓ − ½(c'β−m)²/τ²; Cox.Profile
//	   rows of a job go together         CoxData.Cluster             Σ u_c u_c' (Lin & Wei 1989)
//	   risks as if all were in one arm   Cox.StandardisedRisk        mean of 1 − exp(−H₀e^{x(a)'β})
//	   does the ratio hold at all ages   Cox.PropHazTest             Grambsch & Therneau 1994
//	still to come for young slabs        KM.RemainingRisk, Reserve   (S(a) − S(H))/S(a)
//	times known between two visits       TurnbullNPMLE               Σ log P, Kuhn-Tucker certificate
//	   do groups share one hazard        IntervalLogRankTest         scores of Finkelstein 1986, permutation of clusters
//	   hazard ratios                     FitGrouped                  cloglog by stretch (Prentice & Gloeckler 1978)
//	   a constant rate                   IntervalRate                Σ log(e^−λL − e^−λR), profile limits
//
// Assumptions: follow-up ends for reasons that have nothing to do with the
// event about to come; there is one kind of event, others censor; rows are
// independent, unless clusters say which are not. Hazard ratios assume that
// the ratio is the same at all ages.
//
// An event at the horizon counts. Times are at least 0 in any one unit; whole
// days are counted in O(n), other times sorted. Many rows are worked on in a
// fixed number of parts, so that no answer depends on the machine.
//
// Primary sources: Kaplan & Meier 1958, J. Am. Stat. Assoc. 53; Greenwood 1926;
// Mantel 1966, Cancer Chemother. Rep. 50; Mantel & Haenszel 1959, J. Natl.
// Cancer Inst. 22; Greenland & Robins 1985, Biometrics 41; Cox 1972, J. R.
// Stat. Soc. B 34; Efron 1977, J. Am. Stat. Assoc. 72; Heinze & Schemper 2001,
// Biometrics 57; Therneau & Grambsch 2000, Modeling Survival Data; Turnbull
// 1976, J. R. Stat. Soc. B 38. Reference values were made with R survival,
// coxphf and metafor.
//
// What it does not do: competing risks, left truncation, covariates that
// change over time, frailty, limits for a standardised risk (fit again to
// resampled weights, see [Cox.Refit]), or limits for interval-censored times.
// It does not know that a callback is not a crack, nor that calls bunch at the
// end of a warranty.
package survival
