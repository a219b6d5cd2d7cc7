# Adherence days, lapse and discontinuation, of a foot and of a spell.

# One row an adherence day: hours in force, expected, worn (missing where no row of an accepted source stands).
adherence_days <- function(x, cohort, plan) {
  w <- x$wear[source %in% plan$sources]
  w <- w[order(episode_id, day, match(source, plan$sources))]
  w <- w[!duplicated(w[, .(episode_id, day)])]
  d <- cohort$spells[, .(day = seq(day, end), hours), by = .(episode_id, spell_start = day, spell_end = end, final)]
  d <- d[, .(episode_id, day = as.integer(day), hours, spell_start, spell_end, final)]
  f <- cohort$feet[match(d$episode_id, cohort$feet$episode_id)]
  to <- ifelse(f$reason == "in therapy", f$last, f$last - 1)
  d <- d[day >= plan$break_in & day <= to]
  d[, expected := hours - plan$care * (hours == plan$full_time)]
  i <- match(paste(d$episode_id, d$day), paste(w$episode_id, w$day))
  d[, worn := w$worn[i]]
  d[, source := w$source[i]]
  if (plan$missing_days == "not worn") d[, worn := if (all(is.na(worn))) worn else fifelse(is.na(worn), 0, worn), by = episode_id]
  d[, adherence := worn / expected]
  setorder(d, episode_id, day)
  attr(d, "outside") <- nrow(w[episode_id %in% cohort$feet$episode_id]) - sum(!is.na(i))
  d
}

# days: adherence days in order; origin: the day from which time runs; earliest: first day a window may reach back to
lapse_of <- function(days, adherence, origin, earliest, plan) {
  state <- NA
  last_evaluable <- NA
  for (d in days[days >= earliest + plan$lapse_window - 1]) {
    inside <- adherence[days >= d - plan$lapse_window + 1 & days <= d]
    inside <- inside[!is.na(inside)]
    if (length(inside) < plan$lapse_minimum) next
    if (mean(inside) < plan$lapse_below - plan$slack) return(list(time = d - origin, event = 1L))
    last_evaluable <- d
  }
  if (is.na(last_evaluable)) NULL else list(time = last_evaluable - origin, event = 0L)
}

discontinuation_of <- function(days, worn, origin, last, withdrawn, plan) {
  if (all(is.na(worn))) return(NULL)
  run <- 0
  previous <- -Inf
  for (i in seq_along(days)) {
    zero <- !is.na(worn[i]) && worn[i] == 0
    run <- if (!zero) 0 else if (days[i] == previous + 1) run + 1 else 1
    previous <- days[i]
    if (run == plan$days_not_worn) return(list(time = days[i] - origin, event = 1L))
  }
  list(time = last - origin, event = as.integer(withdrawn))
}

adherence_of_feet <- function(cohort, days, plan) {
  by <- split(days, factor(days$episode_id, cohort$feet$episode_id))
  rbindlist(lapply(seq_len(nrow(cohort$feet)), function(i) {
    f <- cohort$feet[i]; d <- by[[i]]
    l <- lapse_of(d$day, d$adherence, 0, plan$break_in, plan)
    s <- discontinuation_of(d$day, d$worn, 0, f$last, f$reason == "withdrawn", plan)
    data.table(episode_id = f$episode_id, infant_id = f$infant_id, band = f$band,
      with_data = sum(!is.na(d$worn)), covered = sum(d$adherence >= plan$covered_at - plan$slack, na.rm = TRUE),
      worn = sum(d$worn, na.rm = TRUE), expected = sum(d$expected[!is.na(d$worn)]),
      lapse_time = if (is.null(l)) NA_real_ else l$time, lapse = if (is.null(l)) NA_integer_ else l$event,
      stop_time = if (is.null(s)) NA_real_ else s$time, stop = if (is.null(s)) NA_integer_ else s$event)
  }))
}

adherence_of_spells <- function(cohort, days, plan) {
  by <- split(days, paste(days$episode_id, days$spell_start))
  rbindlist(lapply(seq_len(nrow(cohort$spells)), function(i) {
    p <- cohort$spells[i]; d <- by[[paste(p$episode_id, p$day)]]
    if (is.null(d)) d <- days[0]
    l <- lapse_of(d$day, d$adherence, p$day, max(p$day, plan$break_in), plan)
    s <- discontinuation_of(d$day, d$worn, p$day, p$end, p$final && p$reason == "withdrawn", plan)
    data.table(episode_id = p$episode_id, infant_id = p$infant_id, band = p$band, hours = p$hours, start = p$day, end = p$end,
      lapse_time = if (is.null(l)) NA_real_ else l$time, lapse = if (is.null(l)) NA_integer_ else l$event,
      stop_time = if (is.null(s)) NA_real_ else s$time, stop = if (is.null(s)) NA_integer_ else s$event)
  }))
}
