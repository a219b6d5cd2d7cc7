/** A product-limit curve by whole day. */
export interface ProductLimit {
  /** Share with the event up to and on a day. */
  readonly shareBy: (day: number) => number;
  /** First day by which half have had the event; undefined: never. */
  readonly median: number | undefined;
}

/**
 * One less the product over days of (1 - events / at risk); events of a day come before those censored on it. Written
 * out here for whole days, so that the truth does not rest on the estimator it is held against.
 */
export function productLimit(day: readonly number[], event: readonly boolean[]): ProductLimit {
  const last = day.reduce((most, d) => Math.max(most, d), 0);
  const events = Array.from({ length: last + 1 }, () => 0);
  const ended = Array.from({ length: last + 1 }, () => 0);
  day.forEach((d, i) => {
    ended[d] = (ended[d] ?? 0) + 1;
    if (event[i] === true) events[d] = (events[d] ?? 0) + 1;
  });
  const without: number[] = [];
  let atRisk = day.length;
  let share = 1;
  for (let d = 0; d <= last; d += 1) {
    if (atRisk > 0) share *= 1 - (events[d] ?? 0) / atRisk;
    atRisk -= ended[d] ?? 0;
    without.push(share);
  }
  const half = without.findIndex(s => s <= 0.5);
  return {
    shareBy: d => 1 - (without[Math.min(last, Math.floor(d))] ?? 1),
    median: half < 0 ? undefined : half,
  };
}
