import { finiteColumn, requireSize } from '../columns.ts';
import { StatisticsError } from '../errors.ts';

export interface RunChartOptions {
  /** How many points in a row on one side of the median make a shift: 6 or 8 in use, default 8. */
  readonly shift?: number | undefined;
  /** How many points in a row, each above (below) the last, make a trend; absent for no trend rule. */
  readonly trend?: number | undefined;
  /** A median given from outside; else that of the values. */
  readonly median?: number | undefined;
}

export interface RunChartSignal {
  readonly rule: 'shift' | 'trend';
  /** The point at which the rule fired. */
  readonly index: number;
  readonly points: readonly number[];
  readonly direction: 'up' | 'down';
}

export interface RunChart {
  readonly points: readonly { readonly index: number; readonly value: number }[];
  readonly centre: number;
  readonly signals: readonly RunChartSignal[];
  /** Points not on the median, and the runs they form. */
  readonly usefulPoints: number;
  readonly runs: number;
  readonly longestRun: number;
  readonly shift: number;
  readonly trend: number | undefined;
}

/**
 * Run chart: values round their median, with a shift (so many useful points in a row on one side; points on the
 * median are passed over) and, if asked for, a trend (so many points in a row rising or falling; repeated values
 * are passed over). Published rules differ in the length of a shift, and the trend rule finds little (PLoS ONE
 * 2014;9:e113825), hence the parameters. Each rule fires once a run.
 *
 * Source: Perla, Provost & Murray, BMJ Qual Saf 2011;20:46-51.
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`, `out-of-range` (shift or trend below 2)
 * @example runChart([3, 5, 4, 6, 2, 5]).centre // 4.5
 */
export function runChart(
  data: ArrayLike<number> | { readonly value: ArrayLike<number> },
  options: RunChartOptions = {},
): RunChart {
  const { shift = 8, trend } = options;
  for (const [name, length] of Object.entries({ shift, trend })) {
    if (length !== undefined && !(Number.isInteger(length) && length >= 2)) {
      throw new StatisticsError('out-of-range', `${name} is ${length}; a whole number from 2 is needed`);
    }
  }
  const values = finiteColumn('value', 'value' in data ? data.value : data);
  if (options.median !== undefined) requireSize('median', options.median);
  const centre = options.median ?? medianOf(values);
  const side = runsOf(Array.from(values, value => Math.sign(value - centre)));
  const signals: RunChartSignal[] = side.flatMap(run => fired('shift', run, shift));
  if (trend !== undefined) {
    const steps = Array.from(values, (value, i) =>
      i === 0 ? 0 : Math.sign(value - (values[i - 1] as number)),
    );
    // A run of k steps joins k + 1 points.
    for (const run of runsOf(steps)) {
      const first = (run.points[0] ?? 1) - 1;
      signals.push(...fired('trend', { ...run, points: [first, ...run.points] }, trend));
    }
  }
  return {
    points: Array.from(values, (value, index) => ({ index, value })),
    centre,
    signals,
    usefulPoints: side.reduce((sum, run) => sum + run.points.length, 0),
    runs: side.length,
    longestRun: side.reduce((most, run) => Math.max(most, run.points.length), 0),
    shift,
    trend,
  };
}

interface Run {
  readonly sign: number;
  readonly points: number[];
}

/** Stretches of one sign; zeros are passed over. */
function runsOf(signs: readonly number[]): Run[] {
  const runs: Run[] = [];
  for (const [index, sign] of signs.entries()) {
    if (sign === 0) continue;
    const last = runs.at(-1);
    if (last?.sign === sign) last.points.push(index);
    else runs.push({ sign, points: [index] });
  }
  return runs;
}

function fired(rule: 'shift' | 'trend', run: Run, length: number): RunChartSignal[] {
  const index = run.points[length - 1];
  if (index === undefined) return [];
  return [{ rule, index, points: run.points, direction: run.sign > 0 ? 'up' : 'down' }];
}

function medianOf(values: Float64Array): number {
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  const high = sorted[middle] as number;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] as number) + high) / 2;
}
