import type { Plan } from '../../plan/plan.ts';
import { exactShareScores } from '../../statistics/control-charts/exact-share-scores.ts';
import { findSignals, rateChart, runChart, type Signal } from '../../statistics/control-charts/index.ts';
import type { ChartSignal, QuarterChart } from '../quarter-chart.ts';

/** Counts and sizes of one chart, one value a quarter. */
export interface Series {
  readonly key: string;
  readonly title: string;
  readonly kind: QuarterChart['kind'];
  readonly unit: string;
  readonly target?: number;
  readonly counts: readonly number[];
  readonly sizes: readonly number[];
  /** The variance of a share beside that of independent feet; 1 unless told. */
  readonly designEffect?: number;
}

/**
 * The control chart of a series with the rules of the plan, and the run chart of the same points. A quarter in which fewer came due than the plan judges has no point; the rules take the points
 * on either side as neighbours.
 *
 * @returns undefined with fewer points than the plan asks for
 */
export function quarterChart(
  series: Series,
  quarters: readonly string[],
  plan: Plan,
): QuarterChart | undefined {
  const least = series.kind === 'proportion' ? plan.audit.minimumToJudge : Number.MIN_VALUE;
  const places = series.sizes.flatMap((size, place) => (size >= least ? [place] : []));
  if (places.length < plan.audit.chartMinimumQuarters) return undefined;
  const events = places.map(place => series.counts[place] ?? 0);
  const sizes = places.map(place => series.sizes[place] ?? 0);
  const values = events.map((count, i) => count / (sizes[i] ?? 1));
  const centre = sum(events) / sum(sizes);
  const { lower, upper, signals } =
    series.kind === 'proportion'
      ? shareLimits(events, sizes, centre, series.designEffect, plan)
      : rateLimits(events, sizes, plan);
  const run = runChart(values, { shift: plan.audit.runChartShift });
  const placeOf = (index: number): number => places[index] ?? 0;
  return {
    key: series.key,
    title: series.title,
    kind: series.kind,
    unit: series.unit,
    quarters,
    points: values.map((value, index) => ({
      place: placeOf(index),
      count: events[index] ?? 0,
      size: sizes[index] ?? 0,
      value,
      lower: lower[index] ?? 0,
      upper: upper[index] ?? 0,
    })),
    centre,
    ...(series.target === undefined ? {} : { target: series.target }),
    ruleSet: plan.audit.ruleSet,
    signals: signals.map(
      ({ index, rule, side }): ChartSignal => ({
        place: placeOf(index),
        rule,
        ...(side === undefined ? {} : { side }),
      }),
    ),
    median: run.centre,
    shift: run.shift,
    shifts: run.signals.map(({ index, direction }) => ({
      place: placeOf(index),
      rule: `${run.shift} in a row on one side of the median`,
      side: direction === 'up' ? 'above' : 'below',
    })),
  };
}

interface Limits {
  readonly lower: ArrayLike<number>;
  readonly upper: ArrayLike<number>;
  readonly signals: readonly Signal[];
}

/**
 * Distances from the centre are exact, and allow for feet of one infant: by three standard errors one audit in four had a
 * signal of chance in its latest quarter (docs/recovery.md).
 */
function shareLimits(
  events: readonly number[],
  sizes: readonly number[],
  centre: number,
  designEffect: number | undefined,
  plan: Plan,
): Limits {
  const { z, lower, upper } = exactShareScores(events, sizes, centre, designEffect);
  const [zero, one] = [0, 1].map(value => z.map(() => value)) as [Float64Array, Float64Array];
  return { lower, upper, signals: findSignals(z, zero, one, plan.audit.ruleSet) };
}

/** Three standard errors: signals of chance are rare here, and one of harm is not to be missed for its sake. */
function rateLimits(events: readonly number[], sizes: readonly number[], plan: Plan): Limits {
  const { points, signals } = rateChart({ events, time: sizes }, { rules: plan.audit.ruleSet });
  return { lower: points.map(({ lower }) => lower), upper: points.map(({ upper }) => upper), signals };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
