# Recomputes, from the CSV files alone, what recompute-sample.R leaves out: what goes with relapse, rate ratios, going back
# to full time, skin events by weeks, fitting and review, adherence by week in classes, and the missing days counted as not worn in the hazard of
# correction. Nothing of the package is called.
#   Rscript deeper-questions.R EXPORT [OUTPUT.json]
suppressPackageStartupMessages({ library(data.table); library(survival); library(sandwich) })
arguments <- commandArgs(trailingOnly = TRUE)
script <- normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1]))
here <- dirname(script)
source(file.path(here, "..", "common.R"))
setDTthreads(1)
for (f in c("plan", "read-export", "cohort", "adherence", "curves", "models", "results-relapse", "results-adherence", "results-correction")) source(file.path(here, paste0(f, ".R")))
export <- arguments[1]
output <- if (length(arguments) > 1) arguments[2] else file.path(here, "..", "..", "values", "sample-deeper.json")
x <- read_export(export)
cohort <- build_cohort(x, plan)
feet <- cohort$feet

# What goes with relapse
days <- adherence_rule(x, cohort, plan)$days
steps <- copy(cohort$steps)[time > 0]
steps[, step := paste(before, after)]
steps[, weeks := (day - since) / 7][, halves := 2 * reference]
steps[, tenths := mapply(function(id, s) {
  v <- days$adherence[days$episode_id == id & days$day >= s - 14 & days$day < s]
  v <- v[!is.na(v)]
  if (length(v) >= 7) 10 * mean(v) else NA_real_
}, episode_id, day)]
steps[, banded := band %in% BANDS]
steps[, moderate := (band == "moderate") * 1][, severe := (band == "severe") * 1]
hazard <- function(names, needs) {
  d <- steps[Reduce(`&`, lapply(needs, function(n) if (n == "band") banded else !is.na(steps[[n]])))]
  f <- coxph(as.formula(paste("Surv(time, cause == 1) ~", paste(names, collapse = " + "), "+ strata(step)")), data = d, cluster = infant_id, ties = "efron", control = COX)
  s <- sqrt(diag(f$var))
  list(n = nrow(d), events = sum(d$cause == 1), name = I(names), ratio = I(unname(exp(coef(f)))), lower = I(unname(exp(coef(f) - Z * s))), upper = I(unname(exp(coef(f) + Z * s))))
}
both <- c("moderate", "severe")
relapse <- list(
  weeks = hazard("weeks", "weeks"), position = hazard("halves", "halves"), adherence = hazard("tenths", "tenths"), band = hazard(both, "band"),
  adjusted = hazard(c("weeks", "halves", both), c("weeks", "halves", "band")),
  adjustedWithWear = hazard(c("weeks", "halves", "tenths", both), c("weeks", "halves", "tenths", "band")))

# Rate ratios: exact given the sum of events; Poisson with the sandwich summed by infant, times G / (G - 1)
compare <- function(count, time, group, infant, order) {
  g <- factor(group, order)
  k <- !is.na(g) & time > 0
  count <- count[k]; time <- time[k]; infant <- infant[k]; g <- g[k]
  e <- tapply(count, g, sum); t <- tapply(time, g, sum)
  f <- glm(count ~ g, family = poisson, offset = log(time), control = glm.control(epsilon = 1e-14, maxit = 100))
  s <- sqrt(diag(vcovCL(f, cluster = infant, type = "HC0", cadjust = TRUE)))[-1]; b <- coef(f)[-1]
  exact <- lapply(2:length(order), function(i) {
    p <- binom.test(e[i], e[i] + e[1])$conf.int
    list(ratio = unname(e[i] / t[i] / (e[1] / t[1])), lower = p[1] / (1 - p[1]) * unname(t[1] / t[i]), upper = p[2] / (1 - p[2]) * unname(t[1] / t[i]))
  })
  list(reference = order[1], group = I(order[-1]), exact = exact, clustered = list(ratio = I(unname(exp(b))), lower = I(unname(exp(b - Z * s))), upper = I(unname(exp(b + Z * s)))))
}
steps[, name := paste(before, "to", ifelse(after == 0, "none", after))]
rateRatios <- list(
  steps = with(steps, compare((cause == 1) * 1, time, name, infant_id, c("24 to 15", "15 to 12", "12 to none"))),
  bands = with(steps, compare((cause == 1) * 1, time, band, infant_id, BANDS)))

# Going back to full time; causes 1 back, 2 finished, 3 left
back <- rbindlist(lapply(split(cohort$spells, cohort$spells$episode_id), function(s) {
  k <- which(s$hours[-1] == 24 & s$hours[-nrow(s)] < 24)
  data.table(episode_id = s$episode_id[1], infant_id = s$infant_id[1], band = s$band[1], day = if (length(k)) s$day[-1][k[1]] else s$last_day[1],
    cause = if (length(k)) 1L else if (s$reason[1] == "finished") 2L else if (s$reason[1] %in% c("referred for casting", "referred for surgery", "withdrawn")) 3L else 0L)
}))
returns <- lapply(c(list(all = unique(back$band)), setNames(as.list(BANDS), BANDS)), function(b) with(back[band %in% b],
  c(list(feet = length(day), back = sum(cause == 1)), cumulative_incidence(day, cause, c(back = 1, finished = 2, left = 3), infant_id, c(42, 84, 112)))))

# Skin: by weeks since first fitting, by fitting of the shell, review
events <- x$events[episode_id %in% feet$episode_id]
events[, last := feet$last[match(episode_id, feet$episode_id)]]
events <- events[day >= 0 & day <= last]
sores <- events[kind %in% c("blister", "pressure sore")]
ends <- c(0, 14, 42, 84, Inf)
weeks <- lapply(1:4, function(i) c(list(from = ends[i] / 7), rate_per_100(sum(sores$day < ends[i + 1] & sores$day >= ends[i]), sum(pmax(0, pmin(feet$last, ends[i + 1]) - ends[i])))))
raw <- fread(file.path(export, "episodes.csv"), colClasses = "character")
raw <- raw[match(feet$episode_id, episode_id)]
fitting <- function(column, e) {
  n <- as.vector(table(factor(e$episode_id, feet$episode_id)))
  compare(n, feet$last, ifelse(raw[[column]] == "", NA, raw[[column]]), feet$infant_id, c("no", "yes"))
}
skinKinds <- c("slight redness", "strong redness", "blister", "pressure sore")
fittings <- list(ankle = list(sore = fitting("ankle_opened", sores), any = fitting("ankle_opened", events[kind %in% skinKinds])),
  toe = list(sore = fitting("toe_relieved", sores), any = fitting("toe_relieved", events[kind %in% skinKinds])))
rawEvents <- fread(file.path(export, "events.csv"), colClasses = "character")[kind %in% c("blister", "pressure sore")]
start <- as.Date(raw$start_date)[match(rawEvents$episode_id, feet$episode_id)]
day <- as.integer(as.Date(rawEvents$date) - start)
inside <- !is.na(day) & day >= 0 & day <= feet$last[match(rawEvents$episode_id, feet$episode_id)]
due <- inside & as.integer(as.Date(rawEvents$date)) + 7 <= x$cutOff
inTime <- due & rawEvents$review_date != "" & as.integer(as.Date(ifelse(rawEvents$review_date == "", NA, rawEvents$review_date)) - as.Date(rawEvents$date)) <= 7
wilson <- prop.test(sum(inTime), sum(due), correct = FALSE)$conf.int
review <- list(due = sum(due), inTime = sum(inTime), lower = wilson[1], upper = wilson[2])

# The hazard of correction by lagged adherence, missing days as not worn
notWorn <- adherence_rule(x, cohort, modifyList(plan, list(missing_days = "not worn")))$days
lagged <- time_varying(cohort, notWorn, plan)

# Share of feet with 80 % of their days covered: logistic error summed by infant, times G / (G - 1)
covered <- adherence_rule(x, cohort, plan)$feet[with_data > 0]
hit <- (covered$covered / covered$with_data >= 0.8 - 1e-9) * 1
f <- glm(hit ~ 1, family = binomial, control = glm.control(epsilon = 1e-14))
s <- sqrt(vcovCL(f, cluster = covered$infant_id, type = "HC0", cadjust = TRUE))[1]
reached <- list(feet = length(hit), reached = sum(hit), share = mean(hit), lower = plogis(unname(coef(f)) - Z * s), upper = plogis(unname(coef(f)) + Z * s))

# Adherence by week in classes: each foot by the mean of its days with data in the week, week 1 being days 0 to 6
mean_of_week <- days[!is.na(worn), .(mean = mean(adherence)), by = .(episode_id, week = day %/% 7L + 1L)][week <= 24]
classes <- mean_of_week[, .(feet = .N, whole = sum(mean >= 1 - 1e-9), high = sum(mean >= 0.9 - 1e-9 & mean < 1 - 1e-9), covered = sum(mean >= 0.8 - 1e-9 & mean < 0.9 - 1e-9), half = sum(mean >= 0.5 - 1e-9 & mean < 0.8 - 1e-9), less = sum(mean < 0.5 - 1e-9)), by = week][order(week)]

write_json(list(dataset = "synthetic-data", call = "scripts/sample/deeper-questions.R", rPackage = "survival+sandwich+data.table+by hand",
  version = paste0("R ", getRversion(), ", survival ", packageVersion("survival"), ", sandwich ", packageVersion("sandwich")),
  values = list(relapse = relapse, rateRatios = rateRatios, returns = returns, skinByWeeks = weeks, fittings = fittings, review = review,
    laggedNotWorn = lagged[c("footDaysWithValue", "feetWithValue", "correctionsWithValue", "adherenceAlone", "withBand")], daysCovered = reached, weekClasses = classes)), output)
