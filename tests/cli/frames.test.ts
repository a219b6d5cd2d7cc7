import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runCommand } from './run-command.ts';

const sample = fileURLToPath(new URL('../../synthetic-data', import.meta.url));
let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-frames-'));
});

afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

describe('forefoot frames', () => {
  it('writes every frame, says where, and replaces only earlier frames and only when told to', async () => {
    const folder = join(room, 'frames');
    const first = await runCommand('frames', sample, '--out', folder);
    expect(first).toEqual({
      code: 0,
      log: '',
      out: `Frames: ${folder}\n300 feet; the columns are in README.md\n`,
    });
    const names = await readdir(folder);
    expect(names).toContain('README.md');
    expect(names).toContain('wear-days.arrow');
    expect(names).toContain('wear-days.parquet');
    expect(names).toHaveLength(19);
    const again = await runCommand('frames', sample, '--out', folder);
    expect(again.code).toBe(2);
    expect(again.log).toContain('already holds analysis frames; --replace');
    expect((await runCommand('frames', sample, '--out', folder, '--replace')).code).toBe(0);
    await writeFile(join(folder, 'notes.txt'), 'mine');
    const foreign = await runCommand('frames', sample, '--out', folder, '--replace');
    expect(foreign.log).toContain('notes.txt, which is no part of analysis frames, and is left alone');
  });
});
