# Share of feet in each phase, week by week: Aalen-Johansen estimate of a process that moves back as well as forward.
STATES <- c("24", "15", "12", "finished", "left")

state_rows <- function(cohort) {
  rbindlist(lapply(split(cohort$spells, cohort$spells$episode_id), function(s) {
    n <- nrow(s); reason <- s$reason[1]; last <- s$last_day[1]
    final <- if (reason == "finished") "finished" else if (reason %in% c("referred for casting", "referred for surgery", "withdrawn")) "left" else "censored"
    d <- data.table(episode_id = s$episode_id, infant_id = s$infant_id, band = s$band, from = as.character(s$hours), start = s$day,
      stop = c(s$day[-1], last), to = c(as.character(s$hours[-1]), final))
    # a spell that begins on the last day has no length: the foot moves on from the phase before
    gone <- d$start == d$stop
    if (gone[n] && n > 1) { d$to[n - 1] <- final; d <- d[-n] } else if (gone[n]) return(NULL)
    d
  }))
}

occupancy_one <- function(d, weeks, tau) {
  f <- survfit(Surv(start, stop, factor(to, c("censored", STATES))) ~ 1, data = d, id = episode_id, istate = factor(from, STATES), cluster = infant_id, influence = TRUE)
  s <- summary(f, times = days_of(weeks), extend = TRUE)
  k <- match(STATES, f$states); P <- s$pstate[, k]; E <- s$std.err[, k]
  stopifnot(all(is.na(k) == FALSE))
  w <- widths(f$time, tau); inf <- f$influence.pstate; if (is.null(inf)) inf <- f$influence
  if (dim(inf)[2] == length(f$time) + 1) inf <- inf[, -1, , drop = FALSE]
  U <- apply(inf, 3, function(M) M %*% w$rest)
  mean_days <- colSums(f$pstate * w$rest) + f$p0 * w$first
  dimnames(P) <- dimnames(E) <- NULL
  list(feet = length(unique(d$episode_id)), infants = length(unique(d$infant_id)), states = I(STATES), week = I(weeks), probability = P, standardError = E,
    horizonWeeks = tau / 7, meanWeeks = I(unname(mean_days[k]) / 7), meanWeeksStandardError = I(unname(sqrt(colSums(U^2)))[k] / 7))
}

occupancy_results <- function(cohort) {
  d <- state_rows(cohort); weeks <- 0:20
  first <- d[, .(start = min(start), from = from[which.min(start)]), by = episode_id]
  moves <- d[to != "censored", .N, by = .(from, to)][order(match(from, STATES), match(to, STATES))]
  c(list(feetLeftOut = nrow(cohort$feet) - length(unique(d$episode_id)), lateFirstSpell = sum(first$start > 0),
    startStates = sapply(setNames(STATES[1:3], STATES[1:3]), function(s) sum(first$from == s)), moves = moves,
    all = occupancy_one(d, weeks, 140)), by_band(d, function(g) occupancy_one(g, weeks, 140)))
}
