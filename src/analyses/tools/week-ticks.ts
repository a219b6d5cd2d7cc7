import type { Plan } from '../../plan/plan.ts';

/**
 * Weeks at which a curve counts those at risk: the ticks of the plan up to its last week drawn, then on at the spacing
 * of the last two, and the last week itself, so that the drawing has no tick without counts.
 */
export function weekTicks({ figures: { weekTicks: given, lastWeek } }: Plan): readonly number[] {
  const ticks = continuedTicks(given, lastWeek);
  const [before = 0, last = 0] = ticks.slice(-2);
  // An end close behind a tick would have no room for its counts.
  return lastWeek - last >= (last - before) / 2 ? [...ticks, lastWeek] : ticks;
}

/** The ticks up to `end`, then on at the spacing of the last two as far as it. */
export function continuedTicks(given: readonly number[], end: number): readonly number[] {
  const ticks = given.filter(tick => tick <= end);
  const last = ticks.at(-1) ?? 0;
  const spacing = last - (ticks.at(-2) ?? 0);
  if (spacing <= 0) return ticks;
  for (let tick = last + spacing; tick <= end; tick += spacing) ticks.push(tick);
  return ticks;
}
