import { mkdtemp, readdir, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import type { FindingsDocument } from '../../src/reports/index.ts';

let room = '';

beforeAll(async () => {
  room = await mkdtemp(join(tmpdir(), 'forefoot-report-duration-'));
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

/** The folder of the only study in a folder of reports. */
async function studyIn(reports: string): Promise<string> {
  const names = (await readdir(reports)).filter(name => name.startsWith('duration-'));
  expect(names).toHaveLength(1);
  return join(reports, names[0] ?? '');
}

describe('forefoot report duration', () => {
  it('publishes the study, says where, and sums it up in ten lines or fewer', async () => {
    const reports = join(room, 'report');
    const { code, out, log } = await forefoot('report', 'duration', join(room, 'export'), '--out', reports);
    const folder = await studyIn(reports);
    expect({ code, out }).toEqual({
      code: 0,
      out: `Duration report: ${join(folder, 'index.html')} (version 1)\n`,
    });
    expect(log.trimEnd().split('\n').length).toBeLessThanOrEqual(10);
    // Where a time ratio is named, so is the distribution that fits best, and what the ratio would be under the others.
    if (log.includes('times as long as')) {
      expect(log).toMatch(
        /Akaike’s criterion.*Adjusted time ratio of severe to mild feet: .*\(log-logistic\)/s,
      );
    }
    const { findings } = JSON.parse(
      await readFile(join(folder, 'findings.json'), 'utf8'),
    ) as FindingsDocument;
    expect(findings.map(({ key }) => key)).toEqual([
      'baseline',
      'severity-and-duration',
      'duration-model-checks',
      'duration-missing-findings',
      'duration-next-study',
    ]);
  });

  it('publishes no code of an episode or an infant', async () => {
    const reports = join(room, 'codes');
    await forefoot('report', 'duration', join(room, 'export'), '--out', reports);
    const folder = await studyIn(reports);
    const episodes = await readFile(join(room, 'export', 'episodes.csv'), 'utf8');
    const codes = episodes
      .split(/\r?\n/)
      .slice(1)
      .flatMap(line => line.split(',').slice(0, 2))
      .filter(code => code.length > 3);
    expect(codes.length).toBeGreaterThan(40);
    for (const name of ['index.html', 'findings.json']) {
      const text = await readFile(join(folder, name), 'utf8');
      expect(codes.filter(code => text.includes(code))).toEqual([]);
    }
  });

  it('publishes nothing from an export that cannot be used', async () => {
    const { code } = await forefoot('report', 'duration', join(room, 'none'), '--out', join(room, 'nothing'));
    expect(code).toBe(2);
  });

  it('draws the planned distribution once where it is the one that fits best', async () => {
    const folder = fileURLToPath(new URL('../reference/clinics/canonical', import.meta.url));
    const reports = join(room, 'planned');
    const { code } = await forefoot('report', 'duration', folder, '--out', reports, '--quiet');
    expect(code).toBe(0);
    const text = await readFile(join(await studyIn(reports), 'findings.json'), 'utf8');
    const { findings } = JSON.parse(text) as FindingsDocument;
    const plots = findings.find(({ key }) => key === 'duration-model-checks')?.plots ?? [];
    expect(plots.map(({ key }) => key).filter(key => key.startsWith('fitted.'))).toEqual(['fitted.weibull']);
  });
});
