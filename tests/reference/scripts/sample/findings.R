# Recomputes every number of the findings of an export from its CSV files alone:
#   Rscript findings.R EXPORT [OUTPUT.json]
# The rules are those of docs/definitions.md and the defaults of the analysis plan. Nothing of the package is called; only
# the keys under which the numbers stand are shared. Resampled limits and drawn values are
# checked by distribution: see sample.md.
suppressPackageStartupMessages({ library(data.table); library(survival); library(cmprsk); library(npsurv) })
arguments <- commandArgs(trailingOnly = TRUE)
script <- normalizePath(sub("^--file=", "", grep("^--file=", commandArgs(FALSE), value = TRUE)[1]))
here <- dirname(script)
source(file.path(here, "..", "common.R"))
setDTthreads(1)
for (f in c("plan", "read-export", "cohort", "adherence", "curves", "models", "results-correction", "results-relapse", "results-adherence", "results-duration", "results-skin", "results-agreement", "results-occupancy",
  "fine-gray-variance", "findings-tools", "findings-correction", "findings-course", "findings-duration", "findings-sensitivity", "findings-baseline", "findings-imputed", "findings-resampled", "findings-audit")) source(file.path(here, paste0(f, ".R")))
export <- arguments[1]
output <- if (length(arguments) > 1) arguments[2] else file.path(here, "..", "..", "values", "sample-findings.json")
x <- read_export(export)
cohort <- build_cohort(x, plan)
days <- adherence_days(x, cohort, plan)
step <- function(what, f) { t <- system.time(f)[3]; message(what, ": ", round(t, 1), " s") }
step("baseline", baseline_finding(cohort, x))
step("correction", correction_finding(cohort, days))
step("relapse", relapse_finding(cohort))
step("adherence", adherence_finding(x, cohort, days, adherence_of_feet(cohort, days, plan), adherence_of_spells(cohort, days, plan)))
step("skin", skin_finding(x, cohort))
step("occupancy", occupancy_finding(cohort))
step("feet like this", feet_like_finding(cohort))
step("agreement", agreement_finding(x, cohort))
step("sensitivity", sensitivity_finding(x, plan))
step("duration", duration_findings(cohort))
step("audit", audit_findings(x, cohort))
step("missing findings", imputed_finding(cohort, file.path(here, "..", "..", "datasets", "sample-imputed-findings.csv")))
step("resampled limits", resampled_limits(x, cohort, days))
write_json(list(dataset = "synthetic-data", call = "scripts/sample/findings.R", rPackage = "survival+npsurv+data.table+by hand",
  version = paste0("R ", getRversion(), ", survival ", packageVersion("survival"), ", npsurv ", packageVersion("npsurv"), ", data.table ", packageVersion("data.table")), values = out), output)
