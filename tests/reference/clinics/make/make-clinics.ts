// Writes the exports of the five invented clinics from the canonical one: `npx tsx tests/reference/clinics/make/make-clinics.ts`.
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { fhir } from './fhir.ts';
import { german } from './german.ts';
import { oneWideFile } from './one-wide-file.ts';
import { splitColumns } from './split-columns.ts';
import { workbook } from './workbook.ts';

export const CLINICS = {
  'one-wide-file': oneWideFile,
  workbook,
  fhir,
  german,
  'split-columns': splitColumns,
} as const;

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  for (const [clinic, make] of Object.entries(CLINICS)) {
    const folder = new URL(`../${clinic}/`, import.meta.url);
    mkdirSync(folder, { recursive: true });
    for (const [name, content] of Object.entries(await make())) writeFileSync(new URL(name, folder), content);
  }
}
