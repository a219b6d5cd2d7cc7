# Percentile and BCa limits of the boot package for given resampled values, so that a re-implementation can be checked
# on the same resamples. Needs R with boot and jsonlite. Run from tests/reference: Rscript scripts/make-bootstrap.R
library(boot); library(jsonlite)
x <- na.omit(read.csv("datasets/airquality.csv")$Ozone)
statistic <- function(d, i) sd(d[i]) / mean(d[i])
set.seed(20)
b <- boot(x, statistic, R = 599)
jack <- sapply(seq_along(x), function(i) statistic(x[-i], seq_len(length(x) - 1)))
L <- mean(jack) - jack
limits <- lapply(c(0.9, 0.95, 0.99), function(level) {
  ci <- suppressWarnings(boot.ci(b, conf = level, type = c("perc", "bca"), L = L))
  list(level = level, percentile = ci$percent[4:5], bca = ci$bca[4:5])
})
ref <- list(dataset = "airquality", call = "boot of sd/mean of Ozone (missing dropped), 599 resamples; boot.ci type perc and bca with L the jackknife's mean less its values (the package's own jackknife centres on the estimate)",
  rPackage = "boot", version = as.character(packageVersion("boot")), notes = "jackknife: the statistic with one value left out, in the order of the data",
  values = list(estimate = b$t0, resampled = as.vector(b$t), jackknife = jack, limits = limits))
writeLines(toJSON(ref, digits = I(17), auto_unbox = TRUE), "values/bootstrap-limits.json")
