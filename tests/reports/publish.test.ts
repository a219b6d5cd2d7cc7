import { mkdir, mkdtemp, readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { cohortReport } from '../../src/reports/cohort/cohort-report.ts';
import { publishFolder, publishReport, writeFindings } from '../../src/reports/publish/index.ts';
import { cohortInput } from './fixtures/cohort-input.ts';

let room = '';

beforeEach(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-publish-'));
});

afterEach(async () => {
  await rm(room, { recursive: true, force: true });
});

async function everyFile(folder: string): Promise<Readonly<Record<string, string>>> {
  const names = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = names.filter(name => name.isFile()).map(name => join(name.parentPath, name.name));
  const read = files.sort().map(async path => [path.slice(folder.length + 1), await readFile(path, 'utf8')]);
  return Object.fromEntries(await Promise.all(read)) as Record<string, string>;
}

const page = (text: string) => [
  { path: 'index.html', text },
  { path: 'findings.json', text: '{}\n' },
  { path: 'tables/a.csv', text: 'x\r\n' },
];

async function* stopsHalfWay() {
  yield { path: 'index.html', text: 'half' };
  yield { path: 'tables/a.csv', text: 'half' };
  await Promise.resolve();
  throw new Error('stopped');
}

describe('publishing a folder', () => {
  it('writes every file, in folders as needed', async () => {
    const folder = await publishFolder(join(room, 'deep', 'report'), page('one'));
    expect(await everyFile(folder)).toEqual({
      'findings.json': '{}\n',
      'index.html': 'one',
      'tables/a.csv': 'x\r\n',
    });
  });

  it('leaves nothing behind when it stops half-way', async () => {
    await expect(publishFolder(join(room, 'report'), stopsHalfWay())).rejects.toThrow('stopped');
    expect(await readdir(room)).toEqual([]);
  });

  it('leaves the earlier report as it was when its replacement stops half-way', async () => {
    const folder = await publishFolder(join(room, 'report'), page('one'));
    const before = await everyFile(folder);
    await expect(publishFolder(folder, stopsHalfWay(), { replace: true })).rejects.toThrow('stopped');
    expect(await everyFile(folder)).toEqual(before);
    expect(await readdir(room)).toEqual(['report']);
  });

  it('has put nothing in place while it still writes', async () => {
    const seen: string[][] = [];
    async function* watched() {
      for (const file of page('one')) {
        yield file;
        seen.push(await readdir(room));
      }
    }
    await publishFolder(join(room, 'report'), watched());
    expect(seen).toHaveLength(3);
    for (const names of seen) {
      expect(names).toHaveLength(1);
      expect(names[0]).toMatch(/^\.report\.partial-/);
    }
    expect(await readdir(room)).toEqual(['report']);
  });

  it('takes no notice of what a killed run has left', async () => {
    await mkdir(join(room, '.report.partial-killed'));
    await publishFolder(join(room, 'report'), page('one'));
    expect(await readdir(room)).toEqual(['.report.partial-killed', 'report']);
  });

  it('does not overwrite a report unless told to', async () => {
    const folder = await publishFolder(join(room, 'report'), page('one'));
    await expect(publishFolder(folder, page('two'))).rejects.toMatchObject({
      name: 'PublishError',
      code: 'exists',
      message: `${folder} already holds a report; --replace puts the new one in its place`,
    });
    expect((await everyFile(folder))['index.html']).toBe('one');
    await publishFolder(folder, page('two'), { replace: true });
    expect((await everyFile(folder))['index.html']).toBe('two');
    expect(await readdir(room)).toEqual(['report']);
  });

  it('never replaces a folder that holds anything else', async () => {
    const folder = join(room, 'mine');
    await mkdir(folder);
    await writeFile(join(folder, 'notes.txt'), 'mine');
    await expect(publishFolder(folder, page('one'), { replace: true })).rejects.toMatchObject({
      code: 'not-a-report',
      message: `${folder} holds notes.txt, which is no part of a report, and is left alone; choose another place`,
    });
    expect(await everyFile(folder)).toEqual({ 'notes.txt': 'mine' });
  });

  it('takes an empty folder, and refuses a file', async () => {
    await mkdir(join(room, 'empty'));
    await publishFolder(join(room, 'empty'), page('one'));
    await writeFile(join(room, 'file'), 'x');
    await expect(publishFolder(join(room, 'file'), page('one'))).rejects.toMatchObject({
      code: 'not-a-report',
    });
    await expect(publishFolder(join(room, 'file', 'report'), page('one'))).rejects.toMatchObject({
      code: 'not-writable',
    });
  });

  it.each(['../out.html', '/etc/x', 'a/../../b', 'a\u0000b', 'a\\b'])('refuses the path %j', async path => {
    await expect(publishFolder(join(room, 'report'), [{ path, text: '' }])).rejects.toMatchObject({
      code: 'unsafe-path',
    });
    expect(await readdir(room)).toEqual([]);
  });
});

describe('publishing a report', () => {
  const input = cohortInput();

  it('gives the page, the findings, the tables and the figures, and nothing of an episode', async () => {
    const folder = await publishReport(join(room, 'report'), cohortReport(input), input);
    const files = await everyFile(folder);
    expect(Object.keys(files)).toEqual(
      expect.arrayContaining([
        'figures/time-to-correction.incidence.svg',
        'figures/time-to-correction.incidence.vl.json',
        'findings.json',
        'index.html',
        'tables/data-problems.csv',
        'tables/participants.csv',
        'tables/time-to-correction.by-band.csv',
        'tables/time-to-correction.curves.csv',
        'tables/time-to-correction.measures.csv',
        'tables/time-to-correction.risk-tables.csv',
      ]),
    );
    for (const text of Object.values(files)) expect(text).not.toContain('SECRET');
    expect((await stat(folder)).mode & 0o055).not.toBe(0);
  });

  it('gives the same bytes twice', async () => {
    const one = await publishReport(join(room, 'one'), cohortReport(input), input);
    const two = await publishReport(join(room, 'two'), cohortReport(cohortInput()), cohortInput());
    expect(await everyFile(two)).toEqual(await everyFile(one));
  });

  it('keeps the findings at full precision', async () => {
    const folder = await publishReport(join(room, 'report'), cohortReport(input), input);
    const stored = JSON.parse(await readFile(join(folder, 'findings.json'), 'utf8')) as typeof input;
    expect(stored.findings.map(({ measures }) => measures)).toEqual(
      input.findings.map(({ measures }) => measures),
    );
  });
});

describe('writing the findings alone', () => {
  it('puts one file in place, whole, and replaces an earlier one', async () => {
    const file = join(room, 'out', 'findings.json');
    await writeFindings(file, cohortInput());
    const first = await readFile(file, 'utf8');
    expect(await writeFindings(file, cohortInput())).toBe(file);
    expect(await readFile(file, 'utf8')).toBe(first);
    expect(first.endsWith('}\n')).toBe(true);
    expect(await readdir(join(room, 'out'))).toEqual(['findings.json']);
  });
});
