import { access, cp, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { FindingsDocument } from '../../src/reports/index.ts';

let room = '';
let published: Awaited<ReturnType<typeof forefoot>>;

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-report-'));
  await forefoot('simulate', '--feet', '40', '--seed', '2', '--out', join(room, 'export'));
  published = await forefoot('report', 'cohort', join(room, 'export'), '--out', join(room, 'report'));
}, 120_000);

afterAll(async () => {
  await rm(room, { recursive: true, force: true });
});

async function forefoot(...words: string[]) {
  let out = '';
  let log = '';
  const code = await run(words, {
    out: text => void (out += text),
    log: text => void (log += text),
    terminal: false,
  });
  return { code, out, log };
}

/** The folder of the only report in a folder of reports. */
async function reportIn(reports: string): Promise<string> {
  const names = (await readdir(reports)).filter(name => name.startsWith('cohort-'));
  expect(names).toHaveLength(1);
  return join(reports, names[0] ?? '');
}

describe('forefoot report cohort', () => {
  it('publishes the report, says where in one line, and sums it up in the log in ten lines or fewer', async () => {
    const { code, out, log } = published;
    const folder = await reportIn(join(room, 'report'));
    expect({ code, out }).toEqual({
      code: 0,
      out: `Cohort report: ${join(folder, 'index.html')} (version 1)\n`,
    });
    expect(log.trimEnd().split('\n').length).toBeLessThanOrEqual(10);
    const html = await readFile(join(folder, 'index.html'), 'utf8');
    const findings = JSON.parse(await readFile(join(folder, 'findings.json'), 'utf8')) as FindingsDocument;
    expect(findings.findings.map(({ key }) => key)).toEqual([
      'baseline',
      'time-to-correction',
      'relapse-after-step-down',
      'adherence',
      'skin-safety',
      'phase-occupancy',
      'feet-like-this-one',
      'assessor-agreement',
      'sensitivity',
    ]);
    expect(html).toContain(findings.provenance.planSha256);
  });

  it('publishes no code of an episode, an infant or a clinician', async () => {
    const folder = await reportIn(join(room, 'report'));
    const episodes = await readFile(join(room, 'export', 'episodes.csv'), 'utf8');
    const codes = episodes
      .split(/\r?\n/)
      .slice(1, 20)
      .flatMap(line => line.split(',').slice(0, 2))
      .filter(code => code.length > 3);
    expect(codes.length).toBeGreaterThan(20);
    for (const name of ['index.html', 'findings.json', 'tables/participants.csv']) {
      const text = await readFile(join(folder, name), 'utf8');
      expect(codes.filter(code => text.includes(code))).toEqual([]);
    }
  });

  it('leaves the same report alone, and publishes another only with --replace, as a new version', async () => {
    const reports = join(room, 'twice');
    const words = ['report', 'cohort', join(room, 'export'), '--out', reports, '--quiet'];
    await cp(join(room, 'report'), reports, { recursive: true });
    const folder = await reportIn(reports);
    const first = await readFile(join(folder, 'index.html'), 'utf8');
    expect(await forefoot(...words)).toEqual({
      code: 0,
      out: `Cohort report: ${join(folder, 'index.html')} (version 1 stands already, unchanged)\n`,
      log: '',
    });
    await writeFile(join(room, 'plan.yaml'), 'relapse:\n  weeksAfterTherapy: 10\n');
    const other = [...words, '--plan', join(room, 'plan.yaml')];
    expect(await forefoot(...other)).toEqual({
      code: 2,
      out: '',
      log: `forefoot: ${folder} already holds a report; --replace publishes a new version and keeps the earlier one\n`,
    });
    expect(await readFile(join(folder, 'index.html'), 'utf8')).toBe(first);
    const replaced = await forefoot(...other, '--replace');
    expect(replaced.out).toMatch(/version 2, \d+ numbers? changed/);
    expect(await readFile(join(folder, 'versions', '1', 'index.html'), 'utf8')).toBe(first);
    expect((await forefoot(...other)).out).toMatch(/version 2 stands already/);
  });

  it('hides small numbers, or says on the first page that it does not', async () => {
    const read = async (reports: string) => readFile(join(await reportIn(reports), 'index.html'), 'utf8');
    expect(await read(join(room, 'report'))).toContain('fewer than 5');
    await writeFile(join(room, 'open.yaml'), 'disclosure:\n  suppressBelow: 0\n');
    const words = ['report', 'cohort', join(room, 'export'), '--plan', join(room, 'open.yaml')];
    await forefoot(...words, '--out', join(room, 'open'));
    const page = await read(join(room, 'open'));
    expect(page).toContain('Small numbers are shown.');
    expect(page).not.toContain('fewer than 5');
    // What the first version has told cannot be hidden by a second.
    const again = await forefoot(
      'report',
      'cohort',
      join(room, 'export'),
      '--out',
      join(room, 'open'),
      '--replace',
    );
    expect(again.code).toBe(2);
    expect(again.log).toMatch(
      /^forefoot: nothing published: small numbers could be worked out .*beside version 1/,
    );
  });

  it('publishes nothing from an export that cannot be used', async () => {
    const { code, log } = await forefoot(
      'report',
      'cohort',
      join(room, 'none'),
      '--out',
      join(room, 'nothing'),
    );
    expect(code).toBe(2);
    expect(log.trimEnd().split('\n')).toHaveLength(1);
    await expect(access(join(room, 'nothing'))).rejects.toThrow('ENOENT');
  });
});

describe('forefoot analyse', () => {
  it('writes the same findings as the report holds', async () => {
    const file = join(room, 'findings.json');
    const { code, out } = await forefoot('analyse', join(room, 'export'), '--out', file);
    expect(code).toBe(0);
    expect(out.split('\n')[0]).toBe(`Findings: ${file}`);
    const folder = await reportIn(join(room, 'report'));
    expect(await readFile(file, 'utf8')).toBe(await readFile(join(folder, 'findings.json'), 'utf8'));
  });
});
