# Tests and models: log-rank with trend, Turnbull, Cox, Fine-Gray, accelerated failure, Jonckheere-Terpstra, kappa.
COX <- coxph.control(eps = 1e-12, iter.max = 100, toler.chol = 1e-13)
AFT <- survreg.control(rel.tolerance = 1e-13, maxiter = 500)

log_rank <- function(time, event, band, scores = NULL) {
  g <- droplevels(factor(band)); f <- survdiff(Surv(time, event) ~ g)
  df <- nlevels(g) - 1
  out <- list(groups = I(levels(g)), n = I(as.vector(f$n)), observed = I(f$obs), expected = I(f$exp), statistic = f$chisq, df = df,
    p = pchisq(f$chisq, df, lower.tail = FALSE))
  if (!is.null(scores)) {
    s <- scores[levels(g)]; u <- sum(s * (f$obs - f$exp)); v <- drop(s %*% f$var %*% s)
    out$trend <- list(scores = I(unname(s)), statistic = u^2 / v, z = u / sqrt(v), p = pchisq(u^2 / v, 1, lower.tail = FALSE))
  }
  out
}

# Turnbull's estimate on innermost intervals: self-consistent steps, then Newton's method on the intervals that carry mass.
turnbull <- function(lower, upper, days) {
  n <- length(lower)
  L <- sort(unique(lower)); R <- sort(unique(upper))
  ends <- rbind(data.frame(v = L, kind = 2), data.frame(v = R, kind = 1)) # an interval (l, r]: a right end comes before an equal left end
  ends <- ends[order(ends$v, ends$kind), ]
  k <- which(ends$kind[-nrow(ends)] == 2 & ends$kind[-1] == 1)
  a <- ends$v[k]; b <- ends$v[k + 1]
  A <- outer(lower, a, "<=") & outer(upper, b, ">=")
  rows <- apply(A, 1, function(z) paste(which(z), collapse = " "))
  first <- !duplicated(rows); count <- as.vector(table(factor(rows, rows[first]))); A <- A[first, , drop = FALSE] * 1
  p <- rep(1 / length(a), length(a))
  for (iteration in 1:20000) {
    q <- p * drop(crossprod(A, count / drop(A %*% p))) / n
    change <- max(abs(q - p)); p <- q
    if (change < 1e-13) break
  }
  gradient <- function(p) drop(crossprod(A, count / drop(A %*% p))) / n
  # intervals of no weight are dropped, the others are brought to the maximum, until no gradient is above 1
  for (round in 1:20) {
    on <- p > 1e-6; p <- ifelse(on, p, 0) / sum(p[on])
    for (newton in 1:50) {
      if (sum(on) < 2) break
      B <- A[, on, drop = FALSE]; den <- drop(B %*% p[on])
      g <- drop(crossprod(B, count / den)); H <- crossprod(B * (count / den^2), B); m <- sum(on)
      step <- tryCatch(solve(rbind(cbind(H, 1), c(rep(1, m), 0)), c(g, 0))[1:m], error = function(e) NULL)
      if (is.null(step) || any(p[on] + step <= 0)) break
      p[on] <- p[on] + step
      if (max(abs(step)) < 1e-15) break
    }
    if (max(gradient(p)) < 1 + 1e-11) break
    p <- (p + 1e-5) / sum(p + 1e-5)
    for (again in 1:5000) p <- p * gradient(p)
  }
  p <- p / sum(p)
  npmle <- npsurv(cbind(lower, upper))
  s <- survfit(Surv(ifelse(lower == 0, NA, lower), ifelse(is.finite(upper), upper, NA), type = "interval2") ~ 1)
  keep <- p > 0
  list(n = n, left = I(a[keep]), right = I(b[keep]), mass = I(p[keep]), logLikelihood = sum(count * log(drop(A %*% p))),
    largestGradient = max(gradient(p)), stepsOfEm = iteration, changeAtEnd = change, logLikelihoodNpsurv = npmle$ll, day = I(days),
    incidenceLeast = I(sapply(days, function(t) sum(p[b <= t]))), incidenceMost = I(sapply(days, function(t) sum(p[a < t]))),
    incidenceLinear = I(sapply(days, function(t) sum(p * ifelse(b <= t, 1, ifelse(a < t, ifelse(is.finite(b), (t - a) / (b - a), 0), 0))))))
}

terms_of <- function(b, naive, robust) {
  list(name = I(names(b)), coefficient = I(unname(b)), standardErrorModel = I(unname(naive)), standardErrorRobust = I(unname(robust)),
    lower = I(unname(b - Z * robust)), upper = I(unname(b + Z * robust)), z = I(unname(b / robust)), p = I(unname(2 * pnorm(-abs(b / robust)))))
}

cox <- function(response, X, cluster, ties = "efron", ph = TRUE) {
  X <- as.matrix(X)
  f <- coxph(response ~ X, cluster = cluster, ties = ties, control = COX)
  s <- summary(f)
  names(f$coefficients) <- colnames(X)
  out <- list(n = f$n, events = f$nevent, infants = length(unique(cluster)), ties = ties,
    terms = terms_of(f$coefficients, sqrt(diag(f$naive.var)), sqrt(diag(f$var))), logLikelihood = I(f$loglik),
    waldRobust = as.numeric(f$wald.test), scoreRobust = as.numeric(f$rscore), concordance = unname(f$concordance["concordance"]))
  if (ph) {
    d <- as.data.frame(X); g <- coxph(response ~ ., data = d, ties = ties, control = COX); z <- cox.zph(g, "km", global = TRUE)
    out$proportionalHazards <- list(transform = "km", name = I(rownames(z$table)), statistic = I(unname(z$table[, "chisq"])), p = I(unname(z$table[, "p"])))
  }
  out
}

# Fine-Gray for cause 1. Cause 1 is fitted as a weighted Cox model; crr gives the coefficients a second time.
fine_gray <- function(time, cause, X, cluster) {
  keep <- time > 0
  X <- as.matrix(X)[keep, , drop = FALSE]; time <- time[keep]; cause <- cause[keep]; cluster <- cluster[keep]
  d <- data.frame(time = time, state = factor(cause, sort(unique(c(0, cause)))), row = seq_along(time))
  g <- finegray(Surv(time, state) ~ row, data = d, etype = "1")
  W <- X[g$row, , drop = FALSE]; cl <- cluster[g$row]
  one <- function(ties) {
    f <- coxph(Surv(fgstart, fgstop, fgstatus) ~ W, data = g, weights = fgwt, cluster = cl, ties = ties, control = COX)
    names(f$coefficients) <- colnames(X)
    terms_of(f$coefficients, sqrt(diag(f$naive.var)), sqrt(diag(f$var)))
  }
  r <- crr(time, cause, X, failcode = 1, cencode = 0, gtol = 1e-10, maxiter = 50)
  list(n = length(time), events = sum(cause == 1), breslow = one("breslow"), efron = one("efron"),
    crr = list(coefficient = I(unname(r$coef)), standardErrorUnclustered = I(unname(sqrt(diag(r$var)))), converged = r$converged))
}

# Errors of a Weibull model of intervals (l, u], summed by infant: the scores are those of log(S(l) - S(u)). survreg of
# survival 3.5-3 is not asked for them: its influences of left- and interval-censored rows are not the derivatives of the
# likelihood (in the mild band of the sample its variance is three times that of a delete-one-infant jackknife).
interval_variance <- function(f, response, cluster) {
  y <- cbind(log(unclass(response)[, 1:2]), unclass(response)[, 3]); kind <- y[, 3] # 0 beyond, 2 up to, 3 between two days
  lower <- ifelse(kind == 2, -Inf, y[, 1]); upper <- ifelse(kind == 0, Inf, ifelse(kind == 3, y[, 2], y[, 1]))
  at <- function(v) { z <- (v - f$linear.predictors) / f$scale; S <- exp(-exp(z)); d <- ifelse(is.finite(z), -exp(z) * S, 0); list(S = S, d = d, zd = ifelse(is.finite(z), z * d, 0)) }
  a <- at(lower); b <- at(upper); mass <- a$S - b$S
  stopifnot(all(kind %in% c(0, 2, 3)), abs(sum(log(mass)) - f$loglik[2]) < 1e-8)
  X <- if (is.null(f$x)) matrix(1, length(lower), 1) else f$x
  scores <- cbind(X * (-(a$d - b$d) / f$scale / mass), -(a$zd - b$zd) / mass)
  naive <- if (is.null(f$naive.var)) f$var else f$naive.var
  unname(naive %*% crossprod(rowsum(scores, cluster)) %*% naive)
}

accelerated <- function(response, X, cluster, distribution) {
  f <- if (is.null(X)) survreg(response ~ 1, dist = distribution, cluster = cluster, control = AFT, x = TRUE)
    else { X <- as.matrix(X); survreg(response ~ X, dist = distribution, cluster = cluster, control = AFT, x = TRUE) }
  if (attr(response, "type") == "interval") f$var <- interval_variance(f, response, cluster)
  b <- c(f$coefficients, logScale = log(f$scale))
  names(b) <- c("intercept", colnames(X), "logScale")
  list(distribution = distribution, n = nrow(f$y), terms = terms_of(b, sqrt(diag(f$naive.var)), sqrt(diag(f$var))), scale = f$scale,
    logLikelihood = f$loglik[2], aic = -2 * f$loglik[2] + 2 * length(b))
}

jonckheere <- function(v, g, order) {
  g <- factor(g, order); l <- levels(g); J <- 0
  for (i in seq_along(l)[-length(l)]) for (j in (i + 1):length(l)) {
    a <- v[g == l[i]]; b <- v[g == l[j]]
    J <- J + sum(outer(a, b, "<")) + 0.5 * sum(outer(a, b, "=="))
  }
  n <- as.numeric(table(g)); N <- sum(n); t <- as.numeric(table(v)); E <- (N^2 - sum(n^2)) / 4
  V <- (N * (N - 1) * (2 * N + 5) - sum(n * (n - 1) * (2 * n + 5)) - sum(t * (t - 1) * (2 * t + 5))) / 72 +
    sum(n * (n - 1) * (n - 2)) * sum(t * (t - 1) * (t - 2)) / (36 * N * (N - 1) * (N - 2)) +
    sum(n * (n - 1)) * sum(t * (t - 1)) / (8 * N * (N - 1))
  z <- (J - E) / sqrt(V)
  list(n = I(n), statistic = J, mean = E, variance = V, z = z, p = 2 * pnorm(-abs(z)))
}

# Cohen's kappa with weights, error of Fleiss, Cohen and Everitt (1969)
kappa_of <- function(a, b, levels, weights) {
  keep <- !is.na(a) & !is.na(b)
  m <- unclass(table(factor(a[keep], levels), factor(b[keep], levels))); dimnames(m) <- NULL
  n <- sum(m)
  if (n == 0) return(list(pairs = 0))
  k <- length(levels); i <- row(m); j <- col(m)
  w <- switch(weights, none = (i == j) * 1, linear = 1 - abs(i - j) / (k - 1), quadratic = 1 - ((i - j) / (k - 1))^2)
  P <- m / n; r <- rowSums(P); c <- colSums(P)
  po <- sum(w * P); pe <- sum(w * outer(r, c)); kappa <- (po - pe) / (1 - pe)
  wr <- drop(w %*% c); wc <- drop(t(w) %*% r)
  v <- (sum(P * (w - outer(wr, wc, "+") * (1 - kappa))^2) - (kappa - pe * (1 - kappa))^2) / (n * (1 - pe)^2)
  list(pairs = n, levels = I(levels), table = m, observedAgreement = po, expectedAgreement = pe, kappa = kappa, standardError = sqrt(v),
    lower = kappa - Z * sqrt(v), upper = kappa + Z * sqrt(v))
}
