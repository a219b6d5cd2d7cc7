# Collects numbers under the keys that the findings give them, so that a test can hold every number of a finding to one
# of these. Only the names are shared with the package; the numbers come from the CSV files.
out <- list()
put <- function(finding, part, key, value) {
  if (is.null(out[[finding]])) out[[finding]] <<- list()
  if (is.null(out[[finding]][[part]])) out[[finding]][[part]] <<- list()
  out[[finding]][[part]][[key]] <<- value
}
ids <- function(v) length(unique(v))
# estimate, lower, upper, n, infants, events; NA of the first three: none is to be given; of the others: not compared
measure <- function(finding, key, estimate, lower = NA, upper = NA, n = NA, infants = NA, events = NA)
  put(finding, "measures", key, I(unname(c(estimate, lower, upper, n, infants, events))))
# ratio with limits from a table of terms
effects <- function(finding, prefix, terms, names = terms$name, n = NA, events = NA) for (i in seq_along(names)) if (!is.na(names[i]))
  put(finding, "effects", paste0(prefix, names[i]), I(c(exp(c(terms$coefficient[i], terms$lower[i], terms$upper[i])), n, events)))
test_of <- function(finding, key, statistic, df = NA, p) put(finding, "tests", key, I(unname(c(statistic, df, p))))
# a step function: each row holds from its time on
curve_of <- function(finding, key, time, estimate, limits, d) {
  put(finding, "curves", key, list(time = I(time), estimate = I(estimate), lower = I(limits[, 1]), upper = I(limits[, 2])))
  put(finding, "riskTables", key, d)
}
follow_up <- function(time, cause, ticks, which = 1) list(atRisk = I(sapply(ticks, function(t) sum(time >= t))), events = I(sapply(ticks, function(t) sum(time < t & cause == which))),
  censored = I(sapply(ticks, function(t) sum(time < t & cause == 0))), competing = I(sapply(ticks, function(t) sum(time < t & cause != 0 & cause != which))))
TICKS <- 7 * c(0, 2, 6, 9, 12, 16)
# the counts under a curve go on to the last week drawn
CURVE_TICKS <- c(TICKS, 7 * c(20, 24))

TERMS <- c(moderate = "band.moderate", severe = "band.severe", age4w = "age", male = "sex.male", bilateral = "bilateral", crease = "crease")
term_names <- function(v) ifelse(v %in% names(TERMS), TERMS[v], ifelse(grepl("^site_", v), sub("^site_", "site.", v), NA))

# incidence of one cause by day with limits; where `none` is given a risk of 0 has the exact upper limit of none of so many
incidence_at <- function(time, cause, cluster, days, which = 1, none = FALSE) {
  p <- incidence_parts(time, cause, which); at <- findInterval(days, p$u) + 1
  e <- c(0, p$incidence)[at]; l <- log_log(e, c(0, se_of(p$influence, cluster))[at])
  for (i in seq_along(days)) if (none && e[i] == 0) {
    known <- ids(cluster[time >= days[i] | cause != 0])
    l[i, ] <- if (known > 0) binom.test(0, known)$conf.int else NA
  }
  data.frame(estimate = e, lower = l[, 1], upper = l[, 2])
}
survival_at <- function(time, event, cluster, days) {
  k <- km_parts(time, event); at <- findInterval(days, k$u) + 1
  e <- c(1, k$S)[at]; l <- log_log(e, c(0, se_of(k$influence, cluster))[at])
  data.frame(estimate = e, lower = l[, 1], upper = l[, 2])
}
quartiles_of <- function(time, event, cluster) {
  q <- quantile(survfit(Surv(time, event) ~ 1, cluster = cluster, conf.type = "log-log"), c(0.25, 0.5, 0.75))
  data.frame(name = c("lower-quartile", "median", "upper-quartile"), estimate = unname(q$quantile), lower = unname(q$lower), upper = unname(q$upper))
}
incidence_curve <- function(finding, key, time, cause, cluster, scale = 7, ticks = CURVE_TICKS, which = 1) {
  p <- incidence_parts(time, cause, which)
  curve_of(finding, key, p$u / scale, p$incidence, log_log(p$incidence, se_of(p$influence, cluster)), follow_up(time, cause, ticks, which))
}
survival_curve <- function(finding, key, time, event, cluster, cause = event, scale = 7, ticks = CURVE_TICKS) {
  k <- km_parts(time, event)
  curve_of(finding, key, k$u / scale, k$S, log_log(k$S, se_of(k$influence, cluster)), follow_up(time, cause, ticks))
}
# score test for trend of a Cox model, variance summed by infant, with the ratio for each band further
trend_of <- function(time, event, band, cluster) {
  x <- match(band, BANDS)
  f <- coxph(Surv(time, event) ~ x, cluster = cluster, ties = "efron", control = COX)
  list(test = as.numeric(f$rscore), terms = list(name = "trend", coefficient = coef(f), lower = coef(f) - Z * sqrt(f$var[1]), upper = coef(f) + Z * sqrt(f$var[1])))
}
put_trend <- function(finding, prefix, time, event, band, cluster, with_effect = TRUE) {
  t <- trend_of(time, event, band, cluster); r <- log_rank(time, event, factor(band, BANDS), c(mild = 1, moderate = 2, severe = 3))
  test_of(finding, paste0(prefix, "trend"), t$test, 1, pchisq(t$test, 1, lower.tail = FALSE))
  test_of(finding, paste0(prefix, "log-rank-trend"), r$trend$statistic, 1, r$trend$p)
  test_of(finding, paste0(prefix, "log-rank"), r$statistic, r$df, r$p)
  if (with_effect) effects(finding, paste0(prefix, "cox."), t$terms, n = length(time), events = sum(event))
}
quarters_of <- function(v) quantile(v, c(0.25, 0.5, 0.75), names = FALSE)
population_of <- function(finding, d, left_out) put(finding, "population", "all", list(feet = nrow(d), infants = ids(d$infant_id), leftOut = left_out))
left_out_of <- function(reason, d) { k <- !is.na(reason); lapply(split(d[k], reason[k]), function(g) I(c(nrow(g), ids(g$infant_id)))) }
# why a foot has no band, by what is missing
not_banded <- function(f) ifelse(f$band == "straight", "straight at baseline", ifelse(f$band != "not known", NA, paste0("severity band not known (", ifelse(!f$has_baseline, "no baseline assessment",
  mapply(function(p, x, k) paste(c("bisector", "flexibility", "crease")[c(p, x, k)], collapse = ", "), is.na(f$position), is.na(f$flexibility), is.na(f$crease))), ifelse(f$has_baseline, " not recorded)", ")"))))
