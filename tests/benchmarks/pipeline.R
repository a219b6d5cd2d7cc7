# The whole way of a user's script: read a CSV file, Kaplan-Meier by group, log-rank, Cox (Efron, five covariates),
# results written as CSV.
suppressPackageStartupMessages(library(survival))
arguments <- commandArgs(TRUE)
output <- arguments[2]
d <- as.data.frame(data.table::fread(arguments[1], showProgress = FALSE))
curves <- summary(survfit(Surv(time, status) ~ group, d))
write.csv(
  data.frame(group = curves$strata, time = curves$time, atRisk = curves$n.risk, events = curves$n.event,
    survival = curves$surv, standardError = curves$std.err, lower = curves$lower, upper = curves$upper),
  output, row.names = FALSE
)
cat(survdiff(Surv(time, status) ~ group, d)$chisq, "\n", file = paste0(output, ".log-rank.txt"))
write.csv(summary(coxph(Surv(time, status) ~ x1 + x2 + x3 + x4 + x5, d))$coefficients, paste0(output, ".cox.csv"))
status <- readLines("/proc/self/status")
peak <- as.numeric(gsub("[^0-9]", "", grep("VmHWM", status, value = TRUE))) / 1024
used <- proc.time()
cat(sprintf('{"processorSeconds": [%.3f], "peakMegabytes": %.1f}', used[["user.self"]] + used[["sys.self"]], peak))
