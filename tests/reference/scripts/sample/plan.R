# The thresholds of the analysis plan, defaults.
plan <- list(
  scheme = "toe", rule = "worse of", crease_lifts_mild = TRUE, baseline_window = 14, use = "all", confirmed = FALSE,
  bisector_at_most = 2.5, flexibility = "past straight", correction_weeks = c(6, 8, 12, 16),
  worse_by = 0.5, weeks_after = 12, seen_within = 14, relapse_weeks = c(3, 6, 12),
  sources = c("sensor", "diary", "recall"), full_time = 24, care = 1, break_in = 2, covered_at = 0.8, missing_days = "missing",
  lapse_window = 7, lapse_below = 0.8, lapse_minimum = 4, days_not_worn = 7, slack = 1e-9,
  adherence_weeks = c(2, 6, 9, 12, 16), skin_weeks = c(4, 8, 12, 16), level = 0.95
)
BANDS <- c("mild", "moderate", "severe")
