import { describe, expect, it } from 'vitest';
import {
  type FollowUpData,
  kaplanMeier,
  kaplanMeierByGroup,
  restrictedMean,
  restrictedMeanDifference,
  type SurvivalCurve,
  survivalAt,
  survivalQuantile,
} from '../../../src/statistics/survival/index.ts';
import { dataset, numbers, referenceValues } from '../../reference/load.ts';
import { expectNear } from '../near.ts';
import { expectListNear, expectNearOrAbsent } from '../near-or-absent.ts';
import { type Fields, type Listed, type Rows, rowsOf } from './rows.ts';

// Reference: survfit and its quantile and summary methods, R package survival 3.5-3; script in
// tests/reference/scripts.

interface Curve {
  readonly n: number;
  readonly time: Listed;
  readonly nRisk: Listed;
  readonly nEvent: Listed;
  readonly nCensor: Listed;
  readonly surv: Listed;
  readonly stdErr: Listed;
}
type ByCurve<T> = Readonly<Record<string, T>>;
interface Limits {
  readonly lower: Listed;
  readonly upper: Listed;
}
interface Reference {
  readonly confLevel: number;
  readonly curves: ByCurve<Curve>;
  readonly ci: Readonly<Record<string, ByCurve<Limits>>>;
  readonly quantiles: Readonly<
    Record<string, ByCurve<Limits & { readonly probs: readonly number[]; readonly quantile: Listed }>>
  >;
  readonly rmst?: readonly ByCurve<{ readonly tau: number; readonly rmst: number; readonly se: number }>[];
  readonly atTimes?: ByCurve<{
    readonly time: readonly number[];
    readonly surv: Listed;
    readonly stdErr: Listed;
    readonly lowerLog: Listed;
    readonly upperLog: Listed;
    readonly nRisk: Listed;
  }>;
}

const kinds = {
  plain: 'plain',
  log: 'log',
  'log-log': 'log-log',
  logit: 'logit',
  arcsin: 'arcsine',
} as const;

const files: readonly (readonly [string, string, Fields])[] = [
  ['km-aml-all', 'aml', { time: 'time', event: 'status' }],
  ['km-aml-group', 'aml', { time: 'time', event: 'status', group: 'x' }],
  ['km-aml-group-90', 'aml', { time: 'time', event: 'status', group: 'x' }],
  ['km-lung-sex', 'lung', { time: 'time', event: 'status', eventValue: '2', group: 'sex' }],
  ['km-lung-all', 'lung', { time: 'time', event: 'status', eventValue: '2' }],
  ['km-veteran-celltype', 'veteran', { time: 'time', event: 'status', group: 'celltype' }],
  ['km-heart-lefttrunc', 'heart', { time: 'stop', event: 'event', entry: 'start', group: 'transplant' }],
];

function expectCurve(curve: SurvivalCurve, expected: Curve, label: string): void {
  expect(curve.n).toBe(expected.n);
  expect(curve.time).toEqual(expected.time);
  expectListNear(curve.atRisk, expected.nRisk, `${label} at risk`);
  expectListNear(curve.events, expected.nEvent, `${label} events`);
  expectListNear(curve.censored, expected.nCensor, `${label} censored`);
  expectListNear(curve.survival, expected.surv, `${label} survival`);
  expectListNear(curve.standardError, expected.stdErr, `${label} standard error`);
}

function expectReference(reference: Reference, rows: Rows, name: string): void {
  for (const [kind, interval] of Object.entries(kinds)) {
    const curves = kaplanMeierByGroup(rows, { interval, level: reference.confLevel });
    expect(curves.length).toBe(Object.keys(reference.curves).length);
    for (const { group, curve } of curves) {
      const key = Object.keys(reference.curves).find(k => k === group || k.endsWith(`=${group}`)) ?? 'absent';
      const label = `${name} ${key} ${kind}`;
      expectCurve(curve, reference.curves[key] as Curve, label);
      const limits = reference.ci[kind]?.[key];
      expectListNear(curve.lower, limits?.lower ?? [], `${label} lower`);
      expectListNear(curve.upper, limits?.upper ?? [], `${label} upper`);
      const quantiles = reference.quantiles[kind]?.[key];
      for (const [i, p] of (quantiles?.probs ?? []).entries()) {
        const found = survivalQuantile(curve, p);
        expectNearOrAbsent(found.estimate, quantiles?.quantile[i], `${label} quantile ${p}`);
        expectNearOrAbsent(found.lower, quantiles?.lower[i], `${label} quantile ${p} lower`);
        expectNearOrAbsent(found.upper, quantiles?.upper[i], `${label} quantile ${p} upper`);
      }
      for (const means of reference.rmst ?? []) {
        const expected = means[key];
        if (expected === undefined) throw new Error(`no restricted mean for ${key}`);
        const mean = restrictedMean(curve, expected.tau);
        expectNear(mean.estimate, expected.rmst, 1e-9, `${label} restricted mean`);
        expectNear(mean.standardError, expected.se, 1e-9, `${label} restricted mean error`);
      }
      if (interval === 'log') expectAtTimes(curve, reference, key, label);
    }
  }
}

function expectAtTimes(curve: SurvivalCurve, reference: Reference, key: string, label: string): void {
  const expected = reference.atTimes?.[key];
  for (const [i, row] of survivalAt(curve, expected?.time ?? [0]).entries()) {
    if (expected === undefined) break;
    expectNearOrAbsent(row.survival, expected.surv[i], `${label} at ${row.time}`);
    expectNearOrAbsent(row.standardError, expected.stdErr[i], `${label} error at ${row.time}`);
    expectNearOrAbsent(row.lower, expected.lowerLog[i], `${label} lower at ${row.time}`);
    expectNearOrAbsent(row.upper, expected.upperLog[i], `${label} upper at ${row.time}`);
    expectNearOrAbsent(row.atRisk, expected.nRisk[i], `${label} at risk at ${row.time}`);
  }
}

describe('Kaplan-Meier against reference values', () => {
  for (const [file, name, fields] of files) {
    it(`${file}: curves, five interval kinds, quantiles, restricted means, values at times`, () => {
      expectReference(referenceValues(file).values as Reference, rowsOf(name, fields), file);
    });
  }

  const edge = referenceValues('km-edge').values as Readonly<Record<string, unknown>>;

  it('km-edge: a median never reached, and one on a flat stretch', () => {
    const fields = { time: 'time', event: 'status' };
    expectReference(edge.neverHalf as Reference, rowsOf('edge_never_half', fields), 'never half');
    expectReference(edge.flatHalf as Reference, rowsOf('edge_flat_half', fields), 'flat half');
  });

  it('km-edge: near-tied times are kept apart, as the reference does without its time rounding', () => {
    const rows = rowsOf('edge_near_ties', { time: 'time', event: 'status' });
    expectCurve(kaplanMeier(rows), edge.nearTiesRaw as Curve, 'near ties');
  });

  it('km-edge: all censored, all events, a single row, an event and a censoring at one time', () => {
    expectCurve(
      kaplanMeier({ time: [3, 1, 2], event: [0, 0, 0] }),
      edge.allCensored as Curve,
      'all censored',
    );
    const all = kaplanMeier({ time: [4, 2, 3, 1], event: [1, 1, 1, 1] }, { interval: 'log' });
    expectCurve(all, edge.allEvents as Curve, 'all events');
    const quantiles = (edge.allEventsQuantiles as ByCurve<Limits & { readonly quantile: Listed }>).all;
    for (const [i, p] of [0.25, 0.5, 0.75].entries()) {
      const found = survivalQuantile(all, p);
      expectNearOrAbsent(found.estimate, quantiles?.quantile[i], `quantile ${p}`);
      expectNearOrAbsent(found.lower, quantiles?.lower[i], `quantile ${p} lower`);
      expectNearOrAbsent(found.upper, quantiles?.upper[i], `quantile ${p} upper`);
    }
    expectCurve(kaplanMeier({ time: [5], event: [1] }), edge.single as Curve, 'single');
    expectCurve(
      kaplanMeier({ time: [4, 2, 2, 2], event: [1, 0, 1, 1] }),
      edge.tiedEventCensor as Curve,
      'tied',
    );
  });

  it('km-aml-weights: whole and fractional weights, Greenwood and jackknife', () => {
    const values = referenceValues('km-aml-weights').values as Readonly<
      Record<string, ByCurve<Curve & Limits>>
    >;
    const rows = dataset('aml_weights');
    for (const group of ['Maintained', 'Nonmaintained']) {
      const own = rows.filter(row => row.x === group);
      const data = (weight: string): FollowUpData => ({
        time: numbers(own, 'time'),
        event: numbers(own, 'status'),
        weight: numbers(own, weight),
      });
      const key = `x=${group}`;
      const expected = (part: string) => values[part]?.[key] as Curve;
      expectCurve(kaplanMeier(data('wint')), expected('integer'), 'whole weights');
      const jackknife = { variance: 'infinitesimal-jackknife' } as const;
      expectCurve(
        kaplanMeier(data('wint'), jackknife),
        expected('integerRobust'),
        'whole weights, jackknife',
      );
      expectCurve(kaplanMeier(data('wfrac')), expected('fractionalRobust'), 'fractional weights');
      const greenwood = { variance: 'greenwood' } as const;
      expectCurve(
        kaplanMeier(data('wfrac'), greenwood),
        expected('fractionalGreenwood'),
        'fractional, Greenwood',
      );
      const quantiles = values.quantilesFractional?.[key] as unknown as Limits & {
        readonly quantile: Listed;
      };
      const curve = kaplanMeier(data('wfrac'), { interval: 'log' });
      for (const [i, p] of [0.25, 0.5, 0.75].entries()) {
        const found = survivalQuantile(curve, p);
        expectNearOrAbsent(found.estimate, quantiles.quantile[i], `quantile ${p}`);
        expectNearOrAbsent(found.lower, quantiles.lower[i], `quantile ${p} lower`);
        expectNearOrAbsent(found.upper, quantiles.upper[i], `quantile ${p} upper`);
      }
    }
  });

  it('km-pseudo-aml: the jackknife variance is the sum of squared influences of the pseudo-observations', () => {
    const values = referenceValues('km-pseudo-aml').values as {
      readonly times: readonly number[];
      readonly ijSurv: readonly (readonly number[])[];
      readonly ijRmst: readonly number[];
    };
    const curve = kaplanMeier(rowsOf('aml', { time: 'time', event: 'status' }), {
      variance: 'infinitesimal-jackknife',
    });
    const error = (pseudo: readonly number[], estimate: number) =>
      Math.sqrt(pseudo.reduce((sum, x) => sum + ((x - estimate) / curve.n) ** 2, 0));
    for (const [j, row] of survivalAt(curve, values.times).entries()) {
      expectNear(
        row.standardError,
        error(
          values.ijSurv.map(x => x[j] ?? 0),
          row.survival,
        ),
        1e-9,
        `at ${row.time}`,
      );
    }
    const mean = restrictedMean(curve, 48);
    expectNear(mean.standardError, error(values.ijRmst, mean.estimate), 1e-9, 'restricted mean');
  });

  it('rmst-difference: difference and ratio of restricted means', () => {
    interface Difference {
      readonly tau: number;
      readonly difference: number;
      readonly se: number;
      readonly z: number;
      readonly p: number;
      readonly ci95: readonly [number, number];
      readonly ratio: number;
      readonly ratioCi95: readonly [number, number];
    }
    const values = referenceValues('rmst-difference').values as readonly Difference[];
    const rows = rowsOf('lung', { time: 'time', event: 'status', eventValue: '2', group: 'sex' });
    const [male, female] = kaplanMeierByGroup(rows).map(g => g.curve);
    if (!male || !female) throw new Error('two curves are needed');
    for (const expected of values) {
      const found = restrictedMeanDifference(male, female, expected.tau);
      expectNear(found.estimate, expected.difference);
      expectNear(found.standardError, expected.se);
      expectNear(found.z, expected.z);
      expectNear(found.pValue, expected.p);
      expectNear(found.lower, expected.ci95[0]);
      expectNear(found.upper, expected.ci95[1]);
      expectNear(found.ratio?.estimate, expected.ratio);
      expectNear(found.ratio?.lower, expected.ratioCi95[0]);
      expectNear(found.ratio?.upper, expected.ratioCi95[1]);
    }
  });
});
