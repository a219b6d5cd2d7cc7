import { describe, expect, it } from 'vitest';
import { binomialUpperTail, fUpperTail } from '../../../src/statistics/index.ts';
import { expectReference } from '../near.ts';

describe('F on very many degrees of freedom keeps its digits', () => {
  // Source: mpmath 1.x, betainc(d / 2, a / 2, 0, d / (d + a f), regularized) with 40 digits.
  it.each([
    [1.5, 4, 1e4, 0.199237872275205301],
    [1.5, 4, 1e6, 0.199149169636894063],
    [1.5, 4, 1e10, 0.199148273561072495],
    [1.5, 4, 1e12, 0.199148273472351939],
    [30, 7.5, 1e4, 4.60142523371527964e-44],
    [30, 7.5, 1e6, 1.42136807362555551e-44],
    [30, 7.5, 1e12, 1.40434909518273378e-44],
    [3.84, 1, 1e4, 0.0500712584252443005],
    [3.84, 1, 1e6, 0.0500437986099672412],
    [3.84, 1, 1e10, 0.0500435212764412188],
    [3.84, 1, 1e12, 0.0500435212489824643],
  ])('P(F > %d) on %d and %d', (f, a, d, expected) => {
    expectReference(fUpperTail(f, a, d), expected, 1e-12);
  });

  // Source: R 4.2.2, pbinom(1100, n, 1000 / n, lower.tail = FALSE).
  it.each([
    [1e6, 0.0008628997519888388],
    [1e8, 0.00086759346954868905],
    [1e10, 0.00086764048849643258],
  ])('P(more than 1,100 of %d) at 1,000 expected', (n, expected) => {
    expectReference(binomialUpperTail(1100, n, 1000 / n), expected, 1e-12);
  });
});
