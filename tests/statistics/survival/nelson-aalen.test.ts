import { describe, expect, it } from 'vitest';
import { nelsonAalen } from '../../../src/statistics/survival/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectNear } from '../near.ts';
import { type Listed, type Rows, rowsOf } from './rows.ts';

// Reference: by formula in the script, and survfit (cumulative hazard of type 1), R package survival 3.5-3.

interface ByHand {
  readonly time: readonly number[];
  readonly nRisk: readonly number[];
  readonly nEvent: readonly number[];
  readonly cumhaz: readonly number[];
  readonly varAalen: readonly number[];
  readonly varBinomial: readonly number[];
}
interface Values {
  readonly amlByHand: Readonly<Record<string, ByHand>>;
  readonly lungByHand: ByHand;
  readonly veteranByHand: Readonly<Record<string, ByHand>>;
  readonly survfit: {
    readonly stype1ctype1: Readonly<
      Record<string, { readonly cumhaz: Listed; readonly stdErrCumhaz: Listed }>
    >;
  };
  readonly cumhazCi95Aml: Readonly<
    Record<'time' | 'plainLower' | 'plainUpper' | 'logLower' | 'logUpper', readonly number[]>
  >;
}

const values = referenceValues('nelson-aalen').values as Values;

function rowsOfGroup(rows: Rows, group: string): { time: number[]; event: number[] } {
  const keep = rows.time.map((_, i) => i).filter(i => rows.group[i] === group);
  return { time: keep.map(i => rows.time[i] ?? 0), event: keep.map(i => rows.event[i] ?? 0) };
}

function expectHazard(rows: Pick<Rows, 'time' | 'event'>, expected: ByHand): void {
  const poisson = nelsonAalen(rows);
  const binomial = nelsonAalen(rows, { variance: 'binomial' });
  expect(poisson.time).toEqual(expected.time);
  expect(poisson.atRisk).toEqual(expected.nRisk);
  expect(poisson.events).toEqual(expected.nEvent);
  for (const [k, hazard] of expected.cumhaz.entries()) {
    expectNear(poisson.cumulativeHazard[k], hazard);
    expectNear(poisson.standardError[k], Math.sqrt(expected.varAalen[k] ?? 0));
    expectNear(binomial.standardError[k], Math.sqrt(expected.varBinomial[k] ?? 0));
  }
}

describe('Nelson-Aalen against reference values', () => {
  const aml = rowsOf('aml', { time: 'time', event: 'status', group: 'x' });
  const veteran = rowsOf('veteran', { time: 'time', event: 'status', group: 'celltype' });

  it('aml, lung and veteran: cumulative hazard with both variances', () => {
    for (const [group, expected] of Object.entries(values.amlByHand))
      expectHazard(rowsOfGroup(aml, group), expected);
    for (const [group, expected] of Object.entries(values.veteranByHand)) {
      expectHazard(rowsOfGroup(veteran, group), expected);
    }
    expectHazard(rowsOf('lung', { time: 'time', event: 'status', eventValue: '2' }), values.lungByHand);
  });

  it('aml: agrees with the package', () => {
    for (const [key, expected] of Object.entries(values.survfit.stype1ctype1)) {
      const found = nelsonAalen(rowsOfGroup(aml, key.replace('x=', '')));
      for (const [k, hazard] of expected.cumhaz.entries()) {
        expectNear(found.cumulativeHazard[k], Number(hazard));
        expectNear(found.standardError[k], Number(expected.stdErrCumhaz[k]));
      }
    }
  });

  it('aml: log and plain limits', () => {
    const log = nelsonAalen(aml);
    const plain = nelsonAalen(aml, { interval: 'plain' });
    const expected = values.cumhazCi95Aml;
    for (const [i, time] of expected.time.entries()) {
      const k = log.time.indexOf(time);
      expectNear(log.lower[k], expected.logLower[i] ?? 0);
      expectNear(log.upper[k], expected.logUpper[i] ?? 0);
      expectNear(plain.lower[k], expected.plainLower[i] ?? 0);
      expectNear(plain.upper[k], expected.plainUpper[i] ?? 0);
    }
  });
});

describe('Nelson-Aalen, worked by hand', () => {
  it('adds 1/3 at 2 and 1/1 at 5; no log limits before the first event', () => {
    const found = nelsonAalen({ time: [5, 1, 2, 2], event: [1, 0, 0, 1] });
    expect(found.cumulativeHazard).toEqual([0, 1 / 3, 4 / 3]);
    expectNear(found.standardError[2], Math.sqrt(1 / 9 + 1), 1e-15);
    expect(found.lower[0]).toBeUndefined();
    expect(found.upper[0]).toBeUndefined();
  });

  it('sums the influence (event - hazard) / at risk within clusters', () => {
    // One event in three rows: its own row (1 - 1/3) / 3, the others -(1/3) / 3 each; the cluster of two: 2/9
    // - 1/9.
    const found = nelsonAalen({ time: [1, 2, 2], event: [1, 0, 0], cluster: ['x', 'x', 'y'] });
    expect(found.variance).toBe('infinitesimal-jackknife');
    expectNear(found.standardError[0], Math.sqrt((1 / 9) ** 2 + (1 / 9) ** 2), 1e-14);
  });
});
