import type { Plan } from '../../plan/plan.ts';
import {
  type ControlChart,
  proportionChart,
  rateChart,
  runChart,
} from '../../statistics/control-charts/index.ts';
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
}

/**
 * The control chart of a series with the rules of the plan, and the run chart of the same points. A quarter in which
 * fewer came due than the plan judges has no point, since the limits of a p chart mean little there; the rules take the
 * points on either side as neighbours.
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
  const rules = { rules: plan.audit.ruleSet };
  const chart: ControlChart =
    series.kind === 'proportion'
      ? proportionChart({ events, n: sizes }, rules)
      : rateChart({ events, time: sizes }, rules);
  const run = runChart(
    chart.points.map(point => point.value),
    { shift: plan.audit.runChartShift },
  );
  const placeOf = (index: number): number => places[index] ?? 0;
  return {
    key: series.key,
    title: series.title,
    kind: series.kind,
    unit: series.unit,
    quarters,
    points: chart.points.map(({ index, value, lower, upper }) => ({
      place: placeOf(index),
      count: events[index] ?? 0,
      size: sizes[index] ?? 0,
      value,
      lower,
      upper,
    })),
    centre: chart.centre,
    ...(series.target === undefined ? {} : { target: series.target }),
    ruleSet: plan.audit.ruleSet,
    signals: chart.signals.map(
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
