import { describe, expect, it } from 'vitest';
import { exponential, logarithm, logistic, power } from '../../src/synthetic/arithmetic.ts';

// Math.exp and Math.log are good to a unit in the last place here; ours must be within a few.
const relative = (a: number, b: number) => Math.abs(a - b) / Math.abs(b);

describe('arithmetic that rounds alike everywhere', () => {
  it('agrees with the exponential of the engine from -60 to 60', () => {
    for (let x = -60; x <= 60; x += 0.37) expect(relative(exponential(x), Math.exp(x))).toBeLessThan(2e-15);
    expect(exponential(0)).toBe(1);
  });

  it('agrees with the logarithm of the engine over 30 powers of ten', () => {
    for (let x = 1e-15; x < 1e15; x *= 1.73) {
      expect(Math.abs(logarithm(x) - Math.log(x))).toBeLessThan(
        1e-15 * Math.max(1, Math.abs(Math.log(x))) * 2,
      );
    }
    expect(logarithm(1)).toBe(0);
  });

  it('undoes itself', () => {
    for (const x of [0.003, 0.5, 1, 2.75, 40])
      expect(relative(exponential(logarithm(x)), x)).toBeLessThan(1e-14);
  });

  it('raises to powers and makes shares of log odds', () => {
    expect(relative(power(2, 10), 1024)).toBeLessThan(1e-14);
    expect(logistic(0)).toBe(0.5);
    expect(relative(logistic(Math.log(4)), 0.8)).toBeLessThan(1e-14);
  });
});
