# Recounts the audit standards of an export by calendar quarter, from its CSV files alone:
#   Rscript make-audit-quarters.R EXPORT [OUTPUT.json]
# The rules are those of docs/definitions.md (Audit standards) and the defaults of the plan. Nothing of the package is called.
suppressPackageStartupMessages(library(jsonlite))
arguments <- commandArgs(trailingOnly = TRUE)
export <- arguments[1]
script <- normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1]))
output <- if (length(arguments) > 1) arguments[2] else file.path(dirname(script), "..", "values", "audit-quarters.json")

table_named <- function(name) read.csv(file.path(export, paste0(name, ".csv")), colClasses = "character", na.strings = "")
day <- function(text) as.integer(as.Date(text))
cut_off <- day(sub(".*cut_off: *([0-9-]+).*", "\\1", paste(readLines(file.path(export, "export.yaml")), collapse = " ")))
episodes <- table_named("episodes"); assessments <- table_named("assessments"); phases <- table_named("phases"); events <- table_named("events")
episodes <- episodes[order(episodes$episode_id), ]
quarter_name <- function(d) { p <- as.POSIXlt(as.Date(d, origin = "1970-01-01")); sprintf("%d-Q%d", p$year + 1900L, p$mon %/% 3L + 1L) }
quarter_end <- function(d) { p <- as.POSIXlt(as.Date(d, origin = "1970-01-01")); m <- (p$mon %/% 3L) * 3L + 3L
  as.integer(as.Date(sprintf("%d-%02d-01", p$year + 1900L + m %/% 12L, m %% 12L + 1L))) - 1L }

hits <- list()
item <- function(standard, date, met) hits[[length(hits) + 1]] <<- data.frame(standard, quarter = quarter_name(date), met)
exposure <- numeric(0); counts <- numeric(0)

for (i in seq_len(nrow(episodes))) {
  e <- episodes[i, ]
  start <- day(e$start_date)
  last <- if (is.na(e$end_date)) cut_off - start else day(e$end_date) - start
  ended <- !is.na(e$end_date)
  a <- assessments[assessments$episode_id == e$episode_id, ]
  # The treating clinician's row of a day counts, else the first assessor by code.
  a <- a[order(a$date, !(a$assessor_id %in% e$clinician_id), a$assessor_id), ]
  a <- a[!duplicated(a$date), ]
  a$day <- day(a$date) - start
  a$position <- as.numeric(a$bisector_position)
  checkups <- a$day[a$kind != "baseline" & a$day >= 1 & a$day <= last]
  seen <- function(from, to) any(checkups >= from & checkups <= to)
  b <- a[a$kind == "baseline" & abs(a$day) <= 14, ]
  b <- b[order(abs(b$day), b$day), ][1, ]
  item("baseline-photograph", start, e$baseline_photo %in% "yes")
  item("teach-back", start, e$teach_back %in% "yes")
  item("baseline-findings", start, !is.na(b$position) && !is.na(b$flexibility) && !is.na(b$medial_crease))
  if (last >= 17) item("first-checkup", start + 17, seen(11, 17))
  if (last >= 49) item("second-checkup", start + 49, seen(35, 49))

  p <- phases[phases$episode_id == e$episode_id, ]
  p <- p[order(p$start_date), ]
  p$day <- pmax(0, day(p$start_date) - start)
  p$hours <- as.numeric(p$prescribed_hours)
  p <- p[p$day <= last, ]
  if (nrow(p) > 1) p <- p[c(TRUE, diff(p$hours) != 0), ]
  for (k in seq_len(nrow(p))) {
    final <- k == nrow(p)
    until <- if (final) last else p$day[k + 1]
    for (hours in c(15, 12)) if (p$hours[k] == hours && start + p$day[k] + 26 <= cut_off) {
      fell_due <- if (!final || (ended && e$end_reason == "finished")) until >= p$day[k] + 16 else until >= p$day[k] + 26
      if (fell_due) item(paste0("checkup-at-", hours, "-hours"), start + p$day[k] + 26, seen(p$day[k] + 16, p$day[k] + 26))
    }
    down <- if (!final) p$hours[k + 1] < p$hours[k] else ended && e$end_reason == "finished"
    if (down) {
      known <- a[!is.na(a$position) & a$day <= until & (a$day >= 0 | a$day %in% b$day), ]
      n <- nrow(known)
      if (n > 1 && known$day[n] >= until - 7) item("no-step-down-while-worse", start + until, known$position[n] <= known$position[n - 1])
    }
  }

  v <- events[events$episode_id == e$episode_id & events$kind %in% c("blister", "pressure sore"), ]
  for (k in seq_len(nrow(v))) {
    on <- day(v$date[k])
    if (on < start || on > start + last) next
    counts[quarter_name(on)] <- sum(counts[quarter_name(on)], 1, na.rm = TRUE)
    if (on + 7 <= cut_off) {
      review <- day(v$review_date[k]) - on
      item("skin-review", on, !is.na(review) && review >= 0 && review <= 7)
    }
  }
  if (last >= 1) {
    t <- table(quarter_name(start + seq_len(last)))
    for (q in names(t)) exposure[q] <- sum(exposure[q], t[[q]], na.rm = TRUE)
  }
  if (start + 182 <= cut_off) {
    judged <- min(quarter_end(start + 182), cut_off) - start
    item("closed-with-reason", start + 182, (ended && last <= judged) || any(a$day <= judged & a$day >= judged - 42))
  }
  if (ended) item("lost-to-follow-up", start + last, e$end_reason != "lost to follow-up")
}

h <- do.call(rbind, hits)
by_standard <- lapply(split(h, h$standard), function(s) {
  t <- aggregate(met ~ quarter, s, function(m) c(met = sum(m), n = length(m)))
  data.frame(quarter = t$quarter, met = t$met[, "met"], n = t$met[, "n"])
})
wilson <- function(k, n) { i <- suppressWarnings(prop.test(k, n, correct = FALSE)$conf.int); c(i[1], i[2]) }
intervals <- lapply(by_standard, function(s) { r <- s[s$quarter == "2025-Q4", ]; if (nrow(r)) wilson(r$met, r$n) })
quarters <- sort(names(exposure))
rate <- list(quarter = quarters, events = unname(ifelse(is.na(counts[quarters]), 0, counts[quarters])), footDays = unname(exposure[quarters]))
document <- list(
  dataset = "synthetic-data (episodes.csv, assessments.csv, phases.csv, events.csv, export.yaml)", call = "scripts/make-audit-quarters.R",
  rPackage = "base R by hand, stats::prop.test for the intervals", version = R.version.string,
  values = list(standards = by_standard, wilsonOf2025Q4 = intervals, skinRate = rate))
write(toJSON(document, digits = NA, auto_unbox = TRUE, dataframe = "columns", pretty = 1), output)
