import { describe, expect, it } from 'vitest';
import { referenceValues } from '../../../reference/load.ts';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import {
  proportionalHazardsTest,
  type TimeTransform,
} from '../../../../src/statistics/regression/cox/proportional-hazards.ts';
import type { CoxData } from '../../../../src/statistics/regression/cox/types.ts';
import { expectClose } from '../close.ts';
import * as data from './datasets.ts';

interface Table {
  readonly rows: string[];
  readonly chisq: number[];
  readonly df: number[];
  readonly p: number[];
}

const TRANSFORMS: readonly (readonly [TimeTransform, string])[] = [
  ['kaplan-meier', 'km'],
  ['identity', 'identity'],
  ['rank', 'rank'],
  ['log', 'log'],
];
const all = ['trt', 'celltype', 'karno', 'age', 'prior', 'diagtime'];
const some = ['trt', 'karno', 'age'];
const cases: readonly (readonly [string, () => CoxData, 'efron' | 'breslow', boolean])[] = [
  ['lung', () => data.lung(['age', 'sex', 'ph.ecog']), 'efron', false],
  ['veteran', () => data.veteran(all), 'efron', true],
  ['veteranByCoefficient', () => data.veteran(all), 'efron', false],
  ['veteranBreslow', () => data.veteran(some), 'breslow', false],
  ['veteranStrata', () => data.veteran(['trt', 'karno'], true), 'efron', false],
  ['ovarian', data.ovarian, 'efron', false],
  ['heart', data.heart, 'efron', false],
];

describe('proportionalHazardsTest against R survival 3.5-3', () => {
  const reference = referenceValues('cox-zph').values as Record<string, Record<string, Table>>;
  it.each(cases)('%s', (name, columns, ties, grouped) => {
    const model = coxModel(columns(), { ties });
    for (const [transform, key] of TRANSFORMS) {
      const expected = reference[name]?.[key] as Table;
      const actual = proportionalHazardsTest(model, {
        transform,
        ...(grouped ? { terms: { celltype: data.CELL_TYPES } } : {}),
      });
      const tests = [...actual.terms, actual.global];
      expect(tests.length).toBe(expected.chisq.length);
      for (const [i, test] of tests.entries()) {
        const what = `${name} ${key} ${expected.rows[i]}`;
        expectClose(test.statistic, expected.chisq[i] as number, 1e-8, what);
        expect(test.degreesOfFreedom).toBe(expected.df[i]);
        expectClose(test.pValue, expected.p[i] as number, 1e-8, what);
      }
    }
  });

  it('refuses the logarithm of an event at time 0, and a term of unknown covariates', () => {
    const model = coxModel({
      time: [0, 3, 2, 5, 4],
      event: [1, 1, 1, 1, 0],
      covariates: { x: [1, 0, 1, 1, 0] },
    });
    expect(() => proportionalHazardsTest(model, { transform: 'log' })).toThrow(/event is at time 0/);
    expect(() => proportionalHazardsTest(model, { terms: { cell: ['y'] } })).toThrow(/terms.cell names y/);
  });
});
