import {
  normalLogCumulative,
  normalLogUpperTail,
  normalQuantile,
  normalUpperTail,
} from '../../distributions/normal.ts';

export type FailureDistribution = 'exponential' | 'weibull' | 'log-normal' | 'log-logistic';

/** A function's logarithm at a point with its first and second derivative. */
export interface LogDerivatives {
  readonly log: number;
  readonly first: number;
  readonly second: number;
}

/**
 * The standard error W of an accelerated failure-time model, log T = linear predictor + scale W: smallest extreme
 * value for exponential and Weibull times, normal for log-normal, logistic for log-logistic.
 */
export interface ErrorDistribution {
  readonly density: (w: number) => LogDerivatives;
  readonly survivor: (w: number) => LogDerivatives;
  readonly cumulative: (w: number) => LogDerivatives;
  /** Logarithm of the probability between a and b, a below b, without cancellation in the tails. */
  readonly logBetween: (a: number, b: number) => number;
  /** The w with probability p at or below it. */
  readonly quantile: (p: number) => number;
}

const EXTREME_VALUE: ErrorDistribution = {
  density: w => {
    const e = Math.exp(w);
    return { log: w - e, first: 1 - e, second: -e };
  },
  survivor: w => {
    const e = Math.exp(w);
    return { log: -e, first: -e, second: -e };
  },
  cumulative: w => {
    const e = Math.exp(w);
    // Density over distribution function: e^w / (exp(e^w) - 1), which is 1 as e^w vanishes.
    const ratio = e < 1e-8 ? 1 - e / 2 : e / Math.expm1(e);
    // The ratio's own derivative, by its series where the closed form would cancel.
    const curvature = e < 1e-4 ? ratio * (-e / 2 - (e * e) / 12) : ratio * (1 - e - ratio);
    const log = e < 1e-8 ? w - e / 2 : Math.log(-Math.expm1(-e));
    return { log, first: ratio, second: curvature };
  },
  logBetween: (a, b) => {
    const low = Math.exp(a);
    return -low + Math.log(-Math.expm1(-low * Math.expm1(b - a)));
  },
  quantile: p => Math.log(-Math.log1p(-p)),
};

const NORMAL: ErrorDistribution = {
  density: w => ({ log: logNormalDensity(w), first: -w, second: -1 }),
  survivor: w => {
    const log = normalLogUpperTail(w);
    const hazard = Math.exp(logNormalDensity(w) - log);
    return { log, first: -hazard, second: -hazard * (hazard - w) };
  },
  cumulative: w => {
    const log = normalLogCumulative(w);
    const hazard = Math.exp(logNormalDensity(w) - log);
    return { log, first: hazard, second: -hazard * (hazard + w) };
  },
  logBetween: (a, b) =>
    a > 0
      ? Math.log(normalUpperTail(a) - normalUpperTail(b))
      : Math.log(normalUpperTail(-b) - normalUpperTail(-a)),
  quantile: normalQuantile,
};

const LOGISTIC: ErrorDistribution = {
  density: w => {
    const p = logistic(w);
    return { log: w - 2 * softplus(w), first: 1 - 2 * p, second: -2 * p * logistic(-w) };
  },
  survivor: w => {
    const p = logistic(w);
    return { log: -softplus(w), first: -p, second: -p * logistic(-w) };
  },
  cumulative: w => {
    const q = logistic(-w);
    return { log: -softplus(-w), first: q, second: -q * logistic(w) };
  },
  logBetween: (a, b) => b + Math.log(-Math.expm1(a - b)) - softplus(a) - softplus(b),
  quantile: p => Math.log(p) - Math.log1p(-p),
};

export const ERROR_DISTRIBUTIONS: Readonly<Record<FailureDistribution, ErrorDistribution>> = {
  exponential: EXTREME_VALUE,
  weibull: EXTREME_VALUE,
  'log-normal': NORMAL,
  'log-logistic': LOGISTIC,
};

function logNormalDensity(w: number): number {
  return -0.5 * w * w - 0.5 * Math.log(2 * Math.PI);
}

function logistic(w: number): number {
  return 1 / (1 + Math.exp(-w));
}

/** log(1 + e^w) without overflow. */
function softplus(w: number): number {
  return w > 0 ? w + Math.log1p(Math.exp(-w)) : Math.log1p(Math.exp(w));
}
