# The same methods in R, on rows like those of the Go benchmarks. Prints one
# line a job: name, rows, best of three in seconds.
suppressPackageStartupMessages({library(survival); library(data.table); library(lme4)})
best <- function(job, n, f, times = 3) {
  t <- min(sapply(seq_len(times), function(i) { gc(FALSE); system.time(f())[["elapsed"]] }))
  cat(sprintf("%-38s %9d %10.4f\n", job, n, t))
}
set.seed(5)
n <- 1e6
x <- cbind(matrix(rnorm(4 * n), n), rbinom(n, 1, .5))
follow <- ceiling(2922 * (n - seq_len(n)) / n) + 1
t <- ceiling(14610 * (rexp(n) * exp(-x %*% c(.25, .1, -.15, .08, -.45)))^(1 / 1.3))
time <- pmin(t, follow); event <- as.integer(t <= follow); group <- sample(4, n, TRUE)
y <- Surv(time, event)
best("Kaplan-Meier, survfit", n, function() survfit(y ~ 1))
best("Kaplan-Meier of 4 groups, survfit", n, function() survfit(y ~ group))
best("Cox, Efron, 5 covariates, coxph.fit", n, function() coxph.fit(x, y, NULL, NULL, NULL, coxph.control(), NULL, "efron", NULL))
d <- data.table(ratio = rnorm(n, .08, .06), kind = sample(12, n, TRUE))
best("quantiles of 12 groups, data.table", n, function() d[, as.list(quantile(ratio, c(.1, .5, .9), names = FALSE)), keyby = kind])
for (m in c(1e3, 1e5, 1e6)) {
  g <- data.frame(y = rnorm(m, .08, .05), use = factor(sample(30, m, TRUE)), h = 1 / runif(m, 1, 30))
  best("random intercept, lmer REML", m, function() suppressMessages(lmer(y ~ h + (1 | use), g, REML = TRUE)), if (m > 1e5) 1 else 3)
}
b <- data.frame(ev = rbinom(1000, 1, .25), tr = rbinom(1000, 1, .5), matrix(rnorm(5000), 1000))
X <- model.matrix(ev ~ ., b); X1 <- X0 <- X; X1[, "tr"] <- 1; X0[, "tr"] <- 0
best("bootstrap of a risk difference, glm.fit", 1000, function() for (i in 1:2000) {
  w <- tabulate(sample(1000, 1000, TRUE), 1000)
  f <- suppressWarnings(glm.fit(X, b$ev, weights = w, family = binomial()))$coefficients
  sum(w * (plogis(X1 %*% f) - plogis(X0 %*% f))) / 1000
}, 1)
