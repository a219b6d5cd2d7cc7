# Time to correction: every number of the finding, on both scales of time.
correction_finding <- function(cohort, days) {
  F <- "time-to-correction"
  d <- cohort$feet[band %in% BANDS]
  population_of(F, d, left_out_of(not_banded(cohort$feet), cohort$feet))
  weeks <- c(6, 8, 12, 16)
  for (b in BANDS) {
    g <- d[band == b]; n <- nrow(g); N <- ids(g$infant_id); e <- (g$cause == 1) * 1; E <- sum(e)
    measure(F, paste0("feet.", b), n, infants = N)
    for (k in 0:4) measure(F, paste0(c("censored", names(CORRECTION))[k + 1], ".", b), sum(g$cause == k), infants = ids(g$infant_id[g$cause == k]))
    q <- quartiles_of(g$time, e, g$infant_id)
    for (i in 1:3) measure(F, paste0(q$name[i], ".", b), q$estimate[i] / 7, q$lower[i] / 7, q$upper[i] / 7, n, N, E)
    inc <- incidence_at(g$time, g$cause, g$infant_id, 7 * weeks); s <- survival_at(g$time, e, g$infant_id, 7 * weeks)
    t <- turnbull(g$lower, g$upper, 7 * weeks)
    says <- g$lower > 0 | is.finite(g$upper); h <- g[says]
    y <- Surv(ifelse(h$lower == 0, NA, h$lower), ifelse(is.finite(h$upper), h$upper, NA), type = "interval2")
    w <- survreg(y ~ 1, dist = "weibull", cluster = h$infant_id, control = AFT)
    mu <- unname(coef(w)); sigma <- w$scale; V <- interval_variance(w, y, h$infant_id)
    for (i in seq_along(weeks)) {
      at <- paste0(".week", weeks[i], ".", b)
      measure(F, paste0("corrected", at), inc$estimate[i], inc$lower[i], inc$upper[i], n, N)
      measure(F, paste0("visit-dated", at), 1 - s$estimate[i], 1 - s$upper[i], 1 - s$lower[i], n, N, E)
      measure(F, paste0("interval-censored.at-least", at), t$incidenceLeast[i], n = n, infants = N, events = E)
      measure(F, paste0("interval-censored.at-most", at), t$incidenceMost[i], n = n, infants = N, events = E)
      # limits on the scale of the log cumulative hazard, by the delta method
      z <- (log(7 * weeks[i]) - mu) / sigma; grad <- c(-1 / sigma, -z); half <- Z * sqrt(drop(grad %*% V %*% grad))
      measure(F, paste0("weibull", at), 1 - exp(-exp(z)), 1 - exp(-exp(z - half)), 1 - exp(-exp(z + half)), n, N, E)
    }
    put(F, "dating", b, list(left = I(t$left), right = I(t$right), mass = I(t$mass), weibull = I(1 - exp(-exp((log(7 * 0:24) - mu) / sigma)))))
    done <- cumsum(t$mass); k <- which(done >= 0.5 - 1e-12)[1]
    measure(F, paste0("interval-censored.at-least.median.", b), t$left[k] / 7, n = n, infants = N, events = E)
    measure(F, paste0("interval-censored.at-most.median.", b), t$right[k] / 7, n = n, infants = N, events = E)
    grad <- c(1, sigma * log(log(2))); half <- Z * sqrt(drop(grad %*% V %*% grad)); middle <- mu + sigma * log(log(2))
    measure(F, paste0("weibull.median.", b), exp(middle) / 7, exp(middle - half) / 7, exp(middle + half) / 7, n, N, E)
    incidence_curve(F, paste0("incidence.", b), g$time, g$cause, g$infant_id)
    survival_curve(F, paste0("visit-dated.", b), g$time, e, g$infant_id, g$cause)
  }
  means <- lapply(setNames(BANDS, BANDS), function(b) { g <- d[band == b]; restricted_mean(g$time, (g$cause == 1) * 1, g$infant_id, 112) })
  for (b in BANDS) { g <- d[band == b]; m <- means[[b]]
    measure(F, paste0("restricted-mean.", b), m$estimate / 7, (m$estimate - Z * m$standardError) / 7, (m$estimate + Z * m$standardError) / 7, nrow(g), ids(g$infant_id), sum(g$cause == 1)) }
  for (pair in list(c("mild", "moderate"), c("mild", "severe"), c("moderate", "severe"))) {
    # feet of one infant in both bands are correlated
    x <- difference(means[[pair[1]]], means[[pair[2]]]); g <- d[band %in% pair]
    measure(F, paste0("restricted-mean-difference.", pair[2], "-", pair[1]), x$estimate / 7, x$lower / 7, x$upper / 7, nrow(g), ids(g$infant_id), sum(g$cause == 1))
  }
  models <- function(d, prefix, with_fine_gray) {
    e <- (d$cause == 1) * 1; X <- design(d); whole <- complete.cases(X); crude <- c("moderate", "severe")
    put_trend(F, prefix, d$time, e, d$band, d$infant_id)
    for (m in c("crude", "adjusted")) {
      k <- if (m == "crude") rep(TRUE, nrow(d)) else whole; columns <- if (m == "crude") crude else names(X)
      c <- cox(Surv(d$time, e)[k], X[k, columns], d$infant_id[k], ph = FALSE)
      effects(F, paste0(prefix, "cox.", m, "."), c$terms, term_names(c$terms$name), c$n, c$events)
      if (!with_fine_gray) next
      g <- fine_gray_terms(d$time[k], d$cause[k], X[k, columns], d$infant_id[k])
      effects(F, paste0(prefix, "fine-gray.", m, "."), g, term_names(g$name), sum(k), sum(e[k]))
    }
  }
  models(d, "", TRUE)
  # Hours worn: the mean of the days with a row, for every adherence day up to correction or the end of observation
  by <- split(days, factor(days$episode_id, d$episode_id))
  hours <- mapply(function(w, until) { v <- w$worn[w$day <= until]; if (all(is.na(v))) NA_real_ else mean(v, na.rm = TRUE) * length(v) }, by, d$time)
  d[, hours := hours]
  dose <- d[!is.na(hours)]; dose[, time := hours]
  put(F, "dose", "feet", nrow(dose))
  for (b in BANDS) {
    g <- dose[band == b]; e <- (g$cause == 1) * 1; n <- nrow(g); N <- ids(g$infant_id)
    q <- quartiles_of(g$time, e, g$infant_id)
    for (i in 1:3) measure(F, paste0("dose.", q$name[i], ".", b), q$estimate[i] / 100, q$lower[i] / 100, q$upper[i] / 100, n, N, sum(e))
    inc <- incidence_at(g$time, g$cause, g$infant_id, c(500, 1000, 1500))
    for (i in 1:3) measure(F, paste0("dose.corrected.hours", c(500, 1000, 1500)[i], ".", b), inc$estimate[i], inc$lower[i], inc$upper[i], n, N)
    incidence_curve(F, paste0("dose.", b), g$time, g$cause, g$infant_id, 100, 100 * seq(0, 60, 4))
  }
  models(dose, "dose.", FALSE)
}

# Feet like this one: by band, alone and by age group
feet_like_finding <- function(cohort) {
  F <- "feet-like-this-one"
  d <- cohort$feet[band %in% BANDS]
  population_of(F, d, left_out_of(not_banded(cohort$feet), cohort$feet))
  d[, group := ifelse(age < 91, "under 13 weeks", ifelse(age < 182, "13 to under 26 weeks", "26 weeks and more"))]
  for (b in BANDS) for (a in c("", "under 13 weeks", "13 to under 26 weeks", "26 weeks and more")) {
    g <- d[band == b & (a == "" | group == a)]; key <- paste0(b, if (a != "") paste0(".", a)); n <- nrow(g); N <- ids(g$infant_id)
    measure(F, paste0("feet.", key), n, infants = N)
    if (n < 10) next
    inc <- incidence_at(g$time, g$cause, g$infant_id, c(42, 56, 84, 112))
    for (i in 1:4) measure(F, paste0("corrected.week", c(6, 8, 12, 16)[i], ".", key), inc$estimate[i], inc$lower[i], inc$upper[i], n, N, sum(g$cause == 1))
    done <- (g$reason == "finished") * 1; q <- quartiles_of(g$last, done, g$infant_id)
    for (i in 1:3) measure(F, paste0("duration.", q$name[i], ".", key), q$estimate[i] / 7, q$lower[i] / 7, q$upper[i] / 7, n, N, sum(done))
  }
}
