import { normalCumulative } from '../distributions/normal.ts';

/**
 * Probability that the sum of squared rank differences of n untied pairs is `sum` or less when all orders are equally
 * likely: by enumeration to n = 9, beyond by the Edgeworth series of Best and Roberts (algorithm AS 89, Applied
 * Statistics 1975;24:377-379), good to about 1e-4. Far out the series may fall to 0 or below; the caller decides then.
 */
export function squaredDifferencesAtMost(sum: number, n: number): number {
  if (n <= 9) return enumerated(sum, n);
  const most = (n * (n * n - 1)) / 3;
  if (sum >= most) return 1;
  // Sums are even: the point half way to the next one stands for `at most this`.
  const b = 1 / n;
  const x = ((6 * (sum + 1) * b) / (n * n - 1) - 1) * Math.sqrt(n - 1);
  const y = x * x;
  const inner = 0.0072 - 0.0831 * b + y * b * (0.0131 - 4.6e-4 * y);
  const middle = -0.0758 + b * (0.1033 + 0.3932 * b) - y * b * (0.0879 + 0.0151 * b - y * inner);
  const term = x * b * (0.2274 + b * (0.2531 + 0.1745 * b) + y * middle);
  return Math.min(1, normalCumulative(x) - term * Math.exp(-y / 2));
}

/** Counts the orders of 1 to n whose squared differences from their places sum to at most `sum`. */
function enumerated(sum: number, n: number): number {
  const taken = new Uint8Array(n);
  let count = 0;
  let all = 0;
  const place = (i: number, spent: number): void => {
    if (i === n) {
      all += 1;
      if (spent <= sum) count += 1;
      return;
    }
    for (let k = 0; k < n; k++) {
      if (taken[k] === 1) continue;
      taken[k] = 1;
      place(i + 1, spent + (k - i) * (k - i));
      taken[k] = 0;
    }
  };
  place(0, 0);
  return count / all;
}
