// Standards, control charts and funnels of the audit of the sample, against an independent recomputation in R
// (tests/reference/scripts/sample/findings-audit.R).
import { beforeAll, describe, expect, it } from 'vitest';
import type { Analysis } from '../../../src/analyses/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { findingNamed, isSame, recomputedFinding, sampleAnalyses, type Value } from '../sample-findings.ts';

interface StandardOfR {
  readonly count: number;
  readonly n: number;
  readonly infants: number;
  readonly verdict: string;
  readonly change: readonly Value[];
}
interface ChartOfR {
  readonly place: readonly number[];
  readonly count: readonly number[];
  readonly size: readonly number[];
  readonly value: readonly number[];
  readonly lower: readonly number[];
  readonly upper: readonly number[];
  readonly centre: number;
  readonly median: number;
  readonly signals: readonly string[];
  readonly shifts: number;
}
interface UnitOfR {
  readonly count: number;
  readonly n: number;
  readonly inner: readonly [number, number];
  readonly outer: readonly [number, number];
  readonly beyond: string;
}
interface FunnelOfR {
  readonly centre: number;
  readonly units: Readonly<Record<string, UnitOfR>>;
  readonly dispersion: Readonly<Record<string, number>>;
  readonly size: readonly number[];
  readonly innerLower: readonly number[];
  readonly innerUpper: readonly number[];
  readonly outerLower: readonly number[];
  readonly outerUpper: readonly number[];
}

let analyses: readonly Analysis[] = [];

beforeAll(async () => {
  analyses = await sampleAnalyses(defaultPlan());
}, 120_000);

const part = <T>(key: string, name: string): Readonly<Record<string, T>> =>
  recomputedFinding(key)[name] as Readonly<Record<string, T>>;

function expectSame(actual: unknown, expected: Value | undefined, at: string): void {
  expect(isSame(actual, expected) ? '' : `${at}: ${String(actual)} against ${String(expected)}`).toBe('');
}

describe('the audit of the sample, against an independent recomputation in R', () => {
  it('has the same counts, verdicts and changes against the quarter before', () => {
    const standards = findingNamed(analyses, 'audit').standards ?? [];
    const expected = part<Readonly<Record<string, StandardOfR>>>('audit', 'standards').all ?? {};
    expect(standards.map(({ key }) => key).sort()).toEqual(Object.keys(expected).sort());
    for (const { key, count, n, infants, verdict, change } of standards) {
      const found = expected[key];
      expect({ count, n, infants, verdict }, key).toEqual({
        count: found?.count,
        n: found?.n,
        infants: found?.infants,
        verdict: found?.verdict,
      });
      for (const [place, value] of [change?.estimate, change?.lower, change?.upper].entries()) {
        expectSame(value, found?.change[place], `${key}, change ${place}`);
      }
    }
  });

  it('has the same control charts: points, limits, centre, median and signals', () => {
    const charts = findingNamed(analyses, 'audit-charts').quarterCharts ?? [];
    const expected = part<ChartOfR>('audit-charts', 'charts');
    expect(charts.map(({ key }) => key).sort()).toEqual(Object.keys(expected).sort());
    for (const chart of charts) {
      const found = expected[chart.key];
      expect(chart.points.length).toBe(found?.place.length);
      for (const [place, point] of chart.points.entries()) {
        for (const field of ['place', 'count', 'size', 'value', 'lower', 'upper'] as const) {
          expectSame(point[field], found?.[field][place], `${chart.key}, ${place}, ${field}`);
        }
      }
      expectSame(chart.centre, found?.centre, `${chart.key}, centre`);
      expectSame(chart.median, found?.median, `${chart.key}, median`);
      expect(chart.signals.map(({ place, rule, side = '' }) => `${place}; ${rule}; ${side}`)).toEqual(
        found?.signals,
      );
      expect(chart.shifts).toHaveLength(found?.shifts ?? -1);
    }
  });

  it('has the same sites and clinicians, limits, those outside them, and dispersion', () => {
    const funnels = findingNamed(analyses, 'audit-comparison').funnels ?? [];
    const expected = part<Readonly<Record<string, FunnelOfR>>>('audit-comparison', 'funnels').all ?? {};
    expect(funnels.map(({ key }) => key).sort()).toEqual(Object.keys(expected).sort());
    for (const { key, centre, units, dispersion, limits } of funnels) {
      const found = expected[key];
      expectSame(centre, found?.centre, `${key}, centre`);
      expect(units.map(({ kind, code }) => `${kind} ${code}`)).toEqual(Object.keys(found?.units ?? {}));
      for (const { kind, code, count, n, inner, outer, beyond } of units) {
        const unit = found?.units[`${kind} ${code}`];
        const at = `${key}, ${kind} ${code}`;
        expect({ count, n, beyond: beyond?.limit ?? '' }, at).toEqual({
          count: unit?.count,
          n: unit?.n,
          beyond: unit?.beyond,
        });
        for (const [place, value] of [inner.lower, inner.upper].entries())
          expectSame(value, unit?.inner[place], at);
        for (const [place, value] of [outer.lower, outer.upper].entries())
          expectSame(value, unit?.outer[place], at);
      }
      expect(Object.keys(dispersion).sort()).toEqual(Object.keys(found?.dispersion ?? {}).sort());
      for (const [kind, value] of Object.entries(dispersion)) {
        expectSame(value, found?.dispersion[kind], `${key}, dispersion of ${kind}s`);
      }
      let drawn = 0;
      for (const { n, inner, outer } of limits) {
        const place = found?.size.indexOf(n) ?? -1;
        if (place < 0) continue;
        drawn++;
        expectSame(inner.lower, found?.innerLower[place], `${key}, inner at ${n}`);
        expectSame(inner.upper, found?.innerUpper[place], `${key}, inner at ${n}`);
        expectSame(outer.lower, found?.outerLower[place], `${key}, outer at ${n}`);
        expectSame(outer.upper, found?.outerUpper[place], `${key}, outer at ${n}`);
      }
      expect(drawn).toBeGreaterThan(0);
    }
  });
});
