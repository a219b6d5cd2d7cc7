# Severity and total duration: the four findings of the duration report.
duration_frame <- function(cohort) {
  f <- copy(cohort$feet)
  f[, done := (reason == "finished") * 1]
  f[, why := fcase(reason == "finished", 1, reason %in% c("referred for casting", "referred for surgery"), 2, reason == "withdrawn", 3, default = 0)]
  f
}
# median of the reverse Kaplan-Meier curve: leaving observation is the event
follow_up_of <- function(finding, group, g) {
  q <- quartiles_of(g$last, (g$why == 0) * 1, g$infant_id)[2, ]
  measure(finding, paste0("follow-up.", group), q$estimate / 7, if (is.na(q$estimate)) NA else q$lower / 7, if (is.na(q$estimate)) NA else q$upper / 7, nrow(g), ids(g$infant_id))
}

# Weibull, log-normal and log-logistic as survreg has them; the exponential with its error summed by infant
duration_fit <- function(d, X, dist) {
  f <- survreg(Surv(d$last, d$done) ~ as.matrix(X), dist = dist, cluster = d$infant_id, control = AFT)
  p <- ncol(X); b <- coef(f)[-1]; s <- sqrt(diag(f$var))[2:(p + 1)]; k <- p + 1 + (dist != "exponential")
  list(terms = list(name = names(X), coefficient = unname(b), lower = unname(b - Z * s), upper = unname(b + Z * s)), n = nrow(d), events = sum(d$done),
    logLikelihood = f$loglik[2], akaike = -2 * f$loglik[2] + 2 * k, fit = f)
}
DISTRIBUTIONS <- c(weibull = "weibull", `log-normal` = "lognormal", `log-logistic` = "loglogistic", exponential = "exponential")

duration_findings <- function(cohort) {
  f <- duration_frame(cohort); d <- f[band %in% BANDS]; left <- left_out_of(not_banded(cohort$feet), cohort$feet)
  for (F in c("severity-and-duration", "duration-model-checks", "duration-next-study")) population_of(F, d, left)
  F <- "severity-and-duration"
  weeks <- c(12, 16, 20, 26)
  for (b in BANDS) {
    g <- d[band == b]; n <- nrow(g); N <- ids(g$infant_id); E <- sum(g$done)
    measure(F, paste0("feet.", b), n, infants = N)
    for (k in 0:3) measure(F, paste0(c("censored", "finished", "referred", "withdrawn")[k + 1], ".", b), sum(g$why == k), infants = ids(g$infant_id[g$why == k]))
    q <- quartiles_of(g$last, g$done, g$infant_id)
    for (i in 1:3) measure(F, paste0(q$name[i], ".", b), q$estimate[i] / 7, q$lower[i] / 7, q$upper[i] / 7, n, N, E)
    inc <- incidence_at(g$last, g$why, g$infant_id, 7 * weeks)
    for (i in 1:4) measure(F, paste0("finished.week", weeks[i], ".", b), inc$estimate[i], inc$lower[i], inc$upper[i], n, N, E)
    follow_up_of(F, b, g)
    incidence_curve(F, paste0("incidence.", b), g$last, g$why, g$infant_id)
    survival_curve(F, paste0("in-therapy.", b), g$last, g$done, g$infant_id, g$why)
  }
  follow_up_of(F, "all", d)
  X <- design(d); k <- d$last > 0; whole <- complete.cases(X) & k
  sized <- function(key, r) measure(F, key, sum(r), infants = ids(d$infant_id[r]), events = sum(d$done[r]))
  sized("models.no-day", !k); sized("models.crude", k); sized("models.complete", whole); sized("models.incomplete", k & !whole)
  put_trend(F, "", d$last, d$done, d$band, d$infant_id, FALSE)
  z <- d[done == 1]; j <- jonckheere(z$last, z$band, BANDS)
  test_of(F, "jonckheere-terpstra", j$z, NA, j$p)
  s <- suppressWarnings(cor.test(z$last, match(z$band, BANDS), method = "spearman", exact = FALSE))
  test_of(F, "spearman", unname(s$estimate), NA, s$p.value)
  C <- "duration-model-checks"; distributions <- list(); S <- "duration-next-study"
  for (m in c("crude", "adjusted")) {
    r <- if (m == "crude") k else whole; cols <- if (m == "crude") c("moderate", "severe") else names(X); g <- d[r]; Xr <- X[r, cols]; n <- nrow(g); E <- sum(g$done); N <- ids(g$infant_id)
    put_ratio <- function(prefix, t) for (b in c("moderate", "severe")) { i <- match(b, t$name); measure(F, paste0(prefix, ".", m, ".", b), exp(t$coefficient[i]), exp(t$lower[i]), exp(t$upper[i]), n, N, E) }
    c <- cox(Surv(g$last, g$done), Xr, g$infant_id, ph = FALSE); effects(F, paste0("cox.", m, "."), c$terms, term_names(c$terms$name), n, E); put_ratio("hazard-ratio", c$terms)
    i <- match("severe", c$terms$name); measure(S, paste0("precision.cox.", m), exp(c$terms$upper[i] - c$terms$lower[i]), n = n, events = E)
    if (m == "crude") { variance_ratio <- (c$terms$standardErrorRobust[i] / c$terms$standardErrorModel[i])^2 } else seen <- exp(c$terms$coefficient[i])
    w <- fine_gray_terms(g$last, g$why, Xr, g$infant_id); effects(F, paste0("fine-gray.", m, "."), w, term_names(w$name), n, E); put_ratio("subdistribution-hazard-ratio", w)
    for (dist in names(DISTRIBUTIONS)) {
      a <- duration_fit(g, Xr, DISTRIBUTIONS[[dist]]); i <- match("severe", a$terms$name)
      ratio <- exp(c(a$terms$coefficient[i], a$terms$lower[i], a$terms$upper[i]))
      distributions[[paste(dist, m)]] <- I(c(n, E, a$logLikelihood, a$akaike, ratio))
      if (dist == "weibull") { effects(F, paste0("time.", m, "."), a$terms, term_names(a$terms$name), n, E); put_ratio("time-ratio", a$terms); measure(S, paste0("precision.time.", m), ratio[3] / ratio[2], n = n, events = E) }
      else effects(C, paste0("time.", dist, ".", m, "."), a$terms, term_names(a$terms$name), n, E)
      if (m == "adjusted" && dist %in% c("weibull", "log-logistic")) put(C, "coxSnell", dist, cox_snell(g, a$fit))
      if (m == "crude" && dist %in% c("weibull", "log-logistic")) put(C, "fitted", dist, fitted_curves(a$fit))
    }
    # proportional hazards: score tests against 1 less Kaplan-Meier; the bands together with the three-level factor
    fit <- coxph(Surv(last, done) ~ ., data = cbind(g[, .(last, done)], Xr), ties = "efron", control = COX)
    zph <- cox.zph(fit, "km")$table
    for (i in seq_along(cols)) test_of(C, paste0("proportional-hazards.", m, ".", term_names(cols[i])), zph[i, 1], 1, zph[i, 3])
    test_of(C, paste0("proportional-hazards.", m, ".all"), zph["GLOBAL", 1], zph["GLOBAL", 2], zph["GLOBAL", 3])
    g$severity <- factor(g$band, BANDS)
    joint <- coxph(as.formula(paste("Surv(last, done) ~ severity", if (m == "adjusted") paste("+", paste(cols[-(1:2)], collapse = " + ")))), data = cbind(g[, .(last, done, severity)], Xr), ties = "efron", control = COX)
    zph <- cox.zph(joint, "km")$table
    test_of(C, paste0("proportional-hazards.", m, ".band"), zph["severity", 1], zph["severity", 2], zph["severity", 3])
    if (m == "adjusted") for (i in seq_along(cols)) put(C, "schoenfeld", unname(term_names(cols[i])), schoenfeld_of(fit, g, i))
  }
  put(C, "tables", "distributions", distributions)
  # What a next study needs: Schoenfeld's events for the worst band against the mildest, times the design effect
  g <- d[band %in% c("mild", "severe") & last > 0]; share <- mean(g$band == "severe"); finished <- mean(g$done); per <- nrow(g) / ids(g$infant_id)
  for (x in list(list("worst-share", share), list("finished-share", finished), list("variance-ratio", variance_ratio), list("feet-an-infant", per))) measure(S, paste0("design.", x[[1]]), x[[2]], n = nrow(g), infants = ids(g$infant_id))
  for (h in c(0.5, 0.6, 0.7, 0.8, seen)) {
    events <- (qnorm(0.975) + qnorm(0.9))^2 / (share * (1 - share) * log(h)^2); inflate <- max(1, variance_ratio)
    key <- if (h == seen) "seen" else as.character(h)
    e <- ceiling(events * inflate); feet <- ceiling(events / finished * inflate)
    measure(S, paste0("needed.finished.", key), e); measure(S, paste0("needed.feet.", key), feet); measure(S, paste0("needed.infants.", key), ceiling(feet / per))
  }
  f
}

# Scaled residuals over time: means of neighbours (about root n of each), and a spline of four knots with clustered limits
schoenfeld_of <- function(fit, g, i) {
  r <- residuals(fit, "scaledsch"); r <- if (is.matrix(r)) r[, i] else r
  rows <- order(g$last)[g$done[order(g$last)] == 1]; x <- g$last[rows] / 7
  size <- max(5, ceiling(sqrt(length(x)))); groups <- floor(length(x) / size); cut <- floor((0:groups) * length(x) / groups + 0.5)
  mean_in <- function(v) I(sapply(seq_len(groups), function(k) mean(v[(cut[k] + 1):cut[k + 1]])))
  knots <- quantile(x, c(0.05, 0.35, 0.65, 0.95), names = FALSE)
  basis <- function(v) { u <- function(a) pmax(v - a, 0)^3; k <- knots
    cbind(1, v, sapply(1:2, function(j) u(k[j]) - u(k[3]) * (k[4] - k[j]) / (k[4] - k[3]) + u(k[4]) * (k[3] - k[j]) / (k[4] - k[3]))) }
  B <- basis(x); q <- qr.solve(crossprod(B / 1e0)); b <- drop(q %*% crossprod(B, r)); e <- drop(r - B %*% b); cl <- g$infant_id[rows]; G <- ids(cl); n <- length(x)
  V <- q %*% crossprod(rowsum(B * e, cl)) %*% q * G / (G - 1) * (n - 1) / (n - 4)
  at <- seq(x[1], x[n], length.out = 61); M <- basis(at); y <- drop(M %*% b); half <- qt(0.975, n - 4) * sqrt(rowSums((M %*% V) * M))
  list(coefficient = unname(coef(fit)[i]), x = mean_in(x), y = mean_in(r), smoothX = I(at), smooth = I(y), lower = I(y - half), upper = I(y + half), n = n, infants = G)
}
# Cumulative hazard (Nelson and Aalen) of the residuals, its error summed by infant
cox_snell <- function(g, f) {
  z <- (log(g$last) - f$linear.predictors) / f$scale
  r <- if (f$dist == "weibull") exp(z) else log1p(exp(z))
  u <- sort(unique(r)); risk <- outer(r, u, ">="); own <- outer(r, u, "==") * g$done; Y <- colSums(risk); D <- colSums(own)
  inf <- t(apply(sweep(own, 2, Y, "/") - sweep(risk, 2, D / Y^2, "*"), 1, cumsum)); H <- cumsum(D / Y); s <- se_of(inf, g$infant_id)
  list(x = I(u), y = I(H), lower = I(H * exp(-Z * s / H)), upper = I(H * exp(Z * s / H)), events = I(D), atRisk = I(Y))
}
# Share not yet finished by the crude model, limits by the delta method on the standardised log time
fitted_curves <- function(f) {
  V <- f$var; weeks <- 1:40
  S <- function(z) if (f$dist == "weibull") exp(-exp(z)) else 1 / (1 + exp(z))
  lapply(setNames(BANDS, BANDS), function(b) {
    x <- c(1, b == "moderate", b == "severe"); z <- (log(7 * weeks) - sum(x * coef(f))) / f$scale
    half <- Z * sapply(z, function(q) { g <- c(-x / f$scale, -q); sqrt(drop(g %*% V %*% g)) })
    list(week = I(weeks), y = I(S(z)), lower = I(S(z + half)), upper = I(S(z - half)))
  })
}
