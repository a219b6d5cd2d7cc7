# The audit standards over the whole data. Each: the rule in words, how many met it, of how many.

audit_results <- function(x, cohort, plan) {
  f <- cohort$feet; e <- x$episodes[match(f$episode_id, episode_id)]
  v <- cohort$rows[kind != "baseline" & day >= 1]
  v[, last := f$last[match(episode_id, f$episode_id)]]
  v <- v[day <= last]
  visits <- split(v$day, factor(v$episode_id, f$episode_id))
  nth <- function(n) sapply(visits, function(d) sort(d)[n])
  line <- function(rule, met, eligible, extra = list()) c(list(rule = rule, met = sum(met & eligible, na.rm = TRUE), of = sum(eligible)), extra)
  flag <- function(rule, value) line(rule, value %in% "yes", rep(TRUE, length(value)), list(notRecorded = sum(is.na(value)), ofRecorded = sum(!is.na(value))))
  window <- function(rule, day, lo, hi) line(rule, !is.na(day) & day >= lo & day <= hi, !is.na(day) | f$last >= hi,
    list(ofWithCheckup = sum(!is.na(day)), tooEarly = sum(day < lo, na.rm = TRUE), tooLate = sum(day > hi, na.rm = TRUE)))
  sp <- cohort$spells
  spell_visit <- function(h) {
    s <- sp[hours == h]
    until <- ifelse(s$final, s$end, s$end + 1)
    first <- mapply(function(i, a, b) { d <- visits[[i]]; d <- d[d > a & d <= b]; if (length(d)) min(d) - a else NA_real_ }, s$episode_id, s$day, until)
    first <- as.numeric(first)
    line(paste0("each spell on ", h, " hours: its first checkup (after its first day, up to and including the day on which the next spell starts) 16 to 26 days after its start; counted where there is such a checkup or the spell runs 26 days or more without one"),
      !is.na(first) & first >= 16 & first <= 26, !is.na(first) | until - s$day >= 26, list(ofWithCheckup = sum(!is.na(first)), tooEarly = sum(first < 16, na.rm = TRUE), tooLate = sum(first > 26, na.rm = TRUE)))
  }
  b <- x$events[kind %in% c("blister", "pressure sore") & episode_id %in% f$episode_id]
  b[, last := f$last[match(episode_id, f$episode_id)]]
  b <- b[day >= 0 & day <= last]
  due <- as_day(b$date) + 7 <= x$cutOff
  ok <- !is.na(b$review) & b$review >= 0 & b$review <= 7
  known <- cohort$rows[!is.na(position) & (day >= 0 | kind == "baseline")]
  by <- split(known, factor(known$episode_id, f$episode_id))
  worse <- mapply(function(i, s) {
    k <- by[[i]][order(day)]; k <- k[day <= s]; n <- nrow(k)
    c(on_day = n > 0 && k$day[n] == s, worse = if (n > 1) k$position[n] > k$position[n - 1] else NA)
  }, cohort$steps$episode_id, cohort$steps$day)
  ended <- e$end_date; closed <- !is.na(ended)
  list(
    baselinePhotograph = flag("baseline_photo is yes, of all episodes (a blank counts as not met)", e$baseline_photo),
    baselineFindings = line("baseline assessment with position, flexibility and crease recorded, of all episodes", f$has_baseline & !is.na(f$position) & !is.na(f$flexibility) & !is.na(f$crease), rep(TRUE, nrow(f))),
    teachBack = flag("teach_back is yes, of all episodes (a blank counts as not met)", e$teach_back),
    firstCheckup = window("first checkup of the episode on days 11 to 17; counted where there is a checkup, or therapy ran to day 17 or beyond without one", nth(1), 11, 17),
    secondCheckup = window("second checkup of the episode on days 35 to 49; counted where there is a second checkup, or therapy ran to day 49 or beyond without one", nth(2), 35, 49),
    longOvernightCheckup = spell_visit(15), overnightCheckup = spell_visit(12),
    reviewOfBlisterOrSore = line("each blister or pressure sore within therapy: review_date 0 to 7 days after it; counted where reviewed or 7 days passed before the cut-off", ok, ok | due | !is.na(b$review), list(events = nrow(b))),
    noStepDownWhileWorse = line("each step-down (to none included): the latest recorded position on or before its day not beyond the one recorded before that; counted where there are two", worse["worse", ] %in% 0, !is.na(worse["worse", ]),
      list(stepDowns = nrow(cohort$steps), positionOnTheDay = sum(worse["on_day", ] == 1), metWithPositionOnTheDay = sum(worse["worse", ] %in% 0 & worse["on_day", ] == 1), ofWithPositionOnTheDay = sum(!is.na(worse["worse", ]) & worse["on_day", ] == 1))),
    closedWithReason = line("episodes with an end date that have an end reason", !is.na(e$end_reason), closed, list(inTherapy = sum(!closed))),
    lostToFollowUp = line("episodes with an end date whose reason is lost to follow-up (target: under 10 %)", f$reason == "lost to follow-up", closed, list(ofAllEpisodes = nrow(f)))
  )
}
