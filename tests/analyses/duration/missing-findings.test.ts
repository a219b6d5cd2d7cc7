import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { durationFollowUp, withTime } from '../../../src/analyses/duration/follow-up.ts';
import { imputeFindings, isIncomplete } from '../../../src/analyses/duration/impute-findings.ts';
import { durationMissingFindings } from '../../../src/analyses/duration/index.ts';
import { buildCohort, type Cohort, type Foot } from '../../../src/cohort/index.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { planWith } from '../../cohort/hand-made.ts';

const plan = planWith({ imputation: { imputations: 4, iterations: 3 } });

describe('missing baseline findings filled in', () => {
  let cohort: Cohort = {
    service: undefined,
    cutOff: 0,
    feet: [],
    stepDowns: [],
    flow: [],
    pairedAssessments: [],
  };

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../../synthetic-data', import.meta.url));
    cohort = buildCohort(await readExport(folder, { plan }), plan);
  });

  const items = () =>
    withTime(cohort.feet.filter(foot => foot.band !== 'straight').map(foot => durationFollowUp(foot, plan)));

  it('fills in what is missing, keeps what is recorded, and changes no band that is known', () => {
    const given = new Map(items().map(item => [item.episode, item.foot]));
    const tables = imputeFindings(items(), plan);
    expect(tables).toHaveLength(4);
    let filled = 0;
    for (const table of tables) {
      for (const item of table) {
        const before = given.get(item.episode);
        expect(isIncomplete(item)).toBe(false);
        if (before === undefined) throw new Error(`${item.episode} was not given`);
        expectKept(before, item.foot);
        if (before.band === 'not known') filled += 1;
        else expect(item.foot.band).toBe(before.band);
      }
      // Only a foot whose band was not known can come out straight and be left out.
      const left = new Set(table.map(item => item.episode));
      for (const [episode, foot] of given) {
        if (!left.has(episode)) expect(foot.band).toBe('not known');
      }
    }
    expect(filled).toBeGreaterThan(20);
  });

  it('gives the same finding for the same seed, and another for another', () => {
    const once = durationMissingFindings(cohort, plan).finding;
    expect(durationMissingFindings(cohort, plan).finding).toEqual(once);
    const other = durationMissingFindings(cohort, { ...plan, seed: plan.seed + 1 }).finding;
    expect(other.measures.find(({ key }) => key === 'time-ratio.imputed.severe')?.estimate).not.toBe(
      once.measures.find(({ key }) => key === 'time-ratio.imputed.severe')?.estimate,
    );
  });

  it('stays near the complete cases, where one foot in fourteen lacks something, and says both', () => {
    const { finding } = durationMissingFindings(cohort, plan);
    const row = finding.tables
      .find(({ key }) => key === 'imputed')
      ?.rows.find(({ feature }) => feature === 'Severe');
    const estimate = (cell: unknown): number => (cell as { readonly estimate: number }).estimate;
    expect(estimate(row?.['time.imputed']) / estimate(row?.['time.complete'])).toBeCloseTo(1, 1);
    expect(Number(row?.missing)).toBeGreaterThan(0);
    expect(Number(row?.missing)).toBeLessThan(0.2);
    expect(finding.statement).toMatch(
      /^Of 294 feet, 21 lacked bisector, flexibility, crease or sex\. With these/,
    );
  });

  it('has nothing to fill in where all is recorded', () => {
    const feet = items()
      .filter(item => !isIncomplete(item))
      .map(item => item.foot);
    const { finding } = durationMissingFindings({ ...cohort, feet }, plan);
    expect(finding.statement).toBe(
      `Bisector, flexibility, crease and sex were recorded for all ${feet.length} feet, so there is nothing to fill in.`,
    );
    expect(finding.effects).toEqual([]);
    expect(finding.tables.find(({ key }) => key === 'imputed')?.rows[0]).toMatchObject({
      'time.imputed': 'nothing missing',
    });
  });

  it('says so where a finding was never recorded', () => {
    const feet = cohort.feet.map(foot => ({ ...foot, sex: undefined }));
    const { finding } = durationMissingFindings({ ...cohort, feet }, plan);
    expect(finding.statement).toBe(
      'Of 294 feet, 294 lacked bisector, flexibility, crease or sex. They could not be filled in (no data).',
    );
  });
});

function expectKept(before: Foot, after: Foot): void {
  const { bisectorPosition, flexibility, medialCrease } = before.baseline;
  if (bisectorPosition !== undefined) expect(after.baseline.bisectorPosition).toBe(bisectorPosition);
  if (flexibility !== undefined) expect(after.baseline.flexibility).toBe(flexibility);
  if (medialCrease !== undefined) expect(after.baseline.medialCrease).toBe(medialCrease);
  if (before.sex === 'male' || before.sex === 'female') expect(after.sex).toBe(before.sex);
}
