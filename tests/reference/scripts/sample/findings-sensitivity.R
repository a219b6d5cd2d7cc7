# The headline numbers with one setting changed at a time.
HEADLINE <- c("correction", "relapse", "adherence")
headline_of <- function(x, plan, touched = HEADLINE, keep = function(feet) rep(TRUE, nrow(feet))) {
  cohort <- build_cohort(x, plan); cohort <- only(cohort, cohort$feet$episode_id[keep(cohort$feet)])
  out <- list(); add <- function(key, v) out[[key]] <<- I(unname(c(v, rep(NA, 3 - length(v)))))
  if ("correction" %in% touched) {
    d <- cohort$feet[band %in% BANDS]
    for (b in BANDS) { g <- d[band == b]; i <- incidence_at(g$time, g$cause, g$infant_id, 56); add(paste0("corrected.week8.", b), unlist(i)) }
    for (b in BANDS) { g <- d[band == b]; q <- quartiles_of(g$time, (g$cause == 1) * 1, g$infant_id)[2, ]; add(paste0("median.", b), c(q$estimate, q$lower, q$upper) / 7) }
    t <- trend_of(d$time, (d$cause == 1) * 1, d$band, d$infant_id)$terms; add("cox.trend", exp(c(t$coefficient, t$lower, t$upper)))
  }
  if ("relapse" %in% touched) for (s in list(c(24, 15), c(15, 12), c(12, 0))) {
    g <- cohort$steps[before == s[1] & after == s[2] & time > 0]; i <- incidence_at(g$time, g$cause, g$infant_id, 84)
    add(paste0("risk.week12.", s[1], " to ", if (s[2] == 0) "none" else s[2], ".all"), unlist(i))
  }
  if ("adherence" %in% touched) {
    a <- adherence_of_feet(cohort, adherence_days(x, cohort, plan), plan); l <- a[!is.na(lapse)]
    i <- incidence_at(l$lapse_time, l$lapse, l$infant_id, 56); add("lapsed.week8", unlist(i))
    add("days-covered", sum(a$covered) / sum(a$with_data))
  }
  out
}
only <- function(cohort, episodes) lapply(cohort, function(d) d[episode_id %in% episodes])

sensitivity_finding <- function(x, plan) {
  F <- "sensitivity"
  variants <- list(
    main = list(list(), HEADLINE), `scheme-web` = list(list(scheme = "web"), "correction"), `bisector-alone` = list(list(rule = "bisector alone"), "correction"),
    `flexibility-alone` = list(list(rule = "flexibility alone"), "correction"), confirmed = list(list(confirmed = TRUE), "correction"),
    `missing-days` = list(list(missing_days = "not worn"), "adherence"), feet = list(list(use = "one per infant"), HEADLINE), `follow-up` = list(list(), HEADLINE))
  early <- x$episodes$episode_id[x$episodes$start + 42 <= x$cutOff]
  for (v in names(variants)) put(F, "columns", v, headline_of(x, modifyList(plan, variants[[v]][[1]]), variants[[v]][[2]],
    if (v == "follow-up") function(f) f$episode_id %in% early else function(f) rep(TRUE, nrow(f))))
  for (key in names(out[[F]]$columns$main)) { v <- out[[F]]$columns$main[[key]]; measure(F, key, v[1], v[2], v[3]) }
  # correction between checkups: Turnbull's share and median; the trend from a Weibull model of the intervals
  d <- build_cohort(x, plan)$feet[band %in% BANDS]; between <- list()
  for (b in BANDS) { g <- d[band == b]; t <- turnbull(g$lower, g$upper, 56); k <- which(cumsum(t$mass) >= 0.5 - 1e-12)[1]
    between[[paste0("corrected.week8.", b)]] <- I(c(t$incidenceLeast, NA, NA)); between[[paste0("median.", b)]] <- I(c(NA, t$left[k], t$right[k]) / 7) }
  h <- d[d$lower > 0 | is.finite(d$upper)]; s <- match(h$band, BANDS)
  y <- Surv(ifelse(h$lower == 0, NA, h$lower), ifelse(is.finite(h$upper), h$upper, NA), type = "interval2")
  f <- survreg(y ~ s, dist = "weibull", cluster = h$infant_id, control = AFT, x = TRUE)
  # the hazard ratio is exp(-b / scale); delta method on its log
  b <- unname(coef(f)[2]); g <- c(0, -1 / f$scale, b / f$scale); se <- sqrt(drop(g %*% interval_variance(f, y, h$infant_id) %*% g))
  between$cox.trend <- I(exp(-b / f$scale + c(0, -Z, Z) * se))
  put(F, "columns", "interval-censored", between)
  population_of(F, build_cohort(x, plan)$feet, list())
}
