# One Cox model with everything at once: late entry, ties, strata, fractional weights, clusters and an offset; and without the
# offset for the robust score test (the package leaves the offset out of its null model there) and for predicted curves.
suppressPackageStartupMessages(library(survival)); source("common.R"); set.seed(101); n <- 60
d <- data.frame(id = sample(1:20, n, TRUE), entry = sample(0:15, n, TRUE), x = round(rnorm(n), 2), g = rbinom(n, 1, .4), y = round(runif(n, 20, 80)), stratum = sample(c("a", "b", "c"), n, TRUE), weight = round(runif(n, .3, 3), 2), offset = round(rnorm(n, 0, .3), 2))
d$time <- d$entry + round(rexp(n, exp(.4 * d$x - .5 * d$g) / 12)) + 1; d$event <- rbinom(n, 1, .65)
ctl <- coxph.control(eps = 1e-12, toler.chol = 1e-13, iter.max = 50)
fit <- function(ties) { f <- coxph(Surv(entry, time, event) ~ x + g + y + strata(stratum) + offset(offset), d, weights = weight, cluster = id, ties = ties, control = ctl)
  f2 <- coxph(Surv(entry, time, event) ~ x + g + y + strata(stratum), d, weights = weight, cluster = id, ties = ties, control = ctl); s <- survfit(f2, data.frame(x = .5, g = 1, y = 40), conf.type = "log-log")
  list(coef = I(unname(coef(f))), se = I(sqrt(diag(f$naive.var))), robustSe = I(sqrt(diag(f$var))), loglik = I(f$loglik), score = f$score, wald = f$wald.test, concordance = f$concordance[["concordance"]], concordanceSe = f$concordance[["std"]],
    martingale = I(unname(residuals(f, "martingale"))), deviance = I(unname(residuals(f, "deviance"))), score = unname(residuals(f, "score")), dfbeta = unname(residuals(f, "dfbeta", weighted = TRUE)), schoenfeld = unname(residuals(f, "schoenfeld")),
    zph = lapply(c("kaplan-meier" = "km", identity = "identity", rank = "rank"), function(t) I(unname(cox.zph(f, transform = t)$table[, 1]))),
    noOffset = list(robustScore = f2$rscore, time = I(s$time), survival = I(s$surv), stdErrCumhaz = I(s$std.err), lower = I(s$lower), upper = I(s$upper), baseline = I(basehaz(f2, centered = FALSE)$hazard))) }
f <- fit("efron"); names(f)[which(names(f) == "score")] <- c("scoreTest", "score"); b <- fit("breslow"); names(b)[which(names(b) == "score")] <- c("scoreTest", "score")
write_json(list(dataset = "inline", call = "Surv(entry,time,event)~x+g+y+strata(stratum)+offset(offset), weights, cluster(id)", rPackage = "survival", version = as.character(packageVersion("survival")), values = list(data = d, efron = f, breslow = b)), "../values/cox-mixed.json")
