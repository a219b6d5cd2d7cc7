import { describe, expect, it } from 'vitest';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { partialLikelihood } from '../../../../src/statistics/regression/cox/partial-likelihood.ts';
import { workspace } from '../../../../src/statistics/regression/cox/workspace.ts';
import { riskSets } from '../../../../src/statistics/regression/cox/risk-sets.ts';
import { checkedColumns } from '../../../../src/statistics/regression/cox/columns.ts';
import type { CoxData } from '../../../../src/statistics/regression/cox/types.ts';
import { expectClose } from '../close.ts';

/**
 * Six rows, one covariate x, r = exp(beta). At 1 a row is censored before any event. At 2 the risk set is
 * two rows with x = 1 and three with x = 0 (one of them censored at 2), sum 3 + 2r; one of each has its
 * event, sum 1 + r. At 3 the risk set is one row with x = 1, which has its event, and one with x = 0.
 */
const tied: CoxData = {
  time: Object.freeze([4, 2, 1, 3, 2, 2]),
  event: Object.freeze([0, 1, 0, 1, 0, 1]),
  covariates: Object.freeze({ x: Object.freeze([0, 1, 1, 1, 0, 0]) }),
};

function at(data: CoxData, ties: 'efron' | 'breslow', beta: number) {
  const sets = riskSets(checkedColumns(data));
  const work = workspace(sets.n, sets.p);
  const scale = sets.scale[0] as number;
  const logLikelihood = partialLikelihood(sets, ties, Float64Array.of(beta * scale), work);
  return {
    logLikelihood,
    score: (work.score[0] as number) * scale,
    information: (work.information[0] as number) * scale ** 2,
  };
}

describe('Breslow and Efron ties, by hand', () => {
  it('at beta = 0', () => {
    // l = 2 beta - 2 log(3 + 2r) - log(1 + r); U = 2 - 2 * 2/5 - 1/2; I = 2 * (2/5)(3/5) + 1/4
    const breslow = at(tied, 'breslow', 0);
    expectClose(breslow.logLikelihood, -2 * Math.log(5) - Math.log(2), 1e-14);
    expectClose(breslow.score, 0.7, 1e-14);
    expectClose(breslow.information, 0.73, 1e-14);
    // The second tied term has the risk set less half of both events: 2.5 + 1.5 r.
    // U = 2 - 2/5 - 3/8 - 1/2; I = (2/5)(3/5) + (3/8)(5/8) + 1/4
    const efron = at(tied, 'efron', 0);
    expectClose(efron.logLikelihood, -Math.log(5) - Math.log(4) - Math.log(2), 1e-14);
    expectClose(efron.score, 0.725, 1e-14);
    expectClose(efron.information, 0.724375, 1e-14);
  });

  it('at the estimate', () => {
    // Breslow: U = 0 is 2 r^2 - 3 r - 6 = 0.
    const r = (3 + Math.sqrt(57)) / 4;
    const breslow = coxModel(tied, { ties: 'breslow' });
    expectClose(breslow.terms[0]?.hazardRatio, r, 1e-12);
    const p = (2 * r) / (3 + 2 * r);
    const q = r / (1 + r);
    const information = 2 * p * (1 - p) + q * (1 - q);
    expectClose(breslow.terms[0]?.standardError, 1 / Math.sqrt(information), 1e-12);
    expectClose(
      breslow.logLikelihood.final,
      2 * Math.log(r) - 2 * Math.log(3 + 2 * r) - Math.log(1 + r),
      1e-13,
    );
    expectClose(breslow.scoreTest.statistic, 0.49 / 0.73, 1e-12);
    expect(Math.abs(at(tied, 'breslow', Math.log(r)).score)).toBeLessThan(1e-14);

    // Efron: U = 0 is 3 r^3 - 17 r - 15 = 0.
    const efron = coxModel(tied);
    const s = efron.terms[0]?.hazardRatio as number;
    expect(Math.abs(3 * s ** 3 - 17 * s - 15)).toBeLessThan(1e-10);
    expect(s).toBeGreaterThan(1);
    const a = (2 * s) / (3 + 2 * s);
    const b = (3 * s) / (5 + 3 * s);
    const c = s / (1 + s);
    expectClose(efron.terms[0]?.standardError, 1 / Math.sqrt(a * (1 - a) + b * (1 - b) + c * (1 - c)), 1e-12);
    expectClose(efron.scoreTest.statistic, 0.725 ** 2 / 0.724375, 1e-12);
  });

  it('late entry: a row that enters at the time of an event is not in its risk set', () => {
    // At 2: x = 1 (event), 0; the row entering at 2 is not counted. At 5: x = 0 (event), 1.
    const late: CoxData = {
      entry: [0, 2, 0, 1],
      time: [2, 6, 5, 2],
      event: [1, 0, 1, 0],
      covariates: { x: [1, 1, 0, 0] },
    };
    const { score, information, logLikelihood } = at(late, 'efron', 0);
    expectClose(logLikelihood, -Math.log(3) - Math.log(2), 1e-14);
    expectClose(score, 1 - 1 / 3 - 1 / 2, 1e-13);
    expectClose(information, (1 / 3) * (2 / 3) + 1 / 4, 1e-14);
  });
});

describe('published worked example', () => {
  /**
   * Remission times in weeks of 42 children with leukaemia, 6-mercaptopurine against placebo (Freireich et al.
   * 1963, Blood 21:699). The published coefficients, 1.509 (0.410) with Breslow's ties and 1.572 (0.412) with
   * Efron's, and 1.65 as the analysis of 1972 gave it for the exact discrete likelihood, stand in
   * many textbooks; entered from memory, to the digits shown.
   */
  const treated = [6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35];
  const treatedEvents = [1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0];
  const placebo = [1, 1, 2, 2, 3, 4, 4, 5, 5, 8, 8, 8, 8, 11, 11, 12, 12, 15, 17, 22, 23];
  const data: CoxData = {
    time: [...treated, ...placebo],
    event: [...treatedEvents, ...placebo.map(() => 1)],
    covariates: { placebo: [...treated.map(() => 0), ...placebo.map(() => 1)] },
  };

  it('remission in leukaemia', () => {
    const breslow = coxModel(data, { ties: 'breslow' }).terms[0];
    expect(breslow?.coefficient?.toFixed(3)).toBe('1.509');
    expect(breslow?.standardError?.toFixed(3)).toBe('0.410');
    const efron = coxModel(data).terms[0];
    expect(efron?.coefficient?.toFixed(3)).toBe('1.572');
    expect(efron?.standardError?.toFixed(3)).toBe('0.412');
    expect(efron?.hazardRatio?.toFixed(2)).toBe('4.82');
  });
});
