# Agreement between two assessors of one foot on one day.

agreement_results <- function(x, cohort) {
  a <- copy(x$assessments[episode_id %in% cohort$feet$episode_id])
  a[, n := .N, by = .(episode_id, day)]
  a <- a[n > 1]
  counting <- paste(cohort$rows$episode_id, cohort$rows$day, cohort$rows$assessor_id)
  a[, first := paste(episode_id, day, assessor_id) %in% counting]
  m <- merge(a[first == TRUE], a[first == FALSE], by = c("episode_id", "day"), suffixes = c("", ".other"), allow.cartesian = TRUE)
  p <- seq(2, 5, 0.5); fl <- c("past straight", "to straight", "short of straight")
  K <- function(u, v, l, kinds) lapply(setNames(kinds, kinds), function(w) kappa_of(u, v, l, w))
  list(footDaysWithSeveral = nrow(unique(a[, .(episode_id, day)])), mostAssessors = max(c(0, a$n)), pairs = nrow(m),
    position = K(m$position, m$position.other, p, c("linear", "quadratic", "none")),
    flexibility = K(m$flexibility, m$flexibility.other, fl, c("none", "linear", "quadratic")),
    crease = K(m$medial_crease, m$medial_crease.other, c("no", "yes"), "none"))
}
