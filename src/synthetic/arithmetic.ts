// Exponential and logarithm from the four basic operations alone. IEEE 754 rounds those the same way everywhere,
// while `Math.exp` and `Math.log` may differ in the last digit from one engine to the next; such a digit can tip a
// comparison with a random number, and from there every later draw of the infant differs.

const LN2_HIGH = 0.69314718036912381649;
const LN2_LOW = 1.90821492927058770002e-10;
/** ln 2, from parts, so that no rounding but that of the sum is in it. */
export const LN2 = LN2_HIGH + LN2_LOW;

/** e to the power x, for x in -700 to 700; relative error under 1e-15. Taylor series after reduction by ln 2. */
export function exponential(x: number): number {
  const k = Math.floor(x / LN2 + 0.5);
  const r = x - k * LN2_HIGH - k * LN2_LOW;
  let sum = 1;
  for (let i = 14; i >= 1; i -= 1) sum = 1 + (r * sum) / i;
  let scale = 1;
  for (let i = 0; i < k; i += 1) scale *= 2;
  for (let i = 0; i > k; i -= 1) scale /= 2;
  return sum * scale;
}

/** Natural logarithm of x above 0; series of 2 artanh((m - 1) / (m + 1)) after reduction by powers of 2. */
export function logarithm(x: number): number {
  let m = x;
  let k = 0;
  while (m > 1.4) {
    m /= 2;
    k += 1;
  }
  while (m < 0.7) {
    m *= 2;
    k -= 1;
  }
  const s = (m - 1) / (m + 1);
  const square = s * s;
  let sum = 0;
  for (let i = 23; i >= 1; i -= 2) sum = 1 / i + square * sum;
  return 2 * s * sum + k * LN2_LOW + k * LN2_HIGH;
}

/** 1 / (1 + e^-x). */
export function logistic(x: number): number {
  return 1 / (1 + exponential(-x));
}

/** x to a real power, x above 0. */
export function power(x: number, exponent: number): number {
  return exponential(exponent * logarithm(x));
}

/** x held between two bounds. */
export function clamp(x: number, low: number, high: number): number {
  return x < low ? low : x > high ? high : x;
}
