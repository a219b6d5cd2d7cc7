// Writes the workbook that is broken at random, once: its bytes hold the time of their making.
// npx tsx tests/records/fuzz/make-workbook.ts
import { writeFileSync } from 'node:fs';
import { writeXlsx } from 'hucre/xlsx';
import { CLEAN } from '../files/clean-export.ts';

const rows = CLEAN['episodes.csv']
  .trim()
  .split('\n')
  .map(line => line.split(','));
const bytes = await writeXlsx({ sheets: [{ name: 'episodes', rows }] });
writeFileSync(new URL('episodes.xlsx', import.meta.url), bytes);
