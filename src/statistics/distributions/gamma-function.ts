import { requirePositive } from './tails.ts';

export const HALF_LOG_TWO_PI = 0.9189385332046728;
const EULER_GAMMA = 0.5772156649015329;

/** zeta(k) - 1 for k = 2, 3, ...: the sum of n^-k from 2, by Euler-Maclaurin from n = 30 on. */
const ZETA_MINUS_ONE: readonly number[] = Array.from({ length: 40 }, (_, index) => {
  const k = index + 2;
  const m = 30;
  let tail = m ** (1 - k) / (k - 1) + 0.5 * m ** -k;
  tail += (k * m ** (-k - 1)) / 12;
  tail -= (k * (k + 1) * (k + 2) * m ** (-k - 3)) / 720;
  tail += (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * m ** (-k - 5)) / 30240;
  tail -= (k * (k + 1) * (k + 2) * (k + 3) * (k + 4) * (k + 5) * (k + 6) * m ** (-k - 7)) / 1209600;
  let sum = tail;
  for (let n = m - 1; n >= 2; n--) sum += n ** -k;
  return sum;
});

/**
 * What Stirling's formula lacks: log(x!) - (x + 1/2) log x + x - log(2 pi)/2, for x > 0.
 *
 * From 16 on the asymptotic series (Abramowitz and Stegun 6.1.41), below it the recurrence in x.
 */
export function stirlingError(x: number): number {
  let shift = 0;
  let y = x;
  while (y < 16) {
    shift += (y + 0.5) * Math.log1p(1 / y) - 1;
    y += 1;
  }
  const s = 1 / (y * y);
  const series =
    (1 / 12 -
      s * (1 / 360 - s * (1 / 1260 - s * (1 / 1680 - s * (1 / 1188 - s * (691 / 360360 - s / 156)))))) /
    y;
  return shift + series;
}

/**
 * The part of a gamma or Poisson exponent that cancels: x log(x / m) + m - x, for x > 0 and m > 0.
 *
 * Computed without cancellation from v = (x - m)/(x + m) when x and m are within a factor of three
 * (Loader, Fast and Accurate Computation of Binomial Probabilities, 2000, section 2).
 *
 * @param difference x - m, where the caller knows it better than the rounding of a large m allows
 */
export function devianceHalf(x: number, m: number, difference: number = x - m): number {
  const v = difference / (x + m);
  if (Math.abs(v) > 0.5) return x * Math.log(x / m) - difference;
  const square = v * v;
  let power = 2 * x * v;
  let sum = difference * v;
  for (let j = 3; j < 120; j += 2) {
    power *= square;
    const next = sum + power / j;
    if (next === sum) break;
    sum = next;
  }
  return sum;
}

/** log(gamma(2 + w)) for |w| <= 1/2, accurate relative to its own size (Abramowitz and Stegun 6.1.33). */
function logGammaNearTwo(w: number): number {
  let sum = 0;
  for (let k = ZETA_MINUS_ONE.length + 1; k >= 2; k--) {
    sum = -w * sum + (ZETA_MINUS_ONE[k - 2] ?? 0) / k;
  }
  return w * (1 - EULER_GAMMA + w * sum);
}

/** log(gamma(1 + a)) for a > -1, accurate relative to its own size also when a is tiny. */
export function logGammaOnePlus(a: number): number {
  if (Math.abs(a) <= 0.5) return logGammaNearTwo(a) - Math.log1p(a);
  return logGamma(1 + a);
}

/**
 * Natural logarithm of the gamma function for x > 0.
 *
 * @throws StatisticsError `out-of-range` for x <= 0, `missing-value`, `not-finite`
 * @example logGamma(5) // 3.178
 */
export function logGamma(x: number): number {
  requirePositive('x', x);
  if (x < 0.5) return logGammaNearTwo(x) - Math.log1p(x) - Math.log(x);
  if (x < 1.5) return logGammaNearTwo(x - 1) - Math.log1p(x - 1);
  if (x <= 2.5) return logGammaNearTwo(x - 2);
  if (x <= 3.5) return logGammaNearTwo(x - 3) + Math.log(x - 1);
  return (x - 0.5) * Math.log(x) - x + HALF_LOG_TWO_PI + stirlingError(x);
}
