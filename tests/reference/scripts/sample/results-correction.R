# Time to correction by band, with every estimate that stands beside the headline.

design <- function(feet) {
  sites <- sort(unique(feet$site_id), method = "radix")
  X <- data.frame(moderate = (feet$band == "moderate") * 1, severe = (feet$band == "severe") * 1, age4w = feet$age / 28,
    male = ifelse(feet$sex %in% c("male", "female"), (feet$sex == "male") * 1, NA), bilateral = feet$both * 1,
    crease = ifelse(is.na(feet$crease), NA, (feet$crease == "yes") * 1))
  for (s in sites[-1]) X[[paste0("site_", s)]] <- (feet$site_id == s) * 1
  X
}

by_band <- function(d, fun) { out <- lapply(BANDS, function(b) fun(d[band == b])); names(out) <- BANDS; out }
days_of <- function(weeks) 7 * weeks
CORRECTION <- c(corrected = 1, referred = 2, withdrawn = 3, `finished uncorrected` = 4)

correction_curves <- function(feet, plan) {
  banded <- feet[band %in% BANDS]
  days <- days_of(plan$correction_weeks)
  one <- function(d) list(
    incidence = cumulative_incidence(d$time, d$cause, CORRECTION, d$infant_id, days),
    kaplanMeier = kaplan_meier(d$time, (d$cause == 1) * 1, d$infant_id, days))
  c(list(all = one(banded)), by_band(banded, one))
}

correction_results <- function(cohort, plan) {
  d <- cohort$feet[band %in% BANDS]; days <- days_of(plan$correction_weeks)
  event <- (d$cause == 1) * 1; score <- c(mild = 1, moderate = 2, severe = 3)
  out <- list(feet = nrow(d), infants = length(unique(d$infant_id)))
  out$causes <- by_band(d, function(g) c(feet = nrow(g), infants = length(unique(g$infant_id)), censored = sum(g$cause == 0),
    sapply(CORRECTION, function(k) sum(g$cause == k))))
  out$curves <- correction_curves(cohort$feet, plan)
  out$logRank <- log_rank(d$time, event, factor(d$band, BANDS), score)
  gray <- cuminc(d$time, d$cause, d$band)$Tests
  out$grayTest <- list(statistic = gray["1", "stat"], df = gray["1", "df"], p = gray["1", "pv"])
  out$turnbull <- by_band(d, function(g) turnbull(g$lower, g$upper, days))
  # an interval from 0 without end says nothing
  says <- d$lower > 0 | is.finite(d$upper)
  interval <- function(g) Surv(ifelse(g$lower == 0, NA, g$lower), ifelse(is.finite(g$upper), g$upper, NA), type = "interval2")
  weibull <- function(g) {
    f <- accelerated(interval(g), NULL, g$infant_id, "weibull")
    mu <- as.numeric(f$terms$coefficient[1]); f$shape <- 1 / f$scale; f$scaleDays <- exp(mu); f$day <- I(days)
    f$incidence <- I(1 - exp(-(days / exp(mu))^(1 / f$scale))); f$medianDays <- exp(mu) * log(2)^f$scale; f
  }
  out$weibull <- c(list(leftOutWithoutInformation = sum(!says), all = weibull(d[says])), by_band(d[says], weibull))
  out$weibull$bandModel <- accelerated(interval(d[says]), design(d[says])[, c("moderate", "severe")], d$infant_id[says], "weibull")
  tau <- 112
  mean_of <- function(fun) {
    m <- by_band(d, fun); strip <- function(x) { x$influence <- NULL; x }
    c(lapply(m, strip), list(moderateLessMild = difference(m$mild, m$moderate), severeLessMild = difference(m$mild, m$severe), severeLessModerate = difference(m$moderate, m$severe)))
  }
  out$restrictedMean <- list(horizonDays = tau,
    kaplanMeier = mean_of(function(g) restricted_mean(g$time, (g$cause == 1) * 1, g$infant_id, tau)),
    daysCorrected = mean_of(function(g) incidence_area(g$time, g$cause, 1, g$infant_id, tau)))
  X <- design(d); whole <- complete.cases(X)
  crude <- c("moderate", "severe")
  out$cox <- list(crude = cox(Surv(d$time, event), X[, crude], d$infant_id), leftOutOfAdjusted = sum(!whole),
    missing = sapply(X, function(v) sum(is.na(v))), adjusted = cox(Surv(d$time, event)[whole], X[whole, ], d$infant_id[whole]))
  out$fineGray <- list(crude = fine_gray(d$time, d$cause, X[, crude], d$infant_id), adjusted = fine_gray(d$time[whole], d$cause[whole], X[whole, ], d$infant_id[whole]))
  out
}

sensitivity_results <- function(x, plan) {
  variants <- list(headline = list(), oneFootPerInfant = list(use = "one per infant"), web = list(scheme = "web"),
    bisectorAlone = list(rule = "bisector alone"), flexibilityAlone = list(rule = "flexibility alone"), creaseDoesNotLift = list(crease_lifts_mild = FALSE),
    confirmedAtNextCheckup = list(confirmed = TRUE))
  lapply(variants, function(v) {
    p <- modifyList(plan, v); f <- build_cohort(x, p, courses = FALSE)$feet
    list(feet = nrow(f), bands = table_of(f$band), curves = correction_curves(f, p))
  })
}

table_of <- function(v, levels = c(BANDS, "straight", "not known")) sapply(setNames(levels, levels), function(l) sum(v == l))
