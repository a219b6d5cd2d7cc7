# Relapse, adherence, skin, phase occupancy and agreement: the numbers at the keys of the findings.
log_limits <- function(m, se) if (m > 0) m * exp(c(-1, 1) * Z * se / m) else c(NA, NA)
count_measures <- function(F, group, unit_days, id, end, cluster, event_id, event_day) {
  k <- mean_cumulative_count(id, end, cluster, event_id, event_day, unit_days)
  for (i in seq_along(unit_days)) { l <- log_limits(k$mean[i], k$standardError[i]); measure(F, paste0("meanCount.week", unit_days[i] / 7, ".", group), k$mean[i], l[1], l[2], length(id), ids(cluster), length(event_id)) }
  all <- sort(unique(event_day)); if (!length(all)) return()
  full <- mean_cumulative_count(id, end, cluster, event_id, event_day, all)
  put(F, "meanCounts", group, list(time = I(all / 7), mean = full$mean, standardError = full$standardError))
}
rate_measure <- function(F, key, e, days, n = NA, infants = NA) { r <- rate_per_100(e, days); measure(F, key, r$per100, r$lower, r$upper, n, infants, e) }

relapse_finding <- function(cohort) {
  F <- "relapse-after-step-down"; s <- copy(cohort$steps)
  s[, name := paste(before, "to", ifelse(after == 0, "none", after))]
  rows <- cohort$rows; spells <- copy(cohort$spells)[order(episode_id, day)]
  spells[, longer := hours > shift(hours), by = episode_id]
  s[, worse := mapply(function(id, on, r) any(rows$position[rows$episode_id == id & rows$day == on] >= r + 0.5, na.rm = TRUE), episode_id, day + time, reference)]
  s[, back := paste(episode_id, day + time) %in% spells[longer %in% TRUE, paste(episode_id, day)]]
  stopifnot(all(s[cause == 1, worse | back]))
  s[, sign := ifelse(cause != 1, "", ifelse(worse & back, "both", ifelse(worse, "bisector worse", "longer hours")))]
  for (step in c("24 to 15", "15 to 12", "12 to none", "any step-down")) for (b in c("all", BANDS)) {
    g <- s[(step == "any step-down" | name == step) & (b == "all" | band == b)]; f <- g[time > 0]; key <- paste0(".", step, ".", b)
    n <- nrow(f); N <- ids(f$infant_id); E <- sum(f$cause == 1)
    of <- function(what, k) measure(F, paste0(what, key), sum(k), infants = ids(g$infant_id[k]))
    of("stepDowns", rep(TRUE, nrow(g))); of("followed", g$time > 0); of("notSeenAfter", g$state == "not seen after the end"); of("noReference", is.na(g$reference))
    of("relapses", g$cause == 1); for (v in c("bisector worse", "longer hours", "both")) of(paste("sign", v), g$sign == v)
    of("ended as censored", g$time > 0 & g$cause == 0); of("ended as next step-down", g$cause == 2); of("ended as left therapy", g$cause == 3)
    i <- incidence_at(f$time, f$cause, f$infant_id, c(21, 42, 84), none = TRUE)
    for (w in 1:3) measure(F, paste0("risk.week", c(3, 6, 12)[w], key), i$estimate[w], i$lower[w], i$upper[w], n, N, E)
    measure(F, paste0("footWeeks", key), sum(f$time) / 7); rate_measure(F, paste0("rate", key), E, sum(f$time), n, N)
    if (b == "all" && step != "any step-down") incidence_curve(F, paste0("risk.", step), f$time, f$cause, f$infant_id, ticks = 7 * c(0, 3, 6, 12))
  }
  feet <- cohort$feet; risk_end <- s[, .(end = max(day + time)), by = episode_id]
  end <- pmax(feet$last, risk_end$end[match(feet$episode_id, risk_end$episode_id)], na.rm = TRUE); r <- s[cause == 1]
  for (b in c("all", BANDS)) { k <- b == "all" | feet$band == b; q <- r[episode_id %in% feet$episode_id[k]]
    count_measures(F, b, 7 * c(6, 12, 16, 24), feet$episode_id[k], end[k], feet$infant_id[k], q$episode_id, q$day + q$time) }
  # feet without a step-down that was followed, by why; a foot with several reasons stands under the first of this order
  followed <- s[time > 0, unique(episode_id)]; rest <- s[!episode_id %in% followed]
  why <- rest[, .(reason = if (any(state == "not seen after the end")) "not seen after the end of therapy" else "no time at risk after the step-down"), by = episode_id]
  r <- ifelse(!feet$episode_id %in% s$episode_id, "no step-down", why$reason[match(feet$episode_id, why$episode_id)]); population_of(F, feet[episode_id %in% followed], left_out_of(r, feet))
}

adherence_finding <- function(x, cohort, days, a, sp) {
  F <- "adherence"
  population_of(F, a[with_data > 0], list(`no wear data` = I(c(sum(a$with_data == 0), ids(a$infant_id[a$with_data == 0])))))
  groups <- c(list(all = a), setNames(lapply(BANDS, function(b) a[band == b]), BANDS), setNames(lapply(c(24, 15, 12), function(h) sp[hours == h]), paste(c(24, 15, 12), "hours")))
  for (name in names(groups)) for (outcome in c("lapse", "discontinuation")) {
    g <- groups[[name]]; v <- if (outcome == "lapse") data.table(time = g$lapse_time, event = g$lapse, infant = g$infant_id) else data.table(time = g$stop_time, event = g$stop, infant = g$infant_id)
    v <- v[!is.na(event)]; key <- paste0(".", outcome, ".", name); n <- nrow(v); N <- ids(v$infant); E <- sum(v$event)
    measure(F, paste0("followed", key), n, infants = N); measure(F, paste0("events", key), E, infants = ids(v$infant[v$event == 1]))
    q <- quartiles_of(v$time, v$event, v$infant)[2, ]; if (is.na(q$estimate)) q$lower <- q$upper <- NA # not reached
    measure(F, paste0("median", key), q$estimate / 7, q$lower / 7, q$upper / 7, n, N, E)
    s <- survival_at(v$time, v$event, v$infant, TICKS)
    for (i in seq_along(TICKS)) measure(F, paste0("without.week", TICKS[i] / 7, key), s$estimate[i], s$lower[i], s$upper[i], n, N, E)
    survival_curve(F, paste0(outcome, ".", name), v$time, v$event, v$infant)
  }
  measure(F, "notEvaluable.lapse", sum(a$with_data > 0 & is.na(a$lapse)), infants = ids(a$infant_id[a$with_data > 0 & is.na(a$lapse)]))
  g <- days[!is.na(worn)]; g[, infant := cohort$feet$infant_id[match(episode_id, cohort$feet$episode_id)]]
  w <- g[, .(m = mean(adherence), infant = infant[1]), by = .(episode_id, week = day %/% 7L + 1L)]; by_week <- list()
  for (k in sort(unique(w$week))) { v <- w[week == k]; q <- quarters_of(v$m); measure(F, paste0("adherence.week", k), q[2], n = nrow(v), infants = ids(v$infant)); by_week[[as.character(k)]] <- I(c(nrow(v), ids(v$infant), q, rev(tabulate(findInterval(v$m, c(-Inf, c(0.5, 0.8, 0.9, 1) - 1e-9)), 5)))) }
  put(F, "tables", "by-week", by_week)
  for (b in c("all", BANDS)) {
    v <- a[with_data > 0 & (b == "all" | band == b)]; share <- v$covered / v$with_data; q <- quarters_of(share); n <- nrow(v); N <- ids(v$infant_id)
    for (i in 1:3) measure(F, paste0("daysCovered.", c("lowerQuartile", "median", "upperQuartile")[i], ".", b), q[i], n = n, infants = N)
    hit <- (share >= 0.8 - 1e-9) * 1; measure(F, paste0("daysCovered.reached.", b), sum(hit), infants = ids(v$infant_id[hit == 1]))
    # share with limits on the logit scale, its error summed by infant, times G / (G - 1)
    p <- mean(hit); se <- sqrt(sum(rowsum(hit - p, v$infant_id)^2) * N / (N - 1)) / (n * p * (1 - p)); l <- plogis(qlogis(p) + c(-1, 1) * Z * se)
    measure(F, paste0("daysCovered.shareReached.", b), p, l[1], l[2], n, N)
  }
  # Diary less sensor: standard deviation within and between feet from a one-way analysis of variance, 1.96 of them
  w <- x$wear; d <- merge(w[source == "diary", .(episode_id, day, diary = worn)], w[source == "sensor", .(episode_id, day, sensor = worn)], by = c("episode_id", "day"))
  d <- d[paste(episode_id, day) %in% paste(days$episode_id, days$day)]; d[, v := diary - sensor]
  t <- anova(lm(v ~ episode_id, d))$`Mean Sq`; size <- table(d$episode_id); usual <- (sum(size) - sum(size^2) / sum(size)) / (length(size) - 1)
  sd <- sqrt(t[2] + max(0, (t[1] - t[2]) / usual)); N <- ids(cohort$feet$infant_id[match(d$episode_id, cohort$feet$episode_id)])
  measure(F, "diary.feet", length(size), infants = N); measure(F, "diary.days", nrow(d))
  measure(F, "diary.bias", mean(d$v), n = length(size), infants = N); measure(F, "diary.lowerLimit", mean(d$v) - 1.96 * sd, n = length(size), infants = N); measure(F, "diary.upperLimit", mean(d$v) + 1.96 * sd, n = length(size), infants = N)
  for (outcome in c("lapse", "discontinuation")) { v <- a[band %in% BANDS]; v <- if (outcome == "lapse") v[!is.na(lapse), .(t = lapse_time, e = lapse, band)] else v[!is.na(stop), .(t = stop_time, e = stop, band)]
    r <- log_rank(v$t, v$e, factor(v$band, BANDS)); test_of(F, paste0("log-rank.", outcome), r$statistic, r$df, r$p) }
  for (rule in c("missing", "not worn")) {
    m <- time_varying(cohort, adherence_days(x, cohort, modifyList(plan, list(missing_days = rule))), plan)
    measure(F, paste0("model.feet.", rule), m$feetWithValue); measure(F, paste0("model.footDays.", rule), m$footDaysWithValue); measure(F, paste0("model.corrections.", rule), m$correctionsWithValue)
    measure(F, paste0("model.correctionsWithoutValue.", rule), m$corrections - m$correctionsWithValue)
    tenth <- function(t) { k <- t$name == "adherence"; for (v in c("coefficient", "lower", "upper")) t[[v]][k] <- t[[v]][k] / 10; t }
    t <- tenth(m$adherenceAlone$terms); effects(F, paste0("cox.correction.", rule, ".crude."), t, t$name, m$feetWithValue, m$correctionsWithValue)
    t <- tenth(m$withBand$terms); effects(F, paste0("cox.correction.", rule, ".adjusted."), t, t$name, m$feetWithValue, m$correctionsWithValue)
    measure(F, paste0("model.hazardRatio.", rule), exp(t$coefficient[1]), exp(t$lower[1]), exp(t$upper[1]), m$feetWithValue, NA, m$correctionsWithValue)
  }
}

skin_finding <- function(x, cohort) {
  F <- "skin-safety"; f <- cohort$feet; population_of(F, f, list())
  v <- x$events[episode_id %in% f$episode_id]; v[, last := f$last[match(episode_id, f$episode_id)]]; v[, infant := f$infant_id[match(episode_id, f$episode_id)]]
  v <- v[day >= 0 & day <= last]; sp <- cohort$spells
  v[, hours := mapply(function(i, t) { h <- sp$hours[sp$episode_id == i & sp$day <= t & sp$end >= t]; if (length(h)) h else NA_real_ }, episode_id, day)]
  sp_last <- f$last[match(sp$episode_id, f$episode_id)]
  foot_days <- function(h) sum(with(sp, pmax(0, pmin(end + 1, sp_last) - pmax(day, 0)))[sp$hours == h])
  groups <- c(as.list(setNames(KINDS, KINDS)), list(`blister or pressure sore` = KINDS[3:4], `any skin event` = KINDS[1:4]))
  ends <- c(0, 14, 42, 84, Inf); stretch <- c("weeks 0 to 2", "weeks 2 to 6", "weeks 6 to 12", "after week 12"); causes <- list()
  for (name in names(groups)) {
    e <- v[kind %in% groups[[name]]]
    of <- function(part, g, days) { key <- paste0(".", name, ".", part)
      measure(F, paste0("events", key), nrow(g), infants = ids(g$infant)); measure(F, paste0("feet", key), ids(g$episode_id), infants = ids(g$infant)); measure(F, paste0("footWeeks", key), days / 7); rate_measure(F, paste0("rate", key), nrow(g), days) }
    of("all", e, sum(f$last)); for (h in c(24, 15, 12)) of(paste(h, "hours"), e[hours == h], foot_days(h))
    for (i in 1:4) of(stretch[i], e[day < ends[i + 1] & day >= ends[i]], sum(pmax(0, pmin(f$last, ends[i + 1]) - ends[i])))
    count_measures(F, name, 7 * c(4, 8, 12, 16), f$episode_id, f$last, f$infant_id, e$episode_id, e$day)
    causes[[name]] <- lapply(setNames(nm = c("strap too tight", "poor fit", "sock fold", "not known", "not recorded")), function(k) sum(if (k == "not recorded") is.na(e$cause) else e$cause %in% k))
  }
  put(F, "tables", "causes", causes)
  sore <- v[kind %in% KINDS[3:4]]; first <- sore[, .(day = min(day)), by = episode_id]; at <- first$day[match(f$episode_id, first$episode_id)]
  time <- ifelse(is.na(at), f$last, at); event <- (!is.na(at)) * 1
  for (b in c("all", BANDS)) { k <- b == "all" | f$band == b; n <- sum(k); N <- ids(f$infant_id[k]); E <- sum(event[k])
    measure(F, paste0("firstSore.", b), E, infants = ids(f$infant_id[k & event == 1]))
    s <- survival_at(time[k], event[k], f$infant_id[k], 7 * c(4, 8, 12, 16))
    for (i in 1:4) measure(F, paste0("firstSore.week", c(4, 8, 12, 16)[i], ".", b), 1 - s$estimate[i], 1 - s$upper[i], 1 - s$lower[i], n, N, E)
    survival_curve(F, paste0("first-blister-or-sore.", b), time[k], event[k], f$infant_id[k]) }
  date <- as_day(sore$date); due <- date + 7 <= x$cutOff; ok <- due & !is.na(sore$review) & sore$review >= 0 & sore$review <= 7
  of <- function(key, k) measure(F, key, sum(k), infants = ids(sore$infant[k]))
  of("review.due", due); of("review.inTime", ok); of("review.notYetDue", !due); w <- suppressWarnings(prop.test(sum(ok), sum(due), correct = FALSE)$conf.int)
  measure(F, "review.share", sum(ok) / sum(due), w[1], w[2], sum(due), ids(sore$infant[due]), sum(ok))
}

occupancy_finding <- function(cohort) {
  F <- "phase-occupancy"; d <- state_rows(cohort); names <- c("24 hours", "15 hours", "12 hours", "finished", "left")
  feet <- cohort$feet[episode_id %in% d$episode_id]; population_of(F, feet, list())
  for (b in c("all", BANDS)) {
    g <- d[b == "all" | band == b]; f <- feet[b == "all" | band == b]; n <- nrow(f); N <- ids(f$infant_id); o <- occupancy_one(g, 0:24, 168); reached <- max(g$stop) >= 168 || all(g[, to[.N] != "censored", by = episode_id]$V1)
    measure(F, paste0("feet.", b), n, infants = N)
    limits <- lapply(seq_len(25), function(w) log_log(o$probability[w, ], o$standardError[w, ]))
    put(F, "occupancy", b, list(share = o$probability, standardError = o$standardError, lower = t(sapply(limits, function(l) l[, 1])), upper = t(sapply(limits, function(l) l[, 2])),
      inTherapy = I(sapply(0:24, function(w) sum(f$last >= 7 * w)))))
    for (k in 1:5) {
      m <- o$meanWeeks[k]; s <- o$meanWeeksStandardError[k]
      if (reached) measure(F, paste0("meanWeeks.", names[k], ".", b), m, max(0, m - Z * s), m + Z * s, n, N) else measure(F, paste0("meanWeeks.", names[k], ".", b), NA, n = n, infants = N)
      for (w in c(0, 2, 6, 9, 12, 16, if (reached) 24)) { p <- o$probability[w + 1, k]; l <- log_log(p, o$standardError[w + 1, k]); measure(F, paste0("share.week", w, ".", names[k], ".", b), p, l[1], l[2], n, N) }
    }
  }
  back <- rbindlist(lapply(split(cohort$spells, cohort$spells$episode_id), function(s) {
    k <- which(s$hours[-1] == 24 & s$hours[-nrow(s)] < 24)
    data.table(episode_id = s$episode_id[1], infant_id = s$infant_id[1], band = s$band[1], day = if (length(k)) s$day[-1][k[1]] else s$last_day[1],
      cause = if (length(k)) 1L else if (s$reason[1] == "finished") 2L else if (s$reason[1] %in% c("referred for casting", "referred for surgery", "withdrawn")) 3L else 0L) }))
  for (b in c("all", BANDS)) {
    g <- back[b == "all" | band == b]; n <- nrow(g); N <- ids(g$infant_id); E <- sum(g$cause == 1)
    measure(F, paste0("back.", b), E, infants = ids(g$infant_id[g$cause == 1]))
    i <- incidence_at(g$day, g$cause, g$infant_id, 7 * c(6, 12, 16), none = TRUE)
    for (w in 1:3) measure(F, paste0("back.week", c(6, 12, 16)[w], ".", b), i$estimate[w], i$lower[w], i$upper[w], n, N, E)
    incidence_curve(F, paste0("back.", b), g$day, g$cause, g$infant_id)
  }
}

agreement_finding <- function(x, cohort) {
  F <- "assessor-agreement"; r <- agreement_results(x, cohort)
  put_kappa <- function(key, k) measure(F, key, k$kappa, max(-1, k$lower), min(1, k$upper), k$pairs)
  measure(F, "pairs", r$pairs); put_kappa("kappa.position.linear", r$position$linear); put_kappa("kappa.position.quadratic", r$position$quadratic); put_kappa("kappa.flexibility", r$flexibility$none); put_kappa("kappa.crease", r$crease$none)
  several <- x$assessments[episode_id %in% cohort$feet$episode_id, .N, by = .(episode_id, day)][N > 1]
  seen <- cohort$feet$episode_id %in% several$episode_id; population_of(F, cohort$feet[seen], list(`never assessed by two on one day` = I(c(sum(!seen), ids(cohort$feet$infant_id[!seen])))))
  same <- function(k) sum(diag(k$table))
  put(F, "tables", "same", list(position = same(r$position$linear), flexibility = same(r$flexibility$none), crease = same(r$crease$none)))
}
