# Makes turnbull.csv: the nonparametric maximum likelihood estimate for the
# breast-retraction data of Finkelstein & Wolfe (1985, Biometrics 41, 933-945)
# as shipped with the R package KMsurv 0.1-5 (bcdeter; Klein & Moeschberger
# 1997, section 1.18), by npsurv 0.5-0 (constrained Newton method, Wang 2008,
# Computational Statistics & Data Analysis 52, 2388-2402), held against
# survfit(Surv(type = "interval2")) of survival 3.5-3. R 4.2.2.
#
# kind "row": one interval (lower, upper], upper Inf where not seen by then.
# kind "mass": one innermost interval with its mass; kind "loglik": in mass.
suppressMessages({library(survival); library(KMsurv); library(npsurv)})
data(bcdeter)
out <- NULL
for (arm in 1:2) {
  d <- bcdeter[bcdeter$treat == arm, ]
  right <- ifelse(is.na(d$upper), Inf, d$upper)
  fit <- npsurv(cbind(d$lower, right), tol = 1e-14)
  keep <- fit$f$p > 1e-10
  out <- rbind(out,
    data.frame(arm, kind = "row", lower = d$lower, upper = right, mass = NA),
    data.frame(arm, kind = "mass", lower = fit$f$left[keep], upper = fit$f$right[keep], mass = fit$f$p[keep]),
    data.frame(arm, kind = "loglik", lower = NA, upper = NA, mass = fit$ll))
  other <- survfit(Surv(d$lower, d$upper, type = "interval2") ~ 1) # puts mass in the middle, by EM steps to about 1e-3
  for (j in which(keep)) {
    ours <- 1 - sum(fit$f$p[fit$f$right <= fit$f$right[j]])
    theirs <- summary(other, times = (fit$f$left[j] + fit$f$right[j]) / 2)$surv
    stopifnot(abs(ours - theirs) < 2e-3)
  }
}
out$mass <- ifelse(is.na(out$mass), "", formatC(out$mass, digits = 12, format = "g"))
write.csv(out, "turnbull.csv", row.names = FALSE, quote = FALSE, na = "")
