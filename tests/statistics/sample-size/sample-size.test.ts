import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  designEffect,
  eventProbability,
  logRankSampleSize,
  meanPrecision,
  proportionPrecision,
  proportionsPower,
  proportionsSampleSize,
} from '../../../src/statistics/sample-size/index.ts';
import { referenceValues } from '../../reference/load.ts';
import { expectClose } from '../relative.ts';

// Reference: R 4.2.2, power.prop.test and formulae (tests/reference/scripts/make-reference.R).
const reference = referenceValues('sample-size').values as {
  events: {
    hr: number;
    alpha: number;
    sides: 1 | 2;
    power: number;
    allocation: number;
    schoenfeldEvents: number;
    freedmanEvents: number | null;
  }[];
  proportions: {
    p1: number;
    p2: number;
    power: number;
    alpha: number;
    nPerGroup: number;
    nPooledFormula: number;
    nUnpooledFormula: number;
    nContinuityFleiss: number;
  }[];
  powerGivenN: { n: number; p1: number; p2: number; power: number };
  eventProbUniformAccrual: { lambda: number; accrual: number; followUp: number; prob: number };
};

describe('logRankSampleSize', () => {
  for (const expected of reference.events) {
    it(`hazard ratio ${expected.hr}, power ${expected.power}, ${expected.sides}-sided`, () => {
      const { hr: hazardRatio, alpha, sides, power, allocation } = expected;
      const options = { hazardRatio, alpha, sides, power, allocation };
      const size = logRankSampleSize(options);
      expectClose(size.events, expected.schoenfeldEvents);
      expect(size.roundedUp.events).toBe(Math.ceil(expected.schoenfeldEvents));
      const freedman = logRankSampleSize({ ...options, method: 'freedman' }).events;
      // Without a reference at unequal allocation: a hazard ratio and allocation turned round are the same trial.
      const turned = { ...options, hazardRatio: 1 / hazardRatio, allocation: 1 - allocation };
      expectClose(
        freedman,
        expected.freedmanEvents ?? logRankSampleSize({ ...turned, method: 'freedman' }).events,
      );
    });
  }

  it('subjects follow from the probability of an event', () => {
    const { lambda, accrual, followUp, prob } = reference.eventProbUniformAccrual;
    const probability = eventProbability({ hazard: lambda, accrual, followUp });
    expectClose(probability, prob);
    const size = logRankSampleSize({ hazardRatio: 0.5, eventProbability: probability });
    expectClose(size.n, size.events / prob);
    expectClose(eventProbability({ hazard: 0.1, accrual: 0, followUp: 5 }), 1 - Math.exp(-0.5));
  });

  it('refuses no effect and impossible probabilities', () => {
    expect(() => logRankSampleSize({ hazardRatio: 1 })).toThrow(/hazardRatio is 1/);
    expect(() => logRankSampleSize({ hazardRatio: 0 })).toThrow(/hazardRatio/);
    expect(() => logRankSampleSize({ hazardRatio: 2, power: 1 })).toThrow(/power/);
    expect(() => logRankSampleSize({ hazardRatio: 2, eventProbability: 0 })).toThrow(/eventProbability/);
    expect(() => eventProbability({ hazard: 1, accrual: 0, followUp: 0 })).toThrow(/followUp/);
  });
});

describe('proportionsSampleSize', () => {
  for (const expected of reference.proportions) {
    it(`${expected.p1} against ${expected.p2}`, () => {
      const { p1, p2, power, alpha } = expected;
      const options = { p1, p2, power, alpha };
      // The iterative reference stops at its own tolerance of 1e-14 in power.
      expectClose(proportionsSampleSize(options).n, expected.nPerGroup);
      expectClose(proportionsSampleSize(options).n, expected.nPooledFormula, 1e-12);
      expectClose(proportionsSampleSize({ ...options, variance: 'unpooled' }).n, expected.nUnpooledFormula);
      expectClose(proportionsSampleSize({ ...options, continuity: true }).n, expected.nContinuityFleiss);
    });
  }

  it('power at a given size', () => {
    const { n, p1, p2, power } = reference.powerGivenN;
    expectClose(proportionsPower({ n, p1, p2 }), power);
  });

  it('power at the size found is the power asked for, and groups can be exchanged', () => {
    const p = fc.double({ min: 0.05, max: 0.95, noNaN: true });
    const power = fc.double({ min: 0.5, max: 0.99, noNaN: true });
    fc.assert(
      fc.property(p, p, power, (p1, p2, asked) => {
        fc.pre(Math.abs(p1 - p2) > 0.01);
        const { n } = proportionsSampleSize({ p1, p2, power: asked });
        expectClose(proportionsPower({ p1, p2, n }), asked, 1e-10);
        const forward = proportionsSampleSize({ p1, p2, power: asked, ratio: 3 });
        const turned = proportionsSampleSize({ p1: p2, p2: p1, power: asked, ratio: 1 / 3 });
        expectClose(turned.n, 3 * forward.n, 1e-10);
      }),
      { seed: 3, numRuns: 200 },
    );
  });

  it('expected events add up over both groups', () => {
    const size = proportionsSampleSize({ p1: 0.2, p2: 0.4, ratio: 2 });
    expectClose(size.events, size.n * 0.2 + 2 * size.n * 0.4);
    expect(size.roundedUp.total).toBe(size.roundedUp.n + size.roundedUp.second);
  });

  it('refuses equal proportions', () => {
    expect(() => proportionsSampleSize({ p1: 0.3, p2: 0.3 })).toThrow(/both 0.3/);
    expect(() => proportionsSampleSize({ p1: 0, p2: 0.3 })).toThrow(/p1 is 0/);
  });
});

describe('precision and clustering', () => {
  it('a proportion of one half to 5 points either way takes 385, a mean by its variance', () => {
    expect(proportionPrecision(0.5, 0.05).roundedUp).toBe(385);
    expectClose(proportionPrecision(0.5, 0.05).n, 1.959963984540054 ** 2 * 100);
    expectClose(meanPrecision(4, 1, 0.99).n, (2.5758293035489004 * 4) ** 2);
  });

  it('the design effect of one and a half feet an infant', () => {
    expectClose(designEffect({ meanSize: 2, intraclassCorrelation: 0.6 }), 1.6);
    expectClose(
      designEffect({ meanSize: 1.5, intraclassCorrelation: 0.5, sizeVariation: 1 / 3 }),
      1 + (2.5 / 1.5 - 1) / 2,
    );
    expect(designEffect({ meanSize: 1, intraclassCorrelation: 0.9 })).toBe(1);
    expect(() => designEffect({ meanSize: 0.5, intraclassCorrelation: 0.1 })).toThrow(/meanSize/);
  });
});
