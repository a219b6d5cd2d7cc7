import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { filesIn, publishSampleReports } from '../../scripts/sample-reports.ts';

const COMMITTED = fileURLToPath(new URL('../../reports', import.meta.url));

it('are the same, byte by byte, when published again (npm run make:sample-reports makes them anew)', async () => {
  const room = await mkdtemp(join(tmpdir(), 'forefoot-sample-'));
  try {
    const folder = join(room, 'reports');
    await publishSampleReports(folder);
    const [again, committed] = [await filesIn(folder), await filesIn(COMMITTED)];
    expect(again.map(({ path }) => path)).toEqual(committed.map(({ path }) => path));
    const other = again.filter(({ bytes }, i) => Buffer.compare(bytes, committed[i]?.bytes ?? bytes) !== 0);
    expect(other.map(({ path }) => path)).toEqual([]);
    expect(again.length).toBeGreaterThan(100);
  } finally {
    await rm(room, { recursive: true, force: true });
  }
});
