import { StatisticsError } from '../errors.ts';

/** Both tails of a distribution at one point, each with its logarithm, so that neither is lost by cancellation. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
  readonly logLower: number;
  readonly logUpper: number;
}

/** log(1 - exp(x)) for x <= 0, without cancellation at either end. */
export function logOneMinusExp(x: number): number {
  return x > -Math.LN2 ? Math.log(-Math.expm1(x)) : Math.log1p(-Math.exp(x));
}

/** Tails from the logarithm of the lower one; accurate when the lower one is not close to 1. */
export function tailsFromLogLower(logLower: number): Tails {
  const log = Math.min(logLower, 0);
  return { lower: Math.exp(log), upper: -Math.expm1(log), logLower: log, logUpper: logOneMinusExp(log) };
}

/** Tails from the logarithm of the upper one; accurate when the upper one is not close to 1. */
export function tailsFromLogUpper(logUpper: number): Tails {
  const log = Math.min(logUpper, 0);
  return { lower: -Math.expm1(log), upper: Math.exp(log), logLower: logOneMinusExp(log), logUpper: log };
}

export const ALL_ABOVE: Tails = { lower: 0, upper: 1, logLower: Number.NEGATIVE_INFINITY, logUpper: 0 };
export const ALL_BELOW: Tails = { lower: 1, upper: 0, logLower: 0, logUpper: Number.NEGATIVE_INFINITY };

export function swapTails(tails: Tails): Tails {
  return {
    lower: tails.upper,
    upper: tails.lower,
    logLower: tails.logUpper,
    logUpper: tails.logLower,
  };
}

/** @throws StatisticsError `missing-value` or `not-finite` */
export function requireFinite(name: string, value: number): void {
  if (Number.isFinite(value)) return;
  const missing = value === undefined || value === null || Number.isNaN(value);
  throw new StatisticsError(
    missing ? 'missing-value' : 'not-finite',
    `${name} is ${String(value)}; a finite number is needed`,
  );
}

/** @throws StatisticsError `missing-value`, `not-finite` or `out-of-range` */
export function requirePositive(name: string, value: number): void {
  requireFinite(name, value);
  if (value <= 0) throw new StatisticsError('out-of-range', `${name} is ${value}; it must be above 0`);
}

/** A point at which a distribution is asked for: any number, the infinities included. */
export function requirePoint(name: string, value: number): void {
  if (typeof value !== 'number' || Number.isNaN(value)) {
    throw new StatisticsError('missing-value', `${name} is ${String(value)}; a number is needed`);
  }
}

/** A probability strictly between 0 and 1: the quantile of an unbounded distribution at 0 or 1 is no number. */
export function requireOpenProbability(name: string, value: number): void {
  requirePoint(name, value);
  if (!(value > 0 && value < 1)) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; it must lie between 0 and 1`);
  }
}

/** A probability from 0 to 1, the ends included. */
export function requireProbability(name: string, value: number): void {
  requirePoint(name, value);
  if (!(value >= 0 && value <= 1)) {
    throw new StatisticsError('out-of-range', `${name} is ${value}; it must lie from 0 to 1`);
  }
}
