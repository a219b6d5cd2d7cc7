import { describe, expect, it } from 'vitest';
import * as s from '../../../src/statistics/index.ts';

const time = [1, 2, 3, 4];
const event = [1, 1, 0, 1];
const group = ['a', 'a', 'b', 'b'];
const more = [0, 0, 0, 0];
const covariates = { x: [1, 2, 4, 3] };
const one = (): number => 1;

const functions = new Map<string, unknown>(Object.entries(s));

/** As from plain JavaScript, where no type objects. */
const call = (name: keyof typeof s, ...given: readonly unknown[]): unknown => {
  const run = functions.get(name);
  return typeof run === 'function' ? Reflect.apply(run, undefined, [...given]) : undefined;
};

describe('a column that would be passed over', () => {
  it.each([
    [
      'kaplanMeier',
      [{ time, event, strata: group }],
      'strata is not taken here; allowed: entry, weight, cluster',
    ],
    [
      'kaplanMeier',
      [{ time, event, weights: time }],
      'weights is not taken here; allowed: entry, weight, cluster',
    ],
    [
      'logRankTest',
      [{ time, event, group, weight: time }],
      'weight is not taken here; allowed: entry, strata, cluster',
    ],
    [
      'grayTest',
      [{ time, cause: event, group, entry: more }, { cause: 1 }],
      'entry is not taken here; allowed: strata, cluster',
    ],
    [
      'acceleratedFailureModel',
      [{ time, event, entry: more, covariates }, { distribution: 'weibull' }],
      'entry is not taken here; allowed: weight, cluster',
    ],
    [
      'subdistributionHazardModel',
      [{ time, cause: event, strata: group, covariates }],
      'strata is not taken here; allowed: cluster',
    ],
    [
      'coxModel',
      [{ time, event, clusters: group, covariates }],
      'clusters is not taken here; allowed: entry, weight, strata, cluster, offset',
    ],
  ] as const)('is refused by %s: %#', (name, given, message) => {
    expect(() => call(name, ...given)).toThrow(
      expect.objectContaining({ name: 'StatisticsError', code: 'unknown-option', message }),
    );
  });

  it('is let pass where it is left undefined, or is of no concern', () => {
    const curve = s.kaplanMeier({ time, event });
    expect(call('kaplanMeier', { time, event, strata: undefined, site: group })).toEqual(curve);
    const rows = { time, event, group };
    expect(call('logRankTest', { ...rows, cluster: group })).toEqual(s.logRankTest(rows));
  });
});

describe('an argument left out', () => {
  it.each([
    ['kaplanMeier', [{ event }], 'time is missing; it cannot be left out'],
    ['kaplanMeier', [{ times: time, event }], 'time is missing; it cannot be left out'],
    ['kaplanMeier', [{ time }], 'event is missing; it cannot be left out'],
    ['kaplanMeier', [{ time: 5, event }], 'time is 5; an array is needed'],
    ['logRankTest', [{ time, event }], 'group is missing; it cannot be left out'],
    ['coxModel', [{ time, event }], 'covariates is missing; it cannot be left out'],
    ['linearModel', [{ outcome: time }], 'covariates is missing; it cannot be left out'],
    ['grayTest', [{ time, cause: event, group }], 'options is missing; it cannot be left out'],
    ['acceleratedFailureModel', [{ time, event, covariates }], 'options is missing; it cannot be left out'],
    ['bootstrap', [{ n: 4 }, one, { resamples: 100 }], 'seed is missing; it cannot be left out'],
    ['permutationTest', [{ group }, one], 'options is missing; it cannot be left out'],
  ] as const)('is named by %s: %#', (name, given, message) => {
    expect(() => call(name, ...given)).toThrow(
      expect.objectContaining({ name: 'StatisticsError', code: 'missing-argument', message }),
    );
  });

  it('is a model read back from JSON, which has lost its rows', () => {
    const model = s.coxModel({
      time: [1, 2, 3, 4, 5],
      event: [1, 1, 0, 1, 1],
      covariates: { x: [2, 1, 3, 1, 2] },
    });
    expect(() => call('coxResiduals', JSON.parse(JSON.stringify(model)), 'martingale')).toThrow(
      'the model is a copy without its rows; use the one that was fitted',
    );
  });
});
