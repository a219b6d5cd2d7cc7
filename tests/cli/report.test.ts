import { access, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { FindingsDocument } from '../../src/reports/index.ts';

let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-report-'));
  await forefoot('simulate', '--feet', '40', '--seed', '2', '--out', join(room, 'export'));
}, 60_000);

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

describe('forefoot report cohort', () => {
  it('publishes the report, says where, and sums it up in ten lines or fewer', async () => {
    const folder = join(room, 'report');
    const { code, out, log } = await forefoot('report', 'cohort', join(room, 'export'), '--out', folder);
    expect({ code, log }).toEqual({ code: 0, log: '' });
    const lines = out.trimEnd().split('\n');
    expect(lines[0]).toBe(`Cohort report: ${join(folder, 'index.html')}`);
    expect(lines.length).toBeLessThanOrEqual(10);
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
    const folder = join(room, 'codes');
    await forefoot('report', 'cohort', join(room, 'export'), '--out', folder);
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

  it('gives the same bytes twice, and overwrites only with --replace', async () => {
    const words = ['report', 'cohort', join(room, 'export'), '--out', join(room, 'twice')];
    await forefoot(...words);
    const first = await readFile(join(room, 'twice', 'index.html'), 'utf8');
    const refused = await forefoot(...words);
    expect(refused).toEqual({
      code: 2,
      out: '',
      log: `forefoot: ${join(room, 'twice')} already holds a report; --replace puts the new one in its place\n`,
    });
    expect((await forefoot(...words, '--replace')).code).toBe(0);
    expect(await readFile(join(room, 'twice', 'index.html'), 'utf8')).toBe(first);
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
    await forefoot('report', 'cohort', join(room, 'export'), '--out', join(room, 'same'));
    expect(await readFile(file, 'utf8')).toBe(await readFile(join(room, 'same', 'findings.json'), 'utf8'));
  });
});
