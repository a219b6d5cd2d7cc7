import {
  type Arbitrary,
  array,
  assert as check,
  constantFrom,
  integer,
  pre,
  property,
  record,
} from 'fast-check';
import { describe, expect, it } from 'vitest';
import { coxModel } from '../../../../src/statistics/regression/cox/cox-model.ts';
import { coxResiduals } from '../../../../src/statistics/regression/cox/residuals.ts';
import { proportionalHazardsTest } from '../../../../src/statistics/regression/cox/proportional-hazards.ts';
import type { CoxData, CoxModel, CoxTies } from '../../../../src/statistics/regression/cox/types.ts';
import { expectAllClose, expectClose } from '../close.ts';

interface Row {
  readonly time: number;
  readonly event: number;
  readonly x: number;
  readonly g: number;
  readonly cluster: number;
  readonly key: number;
}

const row: Arbitrary<Row> = record({
  time: integer({ min: 1, max: 12 }),
  event: constantFrom(0, 1, 1),
  x: integer({ min: -5, max: 5 }),
  g: constantFrom(0, 1),
  cluster: integer({ min: 1, max: 9 }),
  key: integer(),
});
const rows = array(row, { minLength: 24, maxLength: 50 });
const settings = { seed: 20_250_101, numRuns: 40 };

function columns(sample: readonly Row[], more: Partial<CoxData> = {}): CoxData {
  return {
    time: sample.map(r => r.time),
    event: sample.map(r => r.event),
    covariates: { x: sample.map(r => r.x), g: sample.map(r => r.g) },
    ...more,
  };
}

/** A fit that can be compared: samples without an estimate are left to the tests of refusals. */
function fitted(data: CoxData, ties: CoxTies = 'efron'): CoxModel {
  const events = Array.from(data.event).filter(e => e === 1).length;
  const constant = Object.values(data.covariates).some(x => new Set(Array.from(x)).size === 1);
  pre(events > 5 && !constant);
  const model = coxModel(data, { ties });
  pre(model.converged && model.terms.every(term => (term.standardError as number) < 10));
  return model;
}

function summary(model: CoxModel): number[] {
  return [
    ...model.terms.flatMap(term => [term.coefficient as number, term.standardError as number]),
    ...model.terms.map(term => term.robustStandardError ?? 1),
    model.logLikelihood.initial,
    model.logLikelihood.final,
    model.scoreTest.statistic,
    model.concordance.estimate as number,
    model.concordance.standardError as number,
  ].map(value => value + 10);
}

const ties = constantFrom<CoxTies>('efron', 'breslow');

describe('coxModel', () => {
  it('does not depend on the order of the rows', () => {
    check(
      property(rows, ties, (sample, method) => {
        const labels = (from: readonly Row[]) => ({
          cluster: from.map(r => r.cluster),
          strata: from.map(r => r.g),
        });
        const x = (from: readonly Row[]) => ({ covariates: { x: from.map(r => r.x) } });
        const shuffled = [...sample].sort((a, b) => a.key - b.key);
        const a = fitted(columns(sample, { ...labels(sample), ...x(sample) }), method);
        const b = fitted(columns(shuffled, { ...labels(shuffled), ...x(shuffled) }), method);
        expectAllClose(summary(b), summary(a), 1e-10);
      }),
      settings,
    );
  });

  it('takes units and origins of covariates and time as they come', () => {
    check(
      property(
        rows,
        ties,
        constantFrom(0.001, 7, 365.25),
        constantFrom(-40, 1e4),
        (sample, method, unit, origin) => {
          const a = fitted(columns(sample), method);
          const b = fitted(
            columns(sample, {
              time: sample.map(r => r.time * unit),
              covariates: { x: sample.map(r => r.x * unit + origin), g: sample.map(r => r.g) },
            }),
            method,
          );
          expectClose(
            (b.terms[0]?.coefficient as number) * unit + 10,
            (a.terms[0]?.coefficient as number) + 10,
            1e-9,
          );
          expectClose(
            (b.terms[0]?.standardError as number) * unit,
            a.terms[0]?.standardError as number,
            1e-9,
          );
          expectClose(b.logLikelihood.final, a.logLikelihood.final, 1e-11);
          expectClose(b.scoreTest.statistic + 1, a.scoreTest.statistic + 1, 1e-9);
        },
      ),
      settings,
    );
  });

  it('is the same when follow-up is split into pieces, and the clusters join them again', () => {
    check(
      property(rows, ties, integer({ min: 1, max: 11 }), (sample, method, cut) => {
        const whole = fitted(columns(sample, { cluster: sample.map((_, i) => i) }), method);
        const pieces = sample.flatMap((r, id) =>
          r.time > cut
            ? [
                { ...r, id, entry: -1, time: cut, event: 0 },
                { ...r, id, entry: cut },
              ]
            : [{ ...r, id, entry: -1 }],
        );
        const split = fitted(
          columns(pieces, { entry: pieces.map(r => r.entry), cluster: pieces.map(r => r.id) }),
          method,
        );
        // The concordance pairs rows, not subjects, but no pair of one subject is comparable.
        expectAllClose(summary(split), summary(whole), 1e-9);
      }),
      settings,
    );
  });

  it("counts weight 2 as the row twice under Breslow's ties", () => {
    check(
      property(rows, sample => {
        const weight = sample.map(r => 1 + (r.key & 1));
        const twice = sample.flatMap(r => Array.from({ length: 1 + (r.key & 1) }, () => r));
        const a = fitted(columns(sample, { weight, cluster: sample.map(r => r.cluster) }), 'breslow');
        const b = fitted(columns(twice, { cluster: twice.map(r => r.cluster) }), 'breslow');
        expectAllClose(summary(a).slice(0, -2), summary(b).slice(0, -2), 1e-9);
      }),
      settings,
    );
  });

  it('of two groups without ties has the log-rank statistic as its score test', () => {
    check(
      property(rows, sample => {
        const data = columns(sample, {
          time: sample.map((_, i) => ((i * 37) % 101) + 1),
          covariates: { g: sample.map(r => r.g) },
        });
        const model = fitted(data);
        const time = Array.from(data.time);
        const event = Array.from(data.event);
        let difference = 0;
        let variance = 0;
        for (const [i, t] of time.entries()) {
          if (event[i] === 0) continue;
          const atRisk = sample.filter((_, k) => (time[k] as number) >= t);
          const share = atRisk.filter(r => r.g === 1).length / atRisk.length;
          difference += (sample[i]?.g as number) - share;
          variance += share * (1 - share);
        }
        expectClose(model.scoreTest.statistic + 1, difference ** 2 / variance + 1, 1e-10);
      }),
      settings,
    );
  });

  it('has martingale residuals that add up to 0 and score residuals that do at the estimate', () => {
    check(
      property(rows, ties, (sample, method) => {
        const model = fitted(columns(sample, { strata: sample.map(r => r.cluster % 2) }), method);
        const sum = coxResiduals(model, 'martingale').reduce((a, b) => a + b, 0);
        expect(Math.abs(sum)).toBeLessThan(1e-9);
        for (const j of [0, 1]) {
          const total = coxResiduals(model, 'score').reduce((a, r) => a + (r[j] as number), 0);
          expect(Math.abs(total)).toBeLessThan(1e-8);
          const shifts = coxResiduals(model, 'schoenfeld').reduce((a, r) => a + (r[j] as number), 0);
          expect(Math.abs(shifts)).toBeLessThan(1e-8);
        }
      }),
      settings,
    );
  });

  it('tests proportional hazards alike whatever the unit of time, by rank', () => {
    check(
      property(rows, sample => {
        const a = fitted(columns(sample));
        const b = fitted(columns(sample, { time: sample.map(r => r.time ** 2) }));
        expectClose(
          proportionalHazardsTest(a, { transform: 'rank' }).global.statistic + 1,
          proportionalHazardsTest(b, { transform: 'rank' }).global.statistic + 1,
          1e-9,
        );
      }),
      settings,
    );
  });
});
