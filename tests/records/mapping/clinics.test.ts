import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { buildCohort } from '../../../src/cohort/index.ts';
import { defaultPlan } from '../../../src/plan/plan.ts';
import { readExport } from '../../../src/records/files/read-folder.ts';
import { readMapping } from '../../../src/records/mapping/read-mapping.ts';
import type { ExportRecords } from '../../../src/records/records.ts';
import { TABLE_NAMES } from '../../../src/records/records.ts';
import { CLINICS } from '../../reference/clinics/make/make-clinics.ts';

const folderOf = (clinic: string): string =>
  fileURLToPath(new URL(`../../reference/clinics/${clinic}`, import.meta.url));

const canonical = await readExport(folderOf('canonical'));

async function read(clinic: string): Promise<ExportRecords> {
  const text = readFileSync(`${folderOf(clinic)}/mapping.yaml`, 'utf8');
  return readExport(folderOf(clinic), { mapping: readMapping(text) });
}

/** Rows in an order of their own: a clinic may have them in another. */
function inOrder(records: ExportRecords, table: (typeof TABLE_NAMES)[number]): readonly string[] {
  return (records.tables[table].objects() as readonly object[]).map(row => JSON.stringify(row)).sort();
}

describe('the export of an invented clinic', () => {
  it.each(Object.entries(CLINICS))(
    '%s is what its script makes of the canonical one',
    async (clinic, make) => {
      for (const [name, content] of Object.entries(await make())) {
        // A workbook carries the time of its making; its contents are compared by reading it.
        if (name.endsWith('.xlsx')) continue;
        expect(readFileSync(`${folderOf(clinic)}/${name}`).equals(Buffer.from(content))).toBe(true);
      }
    },
  );

  it.each(Object.keys(CLINICS))(
    '%s gives the same rows as the canonical one, and the same cohort',
    async clinic => {
      const records = await read(clinic);
      expect(records.problems).toEqual([]);
      for (const table of TABLE_NAMES) {
        expect(inOrder(records, table)).toEqual(inOrder(canonical, table));
        expect(records.counts[table]).toMatchObject({ read: canonical.counts[table].read, refused: 0 });
      }
      const { service, cutOff, cutOffGiven, exportedAt } = canonical;
      expect(records).toMatchObject({ service, cutOff, cutOffGiven, exportedAt });
      const plan = defaultPlan();
      expect(buildCohort(records, plan)).toEqual(buildCohort(canonical, plan));
    },
  );

  it.each(Object.keys(CLINICS))('%s is read to the last row: every one is used, or counted', async clinic => {
    const { sources = [] } = await read(clinic);
    const unused = sources.filter(source => source.unused > 0).map(({ file, unused }) => [file, unused]);
    expect(unused).toEqual(clinic === 'fhir' ? [['export.ndjson', 1]] : []);
  });
});
