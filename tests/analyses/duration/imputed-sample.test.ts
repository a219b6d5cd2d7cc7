// What is drawn for the missing baseline findings of the sample, against the same imputation written apart in R
// (tests/reference/scripts/sample/findings-imputed.R). Draws cannot agree one by one, so their shares are compared; and the
// draws from which R pools are those that the package makes.
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { buildCohort, type Cohort } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { dataset } from '../../reference/load.ts';
import { recomputedFinding } from '../sample-findings.ts';
import { type DrawnRow, drawnFindings } from './imputed-findings.ts';

const plan = defaultPlan();
const FLEXIBILITIES = ['past straight', 'to straight', 'short of straight'];

/** The code of a drawn value, as the imputation holds it. */
function code(row: DrawnRow, finding: string): string {
  if (finding === 'bisector') return row.bisector;
  if (finding === 'flexibility') return String(FLEXIBILITIES.indexOf(row.flexibility));
  return String(finding === 'crease' ? Number(row.crease === 'yes') : Number(row.sex === 'male'));
}

describe('the draws for missing baseline findings of the sample', () => {
  let cohort: Cohort;

  beforeAll(async () => {
    const folder = fileURLToPath(new URL('../../../synthetic-data', import.meta.url));
    cohort = buildCohort(await readExport(folder, { plan }), plan);
  });

  it('are those that the recomputation pools', () => {
    expect(drawnFindings(cohort, plan)).toEqual(dataset('sample-imputed-findings'));
  });

  it('come as often as those of another program', () => {
    const imputations = 1000;
    const rows = drawnFindings(cohort, { ...plan, imputation: { ...plan.imputation, imputations } });
    const { shares } = recomputedFinding('duration-missing-findings').drawn as {
      readonly shares: Readonly<Record<string, Readonly<Record<string, number>>>>;
    };
    const distances = Object.entries(shares).map(([name, expected]) => {
      const [finding = '', episode = ''] = name.split(' ');
      const counts = new Map<string, number>();
      for (const row of rows.filter(candidate => candidate.episode === episode)) {
        counts.set(code(row, finding), (counts.get(code(row, finding)) ?? 0) + 1);
      }
      const values = new Set([...counts.keys(), ...Object.keys(expected)]);
      // Half the sum of the differences: the share of draws that would have to change.
      return {
        name,
        distance:
          [...values].reduce(
            (sum, value) => sum + Math.abs((counts.get(value) ?? 0) / imputations - (expected[value] ?? 0)),
            0,
          ) / 2,
      };
    });
    expect(distances).toHaveLength(21);
    // A share of 1000 draws against one of 1500 has a standard error of at most 2 %; several values add up.
    expect(distances.filter(({ distance }) => distance > 0.07)).toEqual([]);
    const mean = distances.reduce((sum, { distance }) => sum + distance, 0) / distances.length;
    expect(mean).toBeLessThan(0.025);
  });
});
