# Severity and total duration: from first fitting to the end of therapy by finishing.
DURATION <- c(finished = 1, referred = 2, withdrawn = 3)

duration_results <- function(cohort, plan) {
  f <- copy(cohort$feet)
  f[, done := (reason == "finished") * 1]
  f[, why := fcase(reason == "finished", 1, reason %in% c("referred for casting", "referred for surgery"), 2, reason == "withdrawn", 3, default = 0)]
  d <- f[band %in% BANDS]; days <- days_of(c(8, 12, 16, 20, 26))
  one <- function(g) list(kaplanMeier = kaplan_meier(g$last, g$done, g$infant_id, days), incidence = cumulative_incidence(g$last, g$why, DURATION, g$infant_id, days))
  out <- list(feet = nrow(d), infants = length(unique(d$infant_id)), reasons = { t <- table(d$reason); setNames(as.vector(t), names(t)) },
    everyFoot = one(f), banded = one(d), byBand = by_band(d, one),
    logRank = log_rank(d$last, d$done, factor(d$band, BANDS), c(mild = 1, moderate = 2, severe = 3)))
  z <- d[done == 1]; score <- match(z$band, BANDS)
  s <- suppressWarnings(cor.test(z$last, score, method = "spearman", exact = FALSE))
  out$amongFinished <- list(n = nrow(z), byBand = by_band(z, function(g) five(g$last)), jonckheereTerpstra = jonckheere(z$last, z$band, BANDS),
    spearman = list(rho = unname(s$estimate), p = s$p.value, note = "p from t with n - 2 degrees of freedom"))
  X <- design(d); whole <- complete.cases(X) & d$last > 0; k <- d$last > 0; crude <- c("moderate", "severe"); y <- Surv(d$last, d$done)
  out$leftOutForTimeZero <- sum(!k); out$leftOutOfAdjusted <- sum(!whole)
  out$cox <- list(crude = cox(y[k], X[k, crude], d$infant_id[k]), adjusted = cox(y[whole], X[whole, ], d$infant_id[whole]))
  out$acceleratedFailure <- lapply(c(weibull = "weibull", `log-normal` = "lognormal", `log-logistic` = "loglogistic"), function(dist) list(
    crude = accelerated(y[k], X[k, crude], d$infant_id[k], dist), adjusted = accelerated(y[whole], X[whole, ], d$infant_id[whole], dist)))
  out
}
