# Skin events and other events: rates, mean cumulative counts, time to the first blister or sore.
KINDS <- c("slight redness", "strong redness", "blister", "pressure sore", "brace pulled off", "unplanned pause")

skin_results <- function(x, cohort, plan) {
  f <- cohort$feet
  v <- x$events[episode_id %in% f$episode_id]
  v[, last := f$last[match(episode_id, f$episode_id)]]
  within <- v[day >= 0 & day <= last]
  sp <- cohort$spells
  setorder(sp, episode_id, day)
  phase_on <- function(id, day) mapply(function(i, t) { h <- sp$hours[sp$episode_id == i & sp$day <= t & sp$end >= t]; if (length(h)) h else NA_real_ }, id, day)
  within[, hours := if (.N) phase_on(episode_id, day) else numeric()]
  groups <- c(as.list(setNames(KINDS, KINDS)), list(`blister or pressure sore` = KINDS[3:4], `any skin event` = KINDS[1:4]))
  sp_last <- f$last[match(sp$episode_id, f$episode_id)]
  foot_days <- function(h) sum(with(sp, pmax(0, pmin(end + 1, sp_last) - pmax(day, 0)))[sp$hours == h])
  days <- days_of(plan$skin_weeks)
  rate <- function(kinds) {
    e <- within[kind %in% kinds]
    c(rate_per_100(nrow(e), sum(f$last)), list(feet = length(unique(e$episode_id)), onDay0 = sum(e$day == 0),
      byPhase = lapply(c(`24` = 24, `15` = 15, `12` = 12), function(h) rate_per_100(sum(e$hours %in% h), foot_days(h))), noPhase = sum(is.na(e$hours))))
  }
  count <- function(kinds) { e <- within[kind %in% kinds]; mean_cumulative_count(f$episode_id, f$last, f$infant_id, e$episode_id, e$day, days) }
  first <- within[kind %in% KINDS[3:4], .(day = min(day)), by = episode_id]
  at <- first$day[match(f$episode_id, first$episode_id)]
  time <- ifelse(is.na(at), f$last, at); event <- (!is.na(at)) * 1
  list(feet = nrow(f), eventsOutsideTherapy = nrow(v) - nrow(within), rates = lapply(groups, rate), meanCumulativeCount = lapply(groups, count),
    firstBlisterOrSore = c(list(all = kaplan_meier(time, event, f$infant_id, days)),
      lapply(setNames(BANDS, BANDS), function(b) { k <- f$band == b; kaplan_meier(time[k], event[k], f$infant_id[k], days) })))
}
