# Relapse after each step-down, and relapses counted since first fitting.
RELAPSE <- c(relapse = 1, `next step-down` = 2, `left therapy` = 3)

relapse_one <- function(s, plan) {
  f <- s[time > 0]
  c(list(stepDowns = nrow(s), feet = length(unique(s$episode_id)), infants = length(unique(s$infant_id)), followed = nrow(f),
    notSeenAfterTheEnd = sum(s$state == "not seen after the end"), noReferenceToNone = sum(s$state == "no reference"),
    noReferenceAny = sum(is.na(s$reference)), noTimeAtRisk = sum(s$state == "no time at risk"),
    causes = c(censored = sum(f$cause == 0), sapply(RELAPSE, function(k) sum(f$cause == k)))),
    if (nrow(f)) list(incidence = cumulative_incidence(f$time, f$cause, RELAPSE, f$infant_id, days_of(plan$relapse_weeks)),
      kaplanMeier = kaplan_meier(f$time, (f$cause == 1) * 1, f$infant_id, days_of(plan$relapse_weeks), FALSE)),
    list(rate = rate_per_100(sum(f$cause == 1), sum(f$time))))
}

relapse_results <- function(cohort, plan) {
  s <- cohort$steps
  name <- paste(s$before, "to", ifelse(s$after == 0, "none", s$after))
  known <- c("24 to 15", "15 to 12", "12 to none")
  group <- function(g) c(list(all = relapse_one(g, plan)), by_band(g, function(h) relapse_one(h, plan)))
  out <- lapply(setNames(known, known), function(k) group(s[name == k]))
  other <- sort(setdiff(name, known))
  out[["other step-downs"]] <- c(list(names = lapply(setNames(other, other), function(k) sum(name == k))), group(s[!name %in% known]))
  out[["any step-down"]] <- group(s)
  # relapses since first fitting
  f <- cohort$feet
  risk_end <- s[, .(end = max(day + time)), by = episode_id]
  end <- pmax(f$last, risk_end$end[match(f$episode_id, risk_end$episode_id)], na.rm = TRUE)
  r <- s[cause == 1]; r[, at := day + time]
  weeks <- c(6, 12, 16, 20, 26)
  count <- function(b) {
    k <- f$band %in% b; rr <- r[episode_id %in% f$episode_id[k]]
    mean_cumulative_count(f$episode_id[k], end[k], f$infant_id[k], rr$episode_id, rr$at, days_of(weeks))
  }
  out$meanCumulativeCount <- c(list(all = count(c(BANDS, "straight", "not known"))), lapply(setNames(BANDS, BANDS), count))
  out
}
