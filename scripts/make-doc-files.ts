// Writes the files of docs/ that are made from their sources: the schema of findings.json and the page of frames.
import { writeFileSync } from 'node:fs';
import { canonicalJson, findingsSchema, frameDictionaryText } from '../src/reports/index.ts';

const docs = new URL('../docs/', import.meta.url);
writeFileSync(new URL('findings.schema.json', docs), canonicalJson(findingsSchema()));
writeFileSync(new URL('frames.md', docs), frameDictionaryText());
