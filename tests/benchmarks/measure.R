# One task, on one file, some repetitions, in a process of its own: elapsed and processor time in seconds and peak memory in megabytes.
suppressPackageStartupMessages({
  library(survival)
  library(cmprsk)
  library(data.table)
  library(jsonlite)
})
arguments <- commandArgs(TRUE)
task <- arguments[1]
d <- as.data.frame(fread(arguments[2], showProgress = FALSE))
repetitions <- as.integer(arguments[3])
d$ending <- factor(d$cause, 0:2, c("censored", "first", "second"))

resample_median <- function() {
  set.seed(1)
  rows <- split(seq_len(nrow(d)), d$infant)
  for (i in 1:1000) {
    drawn <- unlist(rows[sample.int(length(rows), replace = TRUE)], use.names = FALSE)
    quantile(survfit(Surv(time, status) ~ 1, d[drawn, ], se.fit = FALSE), 0.5, conf.int = FALSE)
  }
  unname(quantile(survfit(Surv(time, status) ~ 1, d), 0.5, conf.int = FALSE))
}

# The 100th distinct time of the first group, where the other side reports too.
hundredth <- function(fit, what) what[100]

tasks <- list(
  "kaplan-meier" = function() { f <- survfit(Surv(time, status) ~ group, d); hundredth(f, f$surv) },
  "log-rank" = function() survdiff(Surv(time, status) ~ group, d)$chisq,
  "cox" = function() unname(coxph(Surv(time, status) ~ x1 + x2 + x3 + x4 + x5, d)$concordance["concordance"]),
  "aalen-johansen" = function() { f <- survfit(Surv(time, ending) ~ group, d); hundredth(f, f$std.err[, 2]) },
  "gray" = function() cuminc(d$time, d$cause, d$group)$Tests[1, 1],
  "bootstrap" = resample_median
)

seconds <- processor <- numeric(repetitions)
for (i in seq_len(repetitions)) {
  gc(FALSE)
  used <- system.time(value <- tasks[[task]]())
  seconds[i] <- used[["elapsed"]]
  processor[i] <- used[["user.self"]] + used[["sys.self"]]
}
status <- readLines("/proc/self/status")
peak <- as.numeric(gsub("[^0-9]", "", grep("VmHWM", status, value = TRUE))) / 1024
cat(toJSON(list(seconds = seconds, processorSeconds = processor, value = unbox(value), peakMegabytes = unbox(peak)), digits = 17))
