import type { Plan } from '../../plan/plan.ts';
import { acceleratedFailureSurvival } from '../../statistics/regression/accelerated-failure/index.ts';
import { turnbullAt } from '../../statistics/survival/index.ts';
import type { Plot, PlotSeries } from '../plots.ts';
import { DAYS_IN_WEEK, weeks } from '../tools/curves.ts';
import { countInfants } from '../tools/people.ts';
import type { BandResult } from './follow-up.ts';
import type { IntervalCensoredBand } from './interval-censored.ts';

/**
 * For each band, the share corrected as the checkups date it, beside the stretch that the checkups leave open
 * (at least to at most) and the model for it: other ends censored in all of them, up to the last week drawn.
 * Keys: `dating.severe`, with the series `seen.severe`, `between.severe` and `weibull.severe`.
 */
export function datingPlots(bands: readonly IntervalCensoredBand[], plan: Plan): readonly Plot[] {
  const lastDay = plan.figures.lastWeek * DAYS_IN_WEEK;
  return bands.map(({ band: result, estimate, model }): Plot => {
    const { band, items } = result;
    return {
      key: `dating.${band}`,
      title: `Corrected as seen at checkups, and allowing for the time between them: ${band} feet`,
      x: { label: 'Weeks since first fitting', unit: 'weeks' },
      y: { label: 'Share of feet corrected, other ends censored', unit: 'of 1' },
      series: [
        seenSeries(result, lastDay),
        ...(estimate === undefined ? [] : [betweenSeries(result, estimate, lastDay)]),
        ...(typeof model === 'string' ? [] : [modelSeries(result, model, lastDay)]),
      ],
      references: [],
      reading:
        'The checkups leave open where between at least and at most the share lies. Where the line of what was seen runs below both, checkups date corrections late.',
      n: items.length,
      infants: countInfants(items),
    };
  });
}

/** The visit-dated share with its pointwise limits, as far as anyone is followed. */
function seenSeries({ band, items, survival }: BandResult, lastDay: number): PlotSeries {
  const followed = Math.min(
    lastDay,
    items.reduce((last, { day }) => Math.max(last, day), 0),
  );
  const steps = [{ day: 0, share: 0, lower: 0 as number | undefined, upper: 0 as number | undefined }];
  for (const [i, day] of survival.time.entries()) {
    if (day > followed || (survival.events[i] ?? 0) === 0) continue;
    steps.push({
      day,
      share: 1 - (survival.survival[i] ?? 1),
      lower: complement(survival.upper[i]),
      upper: complement(survival.lower[i]),
    });
  }
  const last = steps.at(-1);
  if (last !== undefined && last.day < followed) steps.push({ ...last, day: followed });
  return {
    key: `seen.${band}`,
    label: 'seen corrected at a checkup',
    group: band,
    curve: `visit-dated.${band}`,
    shape: 'steps',
    x: steps.map(({ day }) => weeks(day)),
    y: steps.map(({ share }) => share),
    lower: steps.map(({ lower }) => lower),
    upper: steps.map(({ upper }) => upper),
  };
}

/** The stretch of the interval-censored estimate at every day at which one of its ends changes. */
function betweenSeries(
  { band }: BandResult,
  estimate: NonNullable<IntervalCensoredBand['estimate']>,
  lastDay: number,
): PlotSeries {
  const bounds = estimate.intervals.flatMap(({ lower, upper }) => [Math.max(0, lower), upper]);
  const last = Math.min(lastDay, Math.max(0, ...bounds.filter(Number.isFinite)));
  const days = [...new Set([0, ...bounds.filter(day => day <= last), last])].sort((a, b) => a - b);
  const atLeast = turnbullAt(estimate, days).map(({ highest }) => share(highest));
  // Just after its beginning an interval may hold all of its mass; half a day on, still before the next bound.
  const atMost = turnbullAt(
    estimate,
    days.map(day => day + 0.5),
  ).map(({ lowest }) => share(lowest));
  return {
    key: `between.${band}`,
    label: 'corrected at least, between checkups allowed for',
    group: band,
    shape: 'steps',
    x: days.map(weeks),
    y: atLeast,
    lower: atLeast,
    upper: atMost,
  };
}

/** The model week by week. */
function modelSeries(
  { band }: BandResult,
  model: Exclude<IntervalCensoredBand['model'], string>,
  lastDay: number,
): PlotSeries {
  const days = Array.from({ length: Math.floor(lastDay / DAYS_IN_WEEK) + 1 }, (_, w) => w * DAYS_IN_WEEK);
  const fitted = acceleratedFailureSurvival(model, {}, days.slice(1));
  return {
    key: `weibull.${band}`,
    label: 'corrected by the interval-censored Weibull model',
    group: band,
    shape: 'line',
    x: days.map(weeks),
    y: [0, ...fitted.map(({ survival }) => share(survival))],
  };
}

function complement(limit: number | undefined): number | undefined {
  return limit === undefined ? undefined : share(limit);
}

/** 1 less a share that is not corrected; sums of masses may pass 1 by a rounding error. */
function share(notCorrected: number): number {
  return Math.min(1, Math.max(0, 1 - notCorrected));
}
