# Who was treated: the lines of the table at first fitting, for each band and for all.
baseline_finding <- function(cohort, x) {
  F <- "baseline"; f <- duration_frame(cohort)
  raw <- x$episodes[match(f$episode_id, x$episodes$episode_id)]
  f[, side := raw$foot][, gestation := as.numeric(raw$gestational_weeks)][, referral := start_of(raw) - as_day(raw$referral_date)]
  population_of(F, f, list())
  groups <- c(setNames(lapply(c(BANDS, "straight", "not known"), function(b) f$band == b), c(BANDS, "straight", "not known")), list(all = rep(TRUE, nrow(f))))
  lines <- list()
  for (name in names(groups)) {
    g <- f[groups[[name]]]; n <- nrow(g); N <- ids(g$infant_id)
    measure(F, paste0("feet.", name), n, infants = N)
    measure(F, paste0("foot-weeks.", name), sum(g$last) / 7, n = n, infants = N)
    follow_up_of(F, name, g)
    share <- function(v, of = rep(TRUE, n)) I(c(sum(v & of, na.rm = TRUE), sum(of)))
    l <- list(Feet = n, Infants = N, `Both feet of the infant treated` = share(g$both), `Left foot` = share(g$side == "left"))
    for (s in sort(unique(f$site_id), method = "radix")) l[[paste("Site:", s)]] <- share(g$site_id == s)
    known <- g$sex %in% c("male", "female")
    for (s in c("female", "male")) l[[paste("Sex:", s)]] <- share(g$sex == s, known)
    l[["Sex: not recorded"]] <- sum(!known)
    q <- function(v) if (all(is.na(v))) NA else I(quarters_of(v[!is.na(v)]))
    for (v in list(list("Gestation, weeks", g$gestation), list("Age at first fitting, weeks", g$age / 7), list("Referral to first fitting, days", g$referral))) { l[[v[[1]]]] <- q(v[[2]]); l[[paste0(v[[1]], ": not recorded")]] <- sum(is.na(v[[2]])) }
    for (p in seq(2, 5, 0.5)) l[[paste("Bisector position:", p)]] <- share(g$position == p, !is.na(g$position))
    l[["Bisector position: not recorded"]] <- sum(is.na(g$position))
    for (p in names(FLEXIBILITY)) l[[paste("Flexibility:", p)]] <- share(g$flexibility == p, !is.na(g$flexibility))
    l[["Flexibility: not recorded"]] <- sum(is.na(g$flexibility))
    for (p in c("yes", "no")) l[[paste("Medial crease:", c(yes = "present", no = "absent")[p])]] <- share(g$crease == p, !is.na(g$crease))
    l[["Medial crease: not recorded"]] <- sum(is.na(g$crease))
    l[["Therapy observed, weeks"]] <- I(quarters_of(g$last / 7)); l[["Therapy observed, foot-weeks in all"]] <- round(sum(g$last) / 7)
    lines[[name]] <- l
    if (name == "all") for (v in list(list("sex", !known), list("gestation", is.na(g$gestation)), list("age", is.na(g$age)), list("referral", is.na(g$referral)), list("bisector", is.na(g$position)), list("flexibility", is.na(g$flexibility)), list("crease", is.na(g$crease))))
      measure(F, paste0("not-recorded.", v[[1]]), sum(v[[2]]), infants = ids(g$infant_id[v[[2]]]))
  }
  put(F, "tables", "baseline", lines)
}
start_of <- function(raw) as_day(raw$start_date)
