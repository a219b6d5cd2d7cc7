# Firth-penalised Cox fits by maximising the penalised partial likelihood directly (the package that carries such
# fits is not in the registry used): loglik and information of survival's coxph at fixed coefficients, Newton steps
# with numerical derivatives until the step is below 1e-9.
suppressPackageStartupMessages(library(survival)); source("common.R")
at <- function(fm, d, b, ties) { f <- coxph(fm, d, ties = ties, init = b, control = coxph.control(iter.max = 0)); list(pl = f$loglik[1] - 0.5 * as.numeric(determinant(as.matrix(f$var))$modulus), var = f$var) }
firth <- function(fm, d, p, ties) {
  b <- rep(0, p); pl <- function(b) at(fm, d, b, ties)$pl
  grad <- function(b) sapply(seq_len(p), function(j) { e <- replace(numeric(p), j, 1); g <- function(h) (pl(b + h * e) - pl(b - h * e)) / (2 * h); h <- 0.02; D <- sapply(0:3, function(k) g(h / 2^k)); for (m in 1:3) D <- (4^m * D[-1] - D[-length(D)]) / (4^m - 1); D })
  for (i in 1:200) { s <- drop(at(fm, d, b, ties)$var %*% grad(b)); b <- b + s; if (max(abs(s)) < 1e-10) break }
  v <- at(fm, d, b, ties); list(coef = I(b), se = I(sqrt(diag(v$var))), penalisedLoglik = v$pl, penalisedLoglikNull = pl(rep(0, p)), ties = ties) }
sep <- data.frame(time = c(3, 7, 2, 9, 5, 4, 8, 6, 1, 10, 5, 7), event = c(1, 0, 1, 0, 1, 1, 0, 0, 1, 0, 1, 0), x = c(1, 0, 1, 0, 1, 1, 0, 0, 1, 0, 1, 0), age = c(4, 7, 2, 5, 3, 8, 6, 2, 5, 4, 7, 3))
ova <- read.csv("../datasets/ovarian.csv"); heart <- read.csv("../datasets/heart.csv")
write_json(list(dataset = "inline; ovarian; heart", call = "penalised partial likelihood maximised directly", rPackage = "survival", version = as.character(packageVersion("survival")),
  notes = "numerical gradients: expect agreement to about 1e-7 in the coefficients",
  values = list(separated = list(data = sep, efron = firth(Surv(time, event) ~ x + age, sep, 2, "efron"), breslow = firth(Surv(time, event) ~ x + age, sep, 2, "breslow")),
    ovarian = firth(Surv(futime, fustat) ~ age + resid.ds + rx, ova, 3, "efron"), heart = firth(Surv(start, stop, event) ~ age + surgery + transplant, heart, 3, "efron"))), "../values/cox-firth.json")
