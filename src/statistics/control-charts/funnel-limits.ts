import { requirePositiveSize } from '../columns.ts';
import { binomialCumulative, binomialLogProbability, binomialQuantile } from '../distributions/binomial.ts';
import { LARGEST_COUNT } from '../distributions/counts.ts';
import { normalQuantile } from '../distributions/normal.ts';
import { poissonCumulative, poissonQuantile } from '../distributions/poisson.ts';
import { StatisticsError } from '../errors.ts';
import { countColumn, positiveColumn } from './counts.ts';
import { requireOption } from '../option.ts';

/** Units to be compared: events among n (a proportion) or over time at risk or expected events (a rate). */
export type FunnelData =
  | { readonly events: ArrayLike<number>; readonly n: ArrayLike<number> }
  | { readonly events: ArrayLike<number>; readonly time: ArrayLike<number> };

export interface FunnelOptions {
  /** The level that units are compared with; default the overall proportion or rate. */
  readonly target?: number | undefined;
  /** `exact` binomial or Poisson limits (default), or `normal`. Over-dispersion needs `normal` and implies it. */
  readonly method?: 'exact' | 'normal' | undefined;
  readonly overDispersion?: 'none' | 'multiplicative' | 'additive' | undefined;
  /** Share of units whose distances are pulled in at each end before over-dispersion is estimated; default 0.1. */
  readonly winsorised?: number | undefined;
}

export interface Limits {
  readonly lower: number;
  readonly upper: number;
}

export interface FunnelPoint {
  readonly index: number;
  readonly value: number;
  readonly size: number;
  /** Distance from the target in standard errors, before over-dispersion. */
  readonly z: number;
  /** Two standard errors: 95 %. */
  readonly inner: Limits;
  /** Three standard errors: 99.8 %. */
  readonly outer: Limits;
}

export interface FunnelSignal {
  readonly rule: 'beyond the 95 % limit' | 'beyond the 99.8 % limit';
  readonly index: number;
  readonly side: 'above' | 'below';
}

export interface Funnel {
  readonly points: readonly FunnelPoint[];
  /** The target. */
  readonly centre: number;
  /** The funnel: limits at each distinct size, in ascending order of size. */
  readonly limits: readonly { readonly size: number; readonly inner: Limits; readonly outer: Limits }[];
  readonly kind: 'proportion' | 'rate';
  readonly method: 'exact' | 'normal';
  readonly signals: readonly FunnelSignal[];
  /** Mean squared winsorised distance, phi: about 1 without over-dispersion. */
  readonly dispersion: number;
  /** Variance between units that the additive model adds. */
  readonly betweenVariance: number;
  readonly overDispersion: 'none' | 'multiplicative' | 'additive';
}

/** Tail probabilities of the inner and the outer limits. */
const INNER_TAIL = 0.025;
const OUTER_TAIL = 0.001;

/**
 * Funnel plot: each unit's proportion or rate with 95 % and 99.8 % limits (about two and three standard errors)
 * round a target, at its own size.
 *
 * Exact limits: with r the smallest count whose cumulative probability exceeds p at the target, and
 * a = (P(R <= r) - p)/P(R = r), the limit is (r - a)/size, which interpolates between counts. Normal limits: the
 * target plus and minus z standard errors. Multiplicative over-dispersion multiplies standard errors by sqrt(phi),
 * phi the mean of the squared distances after winsorising, never below 1; additive adds a variance between units,
 * max(0, (I phi - (I - 1)) / (sum w - sum w^2 / sum w)), w = 1/SE^2.
 *
 * Source: Spiegelhalter, Stat Med 2005;24:1185-1202, sections 3 and 4 and appendix A.
 *
 * @throws StatisticsError `empty`, `length`, `missing-value`, `not-finite`, `not-a-whole-number`, `out-of-range`
 * (target at or beyond the end of its range, more events than n, winsorised share), `unknown-option`
 * @example funnelLimits({ events: [12, 30, 41], n: [20, 40, 60] }).centre // 0.6917
 */
export function funnelLimits(data: FunnelData, options: FunnelOptions = {}): Funnel {
  const { overDispersion = 'none', winsorised = 0.1 } = options;
  requireOption('overDispersion', overDispersion, ['none', 'multiplicative', 'additive']);
  if (!(winsorised >= 0 && winsorised < 0.5)) {
    throw new StatisticsError('out-of-range', `winsorised is ${winsorised}; 0 to below 0.5 is needed`);
  }
  const kind = 'n' in data ? 'proportion' : 'rate';
  const events = countColumn('events', data.events);
  const sizes = positiveColumn('n' in data ? 'n' : 'time', 'n' in data ? data.n : data.time, events.length);
  if (kind === 'proportion') requireWithin(events, sizes);
  const sum = (column: Float64Array): number => column.reduce((total, value) => total + value, 0);
  const centre = options.target ?? sum(events) / sum(sizes);
  requireTarget(centre, kind);
  const method = overDispersion === 'none' ? (options.method ?? 'exact') : 'normal';
  const errors = sizes.map(size => standardError(centre, size, kind));
  const distances = events.map((count, i) => (count / (sizes[i] as number) - centre) / (errors[i] as number));
  const { phi, tau } = dispersionOf(distances, errors, winsorised);
  const limitsAt = (i: number, tail: number): Limits => {
    const size = sizes[i] as number;
    if (method === 'exact') return funnelLimitsAt(centre, size, kind, tail);
    const own = errors[i] as number;
    const error =
      overDispersion === 'additive'
        ? Math.sqrt(own * own + tau)
        : own * (overDispersion === 'multiplicative' ? Math.sqrt(Math.max(1, phi)) : 1);
    return cut(centre + normalQuantile(tail) * error, centre - normalQuantile(tail) * error, kind);
  };
  const points = Array.from(events, (count, index): FunnelPoint => {
    const size = sizes[index] as number;
    return {
      index,
      value: count / size,
      size,
      z: distances[index] as number,
      inner: limitsAt(index, INNER_TAIL),
      outer: limitsAt(index, OUTER_TAIL),
    };
  });
  return {
    points,
    centre,
    limits: funnelOf(points),
    kind,
    method,
    signals: points.flatMap(signalOf),
    dispersion: phi,
    betweenVariance: tau,
    overDispersion,
  };
}

function funnelOf(points: readonly FunnelPoint[]): Funnel['limits'] {
  const bySize = new Map(points.map(({ size, inner, outer }) => [size, { size, inner, outer }]));
  return [...bySize.values()].sort((a, b) => a.size - b.size);
}

/**
 * Exact funnel limits at one size, for drawing the funnel between units: `size` is n (a whole number is not needed
 * for a rate) and `tail` the probability beyond each limit, 0.025 or 0.001. The limits are those of `funnelLimits`.
 *
 * @throws StatisticsError `out-of-range`, also for more than 1e12 expected events; `unknown-option`
 * @example funnelLimitsAt(0.8, 50, 'proportion', 0.025) // { lower: 0.6729, upper: 0.8956 }
 */
export function funnelLimitsAt(
  target: number,
  size: number,
  kind: 'proportion' | 'rate',
  tail: number,
): Limits {
  requireTarget(target, kind);
  requirePositiveSize('size', size);
  requireOption('kind', kind, ['proportion', 'rate']);
  if (size * target > LARGEST_COUNT) {
    throw new StatisticsError('out-of-range', `size is ${size}; up to 1e12 expected events can be used`);
  }
  if (!(tail > 0 && tail < 0.5)) {
    throw new StatisticsError('out-of-range', `tail is ${tail}; between 0 and 0.5 is needed`);
  }
  const limit = (p: number): number =>
    (kind === 'proportion' ? binomialPoint(p, size, target) : poissonPoint(p, size * target)) / size;
  return cut(limit(tail), limit(1 - tail), kind);
}

function binomialPoint(p: number, n: number, target: number): number {
  const count = binomialQuantile(p, n, target);
  const over = binomialCumulative(count, n, target) - p;
  return count - over / Math.exp(binomialLogProbability(count, n, target));
}

function poissonPoint(p: number, mean: number): number {
  const count = poissonQuantile(p, mean);
  const below = count > 0 ? poissonCumulative(count - 1, mean) : 0;
  const reached = poissonCumulative(count, mean);
  return count - (reached - p) / (reached - below);
}

function standardError(target: number, size: number, kind: 'proportion' | 'rate'): number {
  return Math.sqrt((kind === 'proportion' ? target * (1 - target) : target) / size);
}

function cut(lower: number, upper: number, kind: 'proportion' | 'rate'): Limits {
  return { lower: Math.max(0, lower), upper: kind === 'proportion' ? Math.min(1, upper) : upper };
}

function dispersionOf(
  distances: Float64Array,
  errors: Float64Array,
  winsorised: number,
): { phi: number; tau: number } {
  const units = distances.length;
  const sorted = Float64Array.from(distances).sort();
  const pulled = Math.floor(winsorised * units);
  const low = sorted[pulled] as number;
  const high = sorted[units - 1 - pulled] as number;
  let square = 0;
  for (const z of distances) square += Math.min(Math.max(z, low), high) ** 2;
  let weight = 0;
  let weightSquare = 0;
  for (const error of errors) {
    const w = 1 / error ** 2;
    weight += w;
    weightSquare += w * w;
  }
  const room = weight - weightSquare / weight;
  return { phi: square / units, tau: room > 0 ? Math.max(0, (square - (units - 1)) / room) : 0 };
}

function signalOf({ index, value, inner, outer }: FunnelPoint): FunnelSignal[] {
  if (value > inner.upper) {
    const rule = value > outer.upper ? 'beyond the 99.8 % limit' : 'beyond the 95 % limit';
    return [{ rule, index, side: 'above' }];
  }
  if (value < inner.lower) {
    const rule = value < outer.lower ? 'beyond the 99.8 % limit' : 'beyond the 95 % limit';
    return [{ rule, index, side: 'below' }];
  }
  return [];
}

function requireWithin(events: Float64Array, sizes: Float64Array): void {
  for (const [i, count] of events.entries()) {
    const size = sizes[i] as number;
    if (!Number.isInteger(size)) {
      throw new StatisticsError('not-a-whole-number', `n[${i}] is ${size}; a whole number is needed`);
    }
    if (count > size) {
      throw new StatisticsError('out-of-range', `events[${i}] is ${count}; at most n (${size}) is possible`);
    }
  }
}

function requireTarget(target: number, kind: 'proportion' | 'rate'): void {
  const below = kind === 'proportion' ? 1 : 1e50;
  if (!(target >= 1e-50 && target < below)) {
    throw new StatisticsError(
      'out-of-range',
      `the target is ${target}; a funnel needs one above 0${kind === 'proportion' ? ' and below 1' : ''}`,
    );
  }
}
