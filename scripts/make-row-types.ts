// Writes src/records/rows.ts from the dictionary: npx tsx scripts/make-row-types.ts
import { writeFileSync } from 'node:fs';
import { rowTypes } from '../src/records/dictionary/row-types.ts';
import { DICTIONARY } from '../src/records/dictionary.ts';

writeFileSync(new URL('../src/records/rows.ts', import.meta.url), rowTypes(DICTIONARY));
