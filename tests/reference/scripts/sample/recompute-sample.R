# Recomputes the results of an export from its CSV files alone:
#   Rscript recompute-sample.R EXPORT [OUTPUT.json]
# The rules are those of docs/definitions.md and the defaults of the analysis plan. Nothing of the package is called.
suppressPackageStartupMessages({ library(data.table); library(survival); library(cmprsk); library(npsurv) })
arguments <- commandArgs(trailingOnly = TRUE)
script <- normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1]))
here <- dirname(script)
source(file.path(here, "..", "common.R"))
setDTthreads(1)
for (f in c("plan", "read-export", "cohort", "adherence", "curves", "models", "results-correction", "results-relapse", "results-adherence", "results-duration", "results-skin", "results-agreement", "results-occupancy", "results-audit", "readings")) source(file.path(here, paste0(f, ".R")))
export <- arguments[1]
output <- if (length(arguments) > 1) arguments[2] else file.path(here, "..", "..", "values", "sample.json")

x <- read_export(export)
cohort <- build_cohort(x, plan)
feet <- cohort$feet
missing_rule <- adherence_rule(x, cohort, plan)
not_worn <- adherence_rule(x, cohort, modifyList(plan, list(missing_days = "not worn")))
a <- missing_rule$feet
missing_findings <- function(f) {
  t <- table(ifelse(!f$has_baseline, "no baseline assessment", paste0(ifelse(is.na(f$position), "position ", ""), ifelse(is.na(f$flexibility), "flexibility ", ""), ifelse(is.na(f$crease), "crease", ""))))
  setNames(as.vector(t), trimws(names(t)))
}
infants_in <- function(b) length(unique(feet$infant_id[feet$band %in% b]))

values <- list(
  cohort = list(
    rows = x$rows, cutOff = format(as.Date(x$cutOff, origin = "1970-01-01")), feet = nrow(feet), infants = length(unique(feet$infant_id)),
    bilateralInfants = length(unique(feet$infant_id[feet$both])), bands = table_of(feet$band), infantsByBand = sapply(setNames(BANDS, BANDS), infants_in),
    bandedInfants = infants_in(BANDS), notKnownByMissing = missing_findings(feet[band == "not known"]), reasons = { t <- table(feet$reason); setNames(as.vector(t), names(t)) },
    assessmentsThatCount = nrow(cohort$rows), spells = nrow(cohort$spells), stepDowns = nrow(cohort$steps),
    episodes = data.frame(episode = feet$episode_id, infant = feet$infant_id, band = feet$band, correctionDay = ifelse(feet$cause == 1, feet$time, NA), cause = feet$cause,
      time = feet$time, intervalLower = feet$lower, intervalUpper = feet$upper, lastDay = feet$last, end = feet$reason,
      lapseDay = a$lapse_time, lapse = a$lapse, discontinuationDay = a$stop_time, discontinuation = a$stop,
      checkups = feet$visits, evaluableCheckups = feet$evaluable, spells = feet$n_spells, stepDowns = feet$n_steps, wearDays = a$with_data, coveredDays = a$covered),
    stepDownTable = with(cohort$steps, data.frame(episode = episode_id, day = day, before = before, after = after, daysInPhaseBefore = day - since, reference = reference, state = state, time = time, cause = cause)),
    spellTable = with(missing_rule$spells, data.frame(episode = episode_id, hours = hours, start = start, end = end, lapseTime = lapse_time, lapse = lapse, discontinuationTime = stop_time, discontinuation = stop))),
  timeToCorrection = correction_results(cohort, plan),
  sensitivity = sensitivity_results(x, plan),
  relapse = relapse_results(cohort, plan),
  adherence = list(missing = missing_rule$results, notWorn = not_worn$results, diaryAgainstSensor = diary_against_sensor(x, cohort, missing_rule$days), correctionByLaggedAdherence = time_varying(cohort, missing_rule$days, plan)),
  totalDuration = duration_results(cohort, plan),
  skin = skin_results(x, cohort, plan),
  agreement = agreement_results(x, cohort),
  phaseOccupancy = occupancy_results(cohort),
  audit = audit_results(x, cohort, plan)
)
version_of <- function(p) as.character(packageVersion(p))
write_json(list(dataset = "synthetic-data (episodes.csv, assessments.csv, phases.csv, wear.csv, events.csv, export.yaml)", call = "scripts/sample/recompute-sample.R",
  rPackage = "survival+cmprsk+npsurv+data.table+by hand", version = paste0("R ", getRversion(), ", survival ", version_of("survival"), ", cmprsk ", version_of("cmprsk"), ", npsurv ", version_of("npsurv"), ", data.table ", version_of("data.table")),
  inputs = setNames(unname(tools::md5sum(file.path(export, paste0(names(x$rows), ".csv")))), paste0(names(x$rows), ".csv")),
  notes = conventions, readings = I(readings), values = values), output)
