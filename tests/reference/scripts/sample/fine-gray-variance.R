# Fine-Gray by the formulas of the paper (J Am Stat Assoc 1999;94:496-509, section 3), with the part of the error that
# comes from estimating the censoring weights, summed by infant (Zhou et al., Biostatistics 2012;13:371-383).
# Ties: censorings come after the ends of the same day; events of one day share one risk set (Breslow).
fine_gray_terms <- function(time, cause, X, cluster) {
  keep <- time > 0
  X <- as.matrix(X)[keep, , drop = FALSE]; time <- time[keep]; cause <- cause[keep]; cluster <- cluster[keep]
  n <- length(time); p <- ncol(X)
  # Kaplan-Meier of censoring, just before a day; at risk of being censored on a day: those who had no end on it either
  c_days <- sort(unique(time[cause == 0]))
  c_risk <- sapply(c_days, function(u) sum(time > u | (time == u & cause == 0)))
  c_count <- sapply(c_days, function(u) sum(time == u & cause == 0))
  G_before <- function(t) sapply(t, function(s) prod((1 - c_count / c_risk)[c_days < s]))
  e_days <- sort(unique(time[cause == 1]))
  # weight of row i on event day u
  W <- outer(time, e_days, ">=") * 1
  G_e <- G_before(e_days); G_t <- G_before(time)
  for (i in which(cause > 1)) { late <- e_days > time[i]; W[i, late] <- G_e[late] / G_t[i] }
  d <- sapply(e_days, function(u) sum(time == u & cause == 1))
  parts <- function(b) {
    r <- exp(drop(X %*% b)); S0 <- colSums(W * r)
    S1 <- t(sapply(seq_len(p), function(j) colSums(W * r * X[, j]))); if (p == 1) S1 <- matrix(S1, 1)
    E <- sweep(S1, 2, S0, "/")
    list(r = r, S0 = S0, E = E)
  }
  b <- rep(0, p)
  for (step in 1:100) {
    q <- parts(b); at <- match(time, e_days)
    U <- colSums(X[cause == 1, , drop = FALSE]) - drop(q$E %*% d)
    I <- matrix(0, p, p)
    for (k in seq_along(e_days)) { w <- W[, k] * q$r / q$S0[k]; Xc <- sweep(X, 2, q$E[, k]); I <- I + d[k] * crossprod(Xc * w, Xc) }
    move <- solve(I, U); b <- b + move
    if (max(abs(move)) < 1e-14) break
  }
  q <- parts(b); at <- match(time, e_days)
  hazard <- d / q$S0
  # eta: the influence of a row with the weights taken as known
  eta <- matrix(0, n, p)
  mass <- W * q$r # times hazard gives the compensator
  for (k in seq_along(e_days)) {
    Xc <- sweep(X, 2, q$E[, k])
    eta <- eta - Xc * (mass[, k] * hazard[k])
    own <- time == e_days[k] & cause == 1
    eta[own, ] <- eta[own, ] + Xc[own, ]
  }
  # psi: what a censoring does to the weights of rows that had a competing end before it, as the paper writes it: for a
  # censoring at u, rows with X < u and events from u on
  psi <- matrix(0, n, p)
  for (a in seq_along(c_days)) {
    u <- c_days[a]; rows <- which(cause > 1 & time < u); late <- e_days >= u
    if (!length(rows) || !any(late)) next
    q_u <- rep(0, p)
    for (k in which(late)) q_u <- q_u - colSums(sweep(X[rows, , drop = FALSE], 2, q$E[, k]) * (mass[rows, k] * hazard[k]))
    q_u <- -q_u # a censoring lowers the weights
    risk <- time > u | (time == u & cause == 0); own <- time == u & cause == 0
    psi[own, ] <- psi[own, ] + rep(q_u / c_risk[a], each = sum(own))
    psi[risk, ] <- psi[risk, ] - rep(q_u * c_count[a] / c_risk[a]^2, each = sum(risk))
  }
  se <- function(inf) sqrt(diag(solve(I) %*% crossprod(rowsum(inf, cluster)) %*% solve(I)))
  s <- se(eta + psi)
  list(name = colnames(X), coefficient = unname(b), standardError = unname(s), standardErrorWeightsKnown = unname(se(eta)), lower = unname(b - Z * s), upper = unname(b + Z * s), n = n, events = sum(cause == 1))
}
