import { describe, expect, it } from 'vitest';
import {
  kaplanMeier,
  survivalAt,
  turnbull,
  turnbullAt,
  turnbullBootstrap,
  turnbullQuantile,
} from '../../../src/statistics/survival/index.ts';
import { dataset, referenceValues } from '../../reference/load.ts';
import { errorCode, expectNear } from '../near.ts';

interface Masses {
  readonly left: readonly number[];
  readonly right: readonly (number | string)[];
  readonly mass: readonly number[];
  readonly loglik: number;
}

const number = (value: string | number | undefined) =>
  value === 'Inf' ? Number.POSITIVE_INFINITY : Number(value);

function intervals(name: string, keep: (row: Readonly<Record<string, string>>) => boolean) {
  const rows = dataset(name).filter(keep);
  return Object.freeze({
    lower: Object.freeze(rows.map(row => number(row.left))),
    upper: Object.freeze(rows.map(row => number(row.right))),
  });
}

describe('interval-censored estimate against reference values', () => {
  // Reference: self-consistency iterated until steps are below 1e-13 (masses then hold to about 1e-10), and
  // npsurv 0.5-0.
  const values = referenceValues('turnbull').values as Readonly<
    Record<string, { em: Masses; npsurv: Masses }>
  >;
  const sets = {
    cosmesisAll: intervals('cosmesis', () => true),
    cosmesisRT: intervals('cosmesis', row => row.group === 'RT'),
    cosmesisRCT: intervals('cosmesis', row => row.group === 'RCT'),
    icSimTrt0: intervals('ic_sim', row => row.trt === '0'),
    icSimTrt1: intervals('ic_sim', row => row.trt === '1'),
  };
  for (const [name, data] of Object.entries(sets)) {
    it(`${name}: masses and likelihood`, () => {
      const { em, npsurv } = values[name] ?? {};
      if (!em || !npsurv) throw new Error(`no reference for ${name}`);
      const found = turnbull(data);
      expect(found.converged).toBe(true);
      for (const [j, mass] of em.mass.entries()) {
        const own = found.intervals.find(i => i.lower === em.left[j] && i.upper === number(em.right[j]));
        expect(Math.abs((own?.mass ?? 0) - mass)).toBeLessThan(1e-9);
      }
      expect(found.intervals.map(i => i.upper)).toEqual(npsurv.right.map(number));
      expectNear(
        found.intervals.reduce((sum, i) => sum + i.mass, 0),
        1,
        1e-12,
      );
      expectNear(found.logLikelihood, npsurv.loglik, 1e-12);
    });
  }

  it('meets the conditions for the maximum in every observation set', () => {
    for (const data of Object.values(sets)) {
      const { intervals: found } = turnbull(data);
      const holds = (i: number, j: number) => {
        const { lower, upper } = found[j] ?? { lower: 0, upper: 0 };
        const [l, u] = [data.lower[i] ?? 0, data.upper[i] ?? 0];
        return l === u
          ? lower === l && upper === u
          : lower === upper
            ? lower > l && upper <= u
            : lower >= l && upper <= u;
      };
      const probability = data.lower.map((_, i) =>
        found.reduce((sum, { mass }, j) => sum + (holds(i, j) ? mass : 0), 0),
      );
      for (const j of found.keys()) {
        const gradient = probability.reduce((sum, p, i) => sum + (holds(i, j) ? 1 / p : 0), 0);
        expectNear(gradient / probability.length, 1, 1e-9);
      }
    }
  });

  it('turnbull-doubly-censored: the 1974 table, to the convergence of the reference', () => {
    // The reference stops its iterations early, at about 1e-6; Turnbull, J Am Stat Assoc 1974;69:169-173,
    // prints 0.538, 0.295, 0.210, 0.095.
    const table = referenceValues('turnbull-doubly-censored').values as Readonly<
      Record<string, readonly number[]>
    >;
    const status = table.status ?? [];
    const time = table.time ?? [];
    const found = turnbull({
      lower: time.map((t, i) => (status[i] === 2 ? 0 : t)),
      upper: time.map((t, i) => (status[i] === 0 ? Number.POSITIVE_INFINITY : t)),
      weight: table.n ?? [],
    });
    const survival = turnbullAt(found, [1, 2, 3, 4]).map(row => row.survival);
    for (const [k, s] of (table.surv ?? []).entries())
      expect(Math.abs((survival[k] ?? 0) - s)).toBeLessThan(1e-6);
    expect(survival.map(s => s?.toFixed(3))).toEqual(['0.538', '0.295', '0.210', '0.095']);
  });
});

describe('interval-censored estimate, worked by hand', () => {
  it('is Kaplan-Meier where every time is exact or right-censored', () => {
    const time = [6, 3, 9, 3, 12, 7, 6];
    const event = [1, 1, 0, 0, 1, 1, 1];
    const estimate = turnbull({
      lower: time,
      upper: time.map((t, i) => (event[i] ? t : Number.POSITIVE_INFINITY)),
    });
    const curve = survivalAt(kaplanMeier({ time, event }), [3, 6, 7, 10, 12]);
    for (const [k, row] of turnbullAt(estimate, [3, 6, 7, 10, 12]).entries()) {
      expect(Math.abs((row.survival ?? 9) - (curve[k]?.survival ?? 0))).toBeLessThan(1e-10);
    }
  });

  it('is Kaplan-Meier also with more exact times than Newton steps take, found by extrapolated self-consistency', () => {
    const time = Array.from({ length: 3_000 }, (_, i) => ((i * 7_919) % 3_001) / 16);
    const event = time.map((_, i) => i % 3 > 0);
    const estimate = turnbull({
      lower: time,
      upper: time.map((t, i) => (event[i] ? t : Number.POSITIVE_INFINITY)),
    });
    expect(estimate.converged).toBe(true);
    expect(estimate.intervals.length).toBeGreaterThan(600);
    const curve = survivalAt(kaplanMeier({ time, event }), [20, 100, 180]);
    for (const [k, row] of turnbullAt(estimate, [20, 100, 180]).entries()) {
      expectNear(row.survival, curve[k]?.survival ?? 0, 1e-9);
    }
  });

  it('keeps an exact time out of an interval open at it and within one that ends at it', () => {
    // (2, 5] does not hold the exact 2, so 2 has its own mass; (0, 2] holds it.
    const found = turnbull({ lower: [2, 2, 0], upper: [2, 5, 2] });
    expect(found.intervals.map(i => [i.lower, i.upper])).toEqual([
      [2, 2],
      [2, 5],
    ]);
    expectNear(found.intervals[0]?.mass, 2 / 3, 1e-10);
  });

  it('solves p / (1 - p) = 2 for two rows in (0, 4], one after 4, and one that says nothing', () => {
    const found = turnbull({
      lower: [0, 0, 4, 0],
      upper: [4, 4, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
    });
    expectNear(found.intervals[0]?.mass, 2 / 3, 1e-10);
    expect(turnbullAt(found, [0, 3, 4])).toMatchObject([
      { survival: expect.closeTo(1, 10) as number },
      {
        survival: undefined,
        highest: expect.closeTo(1, 10) as number,
        lowest: expect.closeTo(1 / 3, 10) as number,
      },
      { survival: expect.closeTo(1 / 3, 10) as number },
    ]);
    expect(turnbullQuantile(found, 0.5)).toEqual({ lower: 0, upper: 4 });
    expect(turnbullQuantile(found, 0.9)).toEqual({ lower: 4, upper: undefined });
  });

  it('takes a weight of 2 as the row twice, and 0 as no row', () => {
    const once = turnbull({ lower: [0, 2, 3, 9], upper: [4, 6, 7, 9], weight: [2, 1, 1, 0] });
    const twice = turnbull({ lower: [0, 0, 2, 3], upper: [4, 4, 6, 7] });
    expect(once.intervals.map(i => i.upper)).toEqual(twice.intervals.map(i => i.upper));
    for (const [j, { mass }] of twice.intervals.entries()) expectNear(once.intervals[j]?.mass, mass, 1e-9);
  });

  it('says when it has not converged', () => {
    const data = intervals('cosmesis', () => true);
    expect(turnbull(data, { maximumIterations: 3 })).toMatchObject({ converged: false, iterations: 3 });
  });

  it('refuses what is no interval, by name', () => {
    const inf = Number.POSITIVE_INFINITY;
    expect(errorCode(() => turnbull({ lower: [], upper: [] }))).toBe('empty');
    expect(errorCode(() => turnbull({ lower: [1, 2], upper: [3] }))).toBe('length');
    expect(errorCode(() => turnbull({ lower: [4], upper: [3] }))).toBe('out-of-range');
    expect(errorCode(() => turnbull({ lower: [-1], upper: [3] }))).toBe('out-of-range');
    expect(errorCode(() => turnbull({ lower: [Number.NaN], upper: [3] }))).toBe('missing-value');
    expect(errorCode(() => turnbull({ lower: [inf], upper: [inf] }))).toBe('not-finite');
    expect(errorCode(() => turnbull({ lower: [1], upper: [2], weight: [0] }))).toBe('out-of-range');
  });
});

describe('bootstrap of the interval-censored estimate', () => {
  const data = intervals('cosmesis', row => row.group === 'RT');

  it('is the same for the same seed, and its limits hold the estimate', () => {
    const first = turnbullBootstrap(data, [12, 24, 36], { resamples: 200, seed: 11 });
    expect(turnbullBootstrap(data, [12, 24, 36], { resamples: 200, seed: 11 })).toEqual(first);
    expect(turnbullBootstrap(data, [12, 24, 36], { resamples: 200, seed: 12 })).not.toEqual(first);
    expect(first.notConverged).toBe(0);
    for (const row of first.times) {
      expect(row.lower).toBeLessThan(row.survival);
      expect(row.upper).toBeGreaterThan(row.survival);
    }
  });

  it('is wider when every row stands twice in one cluster than when the copies count as independent', () => {
    const lower = [...data.lower, ...data.lower];
    const upper = [...data.upper, ...data.upper];
    const cluster = lower.map((_, i) => i % data.lower.length);
    const width = (b: ReturnType<typeof turnbullBootstrap>) =>
      (b.times[0]?.upper ?? 0) - (b.times[0]?.lower ?? 0);
    const options = { resamples: 200, seed: 5 };
    const paired = width(turnbullBootstrap({ lower, upper, cluster }, [24], options));
    expect(paired).toBeGreaterThan(1.2 * width(turnbullBootstrap({ lower, upper }, [24], options)));
  });

  it('refuses too few resamples', () => {
    expect(errorCode(() => turnbullBootstrap(data, [12], { resamples: 1 }))).toBe('out-of-range');
  });
});
