// Writes docs/dictionary.md from the dictionary: npx tsx scripts/make-dictionary-page.ts
import { writeFileSync } from 'node:fs';
import { dictionaryText } from '../src/records/dictionary/dictionary-text.ts';
import { DICTIONARY } from '../src/records/dictionary.ts';

writeFileSync(new URL('../docs/dictionary.md', import.meta.url), dictionaryText(DICTIONARY));
