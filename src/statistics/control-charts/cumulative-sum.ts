import { finiteColumn } from '../columns.ts';
import { StatisticsError } from '../errors.ts';
import { countColumn } from './counts.ts';
import { requireOption } from '../option.ts';

export interface CumulativeSumPoint {
  readonly index: number;
  /** Sum of what lies above the target plus allowance, never below 0. */
  readonly upper: number;
  /** Sum of what lies below the target less allowance, never below 0; 0 in a log-likelihood chart. */
  readonly lower: number;
  /** Points since the upper (lower) sum was last 0: a signal's shift began so many points back. */
  readonly upperRun: number;
  readonly lowerRun: number;
}

export interface CumulativeSumSignal {
  readonly rule: 'upper sum beyond the decision limit' | 'lower sum beyond the decision limit';
  readonly index: number;
  /** The first point of the run that led to the signal. */
  readonly since: number;
}

export interface CumulativeSum {
  readonly method: 'tabular' | 'log-likelihood';
  readonly points: readonly CumulativeSumPoint[];
  readonly centre: number;
  /** Decision limit of both sums. */
  readonly limits: { readonly upper: number; readonly lower: number };
  readonly signals: readonly CumulativeSumSignal[];
}

export interface TabularOptions {
  readonly method?: 'tabular' | undefined;
  readonly target: number;
  /** Standard deviation of one value. */
  readonly sigma: number;
  /** Slack in sigmas, half the shift to be found: default 0.5. */
  readonly allowance?: number | undefined;
  /** Decision limit in sigmas: default 5. */
  readonly decision?: number | undefined;
  /** Start both sums at this share of the decision limit (0.5 for a fast initial response): default 0. */
  readonly headStart?: number | undefined;
}

export interface LogLikelihoodOptions {
  readonly method: 'log-likelihood';
  /** `bernoulli` for outcomes of 0 or 1, `poisson` for counts. */
  readonly distribution: 'bernoulli' | 'poisson';
  /** Acceptable proportion, or mean count. */
  readonly acceptable: number;
  /** Proportion, or mean count, to be found; above or below the acceptable one. */
  readonly unacceptable: number;
  /** Decision limit of the log-likelihood ratio. */
  readonly decision: number;
  /** Start again from 0 after a signal: default true. */
  readonly restart?: boolean | undefined;
}

/**
 * Cumulative sum chart.
 *
 * Tabular: upper sum C+ = max(0, C+ + x - (target + K)), lower sum C- = max(0, C- + (target - K) - x), with K the
 * allowance and a signal where a sum exceeds H; sums run on after a signal. Log-likelihood: W = max(0, W + log of
 * the likelihood ratio of the unacceptable to the acceptable level at this outcome).
 *
 * Sources: Page, Biometrika 1954;41:100-115; Montgomery, Introduction to Statistical Quality Control, section 9.1;
 * Steiner et al., Biostatistics 2000;1:441-452 (log-likelihood).
 *
 * @throws StatisticsError `empty`, `missing-value`, `not-finite`; `out-of-range` for options out of their range or
 * outcomes other than 0 and 1; `not-a-whole-number` for counts; `unknown-option`
 * @example cumulativeSum([1, 0, 1, 1, 1], { method: 'log-likelihood', distribution: 'bernoulli', acceptable:
 *   0.1, unacceptable: 0.3, decision: 2 }).signals.length // 1
 */
export function cumulativeSum(
  data: ArrayLike<number> | { readonly value: ArrayLike<number> },
  options: TabularOptions | LogLikelihoodOptions,
): CumulativeSum {
  const values = 'value' in data ? data.value : data;
  return options.method === 'log-likelihood'
    ? logLikelihoodSum(values, options)
    : tabularSum(values, options);
}

function tabularSum(input: ArrayLike<number>, options: TabularOptions): CumulativeSum {
  const { target, sigma, allowance = 0.5, decision = 5, headStart = 0 } = options;
  const values = finiteColumn('value', input);
  within('target', target, Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY);
  within('sigma', sigma, 0, Number.POSITIVE_INFINITY);
  within('decision', decision, 0, Number.POSITIVE_INFINITY);
  if (!(allowance >= 0 && headStart >= 0 && headStart < 1)) {
    throw new StatisticsError(
      'out-of-range',
      `allowance is ${allowance} and headStart ${headStart}; 0 or more, and 0 to below 1, are needed`,
    );
  }
  const slack = allowance * sigma;
  const limit = decision * sigma;
  let upper = headStart * limit;
  let lower = headStart * limit;
  let upperRun = 0;
  let lowerRun = 0;
  const points = Array.from(values, (value, index): CumulativeSumPoint => {
    upper = Math.max(0, upper + value - (target + slack));
    lower = Math.max(0, lower + (target - slack) - value);
    upperRun = upper > 0 ? upperRun + 1 : 0;
    lowerRun = lower > 0 ? lowerRun + 1 : 0;
    return { index, upper, lower, upperRun, lowerRun };
  });
  return {
    method: 'tabular',
    points,
    centre: target,
    limits: { upper: limit, lower: limit },
    signals: signalsOf(points, limit),
  };
}

function logLikelihoodSum(input: ArrayLike<number>, options: LogLikelihoodOptions): CumulativeSum {
  const { distribution, acceptable, unacceptable, decision, restart = true } = options;
  requireOption('distribution', distribution, ['bernoulli', 'poisson']);
  const bernoulli = distribution === 'bernoulli';
  const values = countColumn('value', input);
  const ceiling = bernoulli ? 1 : Number.POSITIVE_INFINITY;
  within('acceptable', acceptable, 0, ceiling);
  within('unacceptable', unacceptable, 0, ceiling);
  within('decision', decision, 0, Number.POSITIVE_INFINITY);
  if (acceptable === unacceptable) {
    throw new StatisticsError('out-of-range', 'acceptable and unacceptable are equal; they must differ');
  }
  let sum = 0;
  let run = 0;
  const points = Array.from(values, (value, index): CumulativeSumPoint => {
    if (bernoulli && value > 1) {
      throw new StatisticsError('out-of-range', `value[${index}] is ${value}; 0 or 1 is needed`);
    }
    if (restart && sum > decision) {
      sum = 0;
      run = 0;
    }
    const event = value * Math.log(unacceptable / acceptable);
    const rest = bernoulli
      ? (1 - value) * (Math.log1p(-unacceptable) - Math.log1p(-acceptable))
      : acceptable - unacceptable;
    sum = Math.max(0, sum + event + rest);
    run = sum > 0 ? run + 1 : 0;
    return { index, upper: sum, lower: 0, upperRun: run, lowerRun: 0 };
  });
  return {
    method: 'log-likelihood',
    points,
    centre: acceptable,
    limits: { upper: decision, lower: decision },
    signals: signalsOf(points, decision),
  };
}

function signalsOf(points: readonly CumulativeSumPoint[], limit: number): CumulativeSumSignal[] {
  return points.flatMap(({ index, upper, lower, upperRun, lowerRun }): CumulativeSumSignal[] => [
    ...(upper > limit
      ? [{ rule: 'upper sum beyond the decision limit' as const, index, since: index - upperRun + 1 }]
      : []),
    ...(lower > limit
      ? [{ rule: 'lower sum beyond the decision limit' as const, index, since: index - lowerRun + 1 }]
      : []),
  ]);
}

function within(name: string, value: number, above: number, below: number): void {
  // Beyond 1e50, or nearer to 0 than its inverse, a likelihood ratio or a sum leaves the range of doubles.
  if (
    !(value > above && value < below && Math.abs(value) <= 1e50 && (value === 0 || Math.abs(value) >= 1e-50))
  ) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; between ${above} and ${below} is needed`);
  }
}
