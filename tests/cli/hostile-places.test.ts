import { spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, symlinkSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { makeFolder } from '../../src/records/files/make-folder.ts';
import { writeQuarantine } from '../../src/records/files/quarantine.ts';
import { readExport } from '../../src/records/files/read-folder.ts';
import { CLEAN, folderWith } from '../records/files/folder.ts';
import { runCommand } from './run-command.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const program = ['--import', 'tsx', join(root, 'src/cli/main.ts')];
const canonical = join(root, 'tests/reference/clinics/canonical');

/** One line that says what is wrong, and no trace of the program. */
function oneLine(log: string): string {
  expect(log.trimEnd().split('\n')).toHaveLength(1);
  expect(log).not.toMatch(/\n\s+at /);
  return log;
}

describe('places that cannot be written to', () => {
  it('findings do not take the place of a folder, a link or a device', async () => {
    const folder = folderWith({ 'kept.txt': 'kept' });
    mkdirSync(join(folder, 'taken'));
    symlinkSync(join(folder, 'kept.txt'), join(folder, 'link'));
    for (const [place, name] of [
      [folder, 'taken'],
      [folder, 'link'],
      ['/dev', 'null'],
    ] as const) {
      const { code, log } = await runCommand('analyse', canonical, '--out', join(place, name));
      expect([code, oneLine(log)]).toEqual([
        2,
        `forefoot: ${join(place, name)} is no file, and is left alone; choose another place\n`,
      ]);
    }
    expect(readFileSync(join(folder, 'kept.txt'), 'utf8')).toBe('kept');
    expect(readdirSync(folder).sort()).toEqual(['kept.txt', 'link', 'taken']);
  });

  it('a part of the path that is a file is named as such', async () => {
    const folder = folderWith({ file: '' });
    const report = await runCommand('report', 'cohort', canonical, '--out', join(folder, 'file', 'reports'));
    expect([report.code, oneLine(report.log)]).toEqual([
      2,
      `forefoot: ${join(folder, 'file', 'reports')} cannot be written: part of the path is a file\n`,
    ]);
    const map = await runCommand('map', canonical, '--out', join(folder, 'file', 'm.yaml'));
    expect([map.code, oneLine(map.log)]).toEqual([2, expect.stringContaining('allowed: a new file')]);
  });

  it('a folder that can never be made is told at once', async () => {
    await expect(makeFolder('/proc/none/reports')).rejects.toThrow(/ENOENT|EROFS|EACCES/);
  });

  it('a report cannot be verified where there is no folder, and nothing is mapped of an empty one', async () => {
    const folder = folderWith({});
    const none = join(folder, 'none');
    expect(await runCommand('verify', none)).toEqual({
      code: 2,
      out: '',
      log: `forefoot: ${none} is not a folder; allowed: a folder of reports, with ledger.json in it\n`,
    });
    const mapped = await runCommand('map', folder, '--out', join(folder, 'm.yaml'));
    expect([mapped.code, readdirSync(folder)]).toEqual([2, []]);
    expect(oneLine(mapped.log)).toContain('holds nothing that could be mapped');
  });

  it('a quarantine is put in place whole or not at all', async () => {
    const folder = folderWith({ ...CLEAN, 'wear.csv': `${CLEAN['wear.csv'] ?? ''}E1,2025-02-30,diary,20\n` });
    const records = await readExport(folder);
    const room = folderWith({});
    // The export changes between the reading and the writing.
    writeFileSync(join(folder, 'wear.csv'), 'episode_id\n');
    await expect(writeQuarantine(folder, records, join(room, 'aside'))).rejects.toThrow(
      'was changed while it was being read',
    );
    expect(readdirSync(room)).toEqual([]);
  });
});

describe('a disk that is full', () => {
  it('is told in one line where results are printed', () => {
    const ran = spawnSync('sh', ['-c', `"$0" "$@" > /dev/full`, process.execPath, ...program, 'dictionary'], {
      encoding: 'utf8',
      cwd: root,
    });
    expect([ran.status, oneLine(ran.stderr)]).toEqual([
      2,
      'forefoot: the result cannot be printed: a file cannot be read or written: the disk is full\n',
    ]);
  });
});

describe('a run that is interrupted', () => {
  it('leaves nothing that could be taken for a report, and the next run goes on', async () => {
    const reports = join(folderWith({}), 'reports');
    const words = ['report', 'cohort', canonical, '--out', reports, '--quiet'];
    const child = spawn(process.execPath, [...program, ...words], { cwd: root, stdio: 'ignore' });
    const ended = new Promise<void>(resolve => child.on('close', () => resolve()));
    while (child.exitCode === null && !existsSync(join(reports, '.lock'))) {
      await new Promise(resolve => setTimeout(resolve, 5));
    }
    child.kill('SIGINT');
    await ended;
    const left = existsSync(reports) ? readdirSync(reports) : [];
    if (child.exitCode === null) expect(left.filter(name => !name.startsWith('.'))).toEqual([]);
    const again = await runCommand(...words);
    expect(again.code).toBe(0);
    expect((await runCommand('verify', reports)).code).toBe(0);
  }, 120_000);
});
