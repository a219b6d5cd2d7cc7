# From the tables of an export to the cohort: baseline and band, correction, spells, step-downs and relapse.


# One row a foot and day: the treating clinician's, else the first by assessor code, a blank code last.
counting_rows <- function(x) {
  a <- copy(x$assessments)
  a[, clinician := x$episodes$clinician_id[match(episode_id, x$episodes$episode_id)]]
  a[, rank := fifelse(!is.na(assessor_id) & !is.na(clinician) & assessor_id == clinician, 0L, fifelse(is.na(assessor_id), 2L, 1L))]
  a <- a[order(episode_id, day, rank, assessor_id)]
  a[!duplicated(a[, .(episode_id, day)])]
}

GRADES <- list(
  toe = c(`2` = 0, `2.5` = 0, `3` = 1, `3.5` = 2, `4` = 2, `4.5` = 3, `5` = 3),
  web = c(`2` = 0, `2.5` = 0, `3` = 1, `3.5` = 2, `4` = 3, `4.5` = 3, `5` = 3)
)
FLEXIBILITY <- c(`past straight` = 1, `to straight` = 2, `short of straight` = 3)

# 0 straight, 1 mild, 2 moderate, 3 severe, all three findings being there
band_of_complete <- function(bisector, flexibility, crease, plan) {
  if (plan$rule == "bisector alone") return(bisector)
  if (plan$rule == "flexibility alone") return(flexibility)
  if (bisector == 0 && flexibility == 1) return(0)
  worse <- max(bisector, flexibility)
  if (worse == 1 && crease && plan$crease_lifts_mild) 2 else worse
}

# A missing finding is tried at every value it could have: a band stands only if all of them agree.
band_of <- function(position, flexibility, crease, plan) {
  b <- if (is.na(position)) 0:3 else GRADES[[plan$scheme]][[as.character(position)]]
  f <- if (is.na(flexibility)) 1:3 else FLEXIBILITY[[flexibility]]
  k <- if (is.na(crease)) c(TRUE, FALSE) else crease == "yes"
  all <- expand.grid(b = b, f = f, k = k)
  out <- unique(mapply(band_of_complete, all$b, all$f, all$k, MoreArgs = list(plan = plan)))
  if (length(out) > 1) "not known" else c("straight", BANDS)[out + 1]
}

# rows of one foot as a list of columns in order of day
at <- function(rows, keep) lapply(rows, function(v) v[keep])

baseline_of <- function(rows, plan) {
  k <- which(rows$kind == "baseline" & abs(rows$day) <= plan$baseline_window)
  if (!length(k)) return(NULL)
  at(rows, k[order(abs(rows$day[k]), rows$day[k])[1]])
}

correction_of <- function(rows, last, reason, plan) {
  v <- at(rows, rows$day >= 1 & rows$day <= last)
  good_b <- v$position <= plan$bisector_at_most
  good_f <- v$flexibility %in% plan$flexibility
  good_f[is.na(v$flexibility)] <- NA
  state <- ifelse(good_b %in% FALSE | good_f %in% FALSE, 0, ifelse(good_b & good_f, 1, NA))
  # any assessment can show that a foot is not yet straight; only a checkup dates a correction
  not_yet <- v$day[state %in% 0]
  checkup <- v$kind != "baseline"
  visits <- sum(checkup)
  day <- v$day[checkup & !is.na(state)]
  state <- state[checkup & !is.na(state)]
  hit <- which(state == 1)
  if (plan$confirmed) hit <- hit[hit < length(state)][state[hit[hit < length(state)] + 1] == 1]
  base <- list(visits = visits, evaluable = length(state), uncorrected = max(c(0, not_yet)))
  if (length(hit)) {
    c <- day[hit[1]]
    return(c(base, list(time = c, cause = 1L, lower = max(c(0, not_yet[not_yet < c])), upper = c)))
  }
  cause <- switch(reason, `referred for casting` = , `referred for surgery` = 2L, withdrawn = 3L, finished = 4L, 0L)
  c(base, list(time = last, cause = cause, lower = base$uncorrected, upper = Inf))
}

# Spells in force: neighbours with the same hours are one; a spell lasts until the next begins, the last one to the end of therapy.
spells_of <- function(p, last) {
  p <- p[order(day)][day <= last]
  if (!nrow(p)) return(data.table(day = integer(), end = integer(), hours = numeric()))
  p <- p[c(TRUE, diff(hours) != 0), .(day, hours)]
  p[, end := c(day[-1] - 1L, last)]
  p <- p[end >= 0]
  p[, day := pmax(day, 0L)]
  p[, .(day, end, hours)]
}

step_downs_of <- function(spells, last, reason) {
  n <- nrow(spells)
  if (!n) return(NULL)
  down <- which(diff(spells$hours) < 0) + 1
  s <- data.table(day = spells$day[down], before = spells$hours[down - 1], after = spells$hours[down], since = spells$day[down - 1])
  if (reason == "finished") s <- rbind(s, data.table(day = last, before = spells$hours[n], after = 0, since = spells$day[n]))
  s
}

relapse_of <- function(s, next_day, rows, baseline, spells, last, reason, cut, plan) {
  of_baseline <- !is.null(baseline) && !is.na(baseline$position)
  known <- at(rows, !is.na(rows$position) & (rows$day >= 0 | rows$day == if (of_baseline) baseline$day else 0))
  past <- known$position[known$day <= s$day]
  reference <- if (length(past)) past[length(past)] else NA_real_
  worse <- known$day[known$day > s$day & known$position >= reference + plan$worse_by]
  back <- spells$day[c(FALSE, diff(spells$hours) > 0)]
  relapse <- min(c(Inf, worse[!is.na(worse)], back[back > s$day]))
  out <- function(state, time, cause) list(reference = reference, state = state, time = time, cause = cause)
  if (s$after == 0) {
    seen <- max(c(-Inf, known$day[known$day > s$day]))
    if (is.na(reference)) return(out("no reference", 0, 0L))
    if (seen == -Inf) return(out("not seen after the end", 0, 0L))
    whole <- s$day + 7 * plan$weeks_after
    end <- if (whole - seen <= plan$seen_within) min(whole, max(seen, cut)) else seen
    end_cause <- 0L
  } else if (is.finite(next_day)) {
    end <- next_day
    end_cause <- 2L
  } else {
    end <- last
    end_cause <- if (reason %in% c("referred for casting", "referred for surgery", "withdrawn")) 3L else 0L
  }
  if (relapse <= end) { end <- relapse; end_cause <- 1L }
  if (end == s$day) return(out("no time at risk", 0, 0L))
  out("followed", end - s$day, end_cause)
}

build_cohort <- function(x, plan, courses = TRUE) {
  rows <- counting_rows(x)
  columns <- as.list(rows)[c("day", "kind", "position", "flexibility", "medial_crease")]
  by_rows <- lapply(split(seq_len(nrow(rows)), factor(rows$episode_id, x$episodes$episode_id)), function(k) at(columns, k))
  by_phase <- split(x$phases, factor(x$phases$episode_id, x$episodes$episode_id))
  sides <- x$episodes[, .(both = all(c("left", "right") %in% foot)), by = infant_id]
  feet <- list(); spells <- list(); steps <- list()
  episodes <- as.list(x$episodes)
  for (i in seq_len(nrow(x$episodes))) {
    e <- lapply(episodes, function(v) v[i]); r <- by_rows[[i]]; id <- e$episode_id
    b <- baseline_of(r, plan)
    band <- if (is.null(b)) "not known" else band_of(b$position, b$flexibility, b$medial_crease, plan)
    k <- correction_of(r, e$last, e$reason, plan)
    sp <- if (courses) spells_of(by_phase[[i]], e$last) else data.table()
    st <- if (courses) step_downs_of(sp, e$last, e$reason)
    feet[[i]] <- list(episode_id = id, infant_id = e$infant_id, site_id = e$site_id, sex = e$sex, age = e$age,
      both = sides$both[match(e$infant_id, sides$infant_id)], band = band,
      position = if (is.null(b)) NA_real_ else b$position, flexibility = if (is.null(b)) NA_character_ else b$flexibility,
      crease = if (is.null(b)) NA_character_ else b$medial_crease, has_baseline = !is.null(b),
      last = e$last, reason = e$reason, time = as.numeric(k$time), cause = k$cause, lower = as.numeric(k$lower), upper = as.numeric(k$upper),
      visits = k$visits, evaluable = k$evaluable, n_spells = nrow(sp), n_steps = if (is.null(st)) 0L else nrow(st))
    if (nrow(sp)) spells[[i]] <- data.table(episode_id = id, sp, final = seq_len(nrow(sp)) == nrow(sp))
    if (!is.null(st) && nrow(st)) for (j in seq_len(nrow(st))) {
      nd <- if (j < nrow(st)) st$day[j + 1] else Inf
      q <- relapse_of(st[j], nd, r, b, sp, e$last, e$reason, x$cutOff - e$start, plan)
      steps[[length(steps) + 1]] <- data.table(episode_id = id, st[j], as.data.table(q))
    }
  }
  feet <- rbindlist(feet); spells <- rbindlist(spells); steps <- rbindlist(steps)
  if (plan$use == "one per infant") {
    worst <- match(feet$band, c("severe", "moderate", "mild", "straight", "not known"))
    keep <- feet[order(infant_id, worst, episode_id)][!duplicated(infant_id), episode_id]
    feet <- feet[episode_id %in% keep]
  }
  if (!courses) return(list(feet = feet))
  attach <- function(d) cbind(d <- d[episode_id %in% feet$episode_id], feet[match(d$episode_id, feet$episode_id), .(infant_id, band, last_day = last, reason)])
  list(feet = feet, spells = attach(spells), steps = attach(steps), rows = rows[episode_id %in% feet$episode_id])
}
