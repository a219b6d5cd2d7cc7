import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  kaplanMeier,
  logRankTest,
  nelsonAalen,
  resampledQuantile,
  restrictedMean,
  riskTable,
  type SurvivalCurve,
  survivalAt,
  survivalQuantile,
} from '../../../src/statistics/survival/index.ts';
import { expectNear } from '../near.ts';
import { expectSameLists } from '../near-or-absent.ts';
import { columns, madeRows, repeated, splitInTwo } from './follow-up-arbitrary.ts';

const runs = { seed: 20, numRuns: 200 };

function expectSameCurve(a: SurvivalCurve, b: SurvivalCurve): void {
  expectSameLists(a.time, b.time);
  expectSameLists(a.atRisk, b.atRisk);
  expectSameLists(a.survival, b.survival);
  expectSameLists(a.standardError, b.standardError, 1e-7);
}

describe('Kaplan-Meier, whatever the rows', () => {
  it('falls from 1 to no less than 0, within its limits, and never says NaN', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry } = columns(rows);
        for (const interval of ['log-log', 'log', 'plain', 'logit', 'arcsine'] as const) {
          const curve = kaplanMeier({ time, event, entry }, { interval });
          let last = 1;
          for (const [k, s] of curve.survival.entries()) {
            expect(s >= 0 && s <= last).toBe(true);
            last = s;
            const lower = curve.lower[k] ?? 0;
            const upper = curve.upper[k] ?? 1;
            expect(lower >= 0 && lower <= s + 1e-12 && upper >= s - 1e-12 && upper <= 1).toBe(true);
            const error = curve.standardError[k];
            expect(error === undefined || error >= 0).toBe(true);
          }
        }
      }),
      runs,
    );
  });

  it('does not depend on the order of the rows', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, weight, cluster } = columns(rows);
        const turned = columns([...rows].reverse());
        const again = {
          time: turned.time,
          event: turned.event,
          entry: turned.entry,
          weight: turned.weight,
          cluster: turned.cluster,
        };
        expectSameCurve(kaplanMeier(again), kaplanMeier({ time, event, entry, weight, cluster }));
      }),
      runs,
    );
  });

  it('is the same on another time scale, which also takes the sorted instead of the counted path', () => {
    fc.assert(
      fc.property(madeRows, fc.constantFrom(1 / 7, 0.5, 30.4375), (rows, scale) => {
        const { time, event, entry, cluster } = columns(rows);
        fc.pre(new Set(cluster).size > 1);
        const curve = kaplanMeier({ time, event, entry, cluster });
        const scaled = kaplanMeier({
          time: time.map(t => t * scale),
          event,
          entry: entry.map(t => t * scale),
          cluster,
        });
        expectSameCurve({ ...scaled, time: curve.time }, curve);
        const mean = restrictedMean(curve, 10);
        const scaledMean = restrictedMean(scaled, 10 * scale);
        expectNear(scaledMean.estimate, mean.estimate * scale, 1e-10);
        expect(
          Math.abs((scaledMean.standardError ?? 0) - (mean.standardError ?? Number.NaN) * scale),
        ).toBeLessThan(1e-7 * scale);
      }),
      runs,
    );
  });

  it('takes a whole-number weight as that many rows', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, weight } = columns(rows);
        const more = columns(repeated(rows));
        const curve = kaplanMeier({ time, event, entry, weight });
        expectSameCurve(curve, kaplanMeier({ time: more.time, event: more.event, entry: more.entry }));
        const hazard = nelsonAalen({ time, event, entry, weight });
        expectSameLists(
          hazard.cumulativeHazard,
          nelsonAalen({ time: more.time, event: more.event, entry: more.entry }).cumulativeHazard,
        );
      }),
      runs,
    );
  });

  it('is the same when a follow-up is split in two, also its clustered error', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry } = columns(rows);
        const own = rows.map((_, i) => ({ ...(rows[i] as (typeof rows)[number]), cluster: i }));
        const parts = columns(splitInTwo(own));
        const times = [...new Set(time)];
        const whole = survivalAt(
          kaplanMeier({ time, event, entry, cluster: own.map(r => r.cluster) }),
          times,
        );
        const split = survivalAt(
          kaplanMeier({ time: parts.time, event: parts.event, entry: parts.entry, cluster: parts.cluster }),
          times,
        );
        expectSameLists(
          split.map(r => r.survival),
          whole.map(r => r.survival),
        );
        expectSameLists(
          split.map(r => r.standardError),
          whole.map(r => r.standardError),
          1e-6,
        );
        expectSameLists(
          split.map(r => r.atRisk),
          whole.map(r => r.atRisk),
        );
      }),
      runs,
    );
  });

  it('without censoring is the share beyond t with the binomial error', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const time = rows.map(r => r.time);
        const curve = kaplanMeier({ time, event: time.map(() => true) });
        for (const [k, t] of curve.time.entries()) {
          const share = time.filter(x => x > t).length / time.length;
          expect(Math.abs((curve.survival[k] ?? 9) - share)).toBeLessThan(1e-12);
          if (share > 0)
            expectNear(curve.standardError[k], Math.sqrt((share * (1 - share)) / time.length), 1e-9);
        }
        expectNear(
          restrictedMean(curve, 100).estimate,
          time.reduce((sum, t) => sum + t, 0) / time.length,
          1e-12,
        );
      }),
      runs,
    );
  });

  it('has the jackknife error of its definition: squared derivatives summed over clusters', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, weight, cluster } = columns(rows);
        fc.pre(new Set(cluster).size > 1);
        const curve = kaplanMeier({ time, event, entry, weight, cluster });
        const influence = new Map<number, number>();
        for (const [k, t] of curve.time.entries()) {
          const [n, d] = [curve.atRisk[k] ?? 0, curve.events[k] ?? 0];
          if (n === d) break;
          for (const r of rows) {
            if (!(r.entry < t && t <= r.time)) continue;
            const step = (r.weight * ((r.time === t ? r.event : 0) - d / n)) / (n - d);
            influence.set(r.cluster, (influence.get(r.cluster) ?? 0) + step);
          }
          const squares = [...influence.values()].reduce((sum, u) => sum + u * u, 0);
          const expected = (curve.survival[k] ?? 0) * Math.sqrt(squares);
          expect(Math.abs((curve.standardError[k] ?? 9) - expected)).toBeLessThan(1e-7);
        }
      }),
      runs,
    );
  });

  it('a resampled quantile is the quantile of the resampled rows', () => {
    fc.assert(
      fc.property(madeRows, fc.constantFrom(0.25, 0.5, 0.75), (rows, p) => {
        const { time, event, entry, weight } = columns(rows);
        const more = columns(repeated(rows));
        const expected = survivalQuantile(
          kaplanMeier({ time: more.time, event: more.event, entry: more.entry }),
          p,
        ).estimate;
        expect(resampledQuantile({ time, event, entry }, p)(weight)).toBe(expected);
      }),
      runs,
    );
  });

  it('a risk table adds up at every tick', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, group } = columns(rows);
        for (const table of riskTable({ time, event, entry, group }, [0, 1, 3.5, 7, 15, 16])) {
          for (const r of table.rows) {
            expect(r.atRisk + r.events + r.censored + r.notYetEntered).toBe(table.n);
            const here = rows.filter(
              x => x.group === table.group && x.time >= r.time && (x.entry === 0 || x.entry < r.time),
            );
            expect(r.atRisk).toBe(here.length);
          }
        }
      }),
      runs,
    );
  });
});

describe('log-rank test, whatever the rows', () => {
  it('does not depend on row order, group names or time scale, and observed equals expected in all', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, group } = columns(rows);
        let found: ReturnType<typeof logRankTest>;
        try {
          found = logRankTest({ time, event, entry, group });
        } catch {
          return;
        }
        const turned = columns([...rows].reverse());
        const renamed = logRankTest({
          time: turned.time.map(t => t * 0.37),
          event: turned.event,
          entry: turned.entry.map(t => t * 0.37),
          group: turned.group.map(g => ({ a: 'z', b: 'y', c: 'x' })[g] ?? ''),
        });
        expect(Math.abs(renamed.statistic - found.statistic)).toBeLessThan(1e-8 * (1 + found.statistic));
        expect(renamed.degreesOfFreedom).toBe(found.degreesOfFreedom);
        const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);
        expectNear(sum(found.groups.map(g => g.expected)), sum(found.groups.map(g => g.observed)), 1e-10);
        expect(found.pValue >= 0 && found.pValue <= 1).toBe(true);
      }),
      runs,
    );
  });
});
