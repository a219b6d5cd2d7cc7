import { describe, expect, it } from 'vitest';
import * as d from '../../../src/statistics/distributions/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectNear } from '../near.ts';

interface Row {
  readonly distribution: string;
  readonly arguments: readonly number[];
  readonly lower: number | null;
  readonly upper: number | null;
  readonly logLower: number;
  readonly logUpper: number;
}

type Tail = (...args: number[]) => number;
interface Four {
  readonly lower: Tail;
  readonly upper: Tail;
  readonly logLower: Tail;
  readonly logUpper: Tail;
}

const urn = (size = 0, marked = 0, draws = 0): d.Urn => ({ size, marked, draws });

const functions: Readonly<Record<string, Four>> = {
  normal: {
    lower: z => d.normalCumulative(z ?? 0),
    upper: z => d.normalUpperTail(z ?? 0),
    logLower: z => d.normalLogCumulative(z ?? 0),
    logUpper: z => d.normalLogUpperTail(z ?? 0),
  },
  'chi-square': {
    lower: (x = 0, df = 0) => d.chiSquareCumulative(x, df),
    upper: (x = 0, df = 0) => d.chiSquareUpperTail(x, df),
    logLower: (x = 0, df = 0) => d.chiSquareLogCumulative(x, df),
    logUpper: (x = 0, df = 0) => d.chiSquareLogUpperTail(x, df),
  },
  gamma: {
    lower: (x = 0, a = 0, rate = 0) => d.gammaCumulative(x, a, rate),
    upper: (x = 0, a = 0, rate = 0) => d.gammaUpperTail(x, a, rate),
    logLower: (x = 0, a = 0, rate = 0) => d.gammaLogCumulative(x, a, rate),
    logUpper: (x = 0, a = 0, rate = 0) => d.gammaLogUpperTail(x, a, rate),
  },
  beta: {
    lower: (x = 0, a = 0, b = 0) => d.betaCumulative(x, a, b),
    upper: (x = 0, a = 0, b = 0) => d.betaUpperTail(x, a, b),
    logLower: (x = 0, a = 0, b = 0) => d.betaLogCumulative(x, a, b),
    logUpper: (x = 0, a = 0, b = 0) => d.betaLogUpperTail(x, a, b),
  },
  'student-t': {
    lower: (t = 0, df = 0) => d.studentTCumulative(t, df),
    upper: (t = 0, df = 0) => d.studentTUpperTail(t, df),
    logLower: (t = 0, df = 0) => d.studentTLogCumulative(t, df),
    logUpper: (t = 0, df = 0) => d.studentTLogUpperTail(t, df),
  },
  f: {
    lower: (f = 0, a = 0, b = 0) => d.fCumulative(f, a, b),
    upper: (f = 0, a = 0, b = 0) => d.fUpperTail(f, a, b),
    logLower: (f = 0, a = 0, b = 0) => d.fLogCumulative(f, a, b),
    logUpper: (f = 0, a = 0, b = 0) => d.fLogUpperTail(f, a, b),
  },
  binomial: {
    lower: (k = 0, n = 0, p = 0) => d.binomialCumulative(k, n, p),
    upper: (k = 0, n = 0, p = 0) => d.binomialUpperTail(k, n, p),
    logLower: (k = 0, n = 0, p = 0) => d.binomialLogCumulative(k, n, p),
    logUpper: (k = 0, n = 0, p = 0) => d.binomialLogUpperTail(k, n, p),
  },
  poisson: {
    lower: (k = 0, mean = 0) => d.poissonCumulative(k, mean),
    upper: (k = 0, mean = 0) => d.poissonUpperTail(k, mean),
    logLower: (k = 0, mean = 0) => d.poissonLogCumulative(k, mean),
    logUpper: (k = 0, mean = 0) => d.poissonLogUpperTail(k, mean),
  },
  hypergeometric: {
    lower: (k = 0, ...rest) => d.hypergeometricCumulative(k, urn(...rest)),
    upper: (k = 0, ...rest) => d.hypergeometricUpperTail(k, urn(...rest)),
    logLower: (k = 0, ...rest) => d.hypergeometricLogCumulative(k, urn(...rest)),
    logUpper: (k = 0, ...rest) => d.hypergeometricLogUpperTail(k, urn(...rest)),
  },
};

// Arbitrary-precision values made by tests/reference/scripts/make-tails.py (mpmath).
const reference = referenceValues('tails').values as {
  readonly tails: readonly Row[];
  readonly logGamma: readonly { readonly x: number; readonly value: number }[];
};

describe.each(Object.entries(functions))('%s tails against arbitrary precision', (name, four) => {
  const rows = reference.tails.filter(row => row.distribution === name);

  it('has reference rows, some of them far out', () => {
    expect(rows.length).toBeGreaterThan(5);
  });

  it.each(rows.map(row => [row.arguments.join(', '), row] as const))('at %s', (label, row) => {
    expect(row.logLower).toBeLessThanOrEqual(0);
    if (row.lower !== null) expectNear(four.lower(...row.arguments), row.lower, 1e-12, `lower ${label}`);
    if (row.upper !== null) expectNear(four.upper(...row.arguments), row.upper, 1e-12, `upper ${label}`);
    // A log tail below 1e-305 in size is that of a tail equal to 1: nothing to compare relative to.
    for (const side of ['logLower', 'logUpper'] as const) {
      if (Math.abs(row[side]) > 1e-305) expectNear(four[side](...row.arguments), row[side], 1e-12, side);
    }
  });
});

describe('log gamma', () => {
  it.each(reference.logGamma)(
    'at $x agrees relative to its own size, also beside its zeros',
    ({ x, value }) => {
      expectNear(d.logGamma(x), value, 1e-14);
    },
  );
});
