# Limits that come from resampling infants depend on the draws. Here the infants are resampled anew; of each number the
# quantiles are kept between which a limit of so many resamples must lie (about three standard errors of its rank).
room <- function(v, resamples) { v <- v[is.finite(v)]; e <- 3.5 * sqrt(0.025 * 0.975 / resamples) + 3.5 * sqrt(0.025 * 0.975 / length(v))
  I(unname(quantile(v, pmin(1, pmax(0, c(0.025 - e, 0.025 + e, 0.975 - e, 0.975 + e))), type = 1))) }
resample_infants <- function(infant) { rows <- split(seq_along(infant), infant); unlist(rows[sample.int(length(rows), length(rows), TRUE)], use.names = FALSE) }

resampled_limits <- function(x, cohort, days, times = 1000) {
  set.seed(20260101)
  for (b in BANDS) {
    g <- cohort$feet[band == b]; weeks <- 7 * c(6, 8, 12, 16)
    # whole days, so (l, u] is [l + 1/4, u]
    v <- replicate(times, { k <- resample_infants(g$infant_id); t <- npsurv(cbind(g$lower[k] + 0.25, g$upper[k]))$f; sapply(weeks, function(w) sum(t$p[t$right <= w + 1e-9])) })
    for (i in 1:4) put("time-to-correction", "resampled", paste0("interval-censored.at-least.week", weeks[i] / 7, ".", b), room(v[i, ], 200))
  }
  w <- x$wear; d <- merge(w[source == "diary", .(episode_id, day, diary = worn)], w[source == "sensor", .(episode_id, day, sensor = worn)], by = c("episode_id", "day"))
  d <- d[paste(episode_id, day) %in% paste(days$episode_id, days$day)]; d[, v := diary - sensor]
  s <- d[, .(n = .N, sum = sum(v), within = sum((v - mean(v))^2)), by = episode_id]; infant <- cohort$feet$infant_id[match(s$episode_id, cohort$feet$episode_id)]
  v <- replicate(4 * times, { k <- s[resample_infants(infant)]; N <- sum(k$n); m <- sum(k$sum) / N; inside <- sum(k$within) / (N - nrow(k)); between <- sum(k$n * (k$sum / k$n - m)^2) / (nrow(k) - 1)
    sd <- sqrt(inside + max(0, (between - inside) / ((N - sum(k$n^2) / N) / (nrow(k) - 1)))); m + c(0, -1.96, 1.96) * sd })
  for (i in 1:3) put("adherence", "resampled", c("diary.bias", "diary.lowerLimit", "diary.upperLimit")[i], room(v[i, ], 1000))
}
