import { access, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { FindingsDocument } from '../../src/reports/index.ts';

let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-report-audit-'));
  await forefoot('simulate', '--feet', '120', '--seed', '3', '--out', join(room, 'export'));
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

describe('forefoot report audit', () => {
  it('publishes the last full quarter unasked, and a quarter by name', async () => {
    const reports = join(room, 'reports');
    const folder = join(reports, 'audit-2025-Q4');
    const { code, out } = await forefoot('report', 'audit', join(room, 'export'), '--out', reports);
    expect({ code, out }).toEqual({
      code: 0,
      out: `Audit report: ${join(folder, 'index.html')} (version 1)\n`,
    });
    const document = JSON.parse(await readFile(join(folder, 'findings.json'), 'utf8')) as FindingsDocument;
    expect(document.findings.map(({ key }) => key)).toEqual([
      'audit',
      'audit-charts',
      'audit-comparison',
      'audit-overdue',
    ]);
    // Twelve quarters from January 2023, cut off on 1 January 2026.
    expect(document.findings[0]?.period?.name).toBe('2025-Q4');
    await forefoot('report', 'audit', join(room, 'export'), '--out', reports, '--quarter', '2024-Q2');
    const named = join(reports, 'audit-2024-Q2');
    expect(await readFile(join(named, 'index.html'), 'utf8')).toContain('Audit standards in 2024-Q2');
  }, 60_000);

  it('publishes no code of an episode or an infant', async () => {
    await forefoot('report', 'audit', join(room, 'export'), '--out', join(room, 'codes'));
    const folder = join(room, 'codes', 'audit-2025-Q4');
    const episodes = await readFile(join(room, 'export', 'episodes.csv'), 'utf8');
    const codes = episodes
      .split(/\r?\n/)
      .slice(1)
      .flatMap(line => line.split(',').slice(0, 2))
      .filter(code => code.length > 3);
    expect(codes.length).toBeGreaterThan(200);
    for (const name of [
      'index.html',
      'findings.json',
      'tables/audit.standards.csv',
      'tables/audit-charts.charts.csv',
    ]) {
      const text = await readFile(join(folder, name), 'utf8');
      expect(codes.filter(code => text.includes(code))).toEqual([]);
    }
  }, 60_000);

  it.each([
    ['2030-Q1', /--quarter: quarter 2030-Q1 starts on 2030-01-01, after the data cut-off/],
    ['last', /--quarter: quarter "last" cannot be read; allowed: previous, or a name such as 2025-Q4/],
  ])('refuses the quarter %s in one line and publishes nothing', async (quarter, message) => {
    const folder = join(room, `none-${quarter}`);
    const { code, log } = await forefoot(
      'report',
      'audit',
      join(room, 'export'),
      '--out',
      folder,
      '--quarter',
      quarter,
    );
    expect(code).toBe(2);
    expect(log).toMatch(message);
    expect(log.trimEnd().split('\n')).toHaveLength(1);
    await expect(access(folder)).rejects.toThrow('ENOENT');
  });
});
