import { describe, expect, it } from 'vitest';
import * as s from '../all.ts';
import { type Columns, calls, title } from './calls.ts';
import { unfit } from './walk.ts';

const { StatisticsError } = s;

/** Paths at which a zero with a sign stands. */
function signedZeros(value: unknown, path = 'result'): string[] {
  if (typeof value === 'number') return Object.is(value, -0) ? [path] : [];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, part]) => signedZeros(part, `${path}.${name}`));
}

function outcome(run: () => unknown): unknown {
  try {
    return run();
  } catch (error) {
    return error;
  }
}

function expectNamedOrFit(result: unknown): void {
  if (result instanceof Error) expect(result).toBeInstanceOf(StatisticsError);
  else expect(unfit(result)).toEqual([]);
}

const withNumbers = calls
  .filter(call => Object.keys(call.columns).length > 0)
  .flatMap(call =>
    Object.entries(call.columns)
      .filter(([, values]) => Array.from(values).every(value => typeof value === 'number'))
      .map(([name]) => [title(call), name, call] as const),
  );

describe('sizes that doubles cannot carry end in a named error or a result that can be used', () => {
  it.each(withNumbers)('%s: %s in units from 1e-300 to 1e300', (_, name, call) => {
    for (const unit of [1e-300, 1e-160, 1e-45, 1e45, 1e150, 1e300]) {
      const scaled = Array.from(call.columns[name] ?? [], value => Number(value) * unit);
      expectNamedOrFit(outcome(() => call.run({ ...call.columns, [name]: scaled })));
    }
  });

  it.each(withNumbers)('%s: one %s far from the others', (_, name, call) => {
    const values = Array.from(call.columns[name] ?? []) as number[];
    for (const value of [5e-324, 1e-300, 1e-17, 1e16, 2 ** 53, 1e49, 1e100, 1.7e308]) {
      for (const place of [0, values.length - 1]) {
        const columns: Columns = { ...call.columns, [name]: values.with(place, value) };
        expectNamedOrFit(outcome(() => call.run(columns)));
      }
    }
  });

  it.each(withNumbers)('%s: a %s of -0 is 0', (_, name, call) => {
    const values = Array.from(call.columns[name] ?? []) as number[];
    const given = (zero: number) =>
      outcome(() => call.run({ ...call.columns, [name]: values.with(1, zero) }));
    const result = given(-0);
    expect(JSON.stringify(result)).toBe(JSON.stringify(given(0)));
    if (!(result instanceof Error) && ['time', 'events', 'counts', 'a'].includes(name)) {
      expect(signedZeros(result)).toEqual([]);
    }
  });

  const refused: readonly (readonly [string, () => unknown])[] = [
    ['a rate of 1e300 events', () => s.poissonRateInterval(1e300, 1)],
    ['a proportion of 1e16', () => s.clopperPearsonInterval(5e15, 1e16)],
    ['pairs of 1e300', () => s.mcnemar([[1e300, 1e300], [2e300, 1]])], // biome-ignore format: a table
    ['a shape of 1e300', () => s.gammaCumulative(1e300, 1e300, 1)],
    ['beta shapes of 1e300', () => s.betaUpperTail(0.5, 1e300, 1e300)],
    ['a funnel of 1e200 events', () => s.funnelLimitsAt(2, 1e200, 'rate', 0.025)],
    ['a funnel of no size', () => s.funnelLimitsAt(0.5, 0, 'proportion', 0.025)],
    ['1e12 rows to draw', () => s.bootstrap({ n: 1e12 }, () => 1, { seed: 1 })],
    ['a statistic of 1e300', () => s.bootstrap({ n: 3 }, () => 1e300, { seed: 1 })],
    ['a half width of 5e-324', () => s.meanPrecision(1, 5e-324)],
    ['a mean size of 1e200', () => s.designEffect({ meanSize: 1e200, intraclassCorrelation: 0.5 })],
    ['a ratio of 5e-324', () => s.proportionsSampleSize({ p1: 0.3, p2: 0.4, ratio: 5e-324 })],
    ['a hazard of 1e300', () => s.eventProbability({ hazard: 1e300, accrual: 1, followUp: 0 })],
    ['a target of 5e-324', () => s.funnelLimits({ events: [1], n: [2] }, { target: 5e-324 })],
    ['knots that are no numbers', () => s.splineColumns([1, 2, 3], [0, 1, Number.POSITIVE_INFINITY])],
    ['a median that is no number', () => s.runChart([1, 2, 3], { median: Number.NaN })],
    ['a chance of 3', () => s.binomialLogProbability(1, 4, 3)],
    ['a label without end', () => s.kruskalWallis({ value: [1, 2], group: [0, Number.POSITIVE_INFINITY] })],
    ['weights of 1 and 1e-20', () => s.kaplanMeier({ time: [1, 2], event: [1, 1], weight: [1, 1e-20] })],
    ['a decision limit of 1e300', () => s.cumulativeSum([1], { target: 1, sigma: 1, decision: 1e300 })],
  ];
  it.each(refused)('refuses %s', (_, run) => {
    expect(outcome(run)).toBeInstanceOf(StatisticsError);
  });

  it('takes more than 1e12 degrees of freedom of F as 1e12', () => {
    expect(s.fUpperTail(1.5, 4, 1e300)).toBe(s.fUpperTail(1.5, 4, 1e12));
    expect(s.fUpperTail(1.5, 4, 1e300) / s.chiSquareUpperTail(6, 4)).toBeCloseTo(1, 11);
  });

  it('names the position and the limit', () => {
    const error = outcome(() => s.kaplanMeier({ time: [1, 1e60], event: [1, 1] }));
    expect(error).toMatchObject({ code: 'out-of-range' });
    expect(String(error)).toContain('time[1] is 1e+60');
  });
});
