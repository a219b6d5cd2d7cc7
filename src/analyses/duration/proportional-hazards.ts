import type { CoxModel, CoxTest } from '../../statistics/regression/cox/index.ts';
import { proportionalHazardsTest } from '../../statistics/regression/cox/index.ts';
import type { TestResult } from '../finding.ts';
import { attempt } from '../tools/attempt.ts';
import { type DurationModel, isState } from './ratio-lines.ts';
import { termWords } from './residual-plots.ts';

/**
 * Score tests of whether a hazard ratio changes with 1 less the Kaplan-Meier curve: for each feature, the bands
 * together, and all features together. They use the variance of the model, which takes feet as independent.
 */
export function proportionalHazards(model: DurationModel<CoxModel>): readonly TestResult[] {
  const { adjustment, fitted, design } = model;
  const method = `score test of proportional hazards, ${adjustment} Cox model, feet as independent`;
  const all = { key: `proportional-hazards.${adjustment}.all`, label: 'All features together', method };
  if (isState(fitted)) return [{ ...all, state: fitted.state }];
  if (!fitted.converged) return [{ ...all, state: 'did not converge' }];
  const bands = design.columns.filter(column => column.key.startsWith('band.')).map(column => column.key);
  const tests = attempt(() => ({
    each: proportionalHazardsTest(fitted),
    bands: proportionalHazardsTest(fitted, bands.length > 1 ? { terms: { band: bands } } : {}),
  }));
  if ('state' in tests) return [{ ...all, state: tests.state }];
  const together = tests.bands.terms.find(term => term.name === 'band');
  return [
    ...design.columns.map((column, place) => ({
      key: `proportional-hazards.${adjustment}.${column.key}`,
      label: termWords(column),
      method,
      ...result(tests.each.terms[place]),
    })),
    ...(together === undefined
      ? []
      : [
          {
            key: `proportional-hazards.${adjustment}.band`,
            label: 'Severity bands together',
            method,
            ...result(together),
          },
        ]),
    { ...all, ...result(tests.each.global) },
  ];
}

function result(test: CoxTest | undefined) {
  if (test === undefined) return { state: 'too few to test' };
  const { statistic, degreesOfFreedom, pValue } = test;
  return { statistic, degreesOfFreedom, pValue };
}
