// Writes what the package draws for the missing baseline findings of the sample, for findings-imputed.R to pool from:
//   npx tsx tests/reference/scripts/sample/write-imputed-findings.ts
import { writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { buildCohort } from '../../../../src/cohort/index.ts';
import { defaultPlan } from '../../../../src/plan/plan.ts';
import { readExport } from '../../../../src/records/files/read-folder.ts';
import { drawnFindings } from '../../../analyses/duration/imputed-findings.ts';

const plan = defaultPlan();
const folder = fileURLToPath(new URL('../../../../synthetic-data', import.meta.url));
const rows = drawnFindings(buildCohort(await readExport(folder, { plan }), plan), plan);
const fields = ['imputation', 'episode', 'bisector', 'flexibility', 'crease', 'sex'] as const;
const lines = [fields.join(','), ...rows.map(row => fields.map(field => row[field]).join(','))];
writeFileSync(
  new URL('../../datasets/sample-imputed-findings.csv', import.meta.url),
  `${lines.join('\n')}\n`,
);
