# Missing baseline findings. The draws are random, so they are checked by distribution: here they are drawn again by
# predictive mean matching as definitions and methods state it, written apart from the package. What the package drew stands
# in datasets/sample-imputed-findings.csv; bands, models and pooling are computed here from those values.
imputation_frame <- function(cohort) {
  f <- duration_frame(cohort)[band != "straight" & last > 0]
  days <- sort(unique(f$last)); H <- cumsum(sapply(days, function(t) sum(f$last == t & f$done == 1) / sum(f$last >= t)))
  f[, hazard := H[match(last, days)]]
  f
}
rubin <- function(b, v) {
  m <- length(b); W <- mean(v); B <- var(b); T <- W + (1 + 1 / m) * B; lambda <- (1 + 1 / m) * B / T; df <- (m - 1) / lambda^2
  r <- (1 + 1 / m) * B / W
  list(b = mean(b), half = qt(0.975, df) * sqrt(T), information = (r + 2 / (df + 3)) / (r + 1))
}
imputed_finding <- function(cohort, file) {
  F <- "duration-missing-findings"; f <- imputation_frame(cohort); all <- cohort$feet
  population_of(F, f, list(`straight at baseline` = I(c(sum(all$band == "straight"), ids(all$infant_id[all$band == "straight"])))))
  lacks <- list(bisector = is.na(f$position), flexibility = is.na(f$flexibility), crease = is.na(f$crease), sex = !f$sex %in% c("male", "female"))
  any <- Reduce(`|`, lacks); for (k in c(lacks, list(any = any, band = f$band == "not known"))) NULL
  for (n in c(names(lacks), "any", "band")) { k <- switch(n, any = any, band = f$band == "not known", lacks[[n]]); measure(F, paste0("missing.", n), sum(k), infants = ids(f$infant_id[k])) }
  draws <- fread(file, colClasses = "character"); tables <- split(draws, as.integer(draws$imputation)); fits <- list()
  for (m in seq_along(tables)) {
    g <- copy(f); t <- tables[[m]]; at <- match(t$episode, g$episode_id); stopifnot(setequal(t$episode, g$episode_id[any]))
    p <- as.numeric(t$bisector)
    # what was recorded stands
    for (v in list(list("position", p), list("flexibility", t$flexibility), list("crease", t$crease))) { old <- g[[v[[1]]]][at]; stopifnot(all(is.na(old) | old == v[[2]])); set(g, at, v[[1]], v[[2]]) }
    set(g, at, "sex", t$sex); set(g, at, "band", mapply(band_of, g$position[at], g$flexibility[at], g$crease[at], MoreArgs = list(plan = plan)))
    g <- g[band != "straight"]; X <- design(g); stopifnot(!anyNA(X))
    c <- cox(Surv(g$last, g$done), X, g$infant_id, ph = FALSE)$terms; w <- duration_fit(g, X, "weibull")
    fits[[m]] <- list(n = nrow(g), events = sum(g$done), cox = data.frame(b = c$coefficient, v = c$standardErrorRobust^2), time = data.frame(b = w$terms$coefficient, v = ((w$terms$upper - w$terms$lower) / 2 / Z)^2), names = names(X))
  }
  n <- min(sapply(fits, function(q) q$n)); E <- min(sapply(fits, function(q) q$events)); missing <- c()
  for (part in c("cox", "time")) for (i in seq_along(fits[[1]]$names)) {
    r <- rubin(sapply(fits, function(q) q[[part]]$b[i]), sapply(fits, function(q) q[[part]]$v[i])); e <- exp(r$b + c(0, -1, 1) * r$half); name <- fits[[1]]$names[i]
    put(F, "effects", unname(paste0(part, ".imputed.", term_names(name))), I(c(e, n, E)))
    if (name %in% c("moderate", "severe")) measure(F, paste0(if (part == "cox") "hazard-ratio" else "time-ratio", ".imputed.", name), e[1], e[2], e[3], n, NA, E)
    put(F, "missingInformation", unname(paste0(part, ".", term_names(name))), r$information)
  }
  put(F, "drawn", "shares", draw_again(f, lacks, 1500))
}

# Chained equations with predictive mean matching (five donors, five rounds, the variable with fewest missing first)
draw_again <- function(f, lacks, times) {
  set.seed(20260101)
  V <- cbind(bisector = f$position, flexibility = match(f$flexibility, names(FLEXIBILITY)) - 1, crease = (f$crease == "yes") * 1, sex = ifelse(f$sex %in% c("male", "female"), (f$sex == "male") * 1, NA))
  sites <- sort(unique(f$site_id), method = "radix"); A <- cbind(1, f$age, f$both, f$done, f$why > 1, f$hazard, sapply(sites[-1], function(s) f$site_id == s)) * 1
  A[, -1] <- scale(A[, -1], scale = FALSE)
  order <- names(sort(colSums(is.na(V)))); gone <- lapply(setNames(order, order), function(v) which(is.na(V[, v]))); counts <- lapply(gone, function(r) vector("list", length(r)))
  drawn <- lapply(gone, function(r) matrix(NA_real_, times, length(r)))
  for (m in seq_len(times)) {
    W <- V; for (v in order) { o <- W[!is.na(W[, v]), v]; W[gone[[v]], v] <- o[sample.int(length(o), length(gone[[v]]), TRUE)] }
    for (round in 1:5) for (v in order) {
      here <- setdiff(seq_len(nrow(W)), gone[[v]]); P <- cbind(A, scale(W[, colnames(W) != v], scale = FALSE)); y <- V[here, v]; x <- P[here, ]
      q <- qr(x); b <- qr.coef(q, y); s <- sqrt(sum((y - x %*% b)^2) / rchisq(1, length(y) - ncol(x)))
      drawn_b <- b + s * backsolve(qr.R(q), rnorm(ncol(x)))[order(q$pivot)]
      fitted <- drop(x %*% b)
      for (r in gone[[v]]) { near <- order(abs(fitted - sum(P[r, ] * drawn_b)) + runif(length(fitted)) * 1e-9)[1:5]; W[r, v] <- y[near[sample.int(5, 1)]] }
    }
    for (v in order) drawn[[v]][m, ] <- W[gone[[v]], v]
  }
  rows <- list()
  for (v in order) for (j in seq_along(gone[[v]])) { t <- table(drawn[[v]][, j]) / times; rows[[paste(v, f$episode_id[gone[[v]][j]])]] <- setNames(as.vector(t), names(t)) }
  rows
}
