# Further values for linear, logistic, Poisson and accelerated failure models: weights, every robust and clustered
# correction, offsets. Needs R with sandwich, survival and jsonlite. Run from tests/reference: Rscript scripts/make-models.R
library(sandwich); library(survival); library(jsonlite)
tight <- glm.control(epsilon = 1e-15, maxit = 100)
robust <- function(f, cl = NULL) sapply(c("HC0", "HC1", "HC2", "HC3"), function(t) unname(if (is.null(cl)) vcovHC(f, t) else vcovCL(f, cl, type = t)), simplify = FALSE)
again <- function(f) update(f, start = coef(f)) # errors from the weights at the maximum itself
mt <- read.csv("datasets/mtcars.csv"); inf <- read.csv("datasets/infert.csv"); ins <- read.csv("datasets/Insurance.csv"); lung <- read.csv("datasets/lung.csv"); rats <- read.csv("datasets/rats.csv"); q <- read.csv("datasets/quine.csv")
wl <- lm(mpg ~ hp + wt, mt, weights = qsec)
lg <- again(glm(case ~ age + spontaneous + induced, binomial, inf, control = tight))
inf$w <- 1 + (seq_len(nrow(inf)) %% 3)
lw <- again(glm(case ~ spontaneous, binomial, inf, weights = w, control = tight))
ps <- again(glm(Claims ~ factor(District), poisson, ins, offset = log(Holders), control = tight))
q$class <- paste(q$Eth, q$Sex, q$Age); qp <- again(glm(Days ~ I(Lrn == "SL") + I(Sex == "M"), poisson, q, control = tight))
lung$w <- 1 + (seq_len(nrow(lung)) %% 4)
sc <- survreg.control(rel.tolerance = 1e-13, maxiter = 200)
sw <- lapply(c("weibull", "exponential", "lognormal", "loglogistic"), function(d) { f <- survreg(Surv(time, status == 2) ~ age, lung, weights = w, dist = d, control = sc); list(dist = d, coef = unname(coef(f)), scale = f$scale, vcov = unname(vcov(f)), loglik = f$loglik[2]) })
rc <- lapply(c("weibull", "exponential", "lognormal", "loglogistic"), function(d) { f <- survreg(Surv(time, status) ~ rx, rats, cluster = litter, dist = d, control = sc); list(dist = d, coef = unname(coef(f)), scale = f$scale, vcovRobust = unname(f$var), vcovNaive = unname(f$naive.var), loglik = f$loglik[2]) })
gl <- function(f, cl = NULL) list(coef = unname(coef(f)), vcov = unname(vcov(f)), loglik = as.numeric(logLik(f)), deviance = f$deviance, hc = robust(f), cluster = if (!is.null(cl)) robust(f, cl))
ref <- list(dataset = "mtcars; infert; Insurance; quine; lung; rats",
  call = "lm(mpg ~ hp + wt, weights qsec), clusters cyl; glm logistic case ~ age + spontaneous + induced, clusters stratum; logistic case ~ spontaneous with weights 1 + i %% 3 (i from 1); Poisson Claims ~ District with offset log(Holders); Poisson Days ~ (Lrn == SL) + (Sex == M), clusters Eth + Sex + Age; survreg lung ~ age with weights 1 + i %% 4; survreg rats ~ rx clusters litter",
  rPackage = "base+sandwich+survival", version = paste("R", getRversion(), "sandwich", packageVersion("sandwich"), "survival", packageVersion("survival")),
  notes = "generalised linear models are refitted from their own estimates, so that errors come from the weights at the maximum",
  values = list(weightedLinear = c(gl(wl, mt$cyl)[c("coef", "vcov", "loglik", "hc", "cluster")], list(sigma = summary(wl)$sigma, r2 = summary(wl)$r.squared, adjR2 = summary(wl)$adj.r.squared, f = unname(summary(wl)$fstatistic[1]))),
    logistic = gl(lg, inf$stratum), weightedLogistic = gl(lw)[c("coef", "vcov", "loglik", "deviance")], poisson = gl(ps), quine = gl(qp, q$class), weightedFailure = sw, clusteredFailure = rc))
writeLines(toJSON(ref, digits = I(17), auto_unbox = TRUE, matrix = "rowmajor"), "values/models-extra.json")
