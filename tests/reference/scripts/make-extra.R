# Reference values on random data of awkward kinds: heavy ties, late entry, weights, strata, clusters, few rows,
# tied times that are no whole numbers, weights that differ a millionfold.
# Run in this folder: Rscript make-extra.R. Writes ../values/extra-*.json, data and values together.
suppressPackageStartupMessages({ library(survival); library(cmprsk); library(sandwich) })
source("common.R")
version <- function(...) paste(vapply(c(...), function(p) paste(p, packageVersion(p)), ""), collapse = ", ")
save <- function(name, call, package, data, values) {
  write_json(list(dataset = "random, made by make-extra.R", call = call, rPackage = package, version = paste(R.version.string, version(strsplit(package, ", ")[[1]]), sep = "; "), values = list(data = data, results = values)), sprintf("../values/extra-%s.json", name))
}

make <- function(n, seed, grid, wide = FALSE) {
  set.seed(seed)
  d <- data.frame(
    entry = sample(0:3, n, TRUE), time = 0, event = rbinom(n, 1, 0.65), x = round(rnorm(n), 2), w = rbinom(n, 1, 0.4),
    group = sample(c("north", "south", "west"), n, TRUE), strata = sample(1:2, n, TRUE),
    cluster = sample(seq_len(ceiling(n * 0.6)), n, TRUE), weight = sample(1:3, n, TRUE), share = round(runif(n, 0.2, 2), 2)
  )
  latent <- rexp(n, 0.08 * exp(0.5 * d$x - 0.4 * d$w))
  d$time <- d$entry + if (grid) pmax(1, ceiling(pmin(latent, 14))) else round(pmin(latent, 40), 3) + 0.001
  # Times that are no whole numbers and yet tied; weights that differ a millionfold.
  if (wide) {
    d$time <- as.numeric(sprintf("%.15g", d$time * 10 / 7)); d$share <- signif(10^runif(n, -3, 3), 4)
  }
  d$cause <- ifelse(d$event == 1, 1 + rbinom(n, 1, 0.4), 0)
  d
}

columns <- function(d) as.list(lapply(d, I))
curve <- function(f) list(time = I(f$time), atRisk = I(f$n.risk), events = I(f$n.event), survival = I(f$surv), standardError = I(f$surv * f$std.err), lower = I(f$lower), upper = I(f$upper))

survival_values <- function(d) {
  kinds <- c("log-log", "log", "plain", "logit", "arcsin")
  km <- lapply(setNames(kinds, c("log-log", "log", "plain", "logit", "arcsine")), function(k) curve(survfit(Surv(time, event) ~ 1, d, conf.type = k)))
  late <- curve(survfit(Surv(entry, time, event) ~ 1, d, conf.type = "log-log", conf.int = 0.9))
  frequency <- curve(survfit(Surv(rep(d$time, d$weight), rep(d$event, d$weight)) ~ 1, conf.type = "log-log"))
  robust <- survfit(Surv(time, event) ~ 1, d, weights = share, cluster = cluster, conf.type = "plain")
  robust <- list(time = I(robust$time), survival = I(robust$surv), standardError = I(summary(robust, times = robust$time)$std.err))
  fh <- survfit(Surv(time, event) ~ 1, d, stype = 2, ctype = 1)
  mean <- summary(survfit(Surv(time, event) ~ 1, d), rmean = 9)$table
  q <- quantile(survfit(Surv(time, event) ~ 1, d, conf.type = "log-log"), c(0.25, 0.5))
  test <- function(f) list(statistic = f$chisq, observed = I(if (is.matrix(f$obs)) rowSums(f$obs) else f$obs), expected = I(if (is.matrix(f$exp)) rowSums(f$exp) else f$exp))
  list(
    km = km, late = late, frequency = frequency, robust = robust,
    nelsonAalen = list(time = I(fh$time), cumulativeHazard = I(fh$cumhaz), standardError = I(fh$std.chaz)),
    restrictedMean = list(estimate = mean[["rmean"]], standardError = mean[["se(rmean)"]]),
    quantiles = list(estimate = I(unname(q$quantile)), lower = I(unname(q$lower)), upper = I(unname(q$upper))),
    logRank = test(survdiff(Surv(time, event) ~ group, d)), peto = test(survdiff(Surv(time, event) ~ group, d, rho = 1)),
    stratified = test(survdiff(Surv(time, event) ~ group + strata(strata), d))
  )
}

cox <- function(f) {
  s <- summary(f)
  robust <- "robust se" %in% colnames(s$coefficients)
  list(coefficient = I(unname(coef(f))), standardError = I(unname(if (robust) sqrt(diag(f$naive.var)) else sqrt(diag(vcov(f))))),
    robustStandardError = if (robust) I(unname(s$coefficients[, "robust se"])) else NULL, covariance = unname(vcov(f)),
    logLikelihood = I(f$loglik), likelihoodRatio = unname(s$logtest["test"]), wald = unname(f$wald.test), score = unname(s$sctest["test"]),
    robustScore = if (robust) unname(s$robscore["test"]) else NULL, concordance = unname(f$concordance["concordance"]), concordanceError = unname(f$concordance["std"]))
}
cox_values <- function(d) {
  # The default stops at 1e-9 of the likelihood, too early for the last digits of the coefficients.
  tight <- coxph.control(eps = 1e-14, toler.chol = 1e-15, iter.max = 50)
  plain <- coxph(Surv(time, event) ~ x + w, d, control = tight)
  base <- basehaz(plain, centered = FALSE)
  predicted <- survfit(plain, newdata = data.frame(x = 0.7, w = 1), conf.type = "log-log")
  zph <- function(t) { z <- cox.zph(plain, transform = t, terms = FALSE)$table; list(statistic = I(unname(z[, "chisq"]))) }
  list(
    efron = cox(plain), breslow = cox(coxph(Surv(time, event) ~ x + w, d, control = tight, ties = "breslow")),
    strata = cox(coxph(Surv(time, event) ~ x + w + strata(strata), d, control = tight)),
    weights = cox(coxph(Surv(time, event) ~ x + w, d, control = tight, weights = share)),
    clustered = cox(coxph(Surv(time, event) ~ x + w, d, control = tight, cluster = cluster)),
    everything = cox(coxph(Surv(entry, time, event) ~ x + w + strata(strata), d, control = tight, weights = share, cluster = cluster)),
    everythingBreslow = cox(coxph(Surv(entry, time, event) ~ x + w + strata(strata), d, control = tight, weights = share, cluster = cluster, ties = "breslow")),
    zph = lapply(c("kaplan-meier" = "km", identity = "identity", rank = "rank", log = "log"), zph),
    baseline = list(time = I(base$time), cumulativeHazard = I(base$hazard)),
    predicted = list(time = I(predicted$time), survival = I(predicted$surv), standardError = I(predicted$surv * predicted$std.err), lower = I(predicted$lower), upper = I(predicted$upper)),
    martingale = I(unname(residuals(plain, "martingale"))), deviance = I(unname(residuals(plain, "deviance"))),
    score = unname(residuals(plain, "score")), dfbeta = unname(residuals(plain, "dfbeta")), schoenfeld = unname(residuals(plain, "schoenfeld"))
  )
}

competing_values <- function(d) {
  d$ending <- factor(d$cause, 0:2, c("censored", "1", "2"))
  d$id <- seq_len(nrow(d))
  aj <- survfit(Surv(time, ending) ~ 1, d, id = id, influence = TRUE)
  # survfit of this version passes over `cluster` here: the influences are summed by hand; their first time is 0.
  clustered <- sqrt(colSums(rowsum(aj$influence.pstate[, -1, 2], d$cluster)^2))
  gray <- cuminc(d$time, d$cause, d$group)$Tests
  stratified <- cuminc(d$time, d$cause, d$group, d$strata)$Tests
  rho <- cuminc(d$time, d$cause, d$group, rho = 1)$Tests
  fg <- crr(d$time, d$cause, cbind(d$x, d$w), failcode = 1, cencode = 0, gtol = 1e-12)
  list(time = I(aj$time), first = I(aj$pstate[, 2]), second = I(aj$pstate[, 3]), firstError = I(aj$std.err[, 2]), secondError = I(aj$std.err[, 3]),
    clusteredError = I(unname(clustered)), gray = unname(gray[, "stat"]), grayStratified = unname(stratified[, "stat"]), grayRho = unname(rho[, "stat"]),
    fineGray = list(coefficient = I(unname(fg$coef)), standardError = I(unname(sqrt(diag(fg$var))))))
}

failure_values <- function(d) {
  names <- c(exponential = "exponential", weibull = "weibull", "log-normal" = "lognormal", "log-logistic" = "loglogistic")
  tight <- survreg.control(rel.tolerance = 1e-13, maxiter = 200)
  fit <- function(f) list(coefficient = I(unname(coef(f))), standardError = I(unname(sqrt(diag(vcov(f)))[seq_along(coef(f))])), scale = f$scale, logLikelihood = f$loglik[2])
  lower <- pmax(d$time - 2.5, 0.25); upper <- ifelse(d$event == 1, d$time + 1.5, NA)
  interval <- Surv(lower, upper, type = "interval2")
  list(lower = I(lower), upper = I(ifelse(is.na(upper), Inf, upper)),
    right = lapply(names, function(k) fit(survreg(Surv(time, event) ~ x + w, d, dist = k, control = tight))),
    interval = lapply(names, function(k) fit(survreg(interval ~ x + w, d, dist = k, control = tight))))
}

model_values <- function(d) {
  d$y <- round(2 + 0.7 * d$x - 0.5 * d$w + 0.1 * d$time, 2); d$k <- d$cause + d$weight - 1
  se <- function(v) I(unname(sqrt(diag(v))))
  linear <- lm(y ~ x + w, d); logistic <- glm(event ~ x + w, binomial, d, epsilon = 1e-14, maxit = 100)
  poisson <- glm(k ~ x + w + offset(log(share)), poisson, d, epsilon = 1e-14, maxit = 100)
  each <- function(f) list(coefficient = I(unname(coef(f))), standardError = se(vcov(f)), logLikelihood = as.numeric(logLik(f)),
    hc = lapply(setNames(c("HC0", "HC1", "HC2", "HC3"), c("hc0", "hc1", "hc2", "hc3")), function(k) se(vcovHC(f, type = k))))
  list(y = I(d$y), k = I(d$k), linear = each(linear), logistic = each(logistic), poisson = each(poisson),
    clusteredLinear = se(vcovCL(linear, cluster = d$cluster, type = "HC1")))
}

rank_values <- function(d) {
  first <- d$time[d$w == 0]; second <- d$time[d$w == 1]
  ww <- suppressWarnings(wilcox.test(first, second, exact = FALSE, correct = TRUE))
  tb <- table(d$group, d$event); four <- table(d$w, d$event); strata <- table(d$w, d$event, d$strata)
  fisher <- fisher.test(four); mh <- mantelhaen.test(strata, correct = FALSE)
  list(wilcoxon = list(statistic = unname(ww$statistic), pValue = ww$p.value),
    kruskal = list(statistic = unname(kruskal.test(d$time, factor(d$group))$statistic)),
    spearman = { t <- suppressWarnings(cor.test(d$x, d$time, method = "spearman", exact = FALSE)); list(estimate = unname(t$estimate), pValue = t$p.value) },
    kendall = { t <- suppressWarnings(cor.test(d$x, d$time, method = "kendall", exact = FALSE)); list(estimate = unname(t$estimate), pValue = t$p.value) },
    table = unclass(unname(tb)), chiSquare = unname(chisq.test(tb, correct = FALSE)$statistic), fisherTable = fisher.test(tb)$p.value,
    four = unclass(unname(four)), fisher = list(pValue = fisher$p.value),
    mcnemar = unname(mcnemar.test(four, correct = FALSE)$statistic),
    strata = list(unclass(unname(strata[, , 1])), unclass(unname(strata[, , 2]))), mantelHaenszel = list(statistic = unname(mh$statistic), estimate = unname(mh$estimate), lower = mh$conf.int[1], upper = mh$conf.int[2]),
    trend = unname(prop.trend.test(tb[, 2], rowSums(tb))$statistic), trendSuccesses = I(unname(tb[, 2])), trendN = I(unname(rowSums(tb))),
    events = sum(d$event), exposure = sum(d$time), rate = I(as.numeric(poisson.test(sum(d$event), sum(d$time))$conf.int)),
    wilson = I(as.numeric(prop.test(sum(d$event), nrow(d), correct = FALSE)$conf.int)), clopperPearson = I(as.numeric(binom.test(sum(d$event), nrow(d))$conf.int)),
    newcombe = { w <- function(k, n) as.numeric(prop.test(k, n, correct = FALSE)$conf.int); p <- four[, 2] / rowSums(four); a <- w(four[1, 2], sum(four[1, ])); b <- w(four[2, 2], sum(four[2, ]))
      I(unname(c(p[1] - p[2] - sqrt((p[1] - a[1])^2 + (b[2] - p[2])^2), p[1] - p[2] + sqrt((a[2] - p[1])^2 + (p[2] - b[1])^2)))) })
}

for (s in list(list("tied", 60, 11, TRUE), list("continuous", 150, 12, FALSE), list("small", 24, 13, TRUE), list("large", 400, 14, TRUE), list("wide", 90, 15, TRUE, TRUE))) {
  d <- make(s[[2]], s[[3]], s[[4]], length(s) > 4)
  save(s[[1]], "survfit, survdiff, coxph, cox.zph, cuminc, crr, survreg, lm, glm, wilcox.test and others: see the script", "survival, cmprsk, sandwich, stats", columns(d),
    list(survival = survival_values(d), cox = cox_values(d), competing = competing_values(d), failure = failure_values(d), models = model_values(d), ranks = rank_values(d)))
}
