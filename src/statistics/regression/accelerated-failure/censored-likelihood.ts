import type { CensoredTimes } from './censored-times.ts';
import type { ErrorDistribution } from './error-distribution.ts';

/** One row's log-likelihood with its derivatives by the linear predictor and by the log scale. */
export interface RowLikelihood {
  value: number;
  linear: number;
  logScale: number;
  linearLinear: number;
  linearLogScale: number;
  logScaleLogScale: number;
}

/**
 * Writes row i's log-likelihood of T (not of log T: an exact time carries -log t - log scale) and its derivatives
 * into `out`. With w = (log t - linear)/scale, w falls by 1/scale a unit of the linear predictor and by w a unit of
 * log scale; the chain rule does the rest.
 *
 * Source: Kalbfleisch & Prentice, The Statistical Analysis of Failure Time Data, 2nd ed., section 3.7.
 */
export function rowLikelihood(
  times: CensoredTimes,
  i: number,
  linear: number,
  scale: number,
  error: ErrorDistribution,
  out: RowLikelihood,
): void {
  const kind = times.kinds[i];
  if (kind === 'interval') return intervalLikelihood(times, i, linear, scale, error, out);
  const logTime = (kind === 'left' ? times.logUpper[i] : times.logLower[i]) as number;
  const w = (logTime - linear) / scale;
  const part =
    kind === 'exact' ? error.density(w) : kind === 'right' ? error.survivor(w) : error.cumulative(w);
  const { first, second } = part;
  const exact = kind === 'exact' ? 1 : 0;
  out.value = part.log - exact * (Math.log(scale) + logTime);
  out.linear = -first / scale;
  out.logScale = -first * w - exact;
  out.linearLinear = second / (scale * scale);
  out.linearLogScale = (second * w + first) / scale;
  out.logScaleLogScale = second * w * w + first * w;
}

function intervalLikelihood(
  times: CensoredTimes,
  i: number,
  linear: number,
  scale: number,
  error: ErrorDistribution,
  out: RowLikelihood,
): void {
  const a = ((times.logLower[i] as number) - linear) / scale;
  const b = ((times.logUpper[i] as number) - linear) / scale;
  const value = error.logBetween(a, b);
  const low = error.density(a);
  const high = error.density(b);
  const byLow = -Math.exp(low.log - value);
  const byHigh = Math.exp(high.log - value);
  const byLowLow = byLow * low.first - byLow * byLow;
  const byHighHigh = byHigh * high.first - byHigh * byHigh;
  const byBoth = -byLow * byHigh;
  out.value = value;
  out.linear = -(byLow + byHigh) / scale;
  out.logScale = -(byLow * a + byHigh * b);
  out.linearLinear = (byLowLow + byHighHigh + 2 * byBoth) / (scale * scale);
  out.linearLogScale = (byLowLow * a + byHighHigh * b + byBoth * (a + b) + byLow + byHigh) / scale;
  out.logScaleLogScale = byLowLow * a * a + byHighHigh * b * b + 2 * byBoth * a * b + byLow * a + byHigh * b;
}

export function emptyRow(): RowLikelihood {
  return { value: 0, linear: 0, logScale: 0, linearLinear: 0, linearLogScale: 0, logScaleLogScale: 0 };
}
