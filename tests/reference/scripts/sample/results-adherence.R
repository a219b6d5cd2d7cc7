# Adherence: worn over expected, days covered, lapse and discontinuation, diary against sensor, adherence in a hazard model.

five <- function(v) { q <- quantile(v, c(0, 0.25, 0.5, 0.75, 1), names = FALSE); list(n = length(v), mean = mean(v), minimum = q[1], lowerQuartile = q[2], median = q[3], upperQuartile = q[4], maximum = q[5]) }

lapse_and_stop <- function(a, days) {
  l <- a[!is.na(lapse)]; s <- a[!is.na(stop)]
  list(lapse = c(list(leftOut = sum(is.na(a$lapse))), kaplan_meier(l$lapse_time, l$lapse, l$infant_id, days)),
    discontinuation = c(list(leftOut = sum(is.na(a$stop))), kaplan_meier(s$stop_time, s$stop, s$infant_id, days)))
}

adherence_rule <- function(x, cohort, plan) {
  days <- days_of(plan$adherence_weeks)
  d <- adherence_days(x, cohort, plan)
  a <- adherence_of_feet(cohort, d, plan); sp <- adherence_of_spells(cohort, d, plan)
  g <- d[!is.na(worn)]
  weekly <- g[, .(mean = mean(adherence), ratio = sum(worn) / sum(expected)), by = .(episode_id, week = day %/% 7L)]
  w <- weekly[week <= 20, c(list(feet = .N), five(mean)[-1], list(medianRatioOfSums = median(ratio))), by = week][order(week)]
  covered <- a[with_data > 0]
  banded <- a[band %in% BANDS]; lb <- banded[!is.na(lapse)]; sb <- banded[!is.na(stop)]
  by_phase <- lapply(c(`24` = 24, `15` = 15, `12` = 12), function(h) c(list(spells = sum(sp$hours == h)), lapse_and_stop(sp[hours == h], days)))
  list(days = d, feet = a, spells = sp, results = list(
    adherenceDays = nrow(d), daysWithData = nrow(g), feetWithData = sum(a$with_data > 0), footDaysOfWearOutside = attr(d, "outside"),
    bySource = { t <- table(g$source); setNames(as.vector(t), names(t)) },
    byWeek = w, daysCovered = c(five(covered$covered / covered$with_data), list(pooled = sum(covered$covered) / sum(covered$with_data))),
    daysCoveredByBand = by_band(covered, function(b) five(b$covered / b$with_data)),
    wornOverExpected = five(covered$worn / covered$expected),
    all = lapse_and_stop(a, days), byBand = by_band(a, function(b) lapse_and_stop(b, days)), byPhase = by_phase,
    logRank = list(lapse = log_rank(lb$lapse_time, lb$lapse, factor(lb$band, BANDS), c(mild = 1, moderate = 2, severe = 3)),
      discontinuation = log_rank(sb$stop_time, sb$stop, factor(sb$band, BANDS), c(mild = 1, moderate = 2, severe = 3)))))
}

diary_against_sensor <- function(x, cohort, days) {
  pair <- merge(x$wear[source == "diary", .(episode_id, day, diary = worn)], x$wear[source == "sensor", .(episode_id, day, sensor = worn)], by = c("episode_id", "day"))
  one <- function(p) {
    v <- p$diary - p$sensor
    list(days = length(v), feet = length(unique(p$episode_id)), bias = mean(v), standardDeviation = sd(v), lower = mean(v) - Z * sd(v), upper = mean(v) + Z * sd(v))
  }
  key <- function(d) paste(d$episode_id, d$day)
  list(difference = "diary less sensor, hours a day; limits are bias -+ 1.959964 standard deviations (divisor n - 1)",
    allDays = one(pair), adherenceDays = one(pair[key(pair) %in% key(days)]))
}

# Days of a foot before correction or its end, each with the mean adherence of the seven days before it.
time_varying <- function(cohort, days, plan) {
  f <- cohort$feet[band %in% BANDS & time > 0]
  by <- split(days, factor(days$episode_id, f$episode_id))
  rows <- rbindlist(lapply(seq_len(nrow(f)), function(i) {
    d <- by[[i]]; n <- f$time[i]; v <- rep(NA_real_, n + 8)
    k <- d$day <= n; v[d$day[k] + 1] <- d$adherence[k] # place d + 1 holds day d
    value <- sapply(seq_len(n), function(t) mean(v[(max(0, t - 7):(t - 1)) + 1], na.rm = TRUE))
    data.table(i = i, start = seq_len(n) - 1, stop = seq_len(n), event = as.integer(seq_len(n) == n & f$cause[i] == 1), value = value)
  }))
  all_events <- sum(rows$event); n_all <- nrow(rows)
  rows <- rows[!is.na(value)]
  X <- design(f)[rows$i, ]; whole <- complete.cases(X); y <- Surv(rows$start, rows$stop, rows$event); cl <- f$infant_id[rows$i]
  list(footDays = n_all, footDaysWithValue = nrow(rows), feetWithValue = length(unique(rows$i)), corrections = all_events, correctionsWithValue = sum(rows$event),
    adherenceAlone = cox(y, data.frame(adherence = rows$value), cl, ph = FALSE),
    withBand = cox(y, cbind(adherence = rows$value, X[, c("moderate", "severe")]), cl, ph = FALSE),
    adjusted = cox(y[whole], cbind(adherence = rows$value, X)[whole, ], cl[whole], ph = FALSE))
}
