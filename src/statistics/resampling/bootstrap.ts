import { tailOutside } from '../confidence-level.ts';
import { codedLabels, requireArgument } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { normalCumulative, normalQuantile } from '../distributions/normal.ts';
import { randomStream } from './random.ts';

/**
 * The statistic of one resample. `rows` lists the drawn rows, with repeats, and is overwritten by the next resample:
 * do not keep it. `weights[i]` is how often row i was drawn. Undefined where the resample does not determine the
 * statistic (a median not reached, say).
 */
export type ResampledStatistic = (rows: Int32Array, weights: Float64Array) => number | undefined;

export interface BootstrapData {
  /** How many rows there are. */
  readonly n: number;
  /** Rows that are drawn together, such as the two feet of an infant. */
  readonly cluster?: ArrayLike<string | number> | undefined;
}

export interface BootstrapOptions {
  readonly resamples?: number | undefined;
  readonly seed: number;
  readonly level?: number | undefined;
  /** BCa limits need a jackknife, one more evaluation for each row or cluster. Default true. */
  readonly bca?: boolean | undefined;
}

export interface BootstrapInterval {
  readonly lower: number;
  readonly upper: number;
}

export interface Bootstrap {
  readonly estimate: number;
  /** Standard deviation of the resampled statistics. */
  readonly standardError: number;
  /** Mean of the resampled statistics less the estimate. */
  readonly bias: number;
  readonly percentile: BootstrapInterval;
  /** Absent where not asked for, or where `bcaReason` says why it cannot be had. */
  readonly bca?: BootstrapInterval & { readonly biasCorrection: number; readonly acceleration: number };
  readonly bcaReason?: string;
  /** The resampled statistics in the order drawn, without those undefined. */
  readonly statistics: Float64Array;
  /** Resamples in which the statistic was undefined; limits are computed without them. */
  readonly undefinedResamples: number;
  readonly resamples: number;
  readonly warnings: readonly string[];
}

/**
 * Nonparametric bootstrap: draws rows (or whole clusters) with replacement, as many as there are, computes the
 * statistic of each resample, and gives percentile and bias-corrected accelerated (BCa) limits.
 *
 * The quantile of level p among R values is interpolated between the order statistics round (R + 1) p on the normal
 * quantile scale. BCa: bias correction z0 is the normal quantile of the share of resampled values below the
 * estimate; acceleration a = sum d^3 / (6 (sum d^2)^1.5) with d the jackknife's mean less its values, by row or
 * cluster; the limits stand at the levels Phi(z0 + (z0 + z)/(1 - a (z0 + z))).
 *
 * Source: Efron, J Am Stat Assoc 1987;82:171-185; Davison & Hinkley, Bootstrap Methods and their Application,
 * sections 5.2 and 5.3.
 *
 * @throws StatisticsError `empty`, `not-a-whole-number`, `out-of-range` (fewer than 100 resamples, level, or an
 * estimate that is undefined), `one-group` (a single cluster or row), `length`, `missing-value`
 * @example bootstrap({ n: 4 }, rows => rows.reduce((sum, row) => sum + time[row], 0) / rows.length, { seed: 1,
 *   resamples: 100 }).estimate // 56
 */
export function bootstrap(
  data: BootstrapData,
  statistic: ResampledStatistic,
  options: BootstrapOptions,
): Bootstrap {
  requireArgument('options', options);
  const { resamples = 2000, level = 0.95, bca = true } = options;
  tailOutside({ level });
  if (!Number.isInteger(resamples) || resamples < 100) {
    throw new StatisticsError('out-of-range', `resamples is ${resamples}; a whole number from 100 is needed`);
  }
  const units = samplingUnits(data);
  const n = data.n;
  const all = Int32Array.from({ length: n }, (_, i) => i);
  const estimate = statistic(all, new Float64Array(n).fill(1));
  if (!usable(estimate)) {
    throw new StatisticsError('out-of-range', 'the statistic of the data themselves is undefined');
  }
  const { values, undefinedResamples } = resampledValues(n, units, statistic, resamples, options.seed);
  if (values.length < 2) {
    throw new StatisticsError('out-of-range', 'the statistic is undefined in all but one resample');
  }
  const sorted = Float64Array.from(values).sort();
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
  const square = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const tail = (1 - level) / 2;
  const corrected = bca ? bcaInterval(estimate, sorted, jackknife(n, units, statistic), tail) : undefined;
  const warnings = [
    ...(undefinedResamples > 0 ? [`the statistic was undefined in ${undefinedResamples} resamples`] : []),
    ...(values.length * tail < 1 ? ['too few resamples for this level: a limit is the extreme value'] : []),
    ...(typeof corrected === 'string' ? [corrected] : []),
  ];
  return {
    estimate,
    standardError: Math.sqrt(square / (values.length - 1)),
    bias: mean - estimate,
    percentile: { lower: bootstrapQuantile(sorted, tail), upper: bootstrapQuantile(sorted, 1 - tail) },
    ...(typeof corrected === 'object' ? { bca: corrected } : {}),
    ...(typeof corrected === 'string' ? { bcaReason: corrected } : {}),
    statistics: values,
    undefinedResamples,
    resamples,
    warnings,
  };
}

/**
 * The quantile of sorted resampled values, interpolated on the normal scale between order statistics: with r = (R + 1) p
 * between the ranks k and k + 1, the value lies between theirs as z(p) lies between z(k/(R + 1)) and z((k + 1)/(R + 1)).
 *
 * Source: Davison and Hinkley, Bootstrap Methods and their Application (1997), equation 5.8.
 *
 * @example bootstrapQuantile(Float64Array.from({ length: 99 }, (_, i) => i), 0.5) // 49
 */
export function bootstrapQuantile(sorted: Float64Array, p: number): number {
  const size = sorted.length;
  const rank = (size + 1) * p;
  const below = Math.floor(rank + 1e-9 * rank);
  if (below < 1) return sorted[0] as number;
  if (below >= size) return sorted[size - 1] as number;
  const low = sorted[below - 1] as number;
  const high = sorted[below] as number;
  if (Math.abs(rank - below) < 1e-9 * rank) return low;
  const from = normalQuantile(below / (size + 1));
  const to = normalQuantile((below + 1) / (size + 1));
  return low + ((normalQuantile(p) - from) / (to - from)) * (high - low);
}

/**
 * BCa limits from sorted resampled values and jackknife values, or the reason there are none: the quantiles at
 * Phi(z0 + (z0 + z)/(1 - a (z0 + z))), z0 from the share of resampled values below the estimate, a a sixth of the skewness
 * of the jackknife values, z the normal quantiles of the two tails.
 *
 * Source: Efron, J Am Stat Assoc 1987;82:171-185.
 *
 * @example bcaInterval(50, Float64Array.from({ length: 99 }, (_, i) => i), [49, 50, 51], 0.025).lower // 1.689
 */
export function bcaInterval(
  estimate: number,
  sorted: Float64Array,
  jackknifed: readonly (number | undefined)[],
  tail: number,
): (BootstrapInterval & { biasCorrection: number; acceleration: number }) | string {
  let below = 0;
  for (const value of sorted) if (value < estimate) below += 1;
  if (below === 0 || below === sorted.length)
    return 'BCa: every resampled value lies on one side of the estimate';
  const left: number[] = [];
  for (const value of jackknifed) {
    if (!usable(value)) {
      return 'BCa: the statistic is undefined when one row or cluster is left out';
    }
    left.push(value);
  }
  const mean = left.reduce((sum, value) => sum + value, 0) / left.length;
  let square = 0;
  let cube = 0;
  for (const value of left) {
    const d = mean - value;
    square += d * d;
    cube += d * d * d;
  }
  if (square === 0) return 'BCa: leaving out a row or cluster never changes the statistic';
  const acceleration = cube / (6 * square ** 1.5);
  const biasCorrection = normalQuantile(below / sorted.length);
  const shifted = (p: number): number => {
    const z = biasCorrection + normalQuantile(p);
    return normalCumulative(biasCorrection + z / (1 - acceleration * z));
  };
  return {
    lower: bootstrapQuantile(sorted, shifted(tail)),
    upper: bootstrapQuantile(sorted, shifted(1 - tail)),
    biasCorrection,
    acceleration,
  };
}

/** A number whose cube, or the sum of whose squares, is a double. */
function usable(value: number | undefined): value is number {
  return value !== undefined && Math.abs(value) <= 1e100;
}

const MOST_ROWS = 1e8;

/** Rows by sampling unit: `members[starts[u]]` up to `members[starts[u + 1]]` are the rows of unit u. */
interface SamplingUnits {
  readonly count: number;
  readonly starts: Int32Array;
  readonly members: Int32Array;
}

function samplingUnits(data: BootstrapData): SamplingUnits {
  const { n } = data;
  if (n === 0) throw new StatisticsError('empty', 'n is 0; at least two rows are needed');
  if (!Number.isInteger(n) || n < 0) {
    throw new StatisticsError('not-a-whole-number', `n is ${n}; a whole number of rows is needed`);
  }
  if (n > MOST_ROWS) throw new StatisticsError('out-of-range', `n is ${n}; at most 1e8 rows can be drawn`);
  const codes =
    data.cluster === undefined
      ? Int32Array.from({ length: n }, (_, i) => i)
      : codedLabels('cluster', data.cluster, n).codes;
  const count = codes.reduce((most, code) => Math.max(most, code), 0) + 1;
  if (count < 2) throw new StatisticsError('one-group', 'one row or cluster cannot be resampled');
  const starts = new Int32Array(count + 1);
  for (const code of codes) starts[code + 1] = (starts[code + 1] as number) + 1;
  for (let u = 0; u < count; u++) starts[u + 1] = (starts[u + 1] as number) + (starts[u] as number);
  const next = starts.slice(0, count);
  const members = new Int32Array(n);
  for (const [i, code] of codes.entries()) {
    members[next[code] as number] = i;
    next[code] = (next[code] as number) + 1;
  }
  return { count, starts, members };
}

function resampledValues(
  n: number,
  units: SamplingUnits,
  statistic: ResampledStatistic,
  resamples: number,
  seed: number,
): { values: Float64Array; undefinedResamples: number } {
  const random = randomStream(seed);
  const values = new Float64Array(resamples);
  const weights = new Float64Array(n);
  const { count, starts, members } = units;
  const longest = starts.reduce(
    (most, start, u) => (u === 0 ? 0 : Math.max(most, start - (starts[u - 1] ?? 0))),
    0,
  );
  const rows = new Int32Array(longest * count);
  let kept = 0;
  for (let r = 0; r < resamples; r++) {
    weights.fill(0);
    let size = 0;
    for (let draw = 0; draw < count; draw++) {
      const unit = random.below(count);
      const end = starts[unit + 1] as number;
      for (let place = starts[unit] as number; place < end; place++) {
        const row = members[place] as number;
        weights[row] = (weights[row] as number) + 1;
        rows[size] = row;
        size += 1;
      }
    }
    const value = statistic(rows.subarray(0, size), weights);
    if (!usable(value)) continue;
    values[kept] = value;
    kept += 1;
  }
  return { values: values.slice(0, kept), undefinedResamples: resamples - kept };
}

function jackknife(n: number, units: SamplingUnits, statistic: ResampledStatistic): (number | undefined)[] {
  const weights = new Float64Array(n).fill(1);
  const rows = new Int32Array(n);
  const left: (number | undefined)[] = [];
  for (let unit = 0; unit < units.count; unit++) {
    const out = units.members.subarray(units.starts[unit], units.starts[unit + 1]);
    for (const row of out) weights[row] = 0;
    let size = 0;
    for (let i = 0; i < n; i++) {
      if (weights[i] === 0) continue;
      rows[size] = i;
      size += 1;
    }
    left.push(statistic(rows.subarray(0, size), weights));
    for (const row of out) weights[row] = 1;
  }
  return left;
}
