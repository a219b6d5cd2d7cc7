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

# The influences of the feet are added up by infant here: the fit itself knows only feet.
occupancy_one <- function(d, weeks, tau) {
  d <- d[order(episode_id, start)]
  id <- match(d$episode_id, unique(d$episode_id)); infant <- d$infant_id[!duplicated(id)]
  f <- survfit(Surv(start, stop, factor(to, c("censored", STATES))) ~ 1, data = d, id = id, istate = factor(from, STATES), influence = TRUE)
  s <- summary(f, times = days_of(weeks), extend = TRUE)
  k <- match(STATES, f$states)
  inf <- f$influence.pstate; if (is.null(inf)) inf <- f$influence
  if (dim(inf)[2] == length(f$time) + 1) inf <- inf[, -1, , drop = FALSE]
  at <- findInterval(days_of(weeks), f$time) + 1
  w <- widths(f$time, tau)
  column <- function(j) {
    i <- cbind(0, inf[, , j])
    stopifnot(max(abs(sqrt(colSums(i^2))[at][-1] - s$std.err[-1, j])) < 1e-12)
    list(se = se_of(i, infant)[at], area = sqrt(sum(by_cluster(inf[, , j] %*% w$rest, infant)^2)))
  }
  cols <- lapply(k, column)
  mean_days <- colSums(f$pstate * w$rest) + f$p0 * w$first
  P <- s$pstate[, k]; dimnames(P) <- NULL
  list(feet = length(infant), infants = length(unique(infant)), states = I(STATES), week = I(weeks), probability = P, standardError = sapply(cols, function(z) z$se),
    horizonWeeks = tau / 7, meanWeeks = I(unname(mean_days[k]) / 7), meanWeeksStandardError = I(sapply(cols, function(z) z$area) / 7))
}

occupancy_results <- function(cohort) {
  d <- state_rows(cohort); weeks <- 0:20
  first <- d[, .(start = min(start), from = from[which.min(start)]), by = episode_id]
  moves <- d[to != "censored", .N, by = .(from, to)][order(match(from, STATES), match(to, STATES))]
  c(list(feetLeftOut = nrow(cohort$feet) - length(unique(d$episode_id)), lateFirstSpell = sum(first$start > 0),
    startStates = sapply(setNames(STATES[1:3], STATES[1:3]), function(s) sum(first$from == s)), moves = moves,
    all = occupancy_one(d, weeks, 140)), by_band(d, function(g) occupancy_one(g, weeks, 140)))
}
