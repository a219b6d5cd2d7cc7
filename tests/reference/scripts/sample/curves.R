# Curves and their clustered standard errors: survival, cumulative incidence, state occupancy, mean cumulative count.
Z <- qnorm(0.975)

by_cluster <- function(influence, cluster) rowsum(influence, cluster)
se_of <- function(influence, cluster) sqrt(colSums(by_cluster(influence, cluster)^2))

# Kaplan-Meier with the infinitesimal-jackknife influence of each row (one column a distinct time).
km_parts <- function(time, event) {
  u <- sort(unique(time))
  at_risk <- outer(time, u, ">=")
  d_i <- outer(time, u, "==") * event
  Y <- colSums(at_risk); d <- colSums(d_i); h <- d / Y
  S <- cumprod(1 - h)
  step <- sweep(d_i, 2, Y, "/") - sweep(at_risk, 2, d / Y^2, "*")
  step <- sweep(step, 2, ifelse(h < 1, 1 - h, 1), "/")
  log_influence <- -t(apply(step, 1, cumsum))
  if (length(u) == 1) log_influence <- -matrix(step, ncol = 1)
  list(u = u, S = S, Y = Y, d = d, d_i = d_i, at_risk = at_risk, influence = sweep(log_influence, 2, S, "*"))
}

# area under a step function from 0 to tau, value v0 before the first time
widths <- function(u, tau) list(first = min(u[1], tau), rest = pmax(pmin(c(u[-1], Inf), tau) - pmin(u, tau), 0))

restricted_mean <- function(time, event, cluster, tau) {
  k <- km_parts(time, event); w <- widths(k$u, tau)
  i <- by_cluster(matrix(k$influence %*% w$rest, ncol = 1), cluster)
  list(estimate = w$first + sum(k$S * w$rest), standardError = sqrt(sum(i^2)), influence = i)
}

log_log <- function(p, se) {
  out <- cbind(p^exp(Z * se / (p * log(p))), p^exp(-Z * se / (p * log(p))))
  out <- cbind(pmin(out[, 1], out[, 2]), pmax(out[, 1], out[, 2]))
  out[!is.finite(se) | p <= 0 | p >= 1, ] <- NA
  out
}

kaplan_meier <- function(time, event, cluster, days, quantiles = TRUE) {
  if (!length(time)) return(list(n = 0))
  f <- survfit(Surv(time, event) ~ 1, cluster = cluster, conf.type = "log-log")
  s <- summary(f, times = days, extend = TRUE)
  k <- km_parts(time, event); mine <- se_of(k$influence, cluster)
  at <- findInterval(days, k$u)
  # two routes to the same standard error
  stopifnot(max(abs(c(0, mine)[at + 1] - ifelse(is.finite(s$std.err), s$std.err, 0))) < 1e-10)
  limits <- log_log(s$surv, s$std.err)
  out <- list(n = length(time), infants = length(unique(cluster)), events = sum(event), longest = max(time), day = I(days),
    survival = I(s$surv), standardError = I(s$std.err), lowerLogLog = I(limits[, 1]), upperLogLog = I(limits[, 2]),
    atRisk = I(sapply(days, function(t) sum(time >= t))), eventsBy = I(sapply(days, function(t) sum(event[time <= t]))))
  if (quantiles) {
    q <- quantile(f, c(0.25, 0.5, 0.75))
    out$quantilesDays <- list(p = I(c(0.25, 0.5, 0.75)), estimate = I(unname(q$quantile)), lower = I(unname(q$lower)), upper = I(unname(q$upper)))
  }
  out
}

# Cumulative incidence of one cause with the influence of each row. survfit of survival 3.5-3 takes no notice of cluster
# where there is more than one kind of event, so the clustered error is made from the influences here.
incidence_parts <- function(time, cause, which) {
  k <- km_parts(time, (cause != 0) * 1)
  d_i <- outer(time, k$u, "==") * (cause == which); d <- colSums(d_i)
  before <- c(1, k$S[-length(k$S)]); i_before <- cbind(0, k$influence[, -length(k$u), drop = FALSE])
  step <- sweep(i_before, 2, d / k$Y, "*") + sweep(sweep(d_i, 2, k$Y, "/") - sweep(k$at_risk, 2, d / k$Y^2, "*"), 2, before, "*")
  influence <- if (length(k$u) == 1) matrix(step, ncol = 1) else t(apply(step, 1, cumsum))
  list(u = k$u, incidence = cumsum(before * d / k$Y), influence = influence)
}

cumulative_incidence <- function(time, cause, causes, cluster, days) {
  if (!length(time)) return(list(n = 0))
  f <- survfit(Surv(time, factor(cause, c(0, causes))) ~ 1)
  s <- summary(f, times = days, extend = TRUE)
  curves <- lapply(seq_along(causes), function(j) {
    p <- incidence_parts(time, cause, causes[j]); at <- findInterval(days, p$u) + 1
    I <- c(0, p$incidence)[at]; se <- c(0, se_of(p$influence, cluster))[at]
    # without clusters, both routes give the same
    alone <- c(0, sqrt(colSums(p$influence^2)))[at]
    stopifnot(max(abs(I - s$pstate[, j + 1])) < 1e-12, max(abs(alone - s$std.err[, j + 1])) < 1e-12)
    a <- log_log(I, se); b <- 1 - log_log(1 - I, se)
    list(events = sum(cause == causes[j]), incidence = I(I), standardError = I(se), lowerLogLog = I(a[, 1]), upperLogLog = I(a[, 2]),
      lowerComplement = I(b[, 2]), upperComplement = I(b[, 1]))
  })
  names(curves) <- names(causes)
  list(n = length(time), infants = length(unique(cluster)), censored = sum(cause == 0), longest = max(time), day = I(days),
    atRisk = I(sapply(days, function(t) sum(time >= t))), causes = curves)
}

# Mean days with the event up to tau: the area under the cumulative incidence of one cause.
incidence_area <- function(time, cause, which, cluster, tau) {
  p <- incidence_parts(time, cause, which); w <- widths(p$u, tau)
  i <- by_cluster(matrix(p$influence %*% w$rest, ncol = 1), cluster)
  list(estimate = sum(p$incidence * w$rest), standardError = sqrt(sum(i^2)), influence = i)
}

# b minus a, the feet of one infant in both groups being correlated; and as if the groups were independent
difference <- function(a, b) {
  ids <- union(rownames(a$influence), rownames(b$influence))
  get <- function(x) { v <- x$influence[match(ids, rownames(x$influence)), 1]; ifelse(is.na(v), 0, v) }
  se <- sqrt(sum((get(b) - get(a))^2)); est <- b$estimate - a$estimate
  list(estimate = est, standardError = se, lower = est - Z * se, upper = est + Z * se,
    standardErrorIndependent = sqrt(a$standardError^2 + b$standardError^2))
}

# Mean cumulative count: sum over event days of events over feet still observed; robust error by cluster (Lawless and Nadeau).
mean_cumulative_count <- function(id, end, cluster, event_id, event_day, days) {
  u <- sort(unique(event_day))
  if (!length(u)) return(list(feet = length(id), events = 0, day = I(days), mean = I(rep(0, length(days))), standardError = I(rep(0, length(days)))))
  Y_i <- outer(end, u, ">=") * 1
  d_i <- matrix(0, length(id), length(u))
  at <- cbind(match(event_id, id), match(event_day, u))
  for (r in seq_len(nrow(at))) d_i[at[r, 1], at[r, 2]] <- d_i[at[r, 1], at[r, 2]] + 1
  stopifnot(all(d_i <= 9 * Y_i))
  Y <- colSums(Y_i); d <- colSums(d_i)
  step <- sweep(d_i, 2, Y, "/") - sweep(Y_i, 2, d / Y^2, "*")
  se <- sqrt(colSums(by_cluster(t(apply(step, 1, cumsum)), cluster)^2))
  if (length(u) == 1) se <- sqrt(sum(by_cluster(step, cluster)^2))
  m <- cumsum(d / Y); k <- findInterval(days, u) + 1
  list(feet = length(id), events = length(event_id), day = I(days), atRisk = I(sapply(days, function(t) sum(end >= t))),
    mean = I(c(0, m)[k]), standardError = I(c(0, se)[k]))
}

rate_per_100 <- function(events, days) {
  w <- days / 7
  list(events = events, footWeeks = w, per100 = if (w > 0) 100 * events / w else NA,
    lower = if (w > 0) { if (events == 0) 0 else 100 * qchisq(0.025, 2 * events) / 2 / w } else NA,
    upper = if (w > 0) 100 * qchisq(0.975, 2 * events + 2) / 2 / w else NA)
}
