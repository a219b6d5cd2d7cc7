# The audit of the last full quarter: standards, charts over the quarters, sites and clinicians, feet overdue.
STANDARDS <- list(`baseline-photograph` = c(0.95, 1), `baseline-findings` = c(0.95, 1), `teach-back` = c(0.95, 1), `first-checkup` = c(0.9, 1), `second-checkup` = c(0.9, 1), `checkup-at-15-hours` = c(0.9, 1), `checkup-at-12-hours` = c(0.9, 1),
  `skin-review` = c(1, 1), `no-step-down-while-worse` = c(0.95, 1), `closed-with-reason` = c(1, 1), `lost-to-follow-up` = c(0.1, -1)) # target; -1 where the share is to stay under it
quarter_of <- function(day) { p <- as.POSIXlt(as.Date(day, origin = "1970-01-01")); (p$year + 1900) * 4 + p$mon %/% 3 }
quarter_name <- function(q) sprintf("%d-Q%d", as.integer(q %/% 4), as.integer(q %% 4 + 1))
first_day_of <- function(q) as_day(sprintf("%d-%02d-01", as.integer(q %/% 4), as.integer(q %% 4) * 3L + 1L))

audit_items <- function(x, cohort) {
  f <- cohort$feet; e <- x$episodes[match(f$episode_id, episode_id)]; hits <- list()
  add <- function(standard, i, day, met) hits[[length(hits) + 1]] <<- data.table(standard, i = i, quarter = quarter_of(day), met = met)
  v <- x$events[kind %in% c("blister", "pressure sore")]
  for (i in seq_len(nrow(f))) {
    id <- f$episode_id[i]; start <- e$start[i]; last <- f$last[i]; rows <- cohort$rows[episode_id == id]; ended <- f$reason[i] != "in therapy"; finished <- f$reason[i] == "finished"
    seen_days <- rows[kind != "baseline" & day >= 1 & day <= last, day]; seen <- function(a, b) any(seen_days >= a & seen_days <= b)
    add("baseline-photograph", i, start, e$baseline_photo[i] %in% "yes"); add("teach-back", i, start, e$teach_back[i] %in% "yes")
    add("baseline-findings", i, start, f$has_baseline[i] && !is.na(f$position[i]) && !is.na(f$flexibility[i]) && !is.na(f$crease[i]))
    if (last >= 17) add("first-checkup", i, start + 17, seen(11, 17))
    if (last >= 49) add("second-checkup", i, start + 49, seen(35, 49))
    sp <- cohort$spells[episode_id == id]
    for (k in seq_len(nrow(sp))) {
      h <- sp$hours[k]; d <- sp$day[k]; final <- k == nrow(sp); stop <- if (final) last else sp$day[k + 1]
      if (h %in% c(15, 12) && start + d + 26 <= x$cutOff && (if (!final || finished) stop >= d + 16 else stop >= d + 26)) add(paste0("checkup-at-", h, "-hours"), i, start + d + 26, seen(d + 16, d + 26))
    }
    known <- rows[!is.na(position) & (day >= 0 | kind == "baseline" & day >= -14)][order(day)]
    for (s in cohort$steps[episode_id == id, day]) { k <- known[day <= s]; n <- nrow(k); if (n > 1 && k$day[n] >= s - 7) add("no-step-down-while-worse", i, start + s, k$position[n] <= k$position[n - 1]) }
    for (k in which(v$episode_id == id & v$day >= 0 & v$day <= last)) if (start + v$day[k] + 7 <= x$cutOff) add("skin-review", i, start + v$day[k], !is.na(v$review[k]) && v$review[k] >= 0 && v$review[k] <= 7)
    if (start + 182 <= x$cutOff) { judged <- min(first_day_of(quarter_of(start + 182) + 1) - 1, x$cutOff) - start; add("closed-with-reason", i, start + 182, (ended && last <= judged) || any(rows$day <= judged & rows$day >= judged - 42)) }
    if (ended) add("lost-to-follow-up", i, start + last, f$reason[i] != "lost to follow-up")
  }
  h <- rbindlist(hits); cbind(h, episode_id = f$episode_id[h$i], infant_id = f$infant_id[h$i], site = f$site_id[h$i], clinician = e$clinician_id[h$i])
}
wilson_of <- function(k, n) suppressWarnings(prop.test(k, n, correct = FALSE)$conf.int)[1:2]
counted <- function(s, met) if (STANDARDS[[s]][2] > 0) met else !met

# Western Electric zone rules, each fired at the point that ends the pattern
zone_signals <- function(z) {
  out <- list()
  for (i in seq_along(z)) for (r in list(list("beyond 3 sigma", 3, 1, 1), list("two of three beyond 2 sigma", 2, 2, 3), list("four of five beyond 1 sigma", 1, 4, 5), list("eight in a row on one side of the centre", 0, 8, 8))) {
    if (i < r[[4]]) next
    w <- z[(i - r[[4]] + 1):i]
    for (side in c(1, -1)) if (side * z[i] > r[[2]] && sum(side * w > r[[2]]) >= r[[3]]) out[[length(out) + 1]] <- list(point = i, rule = r[[1]], side = if (side > 0) "above" else "below")
  }
  out
}

audit_findings <- function(x, cohort) {
  h <- audit_items(x, cohort); f <- cohort$feet; e <- x$episodes[match(f$episode_id, episode_id)]
  now <- quarter_of(x$cutOff + 1) - 1; start <- e$start
  F <- "audit"; standards <- list()
  for (s in names(STANDARDS)) {
    g <- h[standard == s & quarter == now]; k <- sum(counted(s, g$met)); n <- nrow(g); w <- wilson_of(k, n); target <- STANDARDS[[s]][1]; up <- STANDARDS[[s]][2] > 0
    measure(F, paste0("share.", s), k / n, w[1], w[2], n, ids(g$infant_id), k); measure(F, paste0("due.", s), n); measure(F, paste0("failed.", s), sum(!g$met))
    verdict <- if (n < 10) "too few to say" else if (if (up) k / n >= target else k / n < target) "met" else if (if (up) w[2] < target else w[1] >= target) "not met" else "too few to say"
    b <- h[standard == s & quarter == now - 1]; kb <- sum(counted(s, b$met)); nb <- nrow(b); change <- c(NA, NA, NA)
    if (nb > 0) { p <- k / n; q <- kb / nb; wb <- wilson_of(kb, nb); change <- p - q + c(0, -sqrt((p - w[1])^2 + (wb[2] - q)^2), sqrt((w[2] - p)^2 + (q - wb[1])^2)) } # Newcombe, method 10
    standards[[s]] <- list(count = k, n = n, infants = ids(g$infant_id), verdict = verdict, change = I(change))
  }
  put(F, "standards", "all", standards)
  due <- h[quarter == now]; put(F, "population", "all", list(feet = ids(due$episode_id), infants = ids(due$infant_id), leftOut = list()))
  # Charts
  C <- "audit-charts"; first <- min(quarter_of(start)); quarters <- tail(first:now, 12)
  shown <- h[quarter %in% quarters]; put(C, "population", "all", list(feet = ids(shown$episode_id), infants = ids(shown$infant_id), leftOut = list()))
  days <- unlist(lapply(seq_len(nrow(f)), function(i) start[i] + seq_len(f$last[i]))); exposure <- table(factor(quarter_of(days), quarters)) / 700
  v <- x$events[kind %in% c("blister", "pressure sore")]; v[, last := f$last[match(episode_id, f$episode_id)]]; v <- v[day >= 0 & day <= last]
  sores <- table(factor(quarter_of(as_day(v$date)), quarters)); measure(C, "skin-events", sores[[as.character(now)]])
  for (s in c(names(STANDARDS), "skin-rate")) {
    rate <- s == "skin-rate"
    if (rate) { k <- as.vector(sores); n <- as.vector(exposure) } else { g <- h[standard == s]; k <- sapply(quarters, function(q) sum(counted(s, g$met[g$quarter == q]))); n <- sapply(quarters, function(q) sum(g$quarter == q)) }
    at <- if (rate) which(n > 0) else which(n >= 10); if (length(at) < 4) next
    p <- k[at] / n[at]; centre <- sum(k[at]) / sum(n[at]); deff <- 1
    if (!rate) { g <- g[quarter %in% quarters]; all <- mean(counted(s, g$met)); b <- g[, .(b = sum(counted(s, met)) - .N * all), by = .(quarter, infant_id)]$b; if (all > 0 && all < 1) deff <- max(1, sum(b^2) / (nrow(g) * all * (1 - all))) }
    # mid-P: less than a count, or more, and half the count itself
    less <- function(k, n) (pbinom(k, n, centre) + pbinom(k - 1, n, centre)) / 2; more <- function(k, n) (pbinom(k, n, centre, lower.tail = FALSE) + pbinom(k - 1, n, centre, lower.tail = FALSE)) / 2
    sigma <- sqrt(centre / n[at]); z <- if (rate) (p - centre) / sigma else ifelse(p == centre, 0, ifelse(p < centre, -pmax(1e-9, -qnorm(less(k[at], n[at]))), pmax(1e-9, -qnorm(more(k[at], n[at])))) / sqrt(deff)); signals <- zone_signals(z)
    edge <- if (rate) rbind(pmax(0, centre - 3 * sigma), centre + 3 * sigma) else sapply(n[at], function(n) { c <- 0:n; range(c[less(c, n) > pnorm(-3 * sqrt(deff)) & more(c, n) > pnorm(-3 * sqrt(deff))]) / n })
    middle <- median(p); side <- sign(p - middle); run <- 0; before <- 0; shifts <- c()
    for (i in seq_along(p)) { if (side[i] == 0) next; run <- if (side[i] == before) run + 1 else 1; before <- side[i]; if (run >= 8) shifts <- c(shifts, i) }
    put(C, "charts", s, list(place = I(at - 1), count = I(k[at]), size = I(n[at]), value = I(p), lower = I(edge[1, ]), upper = I(edge[2, ]), centre = centre, median = middle,
      signals = if (length(signals)) I(vapply(signals, function(q) paste(at[q$point] - 1, q$rule, q$side, sep = "; "), "")) else list(), shifts = length(shifts)))
  }
  # Sites and clinicians over four quarters
  M <- "audit-comparison"; four <- (now - 3):now; funnels <- list()
  for (s in names(STANDARDS)) {
    g <- h[standard == s & quarter %in% four]; if (!nrow(g)) next
    g[, hit := counted(s, met)]; centre <- mean(g$hit); if (centre <= 0 || centre >= 1) next
    units <- list(); dispersion <- list()
    for (kind in c("site", "clinician")) {
      u <- g[, .(count = sum(hit), n = .N, feet = ids(episode_id)), by = .(code = get(kind))][!is.na(code)]
      if (kind == "clinician") u <- u[feet >= 20]
      u <- setorder(u, -n, code)
      if (nrow(u) > 1) { z <- (u$count / u$n - centre) / sqrt(centre * (1 - centre) / u$n); m <- nrow(u); o <- sort(z); q <- floor(0.1 * m); dispersion[[kind]] <- mean(pmin(pmax(z, o[q + 1]), o[m - q])^2) }
      for (r in seq_len(nrow(u))) {
        c <- u$count[r]; n <- u$n[r]
        # a count is outside where so far from the centre on its side is at most 2.5 % (0.1 %) likely
        out <- function(a) pbinom(c, n, centre) <= a || pbinom(c - 1, n, centre, lower.tail = FALSE) <= a
        inside <- function(a) { k <- which(pbinom(0:n, n, centre) > a & pbinom(-1:(n - 1), n, centre, lower.tail = FALSE) > a) - 1; range(k) / n }
        units[[paste(kind, u$code[r])]] <- list(count = c, n = n, inner = I(inside(0.025)), outer = I(inside(0.001)), beyond = if (out(0.001)) "99.8 %" else if (out(0.025)) "95 %" else "")
      }
    }
    if (length(units) < 2) next
    limit <- function(n, a) { r <- qbinom(a, n, centre); (r - (pbinom(r, n, centre) - a) / dbinom(r, n, centre)) / n }
    # the lines drawn between units: Spiegelhalter's interpolation between counts, cut at 0 and 1
    sizes <- seq(1, max(sapply(units, function(u) u$n)), 10); line <- function(a) I(pmin(1, pmax(0, sapply(sizes, limit, a = a))))
    funnels[[s]] <- list(centre = centre, units = units, dispersion = dispersion, size = I(sizes), innerLower = line(0.025), innerUpper = line(0.975), outerLower = line(0.001), outerUpper = line(0.999))
  }
  put(M, "funnels", "all", funnels)
  k <- start >= first_day_of(now - 3) & start < first_day_of(now + 1); g <- cohort$feet[k]
  measure(M, "fitted", nrow(g), infants = ids(g$infant_id)); population_of(M, g, list())
  b <- g[band %in% BANDS]; t <- suppressWarnings(chisq.test(table(b$site_id, b$band), correct = FALSE)); test_of(M, "case-mix.band", unname(t$statistic), unname(t$parameter), t$p.value)
  t <- kruskal.test(g$age, factor(g$site_id)); test_of(M, "case-mix.age", unname(t$statistic), unname(t$parameter), t$p.value)
  put(M, "tables", "case-mix", lapply(split(g, g$site_id), function(s) I(c(nrow(s), ids(s$infant_id), sapply(BANDS, function(b) sum(s$band == b)), sum(!s$band %in% BANDS), quarters_of(s$age / 7)))))
  # Overdue at the cut-off
  O <- "audit-overdue"; d <- f[reason == "in therapy"]
  r <- rbindlist(lapply(seq_len(nrow(d)), function(i) {
    sp <- cohort$spells[episode_id == d$episode_id[i]]; now_on <- sp[nrow(sp)]; if (!nrow(sp)) return(data.table(hours = NA_real_, latest = NA_real_))
    seen <- cohort$rows[episode_id == d$episode_id[i] & kind != "baseline" & day >= 1 & day <= d$last[i], day]; from <- max(c(now_on$day, seen))
    latest <- if (now_on$hours %in% c(15, 12)) from + 26 else if (!length(seen) && nrow(sp) == 1) 17 else if (from < 35) 49 else from + 28 + 7
    data.table(hours = now_on$hours, latest = latest) }))
  d <- cbind(d, r); d[, over := !is.na(latest) & last > latest]; k <- d[!is.na(latest)]; population_of(O, k, list())
  measure(O, "overdue", sum(k$over), n = nrow(k), infants = ids(k$infant_id[k$over]))
  for (s in unique(k$site_id)) { g <- k[site_id == s]; measure(O, paste0("overdue.", s), sum(g$over), n = nrow(g), infants = ids(g$infant_id[g$over])) }
  put(O, "tables", "overdue", lapply(c(split(k, k$site_id), list(`All sites` = k)), function(g) I(c(nrow(g), sum(g$over), sapply(c(24, 15, 12), function(v) sum(g$over & g$hours == v))))))
}
