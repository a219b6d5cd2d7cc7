import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cumulativeIncidence } from '../../../src/statistics/competing-risks/index.ts';
import { kaplanMeier } from '../../../src/statistics/survival/index.ts';
import { expectWithin } from '../near-or-absent.ts';
import { columns, madeRows, repeated, splitInTwo } from '../survival/follow-up-arbitrary.ts';

const runs = { seed: 21, numRuns: 200 };
const causes = [1, 2];

describe('Aalen-Johansen, whatever the rows', () => {
  it('with one cause is 1 minus Kaplan-Meier, with the same clustered error', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, event, entry, weight, cluster } = columns(rows);
        fc.pre(new Set(cluster).size > 1);
        const curve = kaplanMeier({ time, event, entry, weight, cluster });
        const found = cumulativeIncidence({ time, cause: event, entry, weight, cluster }, { causes: [1] })
          .causes[0];
        for (const [k, s] of curve.survival.entries()) {
          expectWithin(found?.incidence[k], 1 - s, 1e-12);
          expectWithin(found?.standardError[k], curve.standardError[k], 1e-7);
        }
      }),
      runs,
    );
  });

  it('adds up to 1 with the event-free share, rises, and does not depend on row order', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, cause, entry } = columns(rows);
        const turned = columns([...rows].reverse());
        const found = cumulativeIncidence({ time, cause, entry }, { causes });
        const again = cumulativeIncidence(
          { time: turned.time, cause: turned.cause, entry: turned.entry },
          { causes },
        );
        for (const [k, free] of found.eventFree.entries()) {
          expectWithin(
            found.causes.reduce((sum, c) => sum + (c.incidence[k] ?? 0), free),
            1,
            1e-12,
          );
          for (const [j, c] of found.causes.entries()) {
            expect((c.incidence[k] ?? 0) >= (c.incidence[k - 1] ?? 0)).toBe(true);
            expectWithin(again.causes[j]?.standardError[k], c.standardError[k], 1e-8);
          }
        }
      }),
      runs,
    );
  });

  it('has the jackknife error of its definition: derivatives by difference quotient, squared and summed over clusters', () => {
    const incidenceAtEnd = (rows: ReturnType<typeof columns>, weight: readonly number[], code: number) => {
      const times = [...new Set(rows.time)].sort((a, b) => a - b);
      let free = 1;
      let total = 0;
      return times.map(t => {
        let [n, own, all] = [0, 0, 0];
        for (const [i, w] of weight.entries()) {
          if ((rows.time[i] ?? 0) >= t && (rows.entry[i] ?? 0) < t) n += w;
          if (rows.time[i] !== t) continue;
          if (rows.cause[i] === code) own += w;
          if ((rows.cause[i] ?? 0) > 0) all += w;
        }
        total += (free * own) / n;
        free *= 1 - all / n;
        return total;
      });
    };
    fc.assert(
      fc.property(madeRows, rows => {
        const data = columns(rows);
        const { time, cause, entry, weight, cluster } = data;
        fc.pre(new Set(cluster).size > 1);
        const found = cumulativeIncidence({ time, cause, entry, weight, cluster }, { causes });
        const h = 1e-5;
        for (const [j, code] of causes.entries()) {
          const squares = new Float64Array(found.eventFree.length);
          for (const c of new Set(cluster)) {
            const moved = (by: number) =>
              incidenceAtEnd(
                data,
                weight.map((w, i) => (cluster[i] === c ? w * (1 + by) : w)),
                code,
              );
            const [up, down] = [moved(h), moved(-h)];
            for (const k of squares.keys()) {
              squares[k] = (squares[k] ?? 0) + (((up[k] ?? 0) - (down[k] ?? 0)) / (2 * h)) ** 2;
            }
          }
          for (const [k, v] of squares.entries())
            expectWithin(found.causes[j]?.standardError[k], Math.sqrt(v), 1e-6);
        }
      }),
      { ...runs, numRuns: 100 },
    );
  });

  it('has the same error by the short way for rows from the start as by the long way for clusters', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        const { time, cause, event, weight } = columns(rows);
        fc.pre(rows.length > 1);
        const own = rows.map((_, i) => i);
        const variance = 'infinitesimal-jackknife' as const;
        const short = cumulativeIncidence({ time, cause, weight }, { causes });
        const long = cumulativeIncidence({ time, cause, weight, cluster: own }, { causes });
        const curve = kaplanMeier({ time, event, weight }, { variance });
        const clustered = kaplanMeier({ time, event, weight, cluster: own });
        for (const k of curve.time.keys()) {
          expectWithin(curve.standardError[k], clustered.standardError[k], 1e-9);
          for (const j of [0, 1]) {
            expectWithin(short.causes[j]?.standardError[k], long.causes[j]?.standardError[k], 1e-7);
          }
        }
      }),
      runs,
    );
  });

  it('takes weights as repeated rows and pieces as the whole', () => {
    fc.assert(
      fc.property(madeRows, rows => {
        fc.pre(rows.length > 1);
        const { time, cause, entry, weight } = columns(rows);
        const more = columns(repeated(rows));
        const found = cumulativeIncidence(
          { time, cause, entry, weight },
          { causes, variance: 'delta-method' },
        );
        const again = cumulativeIncidence(
          { time: more.time, cause: more.cause, entry: more.entry },
          { causes, variance: 'delta-method' },
        );
        const own = rows.map((r, i) => ({ ...r, cluster: i }));
        const parts = columns(splitInTwo(own));
        const whole = cumulativeIncidence({ time, cause, entry }, { causes });
        const split = cumulativeIncidence(
          { time: parts.time, cause: parts.cause, entry: parts.entry, cluster: parts.cluster },
          { causes },
        );
        for (const [j, c] of found.causes.entries()) {
          for (const [k, f] of c.incidence.entries()) {
            expectWithin(again.causes[j]?.incidence[k], f, 1e-12);
            expectWithin(again.causes[j]?.standardError[k], c.standardError[k], 1e-9);
            const at = split.causes[j]?.time.indexOf(c.time[k] ?? 0) ?? -1;
            expectWithin(split.causes[j]?.incidence[at], whole.causes[j]?.incidence[k], 1e-12);
            expectWithin(split.causes[j]?.standardError[at], whole.causes[j]?.standardError[k], 1e-7);
          }
        }
      }),
      runs,
    );
  });
});
