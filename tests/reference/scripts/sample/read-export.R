# Reads the five tables of an export folder: text to numbers, dates to whole days, blank cells to NA.
# Only a clean export is recomputed here: anything that the checks would refuse stops the script.

read_table <- function(folder, name) {
  d <- fread(file.path(folder, paste0(name, ".csv")), colClasses = "character", na.strings = "", encoding = "UTF-8")
  for (v in names(d)) set(d, j = v, value = trimws(d[[v]]))
  for (v in names(d)) set(d, which(d[[v]] == ""), v, NA_character_)
  d
}

as_day <- function(x) as.integer(as.Date(x, format = "%Y-%m-%d"))

read_cut_off <- function(folder, tables) {
  file <- file.path(folder, "export.yaml")
  if (file.exists(file)) {
    line <- grep("^cut_off:", readLines(file), value = TRUE)
    if (length(line)) return(as_day(sub("^cut_off:[ \"']*([0-9-]+).*$", "\\1", line[1])))
  }
  dates <- unlist(lapply(tables, function(d) lapply(grep("date$", names(d), value = TRUE), function(v) as_day(d[[v]]))))
  max(dates, na.rm = TRUE)
}

read_export <- function(folder) {
  tables <- sapply(c("episodes", "assessments", "phases", "wear", "events"), function(n) read_table(folder, n), simplify = FALSE)
  cut_off <- read_cut_off(folder, tables)
  e <- tables$episodes
  e[, start := as_day(start_date)]
  e[, ended := !is.na(end_date)]
  e[, last := fifelse(ended, as_day(end_date), cut_off) - start]
  e[, reason := fifelse(ended, end_reason, "in therapy")]
  e[, age := as.numeric(age_at_start_days)]
  if ("birth_date" %in% names(e)) e[is.na(age), age := as.numeric(start - as_day(birth_date))]
  setorder(e, episode_id)
  on_episode <- function(d, column) { d[, day := as_day(get(column)) - e$start[match(episode_id, e$episode_id)]]; d }
  a <- on_episode(tables$assessments, "date")
  a[, position := as.numeric(bisector_position)]
  p <- on_episode(tables$phases, "start_date")
  p[, hours := as.numeric(prescribed_hours)]
  w <- on_episode(tables$wear, "date")
  w[, worn := as.numeric(hours_worn)]
  v <- on_episode(tables$events, "date")
  v[, review := as_day(review_date) - as_day(date)]
  stopifnot(
    !anyDuplicated(e$episode_id), !anyNA(e$last), all(e$last >= 0), !anyNA(e$infant_id), !anyNA(e$reason),
    all(c(a$episode_id, p$episode_id, w$episode_id, v$episode_id) %in% e$episode_id),
    !anyDuplicated(w[, .(episode_id, day, source)]), !anyDuplicated(v[, .(episode_id, day, kind)]),
    !anyDuplicated(a[, .(episode_id, day, assessor_id)]), !anyDuplicated(p[, .(episode_id, day)]),
    !anyNA(w$worn), all(w$worn >= 0 & w$worn <= 24), all(p$hours %in% c(24, 15, 12)),
    all(a$position %in% c(NA, seq(2, 5, 0.5))),
    all(unlist(lapply(list(a, w, v), function(d) as_day(d$date))) <= cut_off)
  )
  list(episodes = e, assessments = a, phases = p, wear = w, events = v, cutOff = cut_off,
    rows = sapply(tables, nrow))
}
