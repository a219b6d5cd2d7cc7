// Writes docs/findings.schema.json from the schema in src/reports/findings-schema.
import { writeFileSync } from 'node:fs';
import { canonicalJson, findingsSchema } from '../src/reports/index.ts';

writeFileSync(new URL('../docs/findings.schema.json', import.meta.url), canonicalJson(findingsSchema()));
