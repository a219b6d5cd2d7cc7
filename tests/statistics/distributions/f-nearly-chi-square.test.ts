import { describe, it } from 'vitest';
import { binomialUpperTail, fUpperTail } from '../all.ts';
import { expectReference } from '../near.ts';

describe('F on very many degrees of freedom keeps its digits', () => {
  // Source: mpmath 1.3.0, betainc(d / 2, a / 2, 0, d / (d + a f), regularized) with 40 digits.
  it.each([
    [1.5, 4, 1e4, 0.1992378722752053],
    [1.5, 4, 1e6, 0.19914916963689405],
    [1.5, 4, 1e10, 0.1991482735610725],
    [1.5, 4, 1e12, 0.19914827347235195],
    [30, 7.5, 1e4, 4.601425233715279e-44],
    [30, 7.5, 1e6, 1.4213680736255556e-44],
    [30, 7.5, 1e12, 1.4043490951827338e-44],
    [3.84, 1, 1e4, 0.0500712584252443],
    [3.84, 1, 1e6, 0.050043798609967244],
    [3.84, 1, 1e10, 0.05004352127644122],
    [3.84, 1, 1e12, 0.05004352124898246],
  ])('P(F > %d) on %d and %d', (f, a, d, expected) => {
    expectReference(fUpperTail(f, a, d), expected, 1e-12);
  });

  // Source: R 4.2.2, pbinom(1100, n, 1000 / n, lower.tail = FALSE).
  it.each([
    [1e6, 0.0008628997519888388],
    [1e8, 0.000867593469548689],
    [1e10, 0.0008676404884964326],
  ])('P(more than 1,100 of %d) at 1,000 expected', (n, expected) => {
    expectReference(binomialUpperTail(1100, n, 1000 / n), expected, 1e-12);
  });
});
