// The audit of the committed sample export, against recounts in R that start from the same CSV files.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { analyseAudit, auditStandards, quarterAt } from '../../../src/analyses/audit/index.ts';
import { skinByQuarter } from '../../../src/analyses/audit/skin-rate.ts';
import { buildCohort, type Cohort } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { referenceValues } from '../../reference/load.ts';

interface Recount {
  readonly standards: Readonly<
    Record<
      string,
      { readonly quarter: readonly string[]; readonly met: readonly number[]; readonly n: readonly number[] }
    >
  >;
  readonly wilsonOf2025Q4: Readonly<Record<string, readonly [number, number]>>;
  readonly skinRate: {
    readonly quarter: readonly string[];
    readonly events: readonly number[];
    readonly footDays: readonly number[];
  };
}

interface WholeSample {
  readonly audit: Readonly<Record<string, { readonly met: number; readonly of: number }>>;
}

const plan = defaultPlan();
// tests/reference/scripts/make-audit-quarters.R: the rules of docs/definitions.md, quarter by quarter.
const recount = referenceValues('audit-quarters').values as Recount;
// tests/reference/scripts/sample: over the whole data, by rules that it states.
const whole = (referenceValues('sample').values as WholeSample).audit;

describe('the audit of the sample export', () => {
  let cohort: Cohort;

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../../synthetic-data', import.meta.url));
    cohort = buildCohort(await readExport(folder, { plan }), plan);
  });

  it('agrees with a recount in R on every standard in every quarter', () => {
    const standards = auditStandards(cohort, plan);
    expect(standards.map(({ key }) => key).sort()).toEqual(Object.keys(recount.standards).sort());
    for (const { key, items } of standards) {
      const ordinals = [...new Set(items.map(({ quarter }) => quarter))].sort((a, b) => a - b);
      const rows = ordinals.map(ordinal => items.filter(({ quarter }) => quarter === ordinal));
      expect(
        {
          quarter: ordinals.map(ordinal => quarterAt(ordinal, 1).name),
          met: rows.map(row => row.filter(({ met }) => met).length),
          n: rows.map(row => row.length),
        },
        key,
      ).toEqual(recount.standards[key]);
    }
  });

  it('agrees on blisters and sores and on the days at risk in every quarter', () => {
    const skin = [...skinByQuarter(cohort, plan)].sort(([a], [b]) => a - b);
    expect(skin.map(([ordinal]) => quarterAt(ordinal, 1).name)).toEqual(recount.skinRate.quarter);
    expect(skin.map(([, { events }]) => events)).toEqual(recount.skinRate.events);
    expect(skin.map(([, { hundredFootWeeks }]) => Math.round(hundredFootWeeks * 700))).toEqual(
      recount.skinRate.footDays,
    );
  });

  it('gives the intervals of prop.test without correction', () => {
    const results = analyseAudit(cohort, plan, '2025-Q4')[0]?.finding.standards ?? [];
    for (const { key, direction, share } of results) {
      const [lower = 0, upper = 0] = recount.wilsonOf2025Q4[key] ?? [];
      // R counts what met the standard; of loss to follow-up the share lost is given.
      const expected = direction === 'at least' ? [lower, upper] : [1 - upper, 1 - lower];
      expect(share?.lower ?? Number.NaN, key).toBeCloseTo(expected[0] ?? 0, 9);
      expect(share?.upper ?? Number.NaN, key).toBeCloseTo(expected[1] ?? 0, 9);
    }
    expect(results).toHaveLength(11);
  });

  it('agrees over all quarters with the recomputation of the whole sample where its rules are the same', () => {
    const totals = new Map(
      auditStandards(cohort, plan).map(({ key, items }) => [
        key,
        { met: items.filter(({ met }) => met).length, of: items.length },
      ]),
    );
    for (const [key, name] of [
      ['baseline-photograph', 'baselinePhotograph'],
      ['baseline-findings', 'baselineFindings'],
      ['teach-back', 'teachBack'],
    ] as const) {
      expect(totals.get(key)).toEqual({ met: whole[name]?.met, of: whole[name]?.of });
    }
    // It counts those lost, not those kept.
    const lost = totals.get('lost-to-follow-up');
    expect({ met: (lost?.of ?? 0) - (lost?.met ?? 0), of: lost?.of }).toEqual({
      met: whole.lostToFollowUp?.met,
      of: whole.lostToFollowUp?.of,
    });
  });
});
